"""One change at a time of springs and bars: what each step within reach does to lap and balance.

Gear changes take no time, as in `lap.spring_map`.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.chassis import Chassis, End
from tintop.car.numbers import numbers_of, with_number
from tintop.car.setup import Setup
from tintop.circuit.circuit import Path
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.known import Known
from tintop.lap.balance import LimitBalance
from tintop.lap.flying_lap import lap_time
from tintop.lap.setup_effect import without_gear_changes
from tintop.lap.setup_gain import chassis_moved
from tintop.lap.spring_map import Choice, Trial, Tried, Varied, choices, smooth_fit

RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
_CAR_DOUBTS = (
    "masses.cg_height",
    "masses.front_share",
    "suspension.roll_centre_height_front",
    "suspension.roll_centre_height_rear",
    "suspension.camber_recovery_front",
    "suspension.camber_recovery_rear",
)
_CHASSIS_DOUBTS = ("motion_ratio", "tyre_rate")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One choice at one end: the set-up with it, its trial, the seconds a lap it gains."""

    choice: Choice
    setup: Setup
    tried: Tried
    gain: float

    @property
    def balance(self) -> LimitBalance:
        """Its balance in a steady corner."""
        return self.tried.balance


def steps(chassis: Chassis, setup: Setup, trial: Trial) -> tuple[Step, ...]:
    """Every single change of a spring, a bar or its hole, owned or offered; the greatest gain first."""
    now = trial(setup)
    found = []
    for end in End:
        for varied in Varied:
            for choice in choices(chassis, end, varied):
                wanted = choice.on(setup)
                if wanted == setup:
                    continue
                tried = trial(wanted)
                found.append(
                    Step(choice=choice, setup=wanted, tried=tried, gain=now.lap_time - tried.lap_time)
                )
    return tuple(sorted(found, key=lambda step: -step.gain))


Doubted = tuple[Car, Chassis]


def doubted(
    car: Car,
    chassis: Chassis,
    known: Mapping[str, Known],
    chassis_known: Mapping[str, Known],
) -> tuple[Doubted, ...]:
    """The car and chassis with each number that moves springs and balance one standard uncertainty off."""
    numbers = numbers_of(car)
    found: list[Doubted] = []
    for path in _CAR_DOUBTS:
        if path not in known or not known[path].uncertainty:
            continue
        try:
            found.append((with_number(car, path, numbers[path] + known[path].uncertainty), chassis))
        except BadInput:
            found.append((with_number(car, path, numbers[path] - known[path].uncertainty), chassis))
    for path in (f"{end}.{name}" for end in End for name in _CHASSIS_DOUBTS):
        if path not in chassis_known or not chassis_known[path].uncertainty:
            continue
        try:
            found.append((car, chassis_moved(chassis, path, chassis_known[path].uncertainty)))
        except BadInput:
            found.append((car, chassis_moved(chassis, path, -chassis_known[path].uncertainty)))
    return tuple(found)


def spread(value: float, others: tuple[float, ...]) -> float:
    """Half the 95 % range of a value from its values with each doubt one off, taken as independent.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory).
    """
    return RANGE * math.sqrt(sum((other - value) ** 2 for other in others))


def gain_spread(
    car: Car,
    chassis: Chassis,
    setups: tuple[Setup, Setup],
    doubts: tuple[Doubted, ...],
    path: Path,
    weather: Weather,
) -> float:
    """Half the 95 % range of the gain from one set-up to another [s], by laps of both with each doubt.

    Driven on a smooth road: what the bumps are worth is taken to be equally well known.
    """

    def gain(one: Car, hung: Chassis) -> float:
        fit = smooth_fit(one, hung, weather)
        before, after = (
            lap_time(without_gear_changes(fitted), path, weather, conditions)
            for fitted, conditions in map(fit, setups)
        )
        return before - after

    return spread(gain(car, chassis), tuple(gain(*doubt) for doubt in doubts))
