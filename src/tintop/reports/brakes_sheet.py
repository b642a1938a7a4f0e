"""The answer to "How are the brakes balanced?" as a sheet and as plain content."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from tintop.answer import Figure, Verdict
from tintop.car.brake_changes import BrakeChange
from tintop.owner_units import MINUS
from tintop.questions.brake_balance import BrakeCase, BrakesAnswer
from tintop.race.brake_heat import BrakeHeat
from tintop.references import work
from tintop.reports.sheet import Sheet, Table

_SHOWN = tuple(round(0.2 * step, 1) for step in range(1, 7))  # decelerations of the table ÷ gravity


def brakes_sheet(found: BrakesAnswer) -> Sheet:
    """The brakes for reading."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(answer.sentence, f"Next: {answer.next_thing}", *answer.why),
        tables=tuple(_on_paper(found)),
        cautions=answer.cautions,
    )


def _on_paper(found: BrakesAnswer) -> Iterator[Table]:
    """The lock order first, then the figures, then what else moves it."""
    first, *others = brake_tables(found)
    yield first
    yield _figures(found)
    yield from others


def brake_tables(found: BrakesAnswer) -> Iterator[Table]:
    """Each road with the turns to make, grip needed, pads by temperature, other parts, the race's heat."""
    yield Table(
        title="Which axle locks first",
        columns=("road", "locks first", "turn", "in hand", "of needed", "worst pads", "at, g", "grip"),
        rows=[_case_row(case) for case in found.cases],
    )
    yield Table(
        title="Pads by temperature",
        columns=("pads", "front share", "in hand", "locks first", "at, g"),
        rows=[_change_row(each) for each in found.by_temperature],
    )
    yield Table(
        title="Other parts",
        columns=("with", "front share", "in hand", "locks first", "at, g"),
        rows=[_change_row(each) for each in found.by_part],
    )
    yield Table(
        title=f"Grip needed, {found.cases[0].name} road",
        columns=("deceleration, g", "front needs", "rear needs", "front share", "pedal, N", "first"),
        rows=list(_adhesion_rows(found.cases[0])),
    )
    if found.heat:
        yield Table(
            title="Through the race",
            columns=(
                "pads",
                "discs' peak front, rear",
                "pads, hottest lap",
                "friction, first to hottest",
                "mm left",
                "front share, first to hottest",
                "finding",
            ),
            rows=[heat_row(each) for each in found.heat],
        )


def _figures(found: BrakesAnswer) -> Table:
    return Table(
        title="Figures",
        columns=("what", "value", "range, 19 times in 20", "how it was come by"),
        rows=[
            (
                figure.name,
                figure_words(figure, figure.value),
                ""
                if figure.low == figure.high
                else f"{figure_words(figure, figure.low)} to {figure_words(figure, figure.high)}",
                figure.basis,
            )
            for figure in found.answer.figures
        ],
    )


def figure_words(figure: Figure, value: float) -> str:
    """One value of a figure in the unit a mechanic reads."""
    if figure.unit == "share":
        return share_words(value)
    if figure.unit == "m":
        return f"{1e3 * value:.0f} mm"
    if figure.unit == "gn":
        return f"{value:.2f} g"
    return f"{value:.0f} {figure.unit}"


def share_words(share: float) -> str:
    """A share in per cent with one decimal."""
    return f"{100.0 * share:.1f} %".replace("-", MINUS)


def points_words(margin: float) -> str:
    """A difference of shares in points of per cent, with its sign."""
    return f"{100.0 * margin:+.1f}".replace("-", MINUS)


def turn_words(case: BrakeCase) -> str:
    """Turns to make on a road in words."""
    turns = case.turns
    if turns is None:
        return "nothing to turn"
    short = ""
    if not turns.reached:
        short = ", its end: still REAR first" if turns.margin < 0.0 else ", its end: still not proven"
        if turns.found.verdict is Verdict.CLOSE:
            short = ", its end: still close"
    if turns.turns == 0.0:
        return f"leave{short}"
    way = "front" if turns.turns > 0.0 else "rear"
    return f"{abs(turns.turns):g} to the {way} (at {turns.at:+g}){short}".replace("-", MINUS)


def _case_row(case: BrakeCase) -> tuple[str, ...]:
    worst = case.worst
    return (
        case.name,
        "REAR: UNSAFE" if case.verdict is Verdict.NO else _first_words(case),
        turn_words(case),
        points_words(worst.margin),
        points_words(worst.needed),
        worst.pads,
        f"{worst.rate:.2f}",
        f"{case.balance.ask.friction:.2f}",
    )


def _first_words(case: BrakeCase) -> str:
    return "front, not proven" if case.verdict is Verdict.NOT_PROVEN else "front"


def _adhesion_rows(case: BrakeCase) -> Iterator[tuple[str, ...]]:
    for point in case.balance.points:
        if round(point.rate, 2) in _SHOWN:
            yield (
                f"{point.rate:.1f}",
                f"{point.front_used:.2f}",
                f"{point.rear_used:.2f}",
                share_words(point.front_share),
                f"{point.pedal_force:.0f}",
                "rear" if point.rear_first else "front",
            )


def _change_row(change: BrakeChange) -> tuple[str, ...]:
    return (
        change.name,
        share_words(change.front_share),
        points_words(change.margin),
        "REAR" if change.rear_first else "front",
        f"{change.rate:.2f}",
    )


def heat_row(heat: BrakeHeat) -> tuple[str, ...]:
    """One set of pads through the race."""
    front, rear = heat.front, heat.rear
    parts = [f"{end}: {axle.words}" for end, axle in (("front", front), ("rear", rear))]
    if heat.fluid_peak >= heat.fluid_boiling:
        parts.append("FLUID BOILS")
    if heat.rear_first:
        parts.append("REAR first when hot")
    discs = (f"{axle.disc_peak:.0f} of {axle.disc_limit:.0f} °C" for axle in (front, rear))
    return (
        heat.name,
        ", ".join(discs),
        f"{front.disc_mean:.0f} °C in {front.pad_window[0]:.0f} to {front.pad_window[1]:.0f}, "
        f"{rear.disc_mean:.0f} °C in {rear.pad_window[0]:.0f} to {rear.pad_window[1]:.0f}",
        f"{front.friction_first:.2f} to {front.friction_hottest:.2f}, "
        f"{rear.friction_first:.2f} to {rear.friction_hottest:.2f}",
        f"{1e3 * front.pad_left:.1f}, {1e3 * rear.pad_left:.1f}".replace("-", MINUS),
        f"{share_words(heat.share_first)} to {share_words(heat.share_hottest)}",
        "; ".join(parts),
    )


def brakes_content(found: BrakesAnswer) -> dict[str, Any]:
    """The same for a program; SI, °C."""
    answer = found.answer
    return {
        "question": answer.question,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "why": answer.why,
        "next_thing": answer.next_thing,
        "cautions": answer.cautions,
        "figures": [asdict(each) for each in answer.figures],
        "assumed": found.assumed,
        "device": found.device.value,
        "turns": found.turns_now,
        "cases": [
            {
                "road": case.name,
                "verdict": case.verdict.value,
                "locks_first": case.first,
                "turns_to_make": None if case.turns is None else asdict(case.turns),
                "pad_friction": case.balance.pad_friction,
                "front_share": case.balance.at_limit.front_share,
                "ideal_front_share": case.balance.ideal_share,
                "margin": case.balance.margin,
                "doubt": case.balance.doubt,
                "rear_first_above_g": case.balance.critical_rate,
                "hardest_push_g": case.balance.hardest_rate,
                "worst": {
                    **asdict(case.worst),
                    "needed": case.worst.needed,
                },
                "at_limit": asdict(case.balance.at_limit),
                "points": [asdict(point) for point in case.balance.points],
            }
            for case in found.cases
        ],
        "by_temperature": [asdict(each) for each in found.by_temperature],
        "by_part": [asdict(each) for each in found.by_part],
        "heat": [asdict(each) for each in found.heat],
        "works": [work(each) for each in answer.works],
    }
