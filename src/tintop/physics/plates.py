"""Mounting and reinforcement plates: area of a drawn outline, least width, pressure on the sheet."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from tintop.checks import above_nought, require
from tintop.errors import refuse

_MOST_CORNERS = 200
_SQUARE_MICROMETRE_DIGITS = 12
_NANOMETRE_DIGITS = 9


class Corner(NamedTuple):
    """A corner of a drawn outline [m], from any one datum in the plane of the plate."""

    x: float
    y: float


def outline_area(corners: Sequence[Corner]) -> float:
    """Give the area inside a drawn outline [m²], to the square micrometre.

    Corners [m] in order, either way round, the last joined to the first. BadInput for fewer than three or
    more than 200 corners, for two that fall together, or for an outline that crosses or touches itself.
    Source: the shoelace formula (Gauss).
    """
    placed = _outline(corners)
    first = placed[0]  # from a corner, not a far datum: fewer digits are lost
    arms = [(x - first.x, y - first.y) for x, y in placed]
    twice = math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in zip(arms, arms[1:] + arms[:1], strict=True))
    area = _tidy(0.5 * abs(twice))
    require(area > 0.0, "outline", "an area of nothing", "an outline that encloses something")
    return area


def rectangle_area(length: float, width: float) -> float:
    """Give the area of a rectangle [m²], to the square micrometre; sides [m], BadInput unless above 0."""
    above_nought(length, "length", "m")
    above_nought(width, "width", "m")
    return _tidy(length * width)


def disc_area(diameter: float) -> float:
    """Give the area of a disc [m²]; diameter [m], BadInput unless above 0."""
    above_nought(diameter, "diameter", "m")
    return math.pi / 4.0 * diameter**2


def net_area(gross_area: float, hole_diameters: Sequence[float] = ()) -> float:
    """Give an area less its round holes [m²], to the square micrometre.

    gross_area [m²], diameters [m], holes taken to lie inside and apart. BadInput when nothing is left.
    """
    above_nought(gross_area, "area", "m²")
    holes = math.fsum(disc_area(diameter) for diameter in hole_diameters)
    left = _tidy(gross_area - holes)
    require(
        left > 0.0,
        "holes",
        f"{1e4 * holes:.4g} cm² of them",
        f"less than the plate's {1e4 * gross_area:.4g} cm²",
    )
    return left


def least_width(corners: Sequence[Corner]) -> float:
    """Give the least width of an outline between two straight edges laid against it [m], to the nanometre.

    Corners [m]. A notch or neck is not seen: it lies between the edges. Errors: as outline_area.
    Source: the least width of a convex outline lies square to one of its sides: M. E. Houle and
    G. T. Toussaint, Computing the width of a set, 1988 (from memory).
    """
    hull = _hull(_outline(corners))
    widths = []
    for a, b in zip(hull, hull[1:] + hull[:1], strict=True):
        length = math.hypot(b.x - a.x, b.y - a.y)
        widths.append(max(abs(_turn(a, b, c)) for c in hull) / length)
    return round(min(widths), _NANOMETRE_DIGITS)


def perimeter(corners: Sequence[Corner]) -> float:
    """Give the length of an outline [m]. Corners [m], errors: as outline_area."""
    placed = _outline(corners)
    return math.fsum(math.dist(a, b) for a, b in zip(placed, placed[1:] + placed[:1], strict=True))


def bearing_pressure(force: float, area: float) -> float:
    """Give the mean pressure of a plate on the sheet [Pa]: force [N] over area [m²].

    Source: statics. It errs low: a thin plate presses hardest round its bolt. BadInput unless force is 0 or
    more and area above 0.
    """
    require(math.isfinite(force) and force >= 0.0, "force", f"{force:g} N", "0 N or more")
    above_nought(area, "area", "m²")
    return force / area


def _tidy(area: float) -> float:
    return round(area, _SQUARE_MICROMETRE_DIGITS)


def _outline(corners: Sequence[Corner]) -> list[Corner]:
    require(3 <= len(corners) <= _MOST_CORNERS, "outline", f"{len(corners)} corners", f"3 to {_MOST_CORNERS}")
    placed = [Corner(*corner) for corner in corners]
    require(
        all(math.isfinite(number) for corner in placed for number in corner),
        "outline",
        "a corner that is no number",
        "finite corners in metres",
    )
    sides = list(zip(placed, placed[1:] + placed[:1], strict=True))
    for number, (a, b) in enumerate(sides, start=1):
        if a == b:
            raise refuse("outline", f"corner {number} and the next in one place", "corners apart")
    for one in range(len(sides)):
        for other in range(one + 1, len(sides)):
            if _clash(sides, one, other):
                raise refuse(
                    "outline",
                    f"side {one + 1} meeting side {other + 1}",
                    "an outline that neither crosses nor touches itself",
                    "List the corners in order, once round the plate.",
                )
    return placed


def _clash(sides: Sequence[tuple[Corner, Corner]], one: int, other: int) -> bool:
    """Whether two sides share more than the corner between neighbours."""
    (a, b), (c, d) = sides[one], sides[other]
    if other == one + 1:
        return _doubles_back(a, b, d)
    if one == 0 and other == len(sides) - 1:
        return _doubles_back(c, d, b)
    turns = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if turns[0] * turns[1] < 0.0 and turns[2] * turns[3] < 0.0:
        return True
    ends = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(turn == 0.0 and _between(*end) for turn, end in zip(turns, ends, strict=True))


def _doubles_back(a: Corner, middle: Corner, c: Corner) -> bool:
    return _turn(a, middle, c) == 0.0 and (
        (middle.x - a.x) * (c.x - middle.x) + (middle.y - a.y) * (c.y - middle.y) < 0.0
    )


def _between(a: Corner, b: Corner, c: Corner) -> bool:
    return min(a.x, b.x) <= c.x <= max(a.x, b.x) and min(a.y, b.y) <= c.y <= max(a.y, b.y)


def _turn(a: Corner, b: Corner, c: Corner) -> float:
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)


def _hull(corners: list[Corner]) -> list[Corner]:
    """The convex outline round the corners (Andrew's monotone chain)."""
    ordered = sorted(set(corners))

    def half(points: Sequence[Corner]) -> list[Corner]:
        kept: list[Corner] = []
        for point in points:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0.0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return half(ordered) + half(ordered[::-1])
