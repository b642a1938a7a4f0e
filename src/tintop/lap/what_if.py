"""What if: a few numbers an owner can change, the car with them changed, and what each step buys on the lap.

The driven path stays that of the car as it is: a change is judged on the line found for today's car, which
costs a large change a little of its worth.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from tintop.car.car import Car
from tintop.car.numbers import with_number
from tintop.car.tyres import Tyre
from tintop.circuit.circuit import Path
from tintop.errors import BadInput, Problem
from tintop.event import Weather
from tintop.known import Known
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_time
from tintop.lap.sensitivity import Sensitivity
from tintop.lap.vehicle import brake_forces

_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
_DOUBTS_COUNTED = 8  # the dearest; the rest move a gain by next to nothing
_HORSEPOWER = 745.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Levers:
    """What can be changed: mass without driver and fuel [kg], peak power at the crank [W], mean peak
    friction of the tyres sideways, drag area [m²], front share of the brake force and of the roll
    stiffness, final drive.
    """

    mass: float
    power: float
    grip: float
    drag_area: float
    brake_front_share: float
    roll_front_share: float
    final_drive: float


NAMES = tuple(field.name for field in fields(Levers))
_ROOM: Mapping[str, tuple[float, float]] = {  # factors on the value as it stands
    "mass": (0.75, 1.25),
    "power": (0.6, 1.6),
    "grip": (0.7, 1.3),
    "drag_area": (0.5, 1.5),
    "final_drive": (0.7, 1.4),
}
_SHARES: Mapping[str, tuple[float, float]] = {
    "brake_front_share": (0.40, 0.90),
    "roll_front_share": (0.20, 0.80),
}


def as_it_stands(car: Car) -> Levers:
    """The levers' values of a car."""
    front_share, _ = brake_forces(car, Conditions())
    suspension = car.suspension
    return Levers(
        mass=car.masses.car,
        power=car.engine.peak_power,
        grip=0.5 * (car.tyre_front.friction_lateral + car.tyre_rear.friction_lateral),
        drag_area=car.aero.drag_area,
        brake_front_share=front_share,
        roll_front_share=suspension.roll_stiffness_front
        / (suspension.roll_stiffness_front + suspension.roll_stiffness_rear),
        final_drive=car.gearbox.final_drive,
    )


def room(car: Car) -> dict[str, tuple[float, float]]:
    """Lowest and highest value of each lever that this car may take in a what-if, by name."""
    now = as_it_stands(car)
    found = {}
    for name in NAMES:
        value = getattr(now, name)
        if name in _ROOM:
            low, high = (factor * value for factor in _ROOM[name])
        else:
            low, high = _SHARES[name]
        found[name] = (min(low, value), max(high, value))
    return found


def changed_car(car: Car, levers: Levers) -> Car:
    """The car with the levers at these values; BadInput naming each lever beyond its room.

    Power scales the whole torque curve; grip adds the same to every tyre's peak friction, both ways; brake
    and roll shares move force and stiffness between the axles and leave their sums.
    """
    now = as_it_stands(car)
    _require_room(car, levers)
    masses, brakes, suspension = car.masses, car.brakes, car.suspension
    whole_roll = suspension.roll_stiffness_front + suspension.roll_stiffness_rear
    power = levers.power / now.power
    front = levers.brake_front_share / now.brake_front_share
    rear = (1.0 - levers.brake_front_share) / (1.0 - now.brake_front_share)
    more_grip = levers.grip - now.grip
    changed = replace(
        car,
        masses=replace(masses, car=levers.mass) if levers.mass != masses.car else masses,
        engine=replace(car.engine, torques=tuple(power * torque for torque in car.engine.torques)),
        aero=replace(car.aero, drag_area=levers.drag_area),
        gearbox=replace(car.gearbox, final_drive=levers.final_drive),
        suspension=replace(
            suspension,
            roll_stiffness_front=levers.roll_front_share * whole_roll,
            roll_stiffness_rear=(1.0 - levers.roll_front_share) * whole_roll,
        ),
        tyre_front=_grippier(car.tyre_front, more_grip),
        tyre_rear=_grippier(car.tyre_rear, more_grip),
    )
    if levers.brake_front_share == now.brake_front_share:
        return changed
    return replace(
        changed,
        brakes=replace(
            brakes,
            front=replace(
                brakes.front,
                pad=replace(brakes.front.pad, frictions=_times(brakes.front.pad.frictions, front)),
            ),
            rear=replace(
                brakes.rear, pad=replace(brakes.rear.pad, frictions=_times(brakes.rear.pad.frictions, rear))
            ),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What one step buys: seconds a lap gained, with the 95 % range from what is not known of the car."""

    what: str
    seconds: float
    low: float
    high: float


def what_steps_buy(
    car: Car,
    path: Path,
    weather: Weather,
    *,
    worth: tuple[Sensitivity, ...] = (),
    known: Mapping[str, Known] | None = None,
) -> tuple[Gain, ...]:
    """Seconds gained by 10 kg less, 10 hp more and 0.1 more grip, each alone, on the path driven today.

    The range comes from driving the same steps with each of the dearest doubts of `worth` one standard
    uncertainty off, the changes of the gain added as independent.
    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory).
    """
    known = known or {}
    doubts = [one.path for one in worth if one.path in known and one.seconds_of_doubt > 0.0][:_DOUBTS_COUNTED]
    variants = [car]
    for name in doubts:
        one = next(each for each in worth if each.path == name)
        try:
            variants.append(with_number(car, name, one.value + one.uncertainty))
        except BadInput:
            variants.append(with_number(car, name, one.value - one.uncertainty))
    times = [lap_time(each, path, weather) for each in variants]
    found = []
    for what, step in (
        ("10 kg less", {"mass": -10.0}),
        ("10 hp more", {"power": 10.0 * _HORSEPOWER}),
        ("0.1 more grip", {"grip": 0.1}),
    ):
        gains = [
            before - lap_time(_stepped(each, step), path, weather)
            for each, before in zip(variants, times, strict=True)
        ]
        spread = _RANGE * math.sqrt(sum((gain - gains[0]) ** 2 for gain in gains[1:]))
        found.append(Gain(what=what, seconds=gains[0], low=gains[0] - spread, high=gains[0] + spread))
    return tuple(found)


def _stepped(car: Car, step: Mapping[str, float]) -> Car:
    now = as_it_stands(car)
    return changed_car(car, replace(now, **{name: getattr(now, name) + by for name, by in step.items()}))


def _require_room(car: Car, levers: Levers) -> None:
    problems = []
    for name, (low, high) in room(car).items():
        value = getattr(levers, name)
        if not (math.isfinite(value) and low <= value <= high):
            problems.append(Problem(where=name, found=f"{value:g}", expected=f"{low:.4g} to {high:.4g}"))
    if problems:
        raise BadInput(*problems)


def _grippier(tyre: Tyre, more: float) -> Tyre:
    return replace(
        tyre,
        friction_lateral=tyre.friction_lateral + more,
        friction_longitudinal=tyre.friction_longitudinal + more,
    )


def _times(values: tuple[float, ...], factor: float) -> tuple[float, ...]:
    return tuple(factor * value for value in values)
