"""The parts of a circuit's map: view, road, driven line, start, corner badges, letters, scale."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tintop.charts.ink import INK, LIMIT_STYLES, PAPER, PENCIL, ROAD, LimitStyle
from tintop.charts.labels import Box, FloatArray, Placing
from tintop.charts.svg import points, text
from tintop.circuit.circuit import Circuit
from tintop.errors import refuse
from tintop.lap.trace import Limit

MOST_POINTS = 2000
_MARGIN = 62.0
_LEAST_HEIGHT, _MOST_HEIGHT = 260.0, 820.0


@dataclass(frozen=True, slots=True)
class View:
    """Metres to the sheet: x to the right, y down; the map is `width` wide, from `above` to `below`."""

    west: float
    north: float
    scale: float
    left: float
    top: float
    width: float
    above: float
    below: float

    def to_sheet(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Places on the sheet (n, 2) of points in metres (n,) and (n,)."""
        across = self.left + (x - self.west) * self.scale
        down = self.top + (self.north - y) * self.scale
        return np.stack((across, down), axis=1)


def edges_of(circuit: Circuit) -> tuple[FloatArray, FloatArray]:
    """Left and right edge of the road in metres, each (n, 2)."""
    along_x = np.roll(circuit.x, -1) - np.roll(circuit.x, 1)
    along_y = np.roll(circuit.y, -1) - np.roll(circuit.y, 1)
    size = np.hypot(along_x, along_y)
    to_left = np.stack((-along_y / size, along_x / size), axis=1)
    centre = np.stack((circuit.x, circuit.y), axis=1)
    return centre + to_left * circuit.width_left[:, None], centre - to_left * circuit.width_right[:, None]


def view_of(circuit: Circuit, width: float, above: float, *, margin: float = _MARGIN) -> View:
    """Fit the road into a map `width` wide that begins `above` the sheet's top; `below` is where it ends."""
    places = np.concatenate(edges_of(circuit))
    lowest, highest = places.min(axis=0), places.max(axis=0)
    span = np.maximum(highest - lowest, 1.0)
    scale = min((width - 2 * margin) / span[0], (_MOST_HEIGHT - 2 * margin) / span[1])
    height = max(span[1] * scale + 2 * margin, _LEAST_HEIGHT)
    return View(
        west=float(lowest[0]),
        north=float(highest[1]),
        scale=float(scale),
        left=float(0.5 * (width - span[0] * scale)),
        top=float(above + 0.5 * (height - span[1] * scale)),
        width=width,
        above=above,
        below=float(above + height),
    )


def free_places(edges: tuple[FloatArray, FloatArray], view: View) -> Placing:
    """Where words may stand on the map: inside it and off the road, whose edges are on the sheet already."""
    x, y = np.concatenate(edges).T
    placing = Placing(x, y, view.width, view.below)
    if view.above > 0.0:
        placing.block(Box(x=0.5 * view.width, y=0.0, half_width=view.width, half_height=view.above - 8.0))
    return placing


def road_path(edges: Sequence[FloatArray]) -> str:
    """Draw the road between its edges."""
    return (
        f'<path d="M{points(edges[0])}Z M{points(edges[1][::-1])}Z" fill="{ROAD}" stroke="{PENCIL}" '
        'stroke-width="0.8" fill-rule="nonzero"/>'
    )


def thinned(
    edges: tuple[FloatArray, FloatArray], driven: FloatArray, limits: FloatArray
) -> tuple[list[FloatArray], list[tuple[Limit, FloatArray]]]:
    """Edges and stretches of one limit with no more points than the eye needs."""
    tolerance = 0.08
    while True:
        road = [simplified(edge, tolerance) for edge in edges]
        strokes = [
            (Limit(int(limits[run[0]])), simplified(driven[run % len(driven)], tolerance))
            for run in runs_of(limits)
        ]
        total = sum(map(len, road)) + sum(len(places) for _, places in strokes)
        if total <= MOST_POINTS:
            return road, strokes
        if tolerance > 50.0:
            raise refuse("lap limits", f"{len(strokes)} changes", f"fewer than {MOST_POINTS // 2} in one lap")
        tolerance *= 1.6


def runs_of(limits: FloatArray) -> list[FloatArray]:
    """Indices of each stretch under one limit, with the first of the next so that stretches meet."""
    n = len(limits)
    changes = np.flatnonzero(np.diff(limits)) + 1
    return [np.arange(first, last + 1) for first, last in zip([0, *changes], [*changes, n], strict=True)]


def simplified(points: FloatArray, tolerance: float) -> FloatArray:
    """Line with the points left out that lie within the tolerance of it.

    Source: D. H. Douglas, T. K. Peucker, "Algorithms for the reduction of the number of points required to
    represent a digitized line or its caricature", Cartographica 10 (1973).
    """
    kept = np.zeros(len(points), dtype=bool)
    kept[[0, -1]] = True
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        chord = points[last] - points[first]
        length = float(np.hypot(*chord))
        inner = points[first + 1 : last] - points[first]
        if length > 1e-9:
            off = np.abs(inner[:, 0] * chord[1] - inner[:, 1] * chord[0]) / length
        else:
            off = np.hypot(inner[:, 0], inner[:, 1])
        farthest = int(np.argmax(off))
        if off[farthest] > tolerance:
            middle = first + 1 + farthest
            kept[middle] = True
            waiting += [(first, middle), (middle, last)]
    return points[kept]


def limit_stroke(places: FloatArray, style: LimitStyle) -> str:
    """Draw a stretch of the driven line as its limit is drawn."""
    line = f'd="M{points(places)}" fill="none" stroke-linejoin="round"'
    dash = f' stroke-dasharray="{style.dash}"' if style.dash else ""
    drawn = f'<path {line} stroke="{style.colour}" stroke-width="{style.width:g}"{dash}/>'
    if style.core:
        drawn += f'<path {line} stroke="{PAPER}" stroke-width="{style.core:g}"/>'
    return drawn


def start_mark(circuit: Circuit, view: View, placing: Placing) -> str:
    """Start line across the road, an arrow beside it in the driven direction, and the word."""
    left, right = (view.to_sheet(*edge[:1].T)[0] for edge in edges_of(circuit))
    ahead = view.to_sheet(circuit.x[:2], circuit.y[:2])
    along = (ahead[1] - ahead[0]) / np.hypot(*(ahead[1] - ahead[0]))
    across = (left - right) / np.hypot(*(left - right))
    one, other = left + 5.0 * across, right - 5.0 * across
    drawn = f'<path d="M{points(np.stack((one, other)))}" stroke="{INK}" stroke-width="3.5"/>'
    for side in (across, -across):
        for away in (20.0, 30.0, 42.0):
            tail = (
                0.5 * (left + right) + side * (away + 0.5 * float(np.hypot(*(left - right)))) - 14.0 * along
            )
            tip = tail + 34.0 * along
            middle = 0.5 * (tail + tip)
            word = middle + side * (16.0 + 14.0 * abs(float(side[0])))
            arrow = Box(x=middle[0], y=middle[1], half_width=20.0, half_height=20.0)
            words = Box(x=word[0], y=word[1], half_width=20.0, half_height=9.0)
            if placing.first_free([arrow], -6.0) is None:
                continue
            barbs = np.stack((tip - 10.0 * along + 6.0 * side, tip, tip - 10.0 * along - 6.0 * side))
            placing.block(words)
            return (
                drawn + f'<path d="M{points(np.stack((tail, tip)))}M{points(barbs)}" fill="none" '
                f'stroke="{INK}" stroke-width="2.5"/>'
                + text(word[0], word[1] + 5.0, "start", size=14, anchor="middle")
            )
    return drawn


def corner_badges(circuit: Circuit, words: Sequence[str], driven: FloatArray, placing: Placing) -> list[str]:
    """Each corner's number on a disc beside its apex with a few words, where there is room."""
    drawn = []
    for corner, said in zip(circuit.corners, words, strict=True):
        at = round(corner.apex / circuit.step) % len(driven)
        along = driven[(at + 1) % len(driven)] - driven[at - 1]
        along = along / np.hypot(*along)
        to_left = np.array((along[1], -along[0]))
        outside = -to_left if corner.is_left else to_left
        half_width = 13.0 + 5.6 * len(said)
        candidates = (
            Box(
                x=float(place[0]),
                y=float(place[1]),
                half_width=half_width,
                half_height=13.0,
            )
            for side, farthest in ((0.0, 60), (np.pi, 60), (0.0, 140))
            for away in range(16, farthest, 4)
            for turn in (side, side + 0.5, side - 0.5, side + 1.0, side - 1.0)
            for place in (driven[at] + away * _turned(outside, turn),)
        )
        box = placing.first_free(candidates, 4.0)
        if box is None:
            continue
        badge = box.x - box.half_width + 12.0
        if np.hypot(*(np.array((box.x, box.y)) - driven[at])) > 62.0:
            drawn.append(
                f'<path d="M{points(np.stack((driven[at], np.array((badge, box.y)))))}" '
                f'stroke="{PENCIL}" stroke-width="0.8"/>'
            )
        drawn.append(
            f'<circle cx="{badge:.1f}" cy="{box.y:.1f}" r="11" fill="{INK}"/>'
            + text(
                badge, box.y + 5.0, str(corner.number), size=14, colour=PAPER, is_bold=True, anchor="middle"
            )
            + (text(badge + 15.0, box.y + 6.0, said, size=17) if said else "")
        )
    return drawn


def _turned(direction: FloatArray, angle: float) -> FloatArray:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array((direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos))


def limit_letters(driven: FloatArray, limits: FloatArray, placing: Placing) -> list[str]:
    """One letter beside each stretch long enough to be seen."""
    drawn = []
    for run in runs_of(limits):
        run = run % len(driven)
        if float(np.sum(np.hypot(*np.diff(driven[run], axis=0).T))) < 16.0:
            continue
        style = LIMIT_STYLES[Limit(int(limits[run[0]]))]
        candidates = []
        for share in (0.5, 0.4, 0.6, 0.3, 0.7):
            at = int(run[int(share * (len(run) - 1))])
            along = driven[(at + 1) % len(driven)] - driven[at - 1]
            aside = np.array((along[1], -along[0])) / np.hypot(*along)
            for away in (13.0, 17.0, 22.0):
                for side in (1.0, -1.0):
                    x, y = driven[at] + side * away * aside
                    candidates.append(Box(x=float(x), y=float(y), half_width=5.0, half_height=6.0))
        box = placing.first_free(candidates, 1.0)
        if box is not None:
            drawn.append(
                text(
                    box.x,
                    box.y + 5.0,
                    style.letter,
                    size=14,
                    colour=style.colour,
                    is_bold=True,
                    anchor="middle",
                )
            )
    return drawn


def compass_and_scale(view: View) -> str:
    """A scale bar and an arrow to the north along the map's foot."""
    length = next(
        size for size in (2000, 1000, 500, 200, 100, 50, 20, 10, 5) if size * view.scale < 0.25 * view.width
    )
    wide, y = length * view.scale, view.below + 14.0
    bar = np.array(((24.0, y - 6.0), (24.0, y), (24.0 + wide, y), (24.0 + wide, y - 6.0)))
    needle_x = view.width - 40.0
    return (
        f'<path d="M{points(bar)}" fill="none" stroke="{INK}" stroke-width="2"/>'
        + text(32.0 + wide, y + 2.0, f"{length} m", size=15)
        + f'<path d="M{needle_x} {y - 34} l7 28 l-7 -6 l-7 6 z" fill="{INK}"/>'
        + text(needle_x, y + 12.0, "north", size=14, anchor="middle")
    )
