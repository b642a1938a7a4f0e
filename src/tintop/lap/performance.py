"""The performance envelope: what the car can do at each speed, cornering, accelerating and braking."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import GRAVITY, numbers_for
from tintop.physics.performance_envelope import envelope

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class PerformanceEnvelope:
    """Accelerations on a flat road [m/s²].

    `speed` (m,); `lateral_limit` (m,) at steady speed; `limiting_axle` (m,) of Limit; for shares (k,) of the
    lateral limit, `accelerating` and `braking` (m, k), braking negative.
    """

    speed: FloatArray
    share: FloatArray
    lateral_limit: FloatArray
    limiting_axle: FloatArray
    accelerating: FloatArray
    braking: FloatArray


def performance_envelope(
    car: Car, weather: Weather, conditions: Conditions | None = None, *, speeds: int = 24, shares: int = 25
) -> PerformanceEnvelope:
    """Compute the envelope from 5 m/s to the limiter in top gear."""
    numbers = numbers_for(car, weather, conditions or Conditions())
    speed = np.linspace(5.0, numbers.driveline.top_speed, speeds)
    share = np.linspace(0.0, 1.0, shares)
    limit, axle, most, least = envelope(numbers.vehicle, numbers.driveline, speed, share, GRAVITY)
    return PerformanceEnvelope(
        speed=speed, share=share, lateral_limit=limit, limiting_axle=axle, accelerating=most, braking=least
    )
