"""How a wheel moves on the car: a strut, a double wishbone, or a table measured by hand; left wheel, SI.

Points are (x, y, z) [m] of the LEFT wheel, as in `car.chassis`; camber is negative with the top inwards, toe
positive with the front inwards, bump positive with the wheel up. `camber` and `toe` of links [rad] are those
with which the wheel stood when its points were measured; the tyre's contact follows from them.
"""

from dataclasses import dataclass

from tintop.checks import require

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strut:
    """A MacPherson strut: the lower arm turns about its two pivots, the strut slides and turns in its top.

    `strut_axis` is a second point on the slider's axis, on the upright, well below the top. `slots_inward` is
    how far the top can move inwards from here, `slots_outward` outwards [m]; 0 where it is fixed.
    """

    top: Point
    strut_axis: Point
    arm_front: Point
    arm_rear: Point
    ball_joint: Point
    track_rod_inner: Point
    track_rod_outer: Point
    wheel_centre: Point
    slots_inward: float = 0.0
    slots_outward: float = 0.0
    camber: float = 0.0
    toe: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishbones:
    """Two wishbones, each turning about two pivots, and a track rod or toe link."""

    upper_front: Point
    upper_rear: Point
    upper_ball_joint: Point
    lower_front: Point
    lower_rear: Point
    lower_ball_joint: Point
    track_rod_inner: Point
    track_rod_outer: Point
    wheel_centre: Point
    camber: float = 0.0
    toe: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelTable:
    """Camber and toe [rad] read at wheel travels [m], bump positive, rising; for a beam or any other axle.

    `leans_with_body` is the share of body roll the wheel follows: 1 for independent wheels, 0 for a rigid
    axle, between for a twist beam. `roll_centre_height` [m].
    """

    travel: tuple[float, ...]
    camber: tuple[float, ...]
    toe: tuple[float, ...]
    leans_with_body: float
    roll_centre_height: float

    def __post_init__(self) -> None:
        rising = all(b > a for a, b in zip(self.travel, self.travel[1:], strict=False))
        require(
            len(self.travel) >= 2 and rising and len(self.camber) == len(self.toe) == len(self.travel),
            "camber and toe against travel",
            f"{len(self.travel)} travels, {len(self.camber)} cambers, {len(self.toe)} toes",
            "two or more rising travels, each with its camber and toe",
        )
        require(
            0.0 <= self.leans_with_body <= 1.0,
            "leans with body",
            self.leans_with_body,
            "0 (rigid axle) to 1 (independent)",
        )


WheelPath = Strut | Wishbones | WheelTable
