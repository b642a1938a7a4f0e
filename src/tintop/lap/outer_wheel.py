"""How upright the loaded outer wheel stands where a lap pulls hardest, which bounds the camber a lap likes.

The lap's tyre has one camber term, alike to either side. What an outer shoulder that carries the corner alone
costs in wear and turn-in is not in it, so a wheel that leans outwards there is not proposed.
"""

import math
from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean
from tintop.car.chassis import Chassis, End
from tintop.car.setup import Setup
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.lap.camber_on_lap import links_recovery, wheels_at_places
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace

OUTER_SHOULDER = "outer shoulder, not in this lap model"
UPRIGHT = math.radians(-0.1)  # to the road; a tenth in hand for what a straight count misses; own choice
_HARDEST = 0.95  # of the most the lap pulls sideways; own choice


@dataclass(frozen=True, slots=True, kw_only=True)
class OuterWheel:
    """An end's outer wheel at the hardest corners with one set-up: camber to the road, static camber, roll at
    the limit of a steady corner [rad], and the share of roll that leans it outwards.
    """

    end: End
    lean: float
    static: float
    roll: float
    roll_share: float

    def with_setup(self, setup: Setup, roll: float) -> float:
        """Camber to the road with another set-up whose body rolls by `roll` at its limit [rad]."""
        return (
            self.lean + mean(setup, self.end, "camber") - self.static + self.roll_share * (roll - self.roll)
        )


def outer_at_hardest(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    end: End,
    path: Path,
    weather: Weather,
    lap: LapTrace | None = None,
) -> float:
    """Give the camber to the road [rad] of an end's outer wheel at the hardest corners, the most upright one.

    `lap` is that of the car with this set-up. Source and BadInput as camber_on_lap.
    """
    lap = flying_lap(car_with_setup(car, chassis, setup, weather), path, weather) if lap is None else lap
    pairs = wheels_at_places(car, chassis, setup, end, hardest_places(lap), path, weather, lap)
    return max(one.camber for pair in pairs for one in pair if one.is_outer)


def hardest_places(lap: LapTrace) -> list[int]:
    """Where the lap pulls hardest in each stretch that comes near its hardest of all."""
    lateral = np.abs(lap.lateral_acceleration)
    near = np.flatnonzero(lateral >= _HARDEST * np.max(lateral))
    stretches = np.split(near, np.flatnonzero(np.diff(near) > 1) + 1)
    return [int(each[np.argmax(lateral[each])]) for each in stretches]


def outer_wheels(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    ends: Collection[End],
    path: Path,
    weather: Weather,
    roll: float,
) -> tuple[OuterWheel, ...]:
    """Give the outer wheels of some ends with a set-up whose body rolls by `roll` at its limit [rad]."""
    return tuple(
        OuterWheel(
            end=end,
            lean=outer_at_hardest(car, chassis, setup, end, path, weather),
            static=mean(setup, end, "camber"),
            roll=roll,
            roll_share=1.0 - links_recovery(car, chassis, setup, end, weather),
        )
        for end in ends
    )
