"""How a wheel leans, points and stands as it moves: camber, toe, caster, scrub, trail, roll centre.

Camber and toe are changes from the wheel as it was measured (travel 0, straight ahead, top where it was): the
set-up's own are added by whoever asks. Contact, scrub, trail and roll centre are those of the wheel as it
leans and points, the camber and toe it was measured with included. Camber is negative with the top inwards,
toe positive with the front inwards, travel positive with the wheel up. All are of the left wheel; the right
is its mirror.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tintop.car.wheel_paths import Point, Strut, WheelPath, WheelTable, Wishbones
from tintop.checks import require
from tintop.errors import refuse
from tintop.physics.linkage import (
    FloatArray,
    Linkage,
    Poses,
    moved_points,
    poses_at,
    strut_linkage,
    wishbone_linkage,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelPose:
    """A wheel at one travel; angles in rad, lengths in m, `residual` by how much the links miss one another.

    Camber and toe are changes from the wheel as measured; `camber_rate`, `toe_rate` [rad/m] are changes per
    metre of bump. Caster (top rearwards), king-pin inclination (top inwards), `scrub_radius` (contact outside
    the axis), `trail` (contact behind the axis) and `points` are of the links and None or empty for a table.
    `contact` is None for a table. `roll_centre_height` is above the ground, of the pair of wheels alike.
    `is_beyond_table` says that a table was carried on along its last two readings.
    """

    travel: float
    camber: float
    toe: float
    camber_rate: float
    toe_rate: float
    roll_centre_height: float
    caster: float | None = None
    kingpin_inclination: float | None = None
    scrub_radius: float | None = None
    trail: float | None = None
    contact: Point | None = None
    residual: float = 0.0
    points: tuple[tuple[str, Point], ...] = ()
    is_beyond_table: bool = False

    @property
    def swing_arm(self) -> float:
        """Length of the virtual swing arm in front view [m], infinite where camber does not change."""
        return -1.0 / self.camber_rate if self.camber_rate else math.inf


def wheel_at(path: WheelPath, travel: float, steer: float = 0.0, top_inward: float = 0.0) -> WheelPose:
    """Give the wheel with its centre `travel` up, the rack moved `steer` to the left, the strut's top moved
    `top_inward` [all m]; a table knows no steer. BadInput where the links cannot meet, or where there is no
    strut top to move.
    """
    return wheels_at(path, (travel,), (steer,), top_inward)[0]


def bump_curve(
    path: WheelPath, travels: Sequence[float], steer: float = 0.0, top_inward: float = 0.0
) -> tuple[WheelPose, ...]:
    """Give the wheel at each of these travels [m], in far less time than one by one; BadInput as wheel_at."""
    return wheels_at(path, travels, (steer,) * len(travels), top_inward)


def wheels_at(
    path: WheelPath, travels: Sequence[float], steers: Sequence[float], top_inward: float = 0.0
) -> tuple[WheelPose, ...]:
    """Give the wheel at each pair of travel and rack's travel [m]; BadInput as wheel_at."""
    require(
        top_inward == 0.0 or isinstance(path, Strut),
        "strut top",
        "double wishbones" if isinstance(path, Wishbones) else "a wheel given by a table",
        "a strut, whose top can move",
    )
    if isinstance(path, WheelTable):
        return tuple(_of_table(path, travel) for travel in travels)
    linkage = linkage_of(path)
    top = np.tile((0.0, -top_inward, 0.0), (len(travels), 1))
    poses = poses_at(linkage, np.array(travels, dtype=np.float64), np.array(steers, dtype=np.float64), top)
    if not np.all(poses.is_met):
        lost = int(np.argmin(poses.is_met))
        moves = [f"{travels[lost] * 1e3:+.0f} mm of wheel travel"]
        moves += [f"the rack {steers[lost] * 1e3:+.0f} mm"] if steers[lost] else []
        moves += [f"the strut top {top_inward * 1e3:.0f} mm inwards"] if top_inward else []
        raise refuse(
            "suspension points",
            "links that cannot meet at " + ", ".join(moves),
            "links long enough to reach each other through the whole travel",
            "Measure the points again: x forward from the front axle, y left, z up from the ground.",
        )
    return _posed(path, linkage, poses, travels, top_inward)


def camber_recovery(
    path: WheelPath, track: float, suspension_share: float, roll: float = 0.02, lowered: float = 0.0
) -> float:
    """Give the share of body roll by which the links keep a pair of wheels upright: the mean of outer and
    inner wheel at a roll [rad], `suspension_share` of it in springs and bars and the rest in the tyres.

    track, `lowered` [m]. 1 − recovery is what a wheel leans outwards per body roll. Source: geometry; the
    lean as W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 17 (from memory).
    """
    hung = 0.5 * track * suspension_share * roll
    outer, inner = bump_curve(path, (lowered + hung, lowered - hung))
    return 1.0 - (body_lean(path, roll) + 0.5 * (outer.camber - inner.camber)) / roll


def body_lean(path: WheelPath, roll: float) -> float:
    """Give what a wheel leans outwards with the body [rad] before its links lean it back."""
    return roll * (path.leans_with_body if isinstance(path, WheelTable) else 1.0)


@lru_cache(maxsize=32)
def linkage_of(path: Strut | Wishbones) -> Linkage:
    """Give the linkage of a strut or of two wishbones."""
    points = [np.array(point, dtype=np.float64) for point in points_of(path).values()]
    return strut_linkage(*points) if isinstance(path, Strut) else wishbone_linkage(*points)


def points_of(path: Strut | Wishbones) -> dict[str, Point]:
    """Give the points of a strut or of two wishbones by their names in the trade."""
    if isinstance(path, Strut):
        return {
            "strut top": path.top,
            "strut axis": path.strut_axis,
            "arm front": path.arm_front,
            "arm rear": path.arm_rear,
            "ball joint": path.ball_joint,
            "track rod inner": path.track_rod_inner,
            "track rod outer": path.track_rod_outer,
            "wheel centre": path.wheel_centre,
        }
    return {
        "upper front": path.upper_front,
        "upper rear": path.upper_rear,
        "upper ball joint": path.upper_ball_joint,
        "lower front": path.lower_front,
        "lower rear": path.lower_rear,
        "lower ball joint": path.lower_ball_joint,
        "track rod inner": path.track_rod_inner,
        "track rod outer": path.track_rod_outer,
        "wheel centre": path.wheel_centre,
    }


_ON_UPRIGHT = (
    "strut axis",
    "ball joint",
    "upper ball joint",
    "lower ball joint",
    "track rod outer",
    "wheel centre",
)


def steering_axis(points: dict[str, Point]) -> tuple[Point, Point]:
    """Give the lower and upper point of the axis about which the wheel steers."""
    if "strut top" in points:
        return points["ball joint"], points["strut top"]
    return points["lower ball joint"], points["upper ball joint"]


def axle_as_measured(path: Strut | Wishbones) -> FloatArray:
    """Give the direction of the wheel's axle, pointing outwards, as its points were measured."""
    across = math.cos(path.camber)
    return np.array([across * math.sin(path.toe), across * math.cos(path.toe), -math.sin(path.camber)])


def _posed(
    path: Strut | Wishbones, linkage: Linkage, poses: Poses, travels: Sequence[float], top_inward: float
) -> tuple[WheelPose, ...]:
    points = points_of(path)
    if isinstance(path, Strut):
        points["strut top"] = (path.top[0], path.top[1] - top_inward, path.top[2])
    names = [name for name in points if name in _ON_UPRIGHT]
    moved = moved_points(linkage, poses, np.array([points[name] for name in names]))
    straight = axle_as_measured(path)
    axle = poses.rotation @ straight  # the wheel's own axle, pointing outwards
    spun = np.cross(poses.turn_rate, axle)
    level = axle[:, 0] ** 2 + axle[:, 1] ** 2
    down = axle[:, 2:] * axle - np.array([0.0, 0.0, 1.0])
    radius = path.wheel_centre[2] / math.cos(path.camber)
    below = radius * down / np.linalg.norm(down, axis=1)[:, None]
    contact = linkage.wheel_centre + poses.shift + below
    contact_rate = poses.shift_rate + np.cross(poses.turn_rate, below)
    camber = -np.arcsin(axle[:, 2]) - path.camber
    toe = np.arctan2(axle[:, 0], axle[:, 1]) - path.toe
    camber_rate = -spun[:, 2] / np.sqrt(level)
    toe_rate = (axle[:, 1] * spun[:, 0] - axle[:, 0] * spun[:, 1]) / level
    roll_centre = contact[:, 1] * contact_rate[:, 1] / contact_rate[:, 2]
    found = []
    for row, travel in enumerate(travels):
        there = points | {name: _point(place) for name, place in zip(names, moved[row], strict=True)}
        lower, upper = steering_axis(there)
        rise = upper[2] - lower[2]
        touch = _point(contact[row])
        up = (touch[2] - lower[2]) / rise
        found.append(
            WheelPose(
                travel=travel,
                camber=float(camber[row]),
                toe=float(toe[row]),
                camber_rate=float(camber_rate[row]),
                toe_rate=float(toe_rate[row]),
                roll_centre_height=float(roll_centre[row]),
                caster=math.atan2(lower[0] - upper[0], rise),
                kingpin_inclination=math.atan2(lower[1] - upper[1], rise),
                scrub_radius=touch[1] - (lower[1] + up * (upper[1] - lower[1])),
                trail=lower[0] + up * (upper[0] - lower[0]) - touch[0],
                contact=touch,
                residual=float(poses.residual[row]),
                points=tuple(there.items()),
            )
        )
    return tuple(found)


def _point(values: FloatArray) -> Point:
    return float(values[0]), float(values[1]), float(values[2])


def _of_table(table: WheelTable, travel: float) -> WheelPose:
    """Between readings in a straight line; beyond them along the last two."""
    place = int(np.searchsorted(table.travel, travel, side="right")) - 1
    place = min(max(place, 0), len(table.travel) - 2)
    rates = {
        name: (values[place + 1] - values[place]) / (table.travel[place + 1] - table.travel[place])
        for name, values in (("camber", table.camber), ("toe", table.toe))
    }
    past = travel - table.travel[place]
    return WheelPose(
        travel=travel,
        camber=table.camber[place]
        + rates["camber"] * past
        - float(np.interp(0.0, table.travel, table.camber)),
        toe=table.toe[place] + rates["toe"] * past - float(np.interp(0.0, table.travel, table.toe)),
        camber_rate=rates["camber"],
        toe_rate=rates["toe"],
        roll_centre_height=table.roll_centre_height,
        is_beyond_table=not table.travel[0] <= travel <= table.travel[-1],
    )
