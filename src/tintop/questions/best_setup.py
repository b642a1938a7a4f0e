"""Which set-up for this circuit, from what can be adjusted: the few changes that matter, and their worth."""

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace

from tintop.answer import Answer, Figure, Verdict
from tintop.car.camber_by_treads import CamberByTreads, left_to_the_treads
from tintop.car.chassis import Chassis, End, Item
from tintop.car.described import DescribedCar
from tintop.car.front_first import front_first_need
from tintop.car.measuring import deed_for, words_of_path
from tintop.car.setup import Setup
from tintop.car.setup_ranges import UNTRIED, Bounds, Ranges, ranges_of
from tintop.car.setup_ranges import Place as Setting
from tintop.car.setup_words import value_words
from tintop.circuit.circuit import Path
from tintop.circuit.least_time import thinned
from tintop.event import Weather
from tintop.known import Known
from tintop.lap.heights_first import heights_first_words
from tintop.lap.lattice import Progress
from tintop.lap.outer_wheel import OUTER_SHOULDER, OuterWheel, outer_at_hardest, outer_wheels
from tintop.lap.setup_effect import (
    Place,
    Quick,
    place_for,
    quick_effect,
    remembering,
    without_gear_changes,
)
from tintop.lap.setup_gain import SURFACE, Confirmed, Doubt, confirmed
from tintop.lap.setup_search import (
    BUMP_STOPS,
    LAP_NOISE,
    LEAST_WORTH,
    REAR_LOCKS,
    Change,
    Demands,
    Searched,
    search_setup,
)
from tintop.owner_units import MINUS
from tintop.references import work
from tintop.settings import USUAL_UNITS

UNDERSTEER_KEPT = 0.01  # least limit balance of a suggested set-up; common practice, no source
MOST_LOOSER = 0.04  # by which a suggestion may move the balance towards oversteer; common practice
CAUTIONS = (
    "One change at a time: three laps before, three after, fuel and tyres alike; the stopwatch decides.",
    "A car that turned out looser or that locks its rear wheels is put back before it is driven hard.",
    "After every spanner: torque, wheel nuts, a look underneath. Camber and height move the toe: reset it.",
    "The scrutineer and the regulations in force decide what is legal; what was not checked is not proven.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Legality:
    """What the rules close off: bounds by adjuster, and the sentences to say."""

    bounds: Mapping[tuple[Item, End | None], Bounds] = field(default_factory=dict)
    sentences: tuple[str, ...] = ()
    is_checked: bool = False


NOT_CHECKED = Legality(sentences=("Legality not checked: no rule book was asked.",))


@dataclass(frozen=True, slots=True, kw_only=True)
class BestSetup:
    """The answer with all it rests on; `setup` is the one suggested, the present one where nothing is.

    `treads` are what the logged treads say that wins over the lap; `outer` the camber to the road of an end's
    outer wheel at the hardest corners [rad], as it is and as suggested.
    """

    circuit: str
    before: Setup
    setup: Setup
    answer: Answer
    ranges: Ranges
    searched: Searched
    confirmed: Confirmed
    legality: Legality
    chassis: Chassis
    treads: tuple[CamberByTreads, ...] = ()
    outer: tuple[tuple[End, float, float], ...] = ()

    @property
    def has_changes(self) -> bool:
        """Whether anything is to be changed."""
        return bool(self.searched.changes)


def best_setup(
    described: DescribedCar,
    chassis: Chassis,
    setup: Setup,
    path: Path,
    weather: Weather,
    circuit: str,
    *,
    chassis_known: Mapping[str, Known] | None = None,
    wanted: Collection[str] = (),
    legality: Legality = NOT_CHECKED,
    balance: tuple[float | None, float | None] | None = None,
    treads: Collection[CamberByTreads] = (),
    units: Mapping[str, str] = USUAL_UNITS,
    progress: Progress | None = None,
) -> BestSetup:
    """Search from a set-up, confirm by whole laps, and answer.

    `wanted` names the adjusters to try, empty = all; `balance` the limit balance that is accepted, None = the
    usual window about the present one. An end whose `treads` say to leave its camber, or to make it more
    negative, has it left as it is; no camber leans an outer wheel outwards at the hardest corners.
    `progress` may raise to stop. BadInput as car_with_setup.
    """
    tell = progress or (lambda _share: None)
    car = described.car
    place = place_for(car, path, weather)
    rough = replace(place, path=thinned(path))
    smooth, ride, ride_of_smooth = without_gear_changes(car), remembering(), remembering()

    ranges = ranges_of(chassis, setup, wanted=wanted, bounds=legality.bounds)
    ranges, heard = left_to_the_treads(ranges, treads)
    outer: tuple[OuterWheel, ...] = ()

    def leaning(found: Quick, one: Setup) -> Quick:
        most = max((wheel.with_setup(one, found.roll) for wheel in outer), default=-math.inf)
        return replace(found, outer_lean=most)

    def quick(one: Setup) -> Quick:
        return leaning(quick_effect(smooth, chassis, one, rough, ride_of_smooth, (1.0,)), one)

    def whole(one: Setup) -> Quick:
        return leaning(quick_effect(car, chassis, one, place, ride), one)

    if any(one.item is Item.FINAL_DRIVE for one in ranges.found):

        def quick(one: Setup) -> Quick:  # other gearing changes gear elsewhere: that counts
            return leaning(quick_effect(car, chassis, one, rough, ride), one)

    now = whole(setup)
    cambers = [one.end for one in ranges.found if one.item is Item.CAMBER and one.end]
    outer = outer_wheels(car, chassis, setup, cambers, path, weather, now.roll)
    low, high = balance or (max(UNDERSTEER_KEPT, now.balance - MOST_LOOSER), None)
    need = front_first_need(car, chassis, setup, weather, described.known, chassis_known)
    with_turns = whole(replace(setup, brake_bias_turns=need.at))
    demands = Demands(balance_low=low, balance_high=high, lock_margin=need.demanded(with_turns.lock_margin))
    searched = search_setup(chassis, setup, ranges, quick, whole, demands, lambda share: tell(0.8 * share))
    found = confirmed(
        car,
        chassis,
        setup,
        searched.setup,
        place,
        known=described.known,
        chassis_known=chassis_known,
        ride=ride,
        progress=lambda share: tell(0.8 + 0.2 * share),
    )
    leans = tuple(
        (one.end, one.lean, outer_at_hardest(car, chassis, searched.setup, one.end, path, weather))
        for one in outer
    )
    return BestSetup(
        circuit=circuit,
        before=setup,
        setup=searched.setup,
        answer=_answer(
            setup, circuit, chassis, place, ranges, searched, found, legality, units, heard, leans
        ),
        ranges=ranges,
        searched=searched,
        confirmed=found,
        legality=legality,
        chassis=chassis,
        treads=heard,
        outer=leans,
    )


def change_words(change: Change, chassis: Chassis, units: Mapping[str, str]) -> str:
    """Such as "front camber −2.90° to −2.40°"."""
    before, after = (setting_words(change.range.item, change.range.end, one, chassis, units)
                     for one in (change.before, change.after))  # fmt: skip
    return f"{change.range.name} {before} to {after}"


def setting_words(
    item: Item, end: End | None, value: Setting, chassis: Chassis, units: Mapping[str, str]
) -> str:
    """One place of an adjuster in the owner's units."""
    if item is Item.BAR and not isinstance(value, str):
        return f"hole {value:.0f}" if value else "unhooked"
    rim = chassis.at(end).rim_diameter if end else 0.0
    return value_words(item, value, rim, units)


def doubt_words(doubt: Doubt) -> str:
    """A doubt's number in words."""
    return doubt.path if doubt.path == SURFACE else words_of_path(_as_of_car(doubt.path))


def _as_of_car(path: str) -> str:
    """A number of tyres or pads on the shelf by the path it has once on the car."""
    steps = path.split(".")
    if steps[0] == "tyre_sets" and len(steps) > 3:
        return ".".join((f"tyre_{steps[2]}", *steps[3:]))
    if steps[0] == "pad_sets" and len(steps) > 3:
        return ".".join(("brakes", steps[2], "pad", *steps[3:]))
    return path


def _answer(
    setup: Setup,
    circuit: str,
    chassis: Chassis,
    place: Place,
    ranges: Ranges,
    searched: Searched,
    found: Confirmed,
    legality: Legality,
    units: Mapping[str, str],
    heard: tuple[CamberByTreads, ...],
    leans: tuple[tuple[End, float, float], ...],
) -> Answer:
    untried = ranges.nothing_tried
    verdict = Verdict.NOT_PROVEN if untried else _verdict(searched, found)
    warnings = (*_unsafe(searched, found), *legality.sentences)
    return Answer(
        question=f"Best set-up for {circuit}, from {setup.name}?",
        verdict=verdict,
        sentence=f"{circuit}: {untried}." if untried else _sentence(verdict, circuit, searched, found),
        figures=(*_figures(searched, found), *_of_outer(leans)),
        why=(*(one.sentence for one in heard), *_why(searched, found, chassis, units)),
        next_thing=UNTRIED if untried else _next_thing(verdict, searched, found, chassis, units),
        cautions=(*warnings, *CAUTIONS),
        works=tuple(work(key) for key in ("Hooke1961", "JCGM100", "Pacejka2012")),
        working={
            "warnings": warnings,
            "left_out": dict(ranges.left_out),
            "looked_at": searched.looked_at,
            "corner_speed": place.corner_speed,
            "surface": place.surface.value,
        },
    )


def _verdict(searched: Searched, found: Confirmed) -> Verdict:
    if _needed(searched):
        return Verdict.FOUND
    if not searched.changes or found.gain <= LAP_NOISE:
        return Verdict.NO
    return Verdict.FOUND if found.is_worth_it else Verdict.NOT_PROVEN


def _needed(searched: Searched) -> tuple[Change, ...]:
    """The changes that something rests on that must hold, whatever they cost."""
    return tuple(change for change in searched.changes if change.worth is None)


def _sentence(verdict: Verdict, circuit: str, searched: Searched, found: Confirmed) -> str:
    count = len(searched.changes)
    changes = f"{count} change{'s' if count != 1 else ''}"
    gain = _gain_words(found.gain)
    if verdict is Verdict.NO:
        return (
            f"{circuit}: nothing worth turning. What the search found is {gain} by whole laps, "
            f"within the {LAP_NOISE:.3f} s by which one lap differs from the next."
            if searched.changes
            else f"{circuit}: nothing worth turning: no change within what must hold buys {LEAST_WORTH} s."
        )
    if verdict is Verdict.NOT_PROVEN:
        return (
            f"{circuit}: nothing proven worth turning. {changes} should be {gain} a lap by whole laps, "
            f"but what is not known of the car makes that a gain of {_range_words(found)}."
        )
    proof = "" if found.is_worth_it else ": none is proven"
    needed = "; ".join(f"{change.range.name}, {change.needed_for}" for change in _needed(searched))
    return (
        f"{circuit}: {changes}, {gain} a lap by whole laps; with what is not known of the car a gain of "
        f"{_range_words(found)}{proof}." + (f" Needed all the same: {needed}." if needed else "")
    )


def _range_words(found: Confirmed) -> str:
    return f"{found.low:.2f} to {found.high:.2f} s".replace("-", MINUS)


def _gain_words(gain: float) -> str:
    return f"{abs(gain):.2f} s {'quicker' if gain >= 0.0 else 'slower'}"


def _figures(searched: Searched, found: Confirmed) -> Iterator[Figure]:
    before, after = found.before, found.after
    yield Figure(
        name="gain by whole laps",
        value=found.gain,
        low=found.low,
        high=found.high,
        unit="s",
        basis="mean of whole laps on a little less and more grip; range from the dearest doubts of the car",
    )
    yield _exact("gain by the search's quick laps", searched.quick_gain, "s", "laps on a thinned path")
    yield _exact("one whole lap as it is", before.lap_time, "s", "one flying lap, tank empty")
    yield _exact("one whole lap as suggested", after.lap_time, "s", "one flying lap, tank empty")
    named = (("as it is", before), ("as suggested", after))
    for name, one in named:
        yield _exact(
            f"limit balance {name}", one.limit.balance, "share", "steady corner, positive: understeer"
        )
    for name, one in named:
        if one.comfort_road is not None:
            yield _exact(f"comfort on the road {name}", one.comfort_road, "m/s2", "ISO 2631-1 weighted")


def _of_outer(leans: tuple[tuple[End, float, float], ...]) -> Iterator[Figure]:
    for end, before, after in leans:
        for name, lean in (("as it is", before), ("as suggested", after)):
            yield _exact(
                f"outer {end.value} wheel to the road at the hardest corners, {name}",
                lean,
                "rad",
                "links and body roll, negative: leans in",
            )


def _exact(name: str, value: float, unit: str, basis: str) -> Figure:
    return Figure(
        name=name, value=value, low=value, high=value, unit=unit, basis=f"{basis}; no range computed"
    )


def _why(searched: Searched, found: Confirmed, chassis: Chassis, units: Mapping[str, str]) -> Iterator[str]:
    for change in searched.changes:
        words = change_words(change, chassis, units)
        if change.worth is None:
            yield f"{words}: needed, for without it: {change.needed_for}"
        else:
            yield f"{words}: {change.worth:.2f} s lost without it"
    if any(one.range.item is Item.BRAKE_BIAS for one in searched.flatness):
        yield "brake bias: tried towards the front only; what goes to the rear is for the brakes' page"
    for flat in searched.flatness:
        kept = [
            place
            for place, one in zip(flat.range.places, flat.broken, strict=True)
            if OUTER_SHOULDER not in one and not isinstance(place, str)
        ]
        if flat.range.item is Item.CAMBER and kept and len(kept) < len(flat.broken):
            most = setting_words(Item.CAMBER, flat.range.end, max(kept), chassis, units)
            yield (
                f"{flat.range.name} no less than {most}: beyond it the outer wheel leans outwards at the "
                f"hardest corners ({OUTER_SHOULDER})"
            )
    if searched.not_worth:
        yield (f"not worth a spanner, {searched.given_up:.2f} s in all: {', '.join(searched.not_worth)}")
    dearest = [one for one in found.doubts[:3] if one.seconds >= 0.005]
    if dearest:
        named = "; ".join(f"{doubt_words(one)} ±{one.seconds:.2f} s" for one in dearest)
        yield f"what the gain hangs on most: {named}"


def _unsafe(searched: Searched, found: Confirmed) -> Iterator[str]:
    if found.after.lock.verdict not in (Verdict.YES, Verdict.NO):
        yield (
            f"By calculation the front wheels lock first, by {100.0 * found.after.lock.margin:.1f} points of "
            "front share: little in hand. Prove it as the brakes' page says before it is braked hard."
        )
    if REAR_LOCKS in searched.still_broken:
        yield (
            "The rear wheels may lock first, and nothing turned here mends it: see the brakes before "
            "anything else."
        )
    if BUMP_STOPS in searched.still_broken:
        yield "A wheel touches its bump stop at the hardest place of the lap: see springs and travel first."


def _next_thing(
    verdict: Verdict, searched: Searched, found: Confirmed, chassis: Chassis, units: Mapping[str, str]
) -> str:
    if {REAR_LOCKS, BUMP_STOPS} & set(searched.still_broken):
        return " ".join(_unsafe(searched, found))
    if verdict is Verdict.NOT_PROVEN and found.doubts:
        dearest = found.doubts[0]
        deed = (
            "drive three laps on it and three as it is"
            if dearest.path == SURFACE
            else deed_for(_as_of_car(dearest.path))
        )
        worth = f"{doubt_words(dearest)} alone moves the gain by {dearest.seconds:.2f} s"
        return f"{deed[:1].upper()}{deed[1:]}: {worth}."
    if not searched.changes:
        return next(_unsafe(searched, found), "Leave the spanners; drive.")
    first = searched.changes[0]
    heights = [one for one in searched.changes if one.range.item is Item.RIDE_HEIGHT]
    if first in heights or any(one.worth is None for one in heights):
        return heights_first_words(heights, [change_words(one, chassis, units) for one in heights])
    words = change_words(first, chassis, units)
    return f"{words[:1].upper()}{words[1:]} first; then three laps before the next change."
