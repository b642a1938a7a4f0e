"""The quickest lap a car does on a path, and everything that happens along it."""

from collections.abc import Callable

import numpy as np

from tintop.car.car import Car
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.trace import FloatArray, LapTrace
from tintop.lap.vehicle import Numbers, numbers_for, road_of
from tintop.physics.fastest_lap import fastest_lap
from tintop.physics.four_wheels import Road
from tintop.physics.lap_report import Report, report


def flying_lap(car: Car, path: Path, weather: Weather, conditions: Conditions | None = None) -> LapTrace:
    """Predict a flying lap; the racing line is the path's. BadInput if the car cannot drive it."""
    conditions = conditions or Conditions()
    return lap_of(numbers_for(car, weather, conditions), path, conditions.pace)


def lap_time(car: Car, path: Path, weather: Weather, conditions: Conditions | None = None) -> float:
    """Time of the flying lap alone [s]."""
    return lap_timer(car, weather, conditions)(path)


def lap_timer(car: Car, weather: Weather, conditions: Conditions | None = None) -> Callable[[Path], float]:
    """Give a function from a path to its lap time [s], for trying many paths with one car."""
    conditions = conditions or Conditions()
    numbers = numbers_for(car, weather, conditions)

    def time_on(path: Path) -> float:
        road = road_of(path)
        speed, _ = fastest_lap(numbers.vehicle, numbers.driveline, road)
        return float(np.sum(_segment_times(road, speed * conditions.pace)))

    return time_on


def lap_of(numbers: Numbers, path: Path, pace: float = 1.0) -> LapTrace:
    """Predict a flying lap from the kernel's own numbers."""
    road = road_of(path)
    speed, limit = fastest_lap(numbers.vehicle, numbers.driveline, road)
    speed = speed * pace
    parts = report(numbers.vehicle, numbers.driveline, road, speed, limit, pace)
    spent = _segment_times(road, speed)
    time = np.concatenate(([0.0], np.cumsum(spent)))
    return LapTrace(
        distance=path.distance,
        step=path.step,
        time=time[:-1],
        speed=speed,
        longitudinal_acceleration=parts.longitudinal,
        lateral_acceleration=parts.lateral,
        lap_time=float(time[-1]),
        is_predicted=True,
        channels={
            "x": path.x,
            "y": path.y,
            "lateral_curvature": path.lateral_curvature,
            "limit": limit,
            **{name: getattr(parts, name) for name in _CHANNELS},
        },
    )


_CHANNELS = tuple(name for name in Report._fields if name not in ("longitudinal", "lateral"))


def _segment_times(road: Road, speed: FloatArray) -> FloatArray:
    return 2.0 * road.step / (speed + np.roll(speed, -1))
