"""The answer to "Will it last?" as a sheet and as plain content."""

from dataclasses import asdict
from typing import Any

import numpy as np

from tintop.answer import Answer
from tintop.questions.will_it_last import (
    best_first,
    of_hundred,
    worst_first,
    written_amount,
    written_clock,
    written_margin,
    written_range,
    written_remedy,
)
from tintop.race.lasting import Lasts
from tintop.race.march import LapKind, RaceTrace
from tintop.race.odds import Odds
from tintop.race.remedies import Remedy
from tintop.references import work
from tintop.reports.sheet import Sheet, Table


def race_sheet(
    answer: Answer, trace: RaceTrace, judged: tuple[Lasts, ...], odds: Odds, cures: tuple[Remedy, ...]
) -> Sheet:
    """The race forecast for reading."""
    racing = trace.kind == float(LapKind.RACE)
    shown = trace.lap_time[racing if np.any(racing) else slice(None)]
    kilograms = float(np.sum(trace.fuel_burned))
    tables = [
        Table(
            title="What lasts",
            columns=(
                "item",
                "used",
                "of",
                "at the worst",
                "5 to 95 of 100 races",
                "lasts, of 100",
                "over or out after",
            ),
            rows=[_row(each, odds) for each in worst_first(judged)],
        ),
        Table(
            title="What would make it last, each alone",
            columns=("item", "remedy", "enough as planned", "lasts then, of 100", "everything then, of 100"),
            rows=[
                _remedy_row(cure)
                for each in worst_first(judged)
                for cure in best_first(cures)
                if cure.item == each.item
            ],
        ),
    ]
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            f"Racing laps from {shown.min():.2f} to {shown.max():.2f} s; {kilograms:.1f} kg of fuel burned, "
            f"{len(trace.stops_made)} {'stop' if len(trace.stops_made) == 1 else 'stops'}.",
            answer.next_thing,
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def _row(each: Lasts, odds: Odds) -> tuple[str, ...]:
    is_heat = each.unit == "K"
    shown = "°C" if is_heat else each.unit
    low, _, high = odds.of(each.item).margin
    return (
        each.item,
        written_amount(each.used, shown),
        written_amount(each.limit, shown),
        written_margin(each),
        " to ".join(written_range(low, high, each.unit)),
        "" if each.probability is None else of_hundred(each.probability),
        "" if each.runs_out_at_s is None else written_clock(each.runs_out_at_s),
    )


def _remedy_row(cure: Remedy) -> tuple[str, ...]:
    return (
        cure.item,
        written_remedy(cure),
        "yes" if cure.is_enough else "not alone",
        "not drawn" if cure.probability is None else of_hundred(cure.probability),
        "not drawn" if cure.all_last is None else of_hundred(cure.all_last),
    )


def race_content(
    answer: Answer, trace: RaceTrace, judged: tuple[Lasts, ...], odds: Odds, cures: tuple[Remedy, ...]
) -> dict[str, Any]:
    """The race forecast as plain content; SI, °C."""
    return {
        "verdict": str(answer.verdict),
        "sentence": answer.sentence,
        "laps": trace.laps,
        "laps_5_50_95": list(odds.laps),
        "race_time_s": float(trace.clock[-1]),
        "fuel_burned_kg": float(np.sum(trace.fuel_burned)),
        "all_last_probability": odds.all_last,
        "races": odds.races,
        "seed": odds.seed,
        "lasts": {each.item: _item(each, odds) for each in judged},
        "remedies": [asdict(cure) for cure in cures],
        "lap_model_fit_error": dict(odds.fit_error),
        "uncertain_paths": list(odds.uncertain_paths),
        "traces": {
            name: values
            for name in trace.__dataclass_fields__
            if isinstance(values := getattr(trace, name), np.ndarray)
        },
        "stops": [{"lap": number, **asdict(stop)} for number, stop in trace.stops_made],
        "next_thing": answer.next_thing,
        "cautions": list(answer.cautions),
        "works": [work(key) for key in answer.works],
    }


def _item(each: Lasts, odds: Odds) -> dict[str, Any]:
    chance = odds.of(each.item)
    return {
        "unit": each.unit,
        "used": each.used,
        "limit": each.limit,
        "margin": each.margin,
        "margin_5_50_95": list(chance.margin),
        "probability": each.probability,
        "standard_error": each.standard_error,
        "runs_out_at_s": each.runs_out_at_s,
        "good_for_s": each.good_for_s,
    }
