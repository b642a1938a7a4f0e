"""The car from above with what is to be known beside each wheel, where the mechanic stands."""

import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from tintop.car.car import Car
from tintop.car.chassis import End
from tintop.charts.car_outline import View, body, wheel, wheel_place
from tintop.charts.car_picture import CORNERS, CarPicture, CornerPicture
from tintop.charts.ink import BLUE, INK, PENCIL
from tintop.charts.svg import line, sheet, text

_WORDS = {"FL": "front left", "FR": "front right", "RL": "rear left", "RR": "rear right"}
_NOBODY: Mapping[End, Sequence[str]] = MappingProxyType({})
_LEAN, _TURN = 3.0, 8.0  # how much more than they do the wheels lean and turn on the drawing
_MOST_LEAN, _MOST_TURN = 0.6, 25.0  # of the tyre's radius; degrees
_LETTER = 0.62  # width of a letter ÷ its size, DejaVu Sans, taken wide


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelStance:
    """How a wheel stands [rad]: camber negative with its top inward, toe of its own positive inward."""

    camber: float = 0.0
    toe: float = 0.0


_STRAIGHT: Mapping[str, WheelStance] = MappingProxyType({})


def four_corners_svg(
    corners: Mapping[str, Sequence[str]],
    *,
    axles: Mapping[End, Sequence[str]] = _NOBODY,
    middle: Sequence[str] = (),
    stances: Mapping[str, WheelStance] = _STRAIGHT,
    title: str,
    description: str,
    car: Car | None = None,
    is_narrow: bool = False,
    name: str = "corners",
) -> str:
    """Draw the car from above, nose up, with lines of words at each corner, the first of them large.

    `axles` stand before the nose and behind the tail, `middle` on the roof (below the tail when narrow).
    `stances` lean and turn the wheels, more than they do: the drawing says so. With a `car` its wheelbase,
    tracks and width are drawn, else those of an ordinary one. `name` keeps the ids of two drawings apart.
    """
    picture = _picture(car)
    width, gutter, size = (360.0, 112.0, 15.0) if is_narrow else (760.0, 252.0, 16.0)
    length = picture.front_overhang + picture.wheelbase + picture.rear_overhang
    before = list(axles.get(End.FRONT, ()))
    view = View(
        width=width,
        scale=(width - 2.0 * gutter) / picture.width,
        nose=16.0 + 20.0 * len(before) + (6.0 if before else 0.0),
        front_overhang=picture.front_overhang,
        gutter=gutter,
        is_narrow=is_narrow,
    )
    tail = view.nose + length * view.scale
    drawn = [*body(picture, view, length), *_wheels(picture, view, stances)]
    blocks, lowest = _blocks(corners, picture, view, size)
    drawn += blocks
    drawn += _lines(before, 0.5 * width, view.nose - 10.0 - 20.0 * (len(before) - 1), size)
    behind = list(axles.get(End.REAR, ()))
    y = tail + 22.0
    drawn += _lines(behind, 0.5 * width, y, size)
    y += 20.0 * len(behind)
    if is_narrow:
        y = max(y, lowest + 20.0)
        wrapped = [part for words in middle for part in _wrapped(words, width - 12.0, size)]
        drawn += _lines(wrapped, 0.5 * width, y, size)
        y += 20.0 * len(wrapped)
    else:
        room = 0.62 * picture.width * view.scale
        wrapped = [part for words in middle for part in _wrapped(words, room, size)]
        _, roof = view.at(-0.69 * picture.wheelbase, 0.0)
        drawn += _lines(wrapped, 0.5 * width, roof - 10.0 * len(wrapped) + 16.0, size)
    if any(stance.camber or stance.toe for stance in stances.values()):
        y = max(y, lowest + 20.0)
        drawn.append(text(6.0, y, _exaggerated(is_narrow), size=13.0, colour=PENCIL))
        y += 20.0
    return sheet(name, title, description, width, max(y, lowest, tail) + 6.0, drawn)


def _picture(car: Car | None) -> CarPicture:
    wheelbase = car.dimensions.wheelbase if car else 2.5
    return CarPicture(
        name=car.name if car else "the car",
        day=date.min,
        wheelbase=wheelbase,
        track_front=car.dimensions.track_front if car else 1.48,
        track_rear=car.dimensions.track_rear if car else 1.47,
        width=car.dimensions.width if car else 1.7,
        tyre_radius=car.tyre_front.radius if car else 0.3,
        front_overhang=0.31 * wheelbase,
        rear_overhang=0.27 * wheelbase,
        corners=tuple(CornerPicture(corner=corner) for corner in CORNERS),
    )


def _wheels(picture: CarPicture, view: View, stances: Mapping[str, WheelStance]) -> list[str]:
    """Each wheel by its tread on the ground, and where it leans the outline of its top."""
    drawn = []
    for corner in CORNERS:
        stance = stances.get(corner, WheelStance())
        out = 1.0 if corner.endswith("L") else -1.0
        turned = math.degrees(_TURN * stance.toe)
        turned = out * max(-_MOST_TURN, min(_MOST_TURN, turned))
        lean = 2.0 * math.sin(_LEAN * stance.camber)
        aside = out * picture.tyre_radius * max(-_MOST_LEAN, min(_MOST_LEAN, lean))
        drawn.append(wheel(corner, picture, view, turned))
        if stance.camber:
            drawn.append(
                wheel(corner, picture, view, turned, aside, f'fill="none" stroke="{BLUE}" stroke-width="2"')
            )
    return drawn


def _blocks(
    corners: Mapping[str, Sequence[str]], picture: CarPicture, view: View, size: float
) -> tuple[list[str], float]:
    """The words at each wheel, the rear ones below the front ones of their side; and how low they reach."""
    drawn: list[str] = []
    lowest = 0.0
    for side in ("L", "R"):
        free = 0.0
        for axle in ("F", "R"):
            corner = f"{axle}{side}"
            rows = _rows(corner, corners.get(corner, ()), view, size)
            wheel_x, wheel_y = view.at(*wheel_place(corner, picture))
            top = max(wheel_y - 0.5 * sum(high for *_, high in rows), free, 6.0)
            x, anchor = (6.0, "start") if side == "L" else (view.width - 6.0, "end")
            if not view.is_narrow:
                near, edge = (wheel_x - 20.0, view.gutter - 26.0) if side == "L" else (wheel_x + 20.0, 0.0)
                edge = edge if side == "L" else view.width - view.gutter + 26.0
                rule = top + rows[0][3] + 2.0
                drawn.append(line([(x, rule), (edge, rule), (near, wheel_y)], PENCIL, 1.0))
            y = top
            for words, letter, is_bold, high in rows:
                y += high
                colour = INK if is_bold else PENCIL
                drawn.append(
                    text(x, y - 4.0, words, size=letter, colour=colour, is_bold=is_bold, anchor=anchor)
                )
            free = y + 14.0
            lowest = max(lowest, y)
    return drawn, lowest


def _rows(corner: str, lines: Sequence[str], view: View, size: float) -> list[tuple[str, float, bool, float]]:
    """Words, letter size, whether bold, and height of each row at a corner, its name first."""
    room = view.gutter - (12.0 if view.is_narrow else 34.0)
    head = corner if view.is_narrow else f"{corner}, {_WORDS[corner]}"
    rows = [(head, size - 1.0, False, size + 5.0)]
    for place, words in enumerate(lines):
        letter = size + 4.0 if place == 0 else size
        for part in _wrapped(words, room, letter):
            rows.append((part, letter, place == 0, letter + 5.0))
    return rows


def _wrapped(words: str, room: float, size: float) -> list[str]:
    return textwrap.wrap(words, max(4, int(room / (_LETTER * size)))) or [""]


def _lines(words: Sequence[str], x: float, y: float, size: float) -> list[str]:
    return [
        text(x, y + 20.0 * place, each, size=size, is_bold=True, anchor="middle")
        for place, each in enumerate(words)
    ]


def _exaggerated(is_narrow: bool) -> str:
    words = "Camber and toe drawn larger than they are"
    return words if is_narrow else f"{words}; the blue outline is the top of the wheel."
