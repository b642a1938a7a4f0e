"""What a suggested set-up gains by whole laps, and the range of that from what is not known of the car."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np

from tintop.car.car import Car
from tintop.car.chassis import Chassis
from tintop.car.numbers import numbers_of, with_number
from tintop.car.setup import Setup
from tintop.errors import BadInput
from tintop.known import Known
from tintop.lap.setup_effect import (
    Fitted,
    Place,
    Ride,
    SetupEffect,
    fitted_with,
    mean_lap_time,
    ride_where_known,
    setup_effect,
    without_gear_changes,
)
from tintop.lap.setup_search import LAP_NOISE
from tintop.lap.vehicle import Numbers, numbers_for
from tintop.physics.road_profile import RoadClass

_DOUBTS_COUNTED = 8  # the dearest; what is left is the noise of a lap
_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
SURFACE = "surface of the circuit"
Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One number not well known, by its path, and by how much one standard uncertainty moves the gain [s]."""

    path: str
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmed:
    """The set-up as it is and as suggested, each by a whole lap, and the gain with its 95 % range [s]."""

    before: SetupEffect
    after: SetupEffect
    low: float
    high: float
    doubts: tuple[Doubt, ...]  # the dearest first

    @property
    def gain(self) -> float:
        """Seconds a lap by the mean of whole laps."""
        return self.before.mean_lap_time - self.after.mean_lap_time

    @property
    def is_worth_it(self) -> bool:
        """Whether the gain is more than the noise of a lap and stays a gain over its whole range."""
        return self.gain > LAP_NOISE and self.low > 0.0


def confirmed(
    car: Car,
    chassis: Chassis,
    before: Setup,
    after: Setup,
    place: Place,
    *,
    known: Mapping[str, Known] | None = None,
    chassis_known: Mapping[str, Known] | None = None,
    ride: Ride = ride_where_known,
    progress: Progress | None = None,
) -> Confirmed:
    """Drive both set-ups round the place by whole laps, and again with each doubt one off.

    Each number of car and chassis is moved by one standard uncertainty in both cars alike, the surface to the
    next rougher class, and the changes of the gain are added as independent; the laps for that have gear
    changes that take no time, for then they move smoothly. Source: JCGM 100:2008, Guide to the expression of
    uncertainty in measurement, eq. 10 (from memory).
    """
    all_known = {**(known or {}), **(chassis_known or {})}
    first, last = (
        setup_effect(car, chassis, one, place.path, place.weather, place=place, ride=ride, known=all_known)
        for one in (before, after)
    )
    gain = first.mean_lap_time - last.mean_lap_time
    doubts = _doubts(
        car, chassis, (before, after), place, known or {}, chassis_known or {}, ride, progress or _nothing
    )
    low, high = gain_range(gain, doubts)
    return Confirmed(before=first, after=last, low=low, high=high, doubts=doubts)


def gain_range(gain: float, doubts: tuple[Doubt, ...]) -> tuple[float, float]:
    """The 95 % range of a gain [s] by its dearest doubts, the dearest first, as independent."""
    spread = _RANGE * math.sqrt(sum(one.seconds**2 for one in doubts[:_DOUBTS_COUNTED]))
    return gain - spread, gain + spread


def _nothing(_share: float) -> None:
    return None


def _doubts(
    car: Car,
    chassis: Chassis,
    setups: tuple[Setup, Setup],
    place: Place,
    known: Mapping[str, Known],
    chassis_known: Mapping[str, Known],
    ride: Ride,
    progress: Progress,
) -> tuple[Doubt, ...]:
    felt = [ride(car, chassis, one, place.surface, place.corner_speed) for one in setups]

    driven: list[dict[tuple[float, ...], float]] = [{}, {}]  # laps by the numbers they are driven with

    def gain_of(other: Car, hung: Chassis, shift: Callable[[Fitted], Car], feel: bool, where: Place) -> float:
        times = []
        for one, before, laps in zip(setups, felt, driven, strict=True):
            now = ride(other, hung, one, where.surface, where.corner_speed) if feel else before
            found = fitted_with(other, hung, one, where, now)
            smooth = without_gear_changes(shift(found))
            key = _key(numbers_for(smooth, where.weather, found.conditions))
            if key not in laps:
                laps[key] = mean_lap_time(smooth, found.grip_kept, where, (1.0,))
            times.append(laps[key])
        return times[0] - times[1]

    def as_fitted(found: Fitted) -> Car:
        return found.car

    standing = gain_of(car, chassis, as_fitted, False, place)
    numbers = numbers_of(car)
    own = [
        name
        for name, one in known.items()
        if name in numbers and one.uncertainty > 0.0 and not _is_on_the_shelf(name, chassis_known)
    ]
    tyres, pads = {one.tyres for one in setups}, {one.pads for one in setups}
    fitted_sets = (
        *(f"tyre_sets.{at}." for at, one in enumerate(chassis.tyre_sets, 1) if one.name in tyres),
        *(f"pad_sets.{at}." for at, one in enumerate(chassis.pad_sets, 1) if one.name in pads),
    )
    hung = [
        name
        for name, one in chassis_known.items()
        if one.uncertainty > 0.0 and (not _is_of_a_set(name) or name.startswith(fitted_sets))
    ]
    found: list[Doubt] = []
    for count, name in enumerate((*own, *hung)):
        progress(count / (len(own) + len(hung) + 1))
        doubt = (
            known[name].uncertainty if name in known and count < len(own) else chassis_known[name].uncertainty
        )
        for off in (doubt, -doubt):
            try:
                if count >= len(own):
                    other = chassis_moved(chassis, name, off)
                    gain = gain_of(car, other, as_fitted, True, place)
                elif name.startswith("suspension."):
                    gain = gain_of(car, chassis, _moved_after(name, off), False, place)
                else:
                    other_car = with_number(car, name, numbers[name] + off)
                    gain = gain_of(other_car, _parts_moved(chassis, name, off), as_fitted, False, place)
            except BadInput:
                continue
            found.append(Doubt(path=name, seconds=abs(gain - standing)))
            break
    classes = tuple(RoadClass)
    worse = classes[min(classes.index(place.surface) + 1, len(classes) - 1)]
    rougher = gain_of(car, chassis, as_fitted, True, replace(place, surface=worse))
    found.append(Doubt(path=SURFACE, seconds=abs(rougher - standing)))
    progress(1.0)
    return tuple(sorted(found, key=lambda one: (-one.seconds, one.path)))


def _key(numbers: Numbers) -> tuple[float, ...]:
    """What tells one lap's numbers from another's: the car's, and the sums of the driveline's tables."""
    vehicle, driveline = numbers.vehicle, numbers.driveline
    plain = (*vehicle.front, *vehicle.rear, *(one for one in vehicle if isinstance(one, float)))
    tables = (driveline.force, driveline.best_gear, driveline.gear_mass, driveline.engine_ratio)
    return (*plain, driveline.top_speed, *(float(np.sum(table)) for table in tables))


def _is_of_a_set(path: str) -> bool:
    return path.startswith(("tyre_sets.", "pad_sets."))


def _is_on_the_shelf(path: str, chassis_known: Mapping[str, Known]) -> bool:
    """Whether a number of the car's tyres is known again as that of a set, which is what the lap takes."""
    return path.startswith("tyre_") and any(name.startswith("tyre_sets.") for name in chassis_known)


def _moved_after(name: str, off: float) -> Callable[[Fitted], Car]:
    """What a set-up states itself is moved on the car as it is set up: the gauge was off for both."""

    def move(found: Fitted) -> Car:
        return with_number(found.car, name, numbers_of(found.car)[name] + off)

    return move


def _parts_moved(chassis: Chassis, name: str, off: float) -> Chassis:
    """The tyres on the shelf moved as the car's own: they are of the same kind of knowledge."""
    part, _, number = name.partition(".")
    if part not in ("tyre_front", "tyre_rear"):
        return chassis
    end = part.removeprefix("tyre_")
    sets = []
    for one in chassis.tyre_sets:
        tyre = getattr(one, end)
        value = getattr(tyre, number)
        sets.append(one if value is None else replace(one, **{end: replace(tyre, **{number: value + off})}))
    return replace(chassis, tyre_sets=tuple(sets))


def chassis_moved(chassis: Chassis, path: str, off: float) -> Chassis:
    """The chassis with one number moved, by a path such as "front.motion_ratio"; BadInput as its parts.

    A row or table of numbers is scaled by what its first is moved. A path that leads to no number leaves the
    chassis as it is.
    """
    moved = _moved(chassis, path.split("."), off)
    assert isinstance(moved, Chassis)
    return moved


def _moved(part: Any, steps: list[str], off: float) -> Any:
    name, rest = steps[0], steps[1:]
    if isinstance(part, tuple) and name.isdecimal() and 0 < int(name) <= len(part):
        at = int(name) - 1
        return (*part[:at], _moved(part[at], rest, off) if rest else part[at] + off, *part[at + 1 :])
    if not is_dataclass(part) or name not in {field.name for field in fields(part)}:
        return part
    value = getattr(part, name)
    if rest:
        return replace(part, **{name: _moved(value, rest, off)})  # type: ignore[type-var]
    if isinstance(value, tuple):
        first = _first(value)
        return replace(part, **{name: _scaled(value, 1.0 + off / first)}) if first else part  # type: ignore[type-var]
    return replace(part, **{name: value + off}) if isinstance(value, float) else part  # type: ignore[type-var]


def _first(values: Any) -> float:
    """The first number of a row or table, which stands for the doubt of all; 0 for none."""
    while isinstance(values, tuple) and values:
        values = values[0]
    return values if isinstance(values, float) else 0.0


def _scaled(values: tuple[Any, ...], factor: float) -> tuple[Any, ...]:
    return tuple(_scaled(one, factor) if isinstance(one, tuple) else factor * one for one in values)
