"""What do the tyres say: ONE change, a second best, or "measure again"?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean
from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.driver_words import WHERE, said_words
from tintop.car.setup import Setup
from tintop.car.tread_doubts import doubts, safety_first
from tintop.car.tread_rules import LEAST, SPREAD_PER_CAMBER, STEPS, Wish, evidence, wishes
from tintop.car.treads import Feel, TreadReading
from tintop.lap.setup_effect import Place
from tintop.lap.setup_search import LAP_NOISE
from tintop.lap.tread_changes import CannotChange, TreadChange, changes_for, corners_of
from tintop.owner_units import MINUS, in_owner_units

STOPWATCH = 0.003  # of the lap, under which two best laps are the same; common practice, no source
SPREAD = 11.0  # [K] across a tread that may stand
_SAME_BALANCE = 0.0005  # of cornering, under which nobody feels it; own choice
_PROBE = 3.0  # [K] of a probe in another hand, about 95 %; common practice, no source
CAUTIONS = (
    "One change at a time, then read again: two at once tell nothing.",
    "A tread with cord, a blister or a cut is not read, it is replaced.",
    "The scrutineer and the tyre's maker decide on least pressures and on what a tyre may be used for.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TyresSay:
    """The answer with the change, the second best, what the car has nothing for, and why to measure again."""

    answer: Answer
    reading: TreadReading
    change: TreadChange | None
    second: TreadChange | None
    cannot: tuple[CannotChange, ...]
    measure_again: tuple[str, ...]
    asked: tuple[Wish, ...]


def what_do_the_tyres_say(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    place: Place,
    reading: TreadReading,
    units: Mapping[str, str] | None = None,
) -> TyresSay:
    """Read the treads of the car with this set-up on it; BadInput as car_with_setup.

    What is at odds with itself, or was taken too late, gives no change. The stopwatch goes before the treads:
    where the last change made the lap slower, it goes back first. Units are the owner's, for the words.
    """
    units = units or {}
    weather = place.weather
    fitted = car_with_setup(car, chassis, setup, weather)
    tyres = (fitted.tyre_front, fitted.tyre_rear)
    cambers = (mean(setup, End.FRONT, "camber"), mean(setup, End.REAR, "camber"))
    first = safety_first(reading)
    again = doubts(reading, tyres, weather, cambers)
    seen = [
        evidence(reading, end, tyre.pressure_hot, car.driven_axle)
        for end, tyre in zip(End, tyres, strict=True)
    ]
    asked = tuple(wish for wish in wishes(seen) if wish.weight >= LEAST)
    changes: tuple[TreadChange, ...] = ()
    cannot: tuple[CannotChange, ...] = ()
    if not (first or again):
        changes, cannot = changes_for(car, chassis, setup, place, asked)
    change = changes[0] if changes else None
    second = changes[1] if len(changes) > 1 else None
    answer = _answer(reading, first, again, change, second, cannot, asked, units)
    return TyresSay(
        answer=answer,
        reading=reading,
        change=change,
        second=second,
        cannot=cannot,
        measure_again=(*first, *again),
        asked=asked,
    )


def change_words(change: TreadChange, units: Mapping[str, str]) -> str:
    """What to turn, such as "front cold pressure: FL 1.60 to 1.45 bar, FR 1.65 to 1.50 bar"."""
    item = change.wish.item
    if len(change.before) == 1:
        was, now = change.before[0], change.after[0]
        return f"{change.name}: {_value(item, was, units)} to {_value(item, now, units)}"
    pairs = dict.fromkeys(
        f"{_value(item, was, units)} to {_value(item, now, units)}"
        for was, now in zip(change.before, change.after, strict=True)
    )
    if len(pairs) == 1:
        return f"{change.name}: {next(iter(pairs))}, both sides"
    named = (
        f"{corner} {_value(item, was, units)} to {_value(item, now, units)}"
        for corner, was, now in zip(corners_of(change.wish.end), change.before, change.after, strict=True)
    )
    return f"{change.name}: " + ", ".join(named)


def effect_words(change: TreadChange) -> str:
    """What the lap model says of the change."""
    low, high = (f"{change.gain + by:+.2f}".replace("-", MINUS) for by in (-LAP_NOISE, LAP_NOISE))
    if abs(change.gain) < 0.005:
        lap = f"no change of the lap (gained: {low} to {high} s)"
    else:
        way = "quicker" if change.gain > 0.0 else "slower"
        lap = f"{abs(change.gain):.2f} s a lap {way} (gained: {low} to {high} s)"
    points = 100.0 * change.balance
    if abs(points) < 0.05:
        return f"By the lap model: {lap}, balance as it is."
    way = "understeer" if points > 0.0 else "oversteer"
    return f"By the lap model: {lap}, {abs(points):.1f} % of cornering towards {way}."


def cure_words(change: TreadChange, reading: TreadReading) -> str:
    """Whether a change is for what the driver complains of; nothing where he does not."""
    told = []
    complaints = ((one.feel, one.phase) for one in reading.said if one.feel is not Feel.FINE)
    for feel, phase in dict.fromkeys(complaints):
        words = f"{feel.value} {WHERE[phase]}"
        if any(words in seen for seen in change.wish.seen):
            told.append(f"It is for the driver's {words}.")
            continue
        towards = change.balance if feel is Feel.OVERSTEER else -change.balance
        way = "the right way for it" if towards > 0.0 else "the wrong way for it"
        moves = "leaves the balance as it is" if abs(towards) < _SAME_BALANCE else f"moves the balance {way}"
        told.append(f"It is no cure for the driver's {words}: it {moves}.")
    return " ".join(told)


def way_words(wish: Wish) -> str:
    """Which way an item goes, as the paddock says it."""
    match wish.item:
        case Item.PRESSURE:
            return "more" if wish.step > 0 else "less"
        case Item.CAMBER:
            return "less negative" if wish.step > 0 else "more negative"
        case Item.BRAKE_BIAS:
            return "to the front"
    return "stiffer" if wish.step > 0 else "softer"


def _why_so_far(change: TreadChange) -> tuple[str, ...]:
    """Why a camber goes further than its usual step, or less far than wished."""
    wish = change.wish
    if wish.lean is None:
        return ()
    moved = max(abs(now - was) for was, now in zip(change.before, change.after, strict=True))
    spread = f"{abs(wish.lean):.0f} K {'inner over outer' if wish.lean > 0.0 else 'outer over inner'}"
    if moved < wish.size - 0.25 * STEPS[Item.CAMBER]:
        return (
            f"{spread} asks for {math.degrees(wish.size):.1f}° at once; the adjuster's room ends "
            f"{math.degrees(moved):.1f}° on.",
        )
    if wish.size <= STEPS[Item.CAMBER]:
        return ()
    return (
        f"{math.degrees(moved):.1f}° at once because of {spread}: a degree moves the spread by about "
        f"{math.radians(SPREAD_PER_CAMBER):.0f} K, and half the way is gone before the next reading.",
    )


def _value(item: Item, value: float, units: Mapping[str, str]) -> str:
    match item:
        case Item.PRESSURE:
            return in_owner_units(value, "pressure", units)
        case Item.CAMBER:
            return f"{math.degrees(value):.1f}°".replace("-", MINUS)
        case Item.BAR:
            return "unhooked" if value == 0.0 else f"hole {value:.0f} from the softest"
        case Item.BRAKE_BIAS:
            return f"{value:+g} turns to the front".replace("-", MINUS)
        case _:
            return f"{value:.0f} clicks from full soft"


def _answer(
    reading: TreadReading,
    first: tuple[str, ...],
    again: tuple[str, ...],
    change: TreadChange | None,
    second: TreadChange | None,
    cannot: tuple[CannotChange, ...],
    asked: tuple[Wish, ...],
    units: Mapping[str, str],
) -> Answer:
    slower = _slower(reading)
    if first:
        verdict, sentence, next_thing = (
            Verdict.NO,
            f"{_capital(first[0])}.",
            "Leave the set-up alone; find the leak.",
        )
    elif again:
        verdict, sentence = Verdict.NOT_PROVEN, f"Measure again: {again[0]}."
        next_thing = (
            "Five to ten hard laps, straight in, treads first and pressures after, loaded side first, inner, "
            "middle, outer, 25 mm in from each shoulder, all within three minutes."
        )
    elif slower and reading.last_change:
        verdict = Verdict.FOUND
        sentence = (
            f"Put {reading.last_change} back: {slower:.2f} s a lap slower since, whatever the treads say."
        )
        next_thing = f"Put {reading.last_change} back, drive again, read again."
    elif change is None:
        verdict = Verdict.FOUND
        sentence = "Leave it: nothing the treads or the driver say asks for a change this car can make."
        next_thing = "Drive on; read again when the day has warmed or the driver says something new."
    else:
        verdict = Verdict.FOUND
        sentence = f"{_capital(change_words(change, units))}, because of this: {change.wish.seen[0]}."
        sentence = f"{sentence} {cure_words(change, reading)}".strip()
        next_thing = _to_do(change, units)
    return Answer(
        question="What do the tyres say?",
        verdict=verdict,
        sentence=sentence,
        figures=_figures(reading, change if verdict is Verdict.FOUND else None),
        why=_why(reading, first, again, change, second, cannot, asked, slower, units),
        next_thing=next_thing,
        cautions=CAUTIONS,
        works=("Milliken1995",),
        working={"asked": {f"{wish.end or 'car'} {wish.item} {wish.step:+d}": wish.weight for wish in asked}},
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _slower(reading: TreadReading) -> float:
    """By how much the last change made the best lap slower, where that is beyond a driver's scatter."""
    if reading.lap_before is None or reading.lap_after is None:
        return 0.0
    by = reading.lap_after - reading.lap_before
    return by if by > STOPWATCH * reading.lap_before else 0.0


def _to_do(change: TreadChange, units: Mapping[str, str]) -> str:
    words = f"Set {change_words(change, units)}"
    if change.top is not None:
        top = change.top
        way = "in" if top.inward > 0.0 else "out"
        rod = "longer" if top.turns > 0.0 else "shorter"
        toe = "in" if top.toe_at_rim > 0.0 else "out"
        words += (
            f"; strut tops {abs(top.inward) * 1e3:.1f} mm {way}, the toe goes "
            f"{abs(top.toe_at_rim) * 1e3:.1f} mm "
            f"{toe} a wheel: track rods {abs(top.turns):.2f} turn {rod} each (thread of "
            f"{top.pitch * 1e3:g} mm "
            "assumed), check by strings, top nuts to torque"
        )
    return f"{words}. Change nothing else, drive five hard laps, read again: {_expect(change)}."


def _expect(change: TreadChange) -> str:
    match change.wish.item:
        case Item.PRESSURE:
            return "the middle should come within 3 K of the edges"
        case Item.CAMBER:
            return "the inner edge should stand 2 to 8 K over the outer"
        case _:
            return "the driver should say it is less, and the stopwatch should agree"


def _why(
    reading: TreadReading,
    first: tuple[str, ...],
    again: tuple[str, ...],
    change: TreadChange | None,
    second: TreadChange | None,
    cannot: tuple[CannotChange, ...],
    asked: tuple[Wish, ...],
    slower: float,
    units: Mapping[str, str],
) -> tuple[str, ...]:
    told = [f"{_capital(one)}." for one in (*first, *again)]
    if reading.said:
        told.append(f"The driver, as understood: {said_words(reading.said)}.")
    if first or again:
        return tuple(told)
    if change is not None:
        told.append("Seen: " + "; ".join(change.wish.seen) + ".")
        if change.wish.against:
            told.append("Against it: " + "; ".join(change.wish.against) + ".")
        told += _why_so_far(change)
        told.append(effect_words(change))
        if change.gain < -0.02:
            told.append(
                "The lap model does not agree: let the stopwatch decide, and put it back if it is slower."
            )
    if second is not None:
        told.append(
            f"Second best: {change_words(second, units)} ({second.wish.seen[0]}). {effect_words(second)} "
            f"{cure_words(second, reading)}".strip()
        )
    elif change is not None:
        told.append("No second best: nothing else that was read or said weighs enough.")
    told += [f"Asked for, but {one.why}: {one.wish.seen[0]}." for one in cannot]
    if slower and not reading.last_change:
        told.append(
            f"The stopwatch contradicts: {slower:.2f} s slower since the last change. Say which it "
            f"was, and put it "
            "back first."
        )
    elif reading.lap_before is not None and not slower:
        gained = reading.lap_before - (reading.lap_after or 0.0)
        told.append(
            f"The stopwatch does not contradict: {gained:+.2f} s since the last change.".replace("-", MINUS)
        )
    if reading.is_after_cool_down is None or reading.minutes_since_in is None:
        told.append("Taken as read within three minutes of a hard lap; nobody said so.")
    heavier = [wish for wish in asked if change is not None and wish is not change.wish]
    if change is not None and heavier and heavier[0].weight > 0.9 * change.wish.weight:
        told.append("A close call: the next wish weighs nearly as much.")
    return tuple(told)


def _figures(reading: TreadReading, change: TreadChange | None) -> tuple[Figure, ...]:
    found = []
    for corner, tread in zip(CORNERS, reading.treads, strict=True):
        for name, value in (("middle over edges", tread.crown), ("inner over outer", tread.lean)):
            found.append(
                Figure(
                    name=f"{corner} {name}",
                    value=value,
                    low=value - _PROBE,
                    high=value + _PROBE,
                    unit="K",
                    basis="three temperatures by probe",
                )
            )
    if change is not None:
        found.append(
            Figure(
                name="gained a lap",
                value=change.gain,
                low=change.gain - LAP_NOISE,
                high=change.gain + LAP_NOISE,
                unit="s",
                basis="lap model; not what the tread itself likes",
            )
        )
    return tuple(found)
