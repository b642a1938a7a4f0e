"""Small drawings beside the plain calculators, to the scale of what was typed."""

import math
from collections.abc import Callable, Sequence

from tintop.charts.ink import BLUE, INK, PAPER, PENCIL, ROAD, RULE, RUST
from tintop.charts.svg import line, sheet, text

Spot = tuple[float, float]
_WIDTH, _HEIGHT, _MARGIN, _LETTERS = 420.0, 300.0, 56.0, 15.0


def strap_drawing(name: str, start: Spot, end: Spot, words: str) -> str:
    """A strap from the side, forward to the right: its two points and a level line."""
    at = _view([start, end, (end[0], start[1])])
    a, b, level = at(start), at(end), at((end[0], start[1]))
    body = [
        line([a, level], PENCIL, 1.6, "5 4"),
        line([level, b], RULE, 1.6),
        line([a, b], BLUE, 5.0),
        _disc(a, 6.0, INK),
        _disc(b, 6.0, RUST),
        _word(a, "P1", above=True),
        _word(b, "anchor", above=b[1] < a[1]),
        text(_WIDTH / 2.0, 22.0, words, size=_LETTERS, is_bold=True, anchor="middle"),
        *_arrow((_WIDTH - 110.0, _HEIGHT - 14.0), (_WIDTH - 70.0, _HEIGHT - 14.0), PENCIL),
        text(_WIDTH - 64.0, _HEIGHT - 9.0, "front", size=_LETTERS, colour=PENCIL),
    ]
    return sheet(name, "Strap from the side", words, _WIDTH, _HEIGHT, body)


def group_drawing(name: str, bolts: Sequence[Spot], pull: Spot, at: Spot, forces: Sequence[Spot]) -> str:
    """Bolts from above, the pull at its place, and the force on each bolt drawn to one scale."""
    largest = max(math.hypot(*force) for force in (*forces, pull)) or 1.0
    place = _view([*bolts, at])
    reach = 60.0 / largest

    def tip(spot: Spot, force: Spot) -> Spot:
        return spot[0] + reach * force[0], spot[1] - reach * force[1]

    body = []
    for number, (bolt, force) in enumerate(zip(bolts, forces, strict=True), start=1):
        spot = place(bolt)
        body += [_disc(spot, 8.0, ROAD, INK), *_arrow(spot, tip(spot, force), BLUE)]
        body.append(text(spot[0] - 12.0, spot[1] - 11.0, str(number), size=_LETTERS, anchor="end"))
    body += [*_arrow(place(at), tip(place(at), pull), RUST, 4.0), _disc(place(at), 4.0, RUST)]
    words = f"{len(bolts)} bolts; blue: force on each, rust: the pull"
    body.append(text(_WIDTH / 2.0, _HEIGHT - 9.0, words, size=_LETTERS, colour=PENCIL, anchor="middle"))
    return sheet(name, "Bolt group", words, _WIDTH, _HEIGHT, body)


def anchor_drawing(name: str, angle: float, governs: str) -> str:
    """An anchor cut open, not to scale but for the pull's angle."""
    x, y = 210.0, 170.0
    tip = (x + 120.0 * math.cos(angle), y - 26.0 - 120.0 * math.sin(angle))
    body = [
        _box(x - 60.0, y - 22.0, 120.0, 16.0, ROAD, INK),
        _box(40.0, y - 4.0, 280.0, 6.0, PENCIL, PENCIL),
        _box(x - 90.0, y + 4.0, 180.0, 16.0, ROAD, INK),
        _box(x - 12.0, y - 40.0, 24.0, 84.0, PAPER, INK),
        _box(x - 22.0, y - 46.0, 44.0, 18.0, PAPER, INK),
        _box(x - 22.0, y + 24.0, 44.0, 18.0, PAPER, INK),
        *_arrow((x, y - 37.0), (tip[0], tip[1] - 11.0), RUST, 4.0),
        text(x - 68.0, y - 12.0, "bracket", size=_LETTERS, colour=PENCIL, anchor="end"),
        text(328.0, y + 3.0, "sheet", size=_LETTERS, colour=PENCIL),
        text(x - 98.0, y + 20.0, "reinforcement", size=_LETTERS, colour=PENCIL, anchor="end"),
        text(_WIDTH / 2.0, _HEIGHT - 34.0, "Gives way first:", size=_LETTERS, anchor="middle"),
        text(_WIDTH / 2.0, _HEIGHT - 14.0, governs, size=_LETTERS, is_bold=True, anchor="middle"),
    ]
    return sheet(name, "Anchor, cut open", f"Gives way first: {governs}", _WIDTH, _HEIGHT, body)


def ballast_drawing(name: str, height: float, distances: Sequence[float], tension: str) -> str:
    """A weight on the floor from the side: its centre, the pull, the tipping edge, the bolts."""
    width = max(max(distances) * 1.15, height, 1e-3)
    at = _view([(0.0, 0.0), (width, 2.0 * height), (width * 1.25, height)])
    left, floor = at((0.0, 0.0))
    right, top = at((width, 2.0 * height))
    centre = at((width / 2.0, height))
    body = [
        line([(20.0, floor), (_WIDTH - 20.0, floor)], INK, 3.0),
        _box(left, top, right - left, max(floor - top, 2.0), ROAD, INK),
        *_arrow(centre, (centre[0] - 80.0, centre[1]), RUST, 4.0),
        _disc(centre, 5.0, RUST),
        text(left, floor + 24.0, "tips here", size=_LETTERS, colour=PENCIL, anchor="middle"),
        text(_WIDTH / 2.0, 22.0, tension, size=_LETTERS, is_bold=True, anchor="middle"),
    ]
    for distance in sorted(set(distances)):
        spot = at((distance, 0.0))[0]
        body.append(line([(spot, floor - 14.0), (spot, floor + 16.0)], BLUE, 6.0))
    return sheet(name, "Ballast from the side", tension, _WIDTH, _HEIGHT, body)


def tube_drawing(name: str, diameter: float, wall: float, words: str) -> str:
    """A tube cut across, wall to scale."""
    radius, middle = 105.0, (_WIDTH / 2.0, 150.0)
    inner = radius * max(0.0, 1.0 - 2.0 * wall / diameter)
    body = [
        _disc(middle, radius, PENCIL, INK),
        _disc(middle, inner, PAPER, INK),
        text(middle[0], middle[1] + 6.0, words, size=_LETTERS, is_bold=True, anchor="middle"),
    ]
    return sheet(name, "Tube, cut across", words, _WIDTH, _HEIGHT, body)


def plate_drawing(name: str, corners: Sequence[Spot], words: str) -> str:
    """A plate by its corners, the first marked 1."""
    at = _view(corners)
    spots = [at(corner) for corner in corners]
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in spots)
    body = [f'<polygon points="{path}" fill="{ROAD}" stroke="{INK}" stroke-width="2"/>']
    if len(corners) <= 12:
        middle = tuple(sum(axis) / len(spots) for axis in zip(*spots, strict=True))
        for number, (x, y) in enumerate(spots, start=1):
            away = math.hypot(x - middle[0], y - middle[1]) or 1.0
            out = x + 16.0 * (x - middle[0]) / away, y + 5.0 + 16.0 * (y - middle[1]) / away
            body.append(text(*out, str(number), size=_LETTERS, colour=PENCIL, anchor="middle"))
    body.append(text(_WIDTH / 2.0, 22.0, words, size=_LETTERS, is_bold=True, anchor="middle"))
    return sheet(name, "Plate", words, _WIDTH, _HEIGHT, body)


def _view(spots: Sequence[Spot]) -> Callable[[Spot], Spot]:
    """Scale and place so that all spots stand inside the margins, up being up."""
    low = [min(spot[axis] for spot in spots) for axis in (0, 1)]
    high = [max(spot[axis] for spot in spots) for axis in (0, 1)]
    room = (_WIDTH - 2.0 * _MARGIN, _HEIGHT - 2.0 * _MARGIN)
    spans = [(high[axis] - low[axis], room[axis]) for axis in (0, 1)]
    scale = min((there / span for span, there in spans if span > 0.0), default=1.0)

    def at(spot: Spot) -> Spot:
        x = _WIDTH / 2.0 + scale * (spot[0] - 0.5 * (low[0] + high[0]))
        return x, _HEIGHT / 2.0 - scale * (spot[1] - 0.5 * (low[1] + high[1]))

    return at


def _disc(spot: Spot, radius: float, fill: str, stroke: str = "") -> str:
    edge = f' stroke="{stroke}" stroke-width="2"' if stroke else ""
    return f'<circle cx="{spot[0]:.1f}" cy="{spot[1]:.1f}" r="{radius:.1f}" fill="{fill}"{edge}/>'


def _box(x: float, y: float, width: float, height: float, fill: str, stroke: str) -> str:
    return (
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" fill="{fill}" '
        f'stroke="{stroke}" stroke-width="2"/>'
    )


def _word(spot: Spot, words: str, *, above: bool) -> str:
    return text(spot[0], spot[1] + (-14.0 if above else 26.0), words, size=_LETTERS, anchor="middle")


def _arrow(start: Spot, end: Spot, colour: str, width: float = 3.0) -> list[str]:
    length = math.hypot(end[0] - start[0], end[1] - start[1])
    if length < 2.0:
        return []
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    size = min(10.0, 0.6 * length)
    barbs = [
        (
            end[0] - size * (along[0] + side * 0.5 * along[1]),
            end[1] - size * (along[1] - side * 0.5 * along[0]),
        )
        for side in (-1.0, 1.0)
    ]
    return [line([start, end], colour, width), line([barbs[0], end, barbs[1]], colour, width)]
