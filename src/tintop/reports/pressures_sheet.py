"""The answer to "What cold pressures this morning?" as a sheet and as plain content."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from tintop.car.chassis import CORNERS
from tintop.car.pressure_plan import WARMER, StagePlan, written
from tintop.logbook.tyre_leaks import LeakFinding, TyreLeak
from tintop.owner_units import MINUS
from tintop.questions.cold_pressures import ColdPressures
from tintop.references import work
from tintop.reports.sheet import Sheet, Table
from tintop.units import unit_named

_FINER = {"psi": 2, "bar": 3, "kPa": 1}


def pressures_sheet(found: ColdPressures) -> Sheet:
    """The day's pressures for reading, in the unit of the gauge."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(answer.sentence, *answer.why, f"Next: {answer.next_thing}"),
        tables=tuple(pressure_tables(found)),
        cautions=answer.cautions,
    )


def pressure_tables(found: ColdPressures) -> Iterator[Table]:
    """What to set, the day session by session, what else may happen, and how each tyre holds its air."""
    unit, also = found.day.unit, found.day.also
    columns = (unit, *CORNERS)
    second = [(f"set cold, {also}", *(bare(each.to_set, also) for each in found.corners))] if also else []
    if found.day.is_for_road:
        yield from _road_tables(found, columns, second)
        return
    yield Table(
        title=f"Now, with the tyres' air at {found.day.tyres_at:.0f} °C",
        columns=columns,
        rows=[
            ("set cold", *(bare(each.to_set, unit) for each in found.corners)),
            *second,
            *_sheet_row(found),
            (
                "range, 19 times in 20",
                *(f"{bare(each.low, unit)} to {bare(each.high, unit)}" for each in found.corners),
            ),
            ("comes to, hot", *(bare(each.comes_to, unit) for each in found.corners)),
            ("target, hot", *(bare(each.target, unit) for each in found.corners)),
            ("air in the tyre, hot", *(f"{each.hot_temp:.0f} °C" for each in found.corners)),
        ],
    )
    for plan in found.plan:
        yield Table(title=stage_title(plan, unit), columns=columns, rows=list(_stage_rows(plan, unit, also)))
    yield Table(title="If", columns=columns, rows=list(_if_rows(found)))
    yield from _leak_table(found)


def _sheet_row(found: ColdPressures) -> Iterator[tuple[str, ...]]:
    if found.day.sheet is not None:
        yield "the sheet has", *(bare(each, found.day.unit) for each in found.day.sheet)


def _road_tables(
    found: ColdPressures, columns: Sequence[str], second: Sequence[Sequence[str]]
) -> Iterator[Table]:
    unit = found.day.unit
    yield Table(
        title=f"For the road, cold, with the tyres' air at {found.day.tyres_at:.0f} °C",
        columns=columns,
        rows=[
            ("set cold", *(bare(each.to_set, unit) for each in found.corners)),
            *second,
            ("by its sheet", *(bare(each.target, unit) for each in found.corners)),
        ],
    )
    yield from _leak_table(found)


def _leak_table(found: ColdPressures) -> Iterator[Table]:
    if found.leaks:
        yield Table(
            title="Does it hold its air?",
            columns=("tyre", "finding", "lost a day", "range, 19 times in 20", "readings", "against what"),
            rows=[leak_row(leak, found.day.unit) for leak in found.leaks],
        )


def stage_title(plan: StagePlan, unit: str) -> str:
    """A session's heading: its name, air and laps, and what is done at its end."""
    stage = plan.stage
    lost = loss_words(plan.lost_by_then, unit)
    return (
        f"After {stage.laps} laps of {stage.name}, air {stage.air_temp:.0f} °C: {plan.deed} "
        f"(read within {minutes(plan.read_within)}, by when up to {lost} may be gone; cold again after "
        f"{minutes(plan.cold_after)})"
    )


def bare(pressure: float, unit: str) -> str:
    """A pressure as the gauge is read, its unit standing elsewhere."""
    return written(pressure, unit).removesuffix(f" {unit}")


def minutes(seconds: float) -> str:
    """A time of standing in words."""
    if not math.isfinite(seconds):
        return "any time"
    whole = round(seconds / 60.0)
    return f"{whole} min" if whole < 100 else f"{whole // 60} h {whole % 60:02d} min"


def _stage_rows(plan: StagePlan, unit: str, also: str) -> Iterator[Sequence[str]]:
    yield "hot, as it comes", *(bare(each, unit) for each in plan.comes_to)
    if plan.to is not None:
        yield "to, hot", *(bare(each, unit) for each in plan.to)
        if also:
            yield f"to, hot, {also}", *(bare(each, also) for each in plan.to)
    if plan.cold_next is not None:
        yield "cold before the next", *(bare(each, unit) for each in plan.cold_next)


def _if_rows(found: ColdPressures) -> Iterator[Sequence[str]]:
    unit = found.day.unit
    yield f"the day warms by {WARMER:.0f} K: hot", *(bare(each, unit) for each in found.warmer_comes_to)
    yield "... so bleed to, hot, first", *(bare(each, unit) for each in found.warmer_bleed_to)
    if found.rain_cold is not None:
        yield "it rains: cold", *(bare(each, unit) for each in found.rain_cold)
    if found.day.home is not None:
        other = found.day.home_tyres
        name = f"the road home, on {other}: these tyres are cold" if other else "the road home: cold"
        yield name, *(bare(each, unit) for each in found.day.home)
    if found.home_warm is not None:
        cells = (
            bare(least, unit) if bare(least, unit) == bare(most, unit)
            else f"{bare(least, unit)} to {bare(most, unit)}"
            for least, most in zip(*found.home_warm, strict=True)
        )  # fmt: skip
        yield "... set an hour after the flag", *cells


def loss_words(pressure: float, unit: str) -> str:
    """A pressure lost, one digit finer than a gauge is read."""
    digits = _FINER[unit]
    lost = round(pressure / unit_named(unit).factor, digits) + 0.0  # no minus before a nought
    return f"{lost:.{digits}f} {unit}".replace("-", MINUS)


def leak_row(leak: TyreLeak, unit: str) -> tuple[str, ...]:
    """One tyre of the table of leaks."""
    if leak.finding is LeakFinding.UNKNOWN:
        return leak.corner, leak.finding.value, "–", "–", str(leak.readings), leak.basis
    return (
        leak.corner,
        leak.finding.value,
        loss_words(leak.rate, unit),
        f"{loss_words(leak.low, unit).removesuffix(f' {unit}')} to {loss_words(leak.high, unit)}",
        f"{leak.readings} in {leak.days:.0f} days",
        leak.basis,
    )


def pressures_content(found: ColdPressures) -> dict[str, Any]:
    """The same for a program; Pa gauge, °C, s."""
    answer = found.answer
    return {
        "question": answer.question,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "why": answer.why,
        "next_thing": answer.next_thing,
        "cautions": answer.cautions,
        "tyres_at_C": found.day.tyres_at,
        "air_pressure_Pa": found.day.air_pressure,
        "corners": {each.corner: asdict(each) for each in found.corners},
        "plan": [asdict(each) for each in found.plan],
        "warmer_by_K": WARMER,
        "warmer_comes_to_Pa": found.warmer_comes_to,
        "warmer_bleed_to_Pa": found.warmer_bleed_to,
        "rain_cold_Pa": found.rain_cold,
        "home_cold_Pa": found.day.home,
        "home_on_tyres": found.day.home_tyres,
        "home_an_hour_after_least_and_most_Pa": found.home_warm,
        "leaks": [asdict(each) for each in found.leaks],
        "works": [work(each) for each in answer.works],
    }
