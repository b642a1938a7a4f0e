"""The answer to "What does it weigh?" as a sheet and as plain content."""

from collections.abc import Iterator
from typing import Any

from tintop.answer import Figure
from tintop.car.ballast_plan import GRADE, THREAD, TIMES_GRAVITY, Placed
from tintop.car.chassis import CORNERS
from tintop.owner_units import MINUS
from tintop.questions.what_does_it_weigh import Weighed, quarter_turns
from tintop.references import work
from tintop.reports.sheet import Sheet, Table

_LONG = 12  # lines of the ledger shown


def weigh_sheet(found: Weighed) -> Sheet:
    """The weighing for reading; kg and mm."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            *answer.why,
            f"Next: {answer.next_thing}",
            *(words for words in (found.turns_sentence, found.ballast_sentence) if words),
        ),
        tables=tuple(table for table in _tables(found) if table.rows),
        cautions=answer.cautions,
    )


def _tables(found: Weighed) -> Iterator[Table]:
    yield Table(
        title="At the corners" if found.turns is None else _turned_title(found),
        columns=("corner", "kg", "of total", "perch", "exact, turns", "kg after", "body moves, mm"),
        rows=[_corner_row(found, place) for place in range(4)],
    )
    yield Table(
        title="Figures",
        columns=("what", "value", "range, 19 times in 20", "how it was come by"),
        rows=[
            (
                figure.name,
                _written(figure, figure.value),
                f"{_written(figure, figure.low)} to {_written(figure, figure.high)}",
                figure.basis,
            )
            for figure in found.answer.figures
        ],
    )
    plan = found.ballast
    if plan is not None:
        yield Table(
            title=f"Ballast: {plan.need:.1f} kg needed, twice the scales' doubt counted in",
            columns=(
                "place",
                "kg",
                f"pull at {TIMES_GRAVITY:.0f} g, kN",
                f"bolts {THREAD} {GRADE}",
                "car then",
            ),
            rows=[
                *(_ballast_row(found, each, "") for each in plan.placed),
                *(_ballast_row(found, each, "all of it in the ") for each in plan.alone),
            ],
        )
    ledger = found.before.ledger
    if ledger is not None:
        yield Table(
            title="Scales against the ledger of parts",
            columns=("day", "scales, kg", "ledger, kg", "difference, kg", "doubt ±, kg"),
            rows=[
                (
                    each.day.isoformat(),
                    f"{each.mass:.1f}",
                    _kilograms(each.ledger),
                    _kilograms(each.difference, "+.1f"),
                    _kilograms(None if each.doubt is None else 2.0 * each.doubt),
                )
                for each in ledger.weighings
            ],
        )
        yield Table(
            title="Last parts taken off and put on, newest first",
            columns=("day", "part", "kg", "sum so far, kg"),
            rows=[
                (
                    line.day.isoformat(),
                    line.name,
                    _kilograms(line.change, "+.1f"),
                    f"{line.running_change:+.1f}",
                )
                for line in reversed(ledger.lines[-_LONG:])
            ],
        )


def _turned_title(found: Weighed) -> str:
    turns = found.turns
    assert turns is not None
    return (
        f"Cross-weight {100.0 * turns.before:.2f} %, wanted {100.0 * turns.target:.2f} %, "
        f"after the turns {100.0 * turns.after:.2f} %"
    )


def _corner_row(found: Weighed, place: int) -> tuple[str, ...]:
    load, turns = found.scales.loads[place], found.turns
    row = (CORNERS[place], f"{load:.1f}", f"{100.0 * load / found.scales.total:.1f} %")
    if turns is None:
        return (*row, "", "", "", "")
    return (
        *row,
        quarter_turns(turns.turns[place]),
        f"{turns.exact[place]:+.2f}".replace("-", MINUS),
        f"{turns.loads[place]:.1f}",
        f"{1e3 * turns.heights[place]:+.1f}".replace("-", MINUS),
    )


def _ballast_row(found: Weighed, each: Placed, before: str) -> tuple[str, ...]:
    assert found.ballast is not None
    middle = each.centre
    return (
        f"{before}{each.place.name}",
        f"{each.mass:.1f}",
        f"{1e-3 * each.pull:.1f}",
        "more than eight" if each.bolts is None else str(each.bolts),
        f"CG {-1e3 * middle.x:.0f} mm back, {1e3 * middle.y:+.0f} mm left, {1e3 * middle.z:.0f} mm up",
    )


def _written(figure: Figure, value: float) -> str:
    if figure.unit == "share":
        return f"{100.0 * value:.1f} %"
    words = f"{1e3 * value:.0f} mm" if figure.unit == "m" else f"{value:.1f} {figure.unit}"
    return words.replace("-", MINUS)


def _kilograms(value: float | None, form: str = ".1f") -> str:
    return "" if value is None else format(value, form).replace("-", MINUS)


def weigh_content(found: Weighed) -> dict[str, Any]:
    """The weighing as plain content; SI, keys name the unit."""
    answer, scales, turns, plan = found.answer, found.scales, found.turns, found.ballast
    return {
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "asks": list(found.asks),
        "loads_kg": dict(zip(CORNERS, scales.loads, strict=True)),
        "total_kg": scales.total,
        "front_share": scales.corners.front_share,
        "left_share": scales.corners.left_share,
        "cross_share": scales.corners.cross_share,
        "is_driver_aboard": scales.is_driver_aboard,
        "fuel_m3": scales.fuel_volume,
        "centre_m": {"x": found.centre.x, "y": found.centre.y, "z": found.centre.z},
        "cg_height": None
        if found.height is None
        else {
            "height_m": found.height.height,
            "uncertainty_m": found.height.doubt,
            "parts_m": found.height.parts,
            "gain_kg": found.height.gain,
            "free_springs_m": found.height.free_springs,
            "surer_lift_m": found.height.surer_lift,
        },
        "turns": None
        if turns is None
        else {
            "target": turns.target,
            "after": turns.after,
            "exact": dict(zip(CORNERS, turns.exact, strict=True)),
            "turns": dict(zip(CORNERS, turns.turns, strict=True)),
            "loads_kg": dict(zip(CORNERS, turns.loads, strict=True)),
            "heights_m": dict(zip(CORNERS, turns.heights, strict=True)),
            "cross_per_turn": dict(zip(CORNERS, turns.per_turn, strict=True)),
        },
        "turns_sentence": found.turns_sentence,
        "ballast": None
        if plan is None
        else {
            "least_kg": plan.least,
            "at_finish_kg": plan.at_finish,
            "margin_kg": plan.margin,
            "need_kg": plan.need,
            "placed": [
                {
                    "place": each.place.name,
                    "mass_kg": each.mass,
                    "pull_n": each.pull,
                    "bolts": each.bolts,
                }
                for each in plan.placed
            ],
        },
        "ballast_sentence": found.ballast_sentence,
        "foretold": None
        if found.before.foretold is None
        else {
            "since": found.before.foretold.since.isoformat(),
            "mass_kg": found.before.foretold.mass,
            "mass_uncertainty_kg": found.before.foretold.mass_doubt,
            "x_m": found.before.foretold.x,
            "y_m": found.before.foretold.y,
            "without_mass": list(found.before.foretold.without_mass),
            "without_place": list(found.before.foretold.without_place),
        },
        "figures": [
            {
                "name": figure.name,
                "value": figure.value,
                "low": figure.low,
                "high": figure.high,
                "unit": figure.unit,
                "basis": figure.basis,
            }
            for figure in answer.figures
        ],
        "why": list(answer.why),
        "next_thing": answer.next_thing,
        "cautions": list(answer.cautions),
        "works": [work(key) for key in answer.works],
    }
