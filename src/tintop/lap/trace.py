"""One lap against distance: the same type whether predicted or logged."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from tintop.errors import refuse

FloatArray = NDArray[np.float64]
CORNERS = ("FL", "FR", "RL", "RR")


class Limit(IntEnum):
    """What holds the car back at a point of the lap."""

    FRONT_GRIP = 0
    REAR_GRIP = 1
    POWER = 2
    LIMITER = 3
    BRAKES = 4
    GEAR_SHIFT = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class LapTrace:
    """Distance, time, speed and accelerations at n points, with optional channels of shape (n,) or (n, 4).

    Values are at the points; the lap closes from the last point to the first over the last `step`.
    Channels a predicted lap has (SI; wheels in the order FL FR RL RR): gear, engine_speed, throttle,
    brake_share (of the brake force the driver and tyres could give), drive_force, brake_force,
    wheel_load (n,4), grip_used (n,4), limit (of `Limit`), balance (front minus rear grip used,
    positive = understeer), fuel_flow [kg/s], engine_power [W], brake_power (n,4) [W],
    tyre_slip_power (n,4) [W], drag_force, rolling_force, inertia_force, lateral_curvature, x, y.
    """

    distance: FloatArray
    step: FloatArray
    time: FloatArray
    speed: FloatArray
    longitudinal_acceleration: FloatArray
    lateral_acceleration: FloatArray
    lap_time: float
    is_predicted: bool
    channels: Mapping[str, FloatArray]

    def __post_init__(self) -> None:
        for name in (
            "distance",
            "step",
            "time",
            "speed",
            "longitudinal_acceleration",
            "lateral_acceleration",
        ):
            values = getattr(self, name)
            if values.shape != self.distance.shape or not np.all(np.isfinite(values)):
                raise refuse(
                    f"lap {name}", "a gap or a number that is not finite", "one finite number per point"
                )

    @property
    def length(self) -> float:
        """Distance driven [m]."""
        return float(np.sum(self.step))

    @property
    def segment_time(self) -> FloatArray:
        """Time from each point to the next [s], shape (n,)."""
        return np.diff(np.append(self.time, self.lap_time))

    def channel(self, name: str) -> FloatArray:
        """Give a channel by name; BadInput naming the ones there are if it is missing."""
        if name not in self.channels:
            raise refuse(
                f"lap channel {name}", "no such channel", "one of " + ", ".join(sorted(self.channels))
            )
        return self.channels[name]

    def per_lap(self, rate: str) -> FloatArray:
        """Integrate a channel of something per second over the lap; shape () or (4,)."""
        values = self.channel(rate)
        return np.tensordot(self.segment_time, values, axes=(0, 0))

    def limit_share(self) -> dict[str, float]:
        """Share of the lap time under each limit in force, by name, summing to 1."""
        limits = self.channel("limit").astype(int)
        spent = np.bincount(limits, weights=self.segment_time, minlength=len(Limit))
        return {limit.name.lower(): float(spent[limit] / self.lap_time) for limit in Limit}
