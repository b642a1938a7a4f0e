"""A reading of the treads, from the paddock's own writing, put to the bench's car."""

from collections.abc import Mapping, Sequence

from tintop.car.chassis import CORNERS
from tintop.car.driver_words import said_from
from tintop.car.treads import Pressures, Tread, TreadReading
from tintop.errors import BadInput, Problem, refuse
from tintop.garage.bench import Bench
from tintop.garage.camber import circuit_for
from tintop.garage.setup_effects import line_of
from tintop.handwriting import (
    Ask,
    Row,
    read_corners,
    read_lap_time,
    read_temperatures_across,
    read_value,
    taken,
)
from tintop.handwriting.tread_unit import tread_unit, with_tread_unit
from tintop.lap.setup_effect import place_for
from tintop.questions.what_do_the_tyres_say import TyresSay, what_do_the_tyres_say

INNER_FIRST = "inner first"


def ask_the_tyres(bench: Bench, reading: TreadReading, setup: str = "", circuit: str = "") -> TyresSay:
    """What the treads say of the car with a set-up on it, on the weather the set-up is for."""
    chosen = bench.setup(setup)
    weather = bench.weather(chosen.purpose)
    path = line_of(bench, circuit_for(bench, chosen, circuit))
    place = place_for(bench.described.car, path, weather)
    return what_do_the_tyres_say(
        bench.described.car, bench.chassis, chosen, place, reading, bench.settings.units
    )


def reading_from(
    temps: Mapping[str, str],
    *,
    hot: str = "",
    cold: str = "",
    says: Sequence[str] = (),
    laps: int | None = None,
    is_after_cool_down: bool | None = None,
    minutes_since_in: float | None = None,
    lap_before: str = "",
    lap_after: str = "",
    last_change: str = "",
    units: Mapping[str, str] | None = None,
    order: str | None = INNER_FIRST,
) -> TreadReading:
    """Read what was written: three temperatures by corner, four pressures hot and cold, words, lap times.

    `units` are the owner's. BadInput naming the corner for what reads more than one way, with the ways it may
    be written instead.
    """
    units = units or {}
    unit = tread_unit([temps.get(corner, "") for corner in CORNERS], units.get("temperature"), "temperatures")
    rows: dict[str, Tread] = {}
    problems: list[Problem] = []
    for corner in CORNERS:
        try:
            rows[corner] = _tread(with_tread_unit(temps.get(corner, ""), unit), corner, order)
        except BadInput as error:
            problems += error.problems
    four: dict[str, Pressures] = {}
    for name, text in (("hot", hot), ("cold", cold)):
        try:
            four[name] = _pressures(text, f"tyre pressure {name}", units)
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(*problems)
    return TreadReading(
        treads=(rows["FL"], rows["FR"], rows["RL"], rows["RR"]),
        hot=four["hot"],
        cold=four["cold"],
        said=said_from(says),
        laps=laps,
        is_after_cool_down=is_after_cool_down,
        minutes_since_in=minutes_since_in,
        lap_before=lap_typed(lap_before, "lap before"),
        lap_after=lap_typed(lap_after, "lap after"),
        last_change=last_change.strip(),
    )


def temperature_typed(text: str, where: str, unit: str) -> float:
    """Read one tread temperature [°C], a bare number in the unit of all twelve; BadInput naming `where`."""
    try:
        found = read_value(with_tread_unit(text, unit), "tyre temperature")
    except BadInput as error:
        raise BadInput(*(_at(problem, where) for problem in error.problems)) from error
    return taken(found, where).value


def lap_typed(text: str, where: str) -> float | None:
    """Read a lap time [s], None for nothing; BadInput naming `where`, with the ways it may be meant."""
    if not text.strip():
        return None
    try:
        found = read_lap_time(text)
    except BadInput as error:
        raise BadInput(*(_at(problem, where) for problem in error.problems)) from error
    if isinstance(found, Ask):
        raise refuse(
            where, repr(text), found.question, "Write " + " or ".join(c.in_full for c in found.choices)
        )
    return found.value


def _tread(text: str, corner: str, order: str | None) -> Tread:
    where = f"temperatures {corner}"
    if not text.strip():
        raise refuse(where, "nothing", "three temperatures, inner middle outer, such as 85 82 78")
    try:
        found = read_temperatures_across(text, usual_order=order)
    except BadInput as error:
        raise BadInput(*(_at(problem, where) for problem in error.problems)) from error
    if isinstance(found, Ask):
        raise _ask(where, found)
    inner, middle, outer = (one.value for one in found.values)
    try:
        return Tread(inner=inner, middle=middle, outer=outer)
    except BadInput as error:
        raise BadInput(*(_at(problem, where) for problem in error.problems)) from error


def _pressures(text: str, where: str, units: Mapping[str, str]) -> Pressures:
    if not text.strip():
        return None, None, None, None
    try:
        found = read_corners(text, where, usual_unit=units.get("pressure"))
    except BadInput as error:
        raise BadInput(*(_at(problem, where) for problem in error.problems)) from error
    if isinstance(found, Ask):
        raise _ask(where, found)
    fl, fr, rl, rr = (one.value for one in found.values)
    return fl, fr, rl, rr


def _ask(where: str, found: Ask[Row]) -> BadInput:
    ways = " or ".join(repr(choice.in_full) for choice in found.choices)
    return refuse(where, repr(found.written), found.question, f"Write {ways}.")


def _at(problem: Problem, where: str) -> Problem:
    return Problem(where=where, found=problem.found, expected=problem.expected, cure=problem.cure)
