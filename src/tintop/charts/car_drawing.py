"""The car drawn from above, its nose up, with every value where it is on the car."""

from collections.abc import Iterable, Mapping

import numpy as np

from tintop.charts.car_outline import View, inside, outline, wheel_place
from tintop.charts.car_picture import CarPicture, CornerPicture, PartMark
from tintop.charts.car_picture import car_picture as car_picture
from tintop.charts.car_words import NAMES, corner_words, in_owner_units, owner_unit, share_words
from tintop.charts.ink import INK, PAPER, PENCIL
from tintop.charts.labels import Box, Placing
from tintop.charts.svg import line, sheet, text
from tintop.settings import USUAL_UNITS

_CORNER_WORDS = {"FL": "front left", "FR": "front right", "RL": "rear left", "RR": "rear right"}
_ROW, _MARK = 21.0, 9.5


def car_drawing_svg(
    picture: CarPicture,
    units: Mapping[str, str] = USUAL_UNITS,
    *,
    is_narrow: bool = False,
    name: str = "car",
    most_parts: int | None = None,
) -> str:
    """Draw the car to scale from above; narrow, for a phone, only loads and shares stand beside it.

    `units` gives the owner's unit by quantity; `name` keeps the ids of two drawings in one page apart. The
    outline follows wheelbase, tracks and width; its overhangs are those of the class, not measured. Values
    in brackets are the document's, nobody read or set them. The heaviest parts with a position are numbered.
    """
    length = picture.front_overhang + picture.wheelbase + picture.rear_overhang
    width, gutter, nose = (360.0, 84.0, 34.0) if is_narrow else (800.0, 262.0, 40.0)
    view = View(
        width=width,
        scale=min((width - 2.0 * gutter) / picture.width, (470.0 if is_narrow else 590.0) / length),
        nose=nose,
        front_overhang=picture.front_overhang,
        gutter=gutter,
        is_narrow=is_narrow,
    )
    tail = view.nose + length * view.scale
    most = most_parts if most_parts is not None else (14 if is_narrow else 24)
    shown = _marked(picture.parts, most)
    summary, below = _summary(picture, units, view, tail + 48.0)
    legend, height = _legend(shown, len(picture.parts) - len(shown), units, view, below)
    body = [
        *outline(picture, view, length),
        *inside(picture, view, units),
        *_marks(shown, picture, view, tail),
        *_gravity(picture, view),
        *_shares(picture, view, tail),
        *(part for corner in picture.corners for part in _corner(corner, picture, view, units)),
        *summary,
        *legend,
    ]
    title = f"{picture.name} from above, {picture.day.day} {picture.day:%B %Y}"
    return sheet(name, title, _description(picture, units), width, height, body)


def _marked(parts: Iterable[PartMark], most: int) -> list[PartMark]:
    """The heaviest parts, in order down the car."""
    heaviest = sorted(parts, key=lambda part: (-(part.mass or 0.0), part.name))[:most]
    return sorted(heaviest, key=lambda part: (-part.x, -part.y))


def _marks(parts: list[PartMark], picture: CarPicture, view: View, tail: float) -> list[str]:
    """Numbered marks at the parts' places; one moved aside for another is tied to its place by a line."""
    placing = Placing(np.empty(0), np.empty(0), view.width, tail + 20.0)
    if picture.tank_behind_front_axle is not None:
        x, y = view.at(-picture.tank_behind_front_axle, 0.0)
        placing.block(Box(x=x, y=y, half_width=46.0, half_height=8.0))
    gravity = _gravity_place(picture)
    if gravity is not None:
        x, y = view.at(*gravity)
        placing.block(Box(x=x, y=y, half_width=13.0, half_height=13.0))
    drawn = []
    for number, part in enumerate(parts, 1):
        x, y = view.at(part.x, part.y)
        box = placing.first_free(_around(x, y, view), 0.0)
        at_x, at_y = (box.x, box.y) if box else (x, y)
        if abs(at_x - x) + abs(at_y - y) > 1.0:
            drawn.append(line([(x, y), (at_x, at_y)], PENCIL, 1.0))
        drawn.append(_badge(at_x, at_y, number))
    return drawn


def _around(x: float, y: float, view: View) -> Iterable[Box]:
    low, high = view.gutter + _MARK, view.width - view.gutter - _MARK
    for distance in (0.0, 1.0, 2.0, 3.0, 4.0, 5.0):
        for way in np.arange(0.0, 2.0 * np.pi, np.pi / max(4.0 * distance, 1.0)):
            across = x + distance * 2.1 * _MARK * np.cos(way)
            down = y + distance * 2.1 * _MARK * np.sin(way)
            if low <= across <= high:
                yield Box(x=float(across), y=float(down), half_width=_MARK + 0.5, half_height=_MARK + 0.5)
            if distance == 0.0:
                break


def _badge(x: float, y: float, number: int) -> str:
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_MARK}" fill="{INK}" stroke="{PAPER}"/>' + text(
        x, y + 4.2, str(number), size=12, colour=PAPER, is_bold=True, anchor="middle"
    )


def _gravity_place(picture: CarPicture) -> tuple[float, float] | None:
    if picture.front_share is None:
        return None
    track = 0.5 * (picture.track_front + picture.track_rear)
    sideways = 0.0 if picture.left_share is None else (picture.left_share - 0.5) * track
    return -(1.0 - picture.front_share) * picture.wheelbase, sideways


def _gravity(picture: CarPicture, view: View) -> list[str]:
    place = _gravity_place(picture)
    return [] if place is None else [_gravity_sign(*view.at(*place), 11.0)]


def _gravity_sign(x: float, y: float, r: float) -> str:
    quarters = (
        f"M{x:.1f},{y:.1f} v-{r} a{r},{r} 0 0 1 {r},{r} Z M{x:.1f},{y:.1f} v{r} a{r},{r} 0 0 1 -{r},-{r} Z"
    )
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r}" fill="{PAPER}" stroke="{INK}" stroke-width="2"/>'
        f'<path d="{quarters}" fill="{INK}"/>'
    )


def _shares(picture: CarPicture, view: View, tail: float) -> list[str]:
    """Front and rear share before nose and tail, left and right beside the doors."""
    middle, size = 0.5 * view.width, 15.0
    drawn = []
    if picture.front_share is not None:
        front, rear = share_words(picture.front_share), share_words(1.0 - picture.front_share)
        drawn.append(
            text(middle, view.nose - 10.0, f"front {front}", size=size, is_bold=True, anchor="middle")
        )
        drawn.append(text(middle, tail + 20.0, f"rear {rear}", size=size, is_bold=True, anchor="middle"))
    if picture.left_share is not None:
        _, down = view.at(-0.5 * picture.wheelbase, 0.0)
        edge = view.gutter - 8.0
        for word, share, x, anchor in (
            ("left", picture.left_share, edge, "end"),
            ("right", 1.0 - picture.left_share, view.width - edge, "start"),
        ):
            drawn.append(text(x, down - 10.0, word, size=size, colour=PENCIL, anchor=anchor))
            drawn.append(text(x, down + 9.0, share_words(share), size=size, is_bold=True, anchor=anchor))
    return drawn


def _corner(corner: CornerPicture, picture: CarPicture, view: View, units: Mapping[str, str]) -> list[str]:
    """A corner's values beside its wheel, tied to it by a line."""
    is_left = corner.corner.endswith("L")
    _, axle = view.at(*wheel_place(corner.corner, picture))
    load = "" if corner.load is None else in_owner_units(corner.load, "mass", units)
    share = "" if corner.share is None else share_words(corner.share)
    if view.is_narrow:
        x, anchor = (4.0, "start") if is_left else (view.width - 4.0, "end")
        words_below = [corner.corner, load, share]
        return [
            text(x, axle - 16.0 + 19.0 * k, row, size=15, is_bold=k < 2, anchor=anchor)
            for k, row in enumerate(words_below)
            if row
        ]
    low, high = (
        (16.0, view.gutter - 34.0) if is_left else (view.width - view.gutter + 34.0, view.width - 16.0)
    )
    top = max(axle - 70.0, 34.0)
    wheel, _ = view.at(*wheel_place(corner.corner, picture))
    near, edge = (wheel - 14.0, high) if is_left else (wheel + 14.0, low)
    drawn = [
        line([(low, top + 8.0), (high, top + 8.0)], INK, 1.5),
        line([(edge, top + 8.0), (near, axle)], PENCIL, 1.0),
        text(low, top, corner.corner, size=20, is_bold=True),
        text(low + 34.0, top, _CORNER_WORDS[corner.corner], size=14, colour=PENCIL),
        *([text(high, top, load, size=18, is_bold=True, anchor="end")] if load else []),
    ]
    y = top + 8.0 + _ROW
    rows = [("share", share)] if share else []
    rows += [(NAMES[each.name], _bracketed(corner, each.name, units)) for each in corner.values]
    for words, value in rows:
        drawn.append(text(low, y, words, size=15, colour=PENCIL))
        drawn.append(text(high, y, value, size=15, is_bold=True, anchor="end"))
        y += _ROW
    return drawn


def _bracketed(corner: CornerPicture, name: str, units: Mapping[str, str]) -> str:
    found = corner.of(name)
    assert found is not None
    words = corner_words(found, units)
    words = words if len(words) <= 16 else f"{words[:15]}…"
    return f"({words})" if found.is_by_document else words


def _summary(
    picture: CarPicture, units: Mapping[str, str], view: View, top: float
) -> tuple[list[str], float]:
    """Mass, cross-weight, centre of gravity, and what brackets mean."""
    drawn, y, size = [], top, 14.0
    for words, is_strong in _sentences(picture, units):
        for part in _wrapped(words, 46 if view.is_narrow else 98):
            drawn.append(text(16.0 if not view.is_narrow else 6.0, y, part, size=size, is_bold=is_strong))
            y += 20.0
    place = _gravity_place(picture)
    if place is not None:
        behind = in_owner_units(-place[0], "length", units, _cg_decimals(units))
        words = f"centre of gravity, {behind} behind the front axle"
        drawn.append(_gravity_sign(26.0 if not view.is_narrow else 14.0, y + 1.0, 8.0))
        x = 44.0 if not view.is_narrow else 30.0
        drawn.append(text(x, y + 6.0, words, size=size if not view.is_narrow else 13.0))
        y += 26.0
        if picture.cg_height is not None:
            height = in_owner_units(picture.cg_height, "length", units, _cg_decimals(units))
            drawn.append(text(x, y, f"{height} high, {picture.cg_known}", size=size))
            y += 20.0
    return drawn, y + 8.0


def _sentences(picture: CarPicture, units: Mapping[str, str]) -> Iterable[tuple[str, bool]]:
    if picture.mass is not None:
        doubt = picture.mass_uncertainty
        about = f" ± {in_owner_units(doubt, 'mass', units)}" if doubt else ""
        yield f"{in_owner_units(picture.mass, 'mass', units)}{about} without driver and fuel", True
        yield f"{picture.mass_known.capitalize()}.", False
    if picture.cross_share is not None:
        yield f"Cross-weight FR + RL {share_words(picture.cross_share)}", True
    if picture.corners[0].load is not None:
        yield f"Corner loads: {picture.loads_state or 'how the car stood was not written'}.", False
    if any(corner.of("toe") for corner in picture.corners):
        yield "Toe is that of each wheel by itself.", False
    if any(each.is_by_document for corner in picture.corners for each in corner.values) and True:
        yield "In brackets: by the car's document; nobody has read or set it.", False


def _cg_decimals(units: Mapping[str, str]) -> int | None:
    return 0 if owner_unit("length", units) == "mm" else None


def _wrapped(words: str, longest: int) -> list[str]:
    import textwrap

    return textwrap.wrap(words, longest)


def _legend(
    parts: list[PartMark], left_out: int, units: Mapping[str, str], view: View, top: float
) -> tuple[list[str], float]:
    """Number, name and mass of the marked parts, in columns read downwards."""
    if not parts:
        return [], top + 8.0
    columns = 1 if view.is_narrow else 2
    rows = -(-len(parts) // columns)
    wide, room = (view.width - 12.0) / columns, 33 if view.is_narrow else 38
    drawn = []
    for place, part in enumerate(parts):
        x, y = 6.0 + (place // rows) * wide, top + 14.0 + (place % rows) * 23.0
        name = part.name if len(part.name) <= room else f"{part.name[: room - 1]}…"
        drawn.append(_badge(x + _MARK, y - 4.5, place + 1))
        drawn.append(text(x + 2.0 * _MARK + 6.0, y, name, size=13))
        if part.mass is not None:
            mass = in_owner_units(part.mass, "mass", units)
            drawn.append(text(x + wide - 18.0, y, mass, size=13, colour=PENCIL, anchor="end"))
    y = top + 14.0 + rows * 23.0
    if left_out > 0:
        words = f"and {left_out} lighter part{'s' if left_out > 1 else ''} with a known place"
        drawn.append(text(6.0, y, words, size=13, colour=PENCIL))
        y += 20.0
    return drawn, y + 4.0


def _description(picture: CarPicture, units: Mapping[str, str]) -> str:
    said = [f"{picture.name} seen from above, nose up."]
    said += [words for words, _ in _sentences(picture, units)]
    if picture.front_share is not None:
        said.append(f"Front {share_words(picture.front_share)}, left {share_words(picture.left_share)}.")
    for corner in picture.corners:
        values = [f"{NAMES[each.name]} {corner_words(each, units)}" for each in corner.values]
        load = [] if corner.load is None else [f"load {in_owner_units(corner.load, 'mass', units)}"]
        said.append(
            f"{_CORNER_WORDS[corner.corner].capitalize()}: {', '.join([*load, *values]) or 'nothing known'}."
        )
    return " ".join(said)
