"""A map of the circuit with the driven line drawn by what holds the car back, as SVG text."""

from dataclasses import dataclass

import numpy as np

from tintop.charts.ink import INK, LIMIT_STYLES, PAPER, PENCIL, ROAD, LimitStyle
from tintop.charts.labels import Box, FloatArray, Placing
from tintop.charts.svg import points, sheet, text
from tintop.circuit.circuit import Circuit, Path
from tintop.errors import refuse
from tintop.lap.sectors import corner_summaries
from tintop.lap.trace import LapTrace, Limit

MOST_POINTS = 2000
_WIDTH = 760.0
_MARGIN = 62.0
_TOP = 96.0
_LEAST_HEIGHT, _MOST_HEIGHT = 260.0, 820.0
_KMH = 3.6


@dataclass(frozen=True, slots=True)
class _View:
    """Metres to the sheet: x to the right, y down."""

    west: float
    north: float
    scale: float
    left: float
    top: float

    def to_sheet(self, x: FloatArray, y: FloatArray) -> FloatArray:
        across = self.left + (x - self.west) * self.scale
        down = self.top + (self.north - y) * self.scale
        return np.stack((across, down), axis=1)


def map_svg(circuit: Circuit, path: Path, lap: LapTrace) -> str:
    """Draw the circuit's edges to scale, north up, and the driven line by the limit in force, as SVG text.

    Each limit has a colour, a line of its own and a letter; corners carry number and slowest speed [km/h].
    No more than `MOST_POINTS` points are written. Raises BadInput if lap, path and circuit differ in points
    or the lap has no limits.
    """
    corners = corner_summaries(lap, circuit, path)
    limits = lap.channel("limit").astype(int)
    left, right = _edges(circuit)
    view, map_height = _view(np.concatenate((left, right)))
    left, right = view.to_sheet(*left.T), view.to_sheet(*right.T)
    driven = view.to_sheet(path.x, path.y)
    road, strokes = _thinned((left, right), driven, limits)

    road_x, road_y = np.concatenate((left, right)).T
    placing = Placing(road_x, road_y, _WIDTH, _TOP + map_height)
    placing.block(Box(x=0.5 * _WIDTH, y=0.0, half_width=_WIDTH, half_height=_TOP - 8.0))
    start = _start(circuit, view, placing)
    numbers = _corner_numbers(circuit, corners, driven, placing)
    letters = _letters(driven, limits, placing)
    compass = _compass_and_scale(view, _TOP + map_height)
    key, height = _legend(circuit, lap, _TOP + map_height + 58.0)

    minutes, seconds = divmod(lap.lap_time, 60.0)
    time = f"{int(minutes)}:{seconds:05.2f}"
    title = f"{circuit.name}: the lap by what holds the car back"
    description = _description(circuit, path, lap, time, corners)
    road_path = f"M{points(road[0])}Z M{points(road[1][::-1])}Z"
    body = [
        f'<path d="{road_path}" fill="{ROAD}" stroke="{PENCIL}" stroke-width="0.8" fill-rule="nonzero"/>',
        *(_stroke(places, LIMIT_STYLES[limit]) for limit, places in strokes),
        start,
        *numbers,
        *letters,
        compass,
        key,
        text(24, 40, circuit.name, size=min(24.0, 720.0 / len(circuit.name or "-")), is_bold=True),
        text(24, 66, f"{path.name}, {lap.length:.0f} m", size=15, colour=PENCIL),
        text(_WIDTH - 24, 50, time, size=38, is_bold=True, anchor="end"),
        text(
            _WIDTH - 24,
            72,
            "lap time, predicted" if lap.is_predicted else "lap time, logged",
            size=14,
            colour=PENCIL,
            anchor="end",
        ),
    ]
    return sheet("map", title, description, _WIDTH, height, body)


def _edges(circuit: Circuit) -> tuple[FloatArray, FloatArray]:
    along_x = np.roll(circuit.x, -1) - np.roll(circuit.x, 1)
    along_y = np.roll(circuit.y, -1) - np.roll(circuit.y, 1)
    size = np.hypot(along_x, along_y)
    to_left = np.stack((-along_y / size, along_x / size), axis=1)
    centre = np.stack((circuit.x, circuit.y), axis=1)
    return centre + to_left * circuit.width_left[:, None], centre - to_left * circuit.width_right[:, None]


def _view(points: FloatArray) -> tuple[_View, float]:
    lowest, highest = points.min(axis=0), points.max(axis=0)
    span = np.maximum(highest - lowest, 1.0)
    scale = min((_WIDTH - 2 * _MARGIN) / span[0], (_MOST_HEIGHT - 2 * _MARGIN) / span[1])
    height = max(span[1] * scale + 2 * _MARGIN, _LEAST_HEIGHT)
    view = _View(
        west=float(lowest[0]),
        north=float(highest[1]),
        scale=float(scale),
        left=float(0.5 * (_WIDTH - span[0] * scale)),
        top=float(_TOP + 0.5 * (height - span[1] * scale)),
    )
    return view, float(height)


def _thinned(
    edges: tuple[FloatArray, FloatArray], driven: FloatArray, limits: FloatArray
) -> tuple[list[FloatArray], list[tuple[Limit, FloatArray]]]:
    """Edges and stretches of one limit with no more points than the eye needs."""
    tolerance = 0.08
    while True:
        road = [_simplified(edge, tolerance) for edge in edges]
        strokes = [
            (Limit(int(limits[run[0]])), _simplified(driven[run % len(driven)], tolerance))
            for run in _runs(limits)
        ]
        total = sum(map(len, road)) + sum(len(places) for _, places in strokes)
        if total <= MOST_POINTS:
            return road, strokes
        if tolerance > 50.0:
            raise refuse("lap limits", f"{len(strokes)} changes", f"fewer than {MOST_POINTS // 2} in one lap")
        tolerance *= 1.6


def _runs(limits: FloatArray) -> list[FloatArray]:
    """Indices of each stretch under one limit, with the first of the next so that stretches meet."""
    n = len(limits)
    changes = np.flatnonzero(np.diff(limits)) + 1
    return [np.arange(first, last + 1) for first, last in zip([0, *changes], [*changes, n], strict=True)]


def _simplified(points: FloatArray, tolerance: float) -> FloatArray:
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


def _stroke(places: FloatArray, style: LimitStyle) -> str:
    line = f'd="M{points(places)}" fill="none" stroke-linejoin="round"'
    dash = f' stroke-dasharray="{style.dash}"' if style.dash else ""
    drawn = f'<path {line} stroke="{style.colour}" stroke-width="{style.width:g}"{dash}/>'
    if style.core:
        drawn += f'<path {line} stroke="{PAPER}" stroke-width="{style.core:g}"/>'
    return drawn


def _start(circuit: Circuit, view: _View, placing: Placing) -> str:
    """Start line across the road, an arrow beside it in the driven direction, and the word."""
    left, right = (view.to_sheet(*edge[:1].T)[0] for edge in _edges(circuit))
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


def _corner_numbers(
    circuit: Circuit, corners: tuple[dict[str, object], ...], driven: FloatArray, placing: Placing
) -> list[str]:
    drawn = []
    for corner, row in zip(circuit.corners, corners, strict=True):
        at = round(corner.apex / circuit.step) % len(driven)
        along = driven[(at + 1) % len(driven)] - driven[at - 1]
        along = along / np.hypot(*along)
        to_left = np.array((along[1], -along[0]))
        outside = -to_left if corner.is_left else to_left
        speed = f"{float(str(row['speed'])) * _KMH:.0f}"
        half_width = 13.0 + 5.6 * len(speed)
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
            + text(badge + 15.0, box.y + 6.0, speed, size=17)
        )
    return drawn


def _turned(direction: FloatArray, angle: float) -> FloatArray:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array((direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos))


def _letters(driven: FloatArray, limits: FloatArray, placing: Placing) -> list[str]:
    """One letter beside each stretch long enough to be seen."""
    drawn = []
    for run in _runs(limits):
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


def _compass_and_scale(view: _View, bottom: float) -> str:
    length = next(size for size in (2000, 1000, 500, 200, 100, 50, 20, 10, 5) if size * view.scale < 190.0)
    wide, y = length * view.scale, bottom + 14.0
    bar = np.array(((24.0, y - 6.0), (24.0, y), (24.0 + wide, y), (24.0 + wide, y - 6.0)))
    needle_x = _WIDTH - 40.0
    return (
        f'<path d="M{points(bar)}" fill="none" stroke="{INK}" stroke-width="2"/>'
        + text(32.0 + wide, y + 2.0, f"{length} m", size=15)
        + f'<path d="M{needle_x} {y - 34} l7 28 l-7 -6 l-7 6 z" fill="{INK}"/>'
        + text(needle_x, y + 12.0, "north", size=14, anchor="middle")
    )


def _legend(circuit: Circuit, lap: LapTrace, top: float) -> tuple[str, float]:
    shares = lap.limit_share()
    used = sorted(
        ((limit, shares[limit.name.lower()]) for limit in Limit if shares[limit.name.lower()] > 0.0),
        key=lambda pair: -pair[1],
    )
    drawn = [text(24.0, top, "What holds the car back, share of the lap time", size=16, is_bold=True)]
    row_height, columns = 30.0, 2
    for place, (limit, share) in enumerate(used):
        style = LIMIT_STYLES[limit]
        x = 24.0 + (place % columns) * 370.0
        y = top + 30.0 + (place // columns) * row_height
        line = np.array(((x, y - 6.0), (x + 64.0, y - 6.0)))
        drawn.append(_stroke(line, style))
        drawn.append(text(x + 78.0, y, style.letter, size=16, colour=style.colour, is_bold=True))
        drawn.append(text(x + 100.0, y, style.word, size=16))
        drawn.append(text(x + 300.0, y, f"{100.0 * share:.1f} %", size=17, is_bold=True, anchor="end"))
    y = top + 34.0 + ((len(used) + columns - 1) // columns) * row_height
    drawn.append(
        f'<circle cx="35" cy="{y - 5.0:.1f}" r="11" fill="{INK}"/>'
        + text(35.0, y, "1", size=14, colour=PAPER, is_bold=True, anchor="middle")
        + text(52.0, y + 0.5, "87", size=17)
        + text(80.0, y, "corner number, and slowest speed in it in km/h", size=15, colour=PENCIL)
    )
    if not circuit.has_widths:
        y += 26.0
        drawn.append(
            text(24.0, y, "The edges are assumed: the circuit's file has no widths.", size=15, colour=PENCIL)
        )
    return "".join(drawn), y + 24.0


def _description(
    circuit: Circuit, path: Path, lap: LapTrace, time: str, corners: tuple[dict[str, object], ...]
) -> str:
    shares = ", ".join(
        f"{LIMIT_STYLES[Limit[name.upper()]].word} {100 * share:.1f} %"
        for name, share in sorted(lap.limit_share().items(), key=lambda item: -item[1])
        if share > 0.0
    )
    speeds = ", ".join(
        f"corner {row['number']} {float(str(row['speed'])) * _KMH:.0f} km/h" for row in corners
    )
    return (
        f"Map of {circuit.name} with the {path.name}, lap time {time}. Share of the lap time by what "
        f"holds the car back: {shares}. Slowest speeds: {speeds}."
    )
