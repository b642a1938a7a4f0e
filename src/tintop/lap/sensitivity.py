"""What every number of the car is worth on the lap."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.numbers import numbers_of, with_number
from tintop.circuit.circuit import Path
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.known import Known, Origin
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_time

_RELATIVE_STEP = 0.01
_SMALLEST_STEP = {"masses.ballast": 10.0, "aero.lift_area_front": 0.02, "aero.lift_area_rear": 0.02}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """One number of the car: lap time gained per unit [s/unit], and the spread its uncertainty gives [s]."""

    path: str
    value: float
    seconds_per_unit: float
    seconds_per_percent: float
    uncertainty: float
    seconds_of_doubt: float
    origin: Origin | None


def sensitivities(
    car: Car,
    path: Path,
    weather: Weather,
    *,
    known: Mapping[str, Known] | None = None,
    conditions: Conditions | None = None,
    progress: Callable[[float], None] | None = None,
) -> tuple[Sensitivity, ...]:
    """Lap time against every number of the car, by central differences, the dearest doubt first.

    Numbers that do not touch the lap come out as 0. With `known`, each uncertainty is turned into seconds.
    """
    known = known or {}
    numbers = numbers_of(car)

    def time_with(name: str, value: float) -> float:
        return lap_time(with_number(car, name, value), path, weather, conditions)

    found = []
    for place, (name, value) in enumerate(numbers.items()):
        step = max(abs(value) * _RELATIVE_STEP, _SMALLEST_STEP.get(name, 1e-4 if value == 0.0 else 0.0))
        slope = _slope(time_with, name, value, step)
        doubt = known[name].uncertainty if name in known else 0.0
        found.append(
            Sensitivity(
                path=name,
                value=value,
                seconds_per_unit=slope,
                seconds_per_percent=slope * abs(value) * 0.01,
                uncertainty=doubt,
                seconds_of_doubt=abs(slope) * doubt,
                origin=known[name].origin if name in known else None,
            )
        )
        if progress:
            progress((place + 1) / len(numbers))
    return tuple(
        sorted(found, key=lambda one: (-one.seconds_of_doubt, -abs(one.seconds_per_percent), one.path))
    )


def _slope(time_with: Callable[[str, float], float], name: str, value: float, step: float) -> float:
    """Central difference, one-sided where the part refuses one of the two values."""
    low, high = value - step, value + step
    try:
        time_low = time_with(name, low)
    except BadInput:
        low, time_low = value, time_with(name, value)
    try:
        time_high = time_with(name, high)
    except BadInput:
        high, time_high = value, time_with(name, value)
    return (time_high - time_low) / (high - low) if high > low else 0.0
