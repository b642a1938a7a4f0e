"""A closed circuit in metres: x east, y north, z up; curvature positive to the left (ISO 8855)."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.errors import refuse

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """One corner: number from the start line, distances along the centre line [m], radius, direction."""

    number: int
    start: float
    apex: float
    end: float
    radius: float
    is_left: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PitLane:
    """Where the pit lane leaves and joins [m along the centre line], its length and speed limit [m/s]."""

    entry: float
    exit: float
    length: float
    speed_limit: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Smoothing:
    """What reading and smoothing did to the line: said with every answer that uses it."""

    points_read: int
    gap_closed: float  # distance between last and first point [m]
    length_read: float
    length: float
    moved_mean: float  # distance of points moved [m]
    moved_max: float
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """Centre line on an even closed mesh in the driven direction, first point on the start line.

    Arrays share one shape (n,); the last point is NOT the first repeated. `banking` is the tilt of the
    road about its tangent [rad], positive = left edge higher. `sectors`
    are the distances at which sectors end, the last one the length.
    """

    name: str
    x: FloatArray
    y: FloatArray
    z: FloatArray
    width_left: FloatArray
    width_right: FloatArray
    banking: FloatArray
    curvature: FloatArray
    step: float  # [m]
    corners: tuple[Corner, ...]
    sectors: tuple[float, ...]
    pit_lane: PitLane | None
    smoothing: Smoothing
    has_widths: bool  # False = widths are assumed
    has_heights: bool
    source: str = ""

    def __post_init__(self) -> None:
        for name in ("x", "y", "z", "width_left", "width_right", "banking", "curvature"):
            values = getattr(self, name)
            if values.shape != self.x.shape or not np.all(np.isfinite(values)):
                raise refuse(
                    f"circuit {self.name} {name}",
                    "a gap or a number that is not finite",
                    f"{self.x.shape[0]} finite numbers",
                )
            values.flags.writeable = False

    @property
    def length(self) -> float:
        """Length of the centre line [m]."""
        return float(self.step * self.x.shape[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """The line a car drives, closed, with what the lap needs at each of n points.

    In the road's own axes (x along the path, y left, z out of the road): the acceleration of a car at
    speed v and path acceleration a is (a, v² lateral_curvature, v² normal_curvature); gravity's pull is
    (gravity_x, gravity_y, gravity_z), the last one positive INTO the road.
    `step` is the distance from each point to the next [m].
    """

    name: str
    x: FloatArray
    y: FloatArray
    z: FloatArray
    distance: FloatArray
    step: FloatArray
    lateral_curvature: FloatArray
    normal_curvature: FloatArray
    gravity_x: FloatArray
    gravity_y: FloatArray
    gravity_z: FloatArray
    offset: FloatArray  # from the centre line, left positive [m]

    @property
    def length(self) -> float:
        """Distance driven in one lap [m]."""
        return float(np.sum(self.step))
