"""A map of the circuit with the driven line drawn by what holds the car back, as SVG text."""

import numpy as np

from tintop.charts.ink import INK, LIMIT_STYLES, PAPER, PENCIL
from tintop.charts.labels import FloatArray
from tintop.charts.map_parts import MOST_POINTS as MOST_POINTS
from tintop.charts.map_parts import (
    View,
    compass_and_scale,
    corner_badges,
    edges_of,
    free_places,
    limit_letters,
    limit_stroke,
    road_path,
    start_mark,
    thinned,
    view_of,
)
from tintop.charts.svg import sheet, text
from tintop.circuit.circuit import Circuit, Path
from tintop.lap.sectors import corner_summaries
from tintop.lap.trace import LapTrace, Limit

_WIDTH = 760.0
_TOP = 96.0
_PAGE_WIDTH, _PAGE_MARGIN = 520.0, 44.0  # of the map that stands in a page beside other words
_KMH = 3.6


def map_svg(circuit: Circuit, path: Path, lap: LapTrace) -> str:
    """Draw the circuit's edges to scale, north up, and the driven line by the limit in force, as SVG text.

    Each limit has a colour, a line of its own and a letter; corners carry number and slowest speed [km/h].
    No more than `MOST_POINTS` points are written. Raises BadInput if lap, path and circuit differ in points
    or the lap has no limits.
    """
    corners = corner_summaries(lap, circuit, path)
    view = view_of(circuit, _WIDTH, _TOP)
    drawn = _road_and_line(circuit, view, path, lap, _slowest(corners))
    key, height = _legend(circuit, lap, view.below + 58.0)

    minutes, seconds = divmod(lap.lap_time, 60.0)
    time = f"{int(minutes)}:{seconds:05.2f}"
    title = f"{circuit.name}: the lap by what holds the car back"
    description = _description(circuit, path, lap, time, corners)
    body = [
        *drawn,
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


def page_map_svg(circuit: Circuit, path: Path, lap: LapTrace) -> str:
    """Draw the same map for a page that has name, time and key beside it: words stay large on a phone.

    Raises BadInput as `map_svg` does.
    """
    corners = corner_summaries(lap, circuit, path)
    view = _page_view(circuit)
    minutes, seconds = divmod(lap.lap_time, 60.0)
    title = f"{circuit.name}: the lap by what holds the car back"
    said = _description(circuit, path, lap, f"{int(minutes)}:{seconds:05.2f}", corners)
    body = _road_and_line(circuit, view, path, lap, _slowest(corners))
    return sheet("map", title, said, view.width, view.below + 36.0, body)


def road_map_svg(circuit: Circuit, width: float = _PAGE_WIDTH) -> str:
    """Draw the circuit alone, to scale, north up, corners numbered; the narrower, the larger its words."""
    view = view_of(circuit, width, 0.0, margin=_PAGE_MARGIN)
    left, right = (view.to_sheet(*edge.T) for edge in edges_of(circuit))
    road, _ = thinned((left, right), left[:1], np.zeros(1))
    placing = free_places((left, right), view)
    centre = view.to_sheet(circuit.x, circuit.y)
    corners = ", ".join(
        f"{corner.number} {'left' if corner.is_left else 'right'} of {corner.radius:.0f} m radius"
        for corner in circuit.corners
    )
    body = [
        road_path(road),
        start_mark(circuit, view, placing),
        *corner_badges(circuit, ("",) * len(circuit.corners), centre, placing),
        compass_and_scale(view),
    ]
    said = f"{circuit.length:.0f} m; corners: {corners or 'none'}."
    return sheet("map", f"Map of {circuit.name}", said, view.width, view.below + 36.0, body)


def page_map_places(circuit: Circuit, path: Path) -> FloatArray:
    """Where the driven line's points (n, 2) stand on the map of `page_map_svg`, in its own units."""
    return _page_view(circuit).to_sheet(path.x, path.y)


def _page_view(circuit: Circuit) -> View:
    return view_of(circuit, _PAGE_WIDTH, 0.0, margin=_PAGE_MARGIN)


def _slowest(corners: tuple[dict[str, object], ...]) -> list[str]:
    return [f"{float(str(row['speed'])) * _KMH:.0f}" for row in corners]


def _road_and_line(circuit: Circuit, view: View, path: Path, lap: LapTrace, words: list[str]) -> list[str]:
    """The road, the driven line by its limits, start, corners with their words, letters, scale and north."""
    limits = lap.channel("limit").astype(int)
    left, right = (view.to_sheet(*edge.T) for edge in edges_of(circuit))
    driven = view.to_sheet(path.x, path.y)
    road, strokes = thinned((left, right), driven, limits)
    placing = free_places((left, right), view)
    start = start_mark(circuit, view, placing)
    numbers = corner_badges(circuit, words, driven, placing)
    letters = limit_letters(driven, limits, placing)
    return [
        road_path(road),
        *(limit_stroke(places, LIMIT_STYLES[limit]) for limit, places in strokes),
        start,
        *numbers,
        *letters,
        compass_and_scale(view),
    ]


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
        drawn.append(limit_stroke(line, style))
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
