"""The best set-up for a circuit as a sheet and as plain content; one circuit or several."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from typing import Any

from tintop.lap.outer_wheel import OUTER_SHOULDER
from tintop.lap.setup_search import NEAR, Flatness
from tintop.owner_units import MINUS, lap_words
from tintop.questions.best_setup import BestSetup, doubt_words, setting_words
from tintop.reports.setup_sheet import lock_words, travel_words
from tintop.reports.sheet import Sheet, Table
from tintop.settings import USUAL_UNITS

_DOUBTS_SHOWN = 5
_MILLIMETRES_IN_1000_KM = 1e9


def suggest_sheet(found: Sequence[BestSetup], units: Mapping[str, str] = USUAL_UNITS) -> Sheet:
    """What to change for each circuit, what it is worth, how flat it is, and the laps that confirm it."""
    tables: list[Table] = []
    if len(found) > 1:
        tables.append(_circuits(found))
    for one in found:
        where = f", {one.circuit}" if len(found) > 1 else ""
        if one.searched.changes:
            tables.append(_changes(one, units, where))
        tables += [_confirmation(one, units, where), _flatness(one, units, where), _doubts(one, where)]
    left_out = [(name, why) for name, why in found[0].ranges.left_out.items()]
    if left_out:
        tables.append(Table(title="Not tried", columns=("adjuster", "why"), rows=left_out))
    cautions = dict.fromkeys(caution for one in found for caution in one.answer.cautions)
    return Sheet(
        title="Best set-up",
        sentences=tuple(
            sentence
            for one in found
            for sentence in (one.answer.sentence, *_held(one), f"Next: {one.answer.next_thing}")
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=tuple(cautions),
    )


def _held(one: BestSetup) -> Iterator[str]:
    """Why a camber stays where the lap alone would move it."""
    treads = {each.sentence for each in one.treads}
    for why in one.answer.why:
        if why in treads or OUTER_SHOULDER in why:
            yield f"{why[:1].upper()}{why[1:]}."


def suggest_content(found: Sequence[BestSetup]) -> dict[str, Any]:
    """Everything of each circuit, SI."""
    return {"circuits": [_content(one) for one in found]}


def _content(one: BestSetup) -> dict[str, Any]:
    searched, confirmed = one.searched, one.confirmed
    return {
        "circuit": one.circuit,
        "setup": one.before.name,
        "verdict": one.answer.verdict.value,
        "sentence": one.answer.sentence,
        "why": list(one.answer.why),
        "next_thing": one.answer.next_thing,
        "cautions": list(one.answer.cautions),
        "figures": [asdict(figure) for figure in one.answer.figures],
        "changes": [
            {
                "adjuster": change.range.name,
                "before": change.before,
                "after": change.after,
                "lost_without_it_s": change.worth,
                "gain_so_far_s": change.gained,
                "needed_for": change.needed_for,
            }
            for change in searched.changes
        ],
        "not_worth": list(searched.not_worth),
        "given_up_s": searched.given_up,
        "flatness": [_flat_content(each) for each in searched.flatness],
        "confirmed": {
            "gain_s": confirmed.gain,
            "low_s": confirmed.low,
            "high_s": confirmed.high,
            "search_gain_s": searched.quick_gain,
            "lap_before_s": confirmed.before.lap_time,
            "lap_after_s": confirmed.after.lap_time,
            "mean_lap_before_s": confirmed.before.mean_lap_time,
            "mean_lap_after_s": confirmed.after.mean_lap_time,
            "is_worth_it": confirmed.is_worth_it,
        },
        "doubts": [asdict(doubt) for doubt in confirmed.doubts if doubt.seconds > 0.0],
        "demands": {
            name: value if value is not None and math.isfinite(value) else None
            for name, value in asdict(searched.demands).items()
        },
        "still_broken": list(searched.still_broken),
        "legality_checked": one.legality.is_checked,
        "left_out": dict(one.ranges.left_out),
        "looked_at": searched.looked_at,
        "suggested": asdict(one.setup),
    }


def _flat_content(each: Flatness) -> dict[str, Any]:
    return {
        "adjuster": each.range.name,
        "places": list(each.range.places),
        "at": each.at,
        "lost_s": [lost if math.isfinite(lost) else None for lost in each.lost],
        "broken": list(each.broken),
        "low": each.range.places[each.low],
        "high": each.range.places[each.high],
    }


def _circuits(found: Sequence[BestSetup]) -> Table:
    return Table(
        title="Circuits",
        columns=("circuit", "changes", "gain, whole laps", "gain, search", "range", "verdict"),
        rows=[
            (
                one.circuit,
                str(len(one.searched.changes)),
                f"{one.confirmed.gain:.3f} s",
                f"{one.searched.quick_gain:.3f} s",
                f"{one.confirmed.low:.2f} to {one.confirmed.high:.2f} s",
                one.answer.verdict.value,
            )
            for one in found
        ],
    )


def _changes(one: BestSetup, units: Mapping[str, str], where: str) -> Table:
    return Table(
        title=f"What to change{where}",
        columns=("adjuster", "from", "to", "lost without it", "gain so far"),
        rows=[
            (
                change.range.name,
                setting_words(change.range.item, change.range.end, change.before, one.chassis, units),
                setting_words(change.range.item, change.range.end, change.after, one.chassis, units),
                change.needed_for if change.worth is None else f"{change.worth:.3f} s",
                f"{change.gained:.3f} s",
            )
            for change in one.searched.changes
        ],
    )


def _confirmation(one: BestSetup, units: Mapping[str, str], where: str) -> Table:
    before, after = one.confirmed.before, one.confirmed.after
    rows = [
        ("one whole lap", lap_words(before.lap_time), lap_words(after.lap_time)),
        ("mean of whole laps", lap_words(before.mean_lap_time), lap_words(after.mean_lap_time)),
        (
            "limit balance: which end slides first in a steady corner",
            _balance(before.limit.balance),
            _balance(after.limit.balance),
        ),
        ("balance over the lap's corners", _balance(before.balance), _balance(after.balance)),
        ("rear wheels lock, pads at their worst", lock_words(before.lock), lock_words(after.lock)),
        (
            "bump travel left, hardest place of the lap",
            travel_words(before.bump_left, units),
            travel_words(after.bump_left, units),
        ),
    ]
    for name, first, last in (
        ("comfort on the road", before.comfort_road, after.comfort_road),
        ("comfort on the circuit", before.comfort_circuit, after.comfort_circuit),
    ):
        if first is not None and last is not None:
            rows.append((name, f"{first:.2f} m/s²", f"{last:.2f} m/s²"))
    for place, end in enumerate(("front", "rear")):
        now, then = (f"{_MILLIMETRES_IN_1000_KM * one.road_wear[place]:.1f} mm" for one in (before, after))
        rows.append((f"{end} inner edge, 1,000 km of road", now, then))
    return Table(title=f"By whole laps{where}", columns=("", "as it is", "as suggested"), rows=rows)


def _flatness(one: BestSetup, units: Mapping[str, str], where: str) -> Table:
    def setting(each: Flatness, at: int) -> str:
        return setting_words(each.range.item, each.range.end, each.range.places[at], one.chassis, units)

    return Table(
        title=f"How flat it is: lap lost by one step, and what is within {NEAR:.2f} s{where}",
        columns=("adjuster", "at", "a step less", "a step more", "as good from", "to"),
        rows=[
            (
                each.range.name,
                setting(each, each.at),
                _step(each, each.at - 1),
                _step(each, each.at + 1),
                setting(each, each.low),
                setting(each, each.high),
            )
            for each in one.searched.flatness
        ],
    )


def _step(each: Flatness, at: int) -> str:
    if not 0 <= at < len(each.lost):
        return "no further"
    if each.broken[at]:
        return each.broken[at]
    return f"{each.lost[at]:+.3f} s".replace("-", MINUS)


def _doubts(one: BestSetup, where: str) -> Table:
    return Table(
        title=f"What the gain hangs on{where}",
        columns=("number", "moves the gain by"),
        rows=[
            (doubt_words(doubt), f"±{doubt.seconds:.3f} s")
            for doubt in one.confirmed.doubts[:_DOUBTS_SHOWN]
            if doubt.seconds >= 0.001
        ],
    )


def _balance(balance: float) -> str:
    return f"{100 * abs(balance):.1f} % {'understeer' if balance >= 0.0 else 'oversteer'}"
