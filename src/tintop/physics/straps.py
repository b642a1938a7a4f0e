"""Angles of straps and cage stays from two points measured in the car; x forward, y left, z up (ISO 8855)."""

import math
from typing import NamedTuple

from tintop.checks import require

_NANOMETRE_DIGITS = 9


class Point(NamedTuple):
    """A place in the car [m]: x forward, y left, z up, from any one datum."""

    x: float
    y: float
    z: float


def angle_below_horizontal(from_point: Point, to_point: Point) -> float:
    """Give how far a strap falls rearwards, seen from the side [rad]: positive = anchor lower.

    Points [m]: from the driver's side (top edge of the backrest, shoulder, or hip, as the clause says) to the
    anchor. A shoulder strap lies near 0, a lap strap between 0 and 90 degrees; beyond 90 the anchor is ahead.
    BadInput when the points fall together in side view. Source: geometry, atan2(z1 - z2, x1 - x2).
    """
    back, down = _side_view(from_point, to_point)
    return math.atan2(down, back)


def plan_angle(from_point: Point, to_point: Point) -> float:
    """Give the angle to the car's centre line, seen from above [rad], 0 to a right angle, of either side.

    Points [m]. BadInput when the points fall together in plan. Source: geometry, atan2(|y1 - y2|, |x1 - x2|).
    """
    along, across = _plan_view(from_point, to_point)
    return math.atan2(abs(across), abs(along))


def angle_from_vertical(from_point: Point, to_point: Point) -> float:
    """Give how far a cage stay leans from vertical, seen from the side [rad], 0 to a right angle.

    Points [m], in either order. BadInput when they fall together in side view.
    Source: geometry, atan2(|x1 - x2|, |z1 - z2|).
    """
    back, down = _side_view(from_point, to_point)
    return math.atan2(abs(back), abs(down))


def stay_angle(top: Point, foot: Point) -> float:
    """Give how far a cage stay leans rearwards from vertical, seen from the side [rad]: foot behind top.

    Points [m]. Negative = the foot is ahead of the top. BadInput when they fall together in side view, or
    the foot is the higher one. Source: geometry, atan2(x1 - x2, z1 - z2).
    """
    back, down = _side_view(top, foot)
    require(
        down >= 0.0,
        "stay",
        "a foot higher than the top",
        "the top first, then the foot",
        "Check which of the two points is which, and that z counts upwards.",
    )
    return math.atan2(back, down)


def angle_behind_chest(from_point: Point, to_point: Point, chest_lean: float) -> float:
    """Give how far a crotch strap runs behind the chest line carried on downwards, in side view [rad].

    Points [m]: from the crotch to the anchor; chest_lean [rad]: how far the chest leans back from vertical.
    Negative = the anchor is ahead of that line. BadInput when the points fall together in side view, or the
    chest leans past horizontal. Source: geometry.
    """
    require(
        math.isfinite(chest_lean) and abs(chest_lean) < math.pi / 2.0,
        "chest lean",
        f"{math.degrees(chest_lean):g} deg",
        "less than 90 deg from vertical",
    )
    back, down = _side_view(from_point, to_point)
    return math.atan2(back, down) + chest_lean


def side_view_spread(from_point: Point, to_point: Point, coordinate_error: float) -> float:
    """Give the standard uncertainty of an angle in side view [rad].

    coordinate_error [m] is the standard uncertainty of each of the four coordinates, independently.
    BadInput when it is negative or the points fall together. Source: first-order propagation,
    sqrt(2) e / L with L the distance in that view; derived in docs/theory/anchors.md.
    """
    return _spread(_side_view(from_point, to_point), coordinate_error)


def plan_view_spread(from_point: Point, to_point: Point, coordinate_error: float) -> float:
    """Give the standard uncertainty of an angle in plan [rad]. Units, errors, source: side_view_spread."""
    return _spread(_plan_view(from_point, to_point), coordinate_error)


def _side_view(from_point: Point, to_point: Point) -> tuple[float, float]:
    return _apart(from_point, to_point, (0, 2), "in side view")


def _plan_view(from_point: Point, to_point: Point) -> tuple[float, float]:
    return _apart(from_point, to_point, (0, 1), "seen from above")


def _apart(one: Point, other: Point, axes: tuple[int, int], view: str) -> tuple[float, float]:
    """How far apart along two axes, to the nanometre: equal runs typed in decimals are equal here."""
    first, second = (round(one[axis] - other[axis], _NANOMETRE_DIGITS) for axis in axes)
    require(
        math.isfinite(first) and math.isfinite(second),
        "strap points",
        "a coordinate that is no number",
        "finite coordinates in metres",
    )
    require(
        first != 0.0 or second != 0.0,
        "strap points",
        f"two points that fall together {view}",
        "two points apart",
        "Measure where the strap leaves the driver's side, and where it meets its anchor.",
    )
    return first, second


def _spread(apart: tuple[float, float], coordinate_error: float) -> float:
    require(
        math.isfinite(coordinate_error) and coordinate_error >= 0.0,
        "error of a coordinate",
        f"{coordinate_error:g} m",
        "0 m or more",
    )
    return math.sqrt(2.0) * coordinate_error / math.hypot(*apart)
