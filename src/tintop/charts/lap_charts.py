"""A lap against distance: speed with the limit in force, pedals, gear, accelerations, grip; and the road."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from tintop.charts.ink import BLUE, FRONT, INK, LIMIT_STYLES, PAPER, PENCIL, REAR, ROAD, RUST, WHEELS, Stroke
from tintop.charts.labels import Box, Placing
from tintop.charts.plate import drawn, head, key, plate, svg_text
from tintop.circuit.circuit import Circuit
from tintop.errors import refuse
from tintop.lap.trace import FloatArray, LapTrace, Limit
from tintop.lap.vehicle import GRAVITY

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_KMH = 3.6
_MOST_POINTS = 1500
_PANEL_WIDTH, _SPEED_HEIGHT = 430.0, 2.5  # [point], [inch]
_NEAREST_LABELS = 0.032  # of the lap, so that figures do not stand on one another


def traces_svg(lap: LapTrace, circuit: Circuit) -> str:
    """Draw a lap with every panel against distance, as SVG text; BadInput if it does not fit the circuit."""
    if lap.speed.shape != circuit.x.shape:
        raise refuse("lap", f"{lap.speed.shape[0]} points", f"the circuit's {circuit.x.shape[0]} points")
    kept = _kept(lap)
    distance = lap.distance[kept]
    minutes, seconds = divmod(lap.lap_time, 60.0)
    time = f"{int(minutes)}:{seconds:05.2f}"
    top = float(lap.speed.max()) * _KMH
    subtitle = f"One lap: fastest {top:.0f} km/h, slowest {lap.speed.min() * _KMH:.0f} km/h"
    with plate((_SPEED_HEIGHT, 0.9, 0.8, 1.5, 1.5), circuit.name, subtitle, large=time) as (figure, panels):
        speed, pedals, gears, accelerations, grip = panels
        for panel in panels:
            _mark_corners(panel, lap, circuit, numbered=panel is speed)
        speed.plot(distance, lap.speed[kept] * _KMH, color=INK)
        _limit_band(speed, lap, top)
        _slowest(speed, lap, circuit)
        head(speed, "Speed", "km/h")

        pedals.plot(distance, 100.0 * lap.channel("throttle")[kept], color=BLUE, label="throttle")
        brakes = 100.0 * lap.channel("brake_share")[kept]
        pedals.fill_between(
            distance, brakes, facecolor=ROAD, edgecolor=RUST, hatch="||||", linewidth=1.0, label="brake"
        )
        pedals.set_ylim(0, 105)
        pedals.set_yticks((0, 50, 100))
        head(pedals, "Pedals", "%")
        key(pedals)

        gears.step(distance, lap.channel("gear")[kept], where="post", color=INK)
        highest = int(lap.channel("gear").max())
        gears.set_ylim(0.5, highest + 0.5)
        gears.set_yticks(range(1, highest + 1))
        head(gears, "Gear")

        ahead, aside = lap.longitudinal_acceleration, lap.lateral_acceleration
        accelerations.axhline(0.0, color=PENCIL, linewidth=0.8)
        accelerations.plot(distance, aside[kept] / GRAVITY, color=BLUE, label="to the left")
        accelerations.plot(
            distance, ahead[kept] / GRAVITY, color=RUST, linestyle=(0, (4, 1.3)), label="forward"
        )
        head(accelerations, "Acceleration", "g")
        key(accelerations)

        used = 100.0 * lap.channel("grip_used")[kept]
        for channel, stroke in _wheels(used):
            grip.plot(distance, channel, **drawn(stroke), linewidth=1.3)
        grip.set_ylim(0, max(110.0, float(used.max()) * 1.05))
        grip.set_yticks((0, 50, 100))
        head(grip, "Grip used by each wheel", "%")
        key(grip)
        grip.set_xlim(0.0, lap.length)
        grip.set_xlabel("distance from the start line [m]")
        figure.align_labels()
        return svg_text(
            figure,
            "traces",
            f"{circuit.name}: speed, pedals, gear, acceleration and grip along the lap",
            f"Lap time {time}; fastest {top:.0f} km/h. Slowest speeds: "
            + ", ".join(
                f"corner {number} {value:.0f} km/h" for number, _, value in _corner_speeds(lap, circuit)
            )
            + ".",
        )


def profile_svg(circuit: Circuit) -> str:
    """Draw height, curvature and widths of a circuit against distance, as SVG text."""
    distance = np.arange(circuit.x.shape[0]) * circuit.step
    kept = np.arange(0, len(distance), max(1, -(-len(distance) // _MOST_POINTS)))
    climb = float(np.ptp(circuit.z))
    large = f"{circuit.length:.0f} m"
    said = [
        f"{climb:.1f} m between lowest and highest point" if circuit.has_heights else "heights are not known",
        "widths as measured" if circuit.has_widths else "widths are assumed",
    ]
    with plate((1.3, 1.5, 1.1), circuit.name, "The road: " + ", ".join(said), large=large) as (
        figure,
        panels,
    ):
        height, bends, widths = panels
        for panel in panels:
            for corner in circuit.corners:
                _shade(panel, corner.start, corner.end, circuit.length)
        _corner_heads(height, [(c.number, c.apex) for c in circuit.corners], circuit.length)
        height.plot(distance[kept], circuit.z[kept], color=INK)
        height.margins(y=0.2)
        head(height, "Height", "m")
        bends.axhline(0.0, color=PENCIL, linewidth=0.8)
        bends.plot(distance[kept], 1e3 * circuit.curvature[kept], color=INK)
        head(bends, "Curvature, left above the line", "1/km")
        widths.axhline(0.0, color=PENCIL, linewidth=0.8)
        widths.plot(distance[kept], circuit.width_left[kept], color=BLUE, label="left of the centre line")
        widths.plot(
            distance[kept],
            -circuit.width_right[kept],
            color=RUST,
            linestyle=(0, (4, 1.3)),
            label="right of it",
        )
        widths.yaxis.set_major_formatter(lambda value, _: f"{abs(value):g}")
        widths.margins(y=0.2)
        head(widths, "Width", "m")
        key(widths)
        widths.set_xlim(0.0, circuit.length)
        widths.set_xlabel("distance from the start line [m]")
        return svg_text(
            figure,
            "profile",
            f"{circuit.name}: height, curvature and width",
            f"{circuit.name}, {large}, {len(circuit.corners)} corners; {', '.join(said)}.",
        )


def _kept(lap: LapTrace) -> NDArray[np.intp]:
    """Indices to draw: every so many points, the fastest, the slowest and the last."""
    n = len(lap.distance)
    kept = np.zeros(n, dtype=bool)
    kept[:: max(1, -(-n // _MOST_POINTS))] = True
    kept[[int(np.argmin(lap.speed)), int(np.argmax(lap.speed)), -1]] = True
    return np.flatnonzero(kept)


def _wheels(used: FloatArray) -> list[tuple[FloatArray, Stroke]]:
    """A line per wheel, or one for an axle whose left and right use the same."""
    lines = []
    for first, both in ((0, FRONT), (2, REAR)):
        left, right = used[:, first], used[:, first + 1]
        if float(np.quantile(np.abs(left - right), 0.95)) < 1.0:
            lines.append((np.maximum(left, right), replace(both, word=f"{both.word}, both alike")))
        else:
            for wheel in (first, first + 1):
                lines.append((used[:, wheel], replace(WHEELS[wheel], word=WHEELS[wheel].word[:2])))
    return lines


def _along(lap: LapTrace, circuit: Circuit, centre_line: float) -> float:
    """Distance along the path driven at a distance along the centre line; points keep their index."""
    n = len(lap.distance)
    mesh = np.arange(n + 1) * circuit.step
    return float(np.interp(centre_line % circuit.length, mesh, np.append(lap.distance, lap.length)))


def _shade(panel: "Axes", start: float, end: float, length: float) -> None:
    for first, last in ((start, end),) if end >= start else ((start, length), (0.0, end)):
        panel.axvspan(first, last, facecolor=ROAD, alpha=1.0, linewidth=0.0, zorder=0)


def _mark_corners(panel: "Axes", lap: LapTrace, circuit: Circuit, *, numbered: bool) -> None:
    for corner in circuit.corners:
        _shade(panel, _along(lap, circuit, corner.start), _along(lap, circuit, corner.end), lap.length)
    if numbered:
        places = [(corner.number, _along(lap, circuit, corner.apex)) for corner in circuit.corners]
        _corner_heads(panel, places, lap.length)


def _corner_heads(panel: "Axes", places: list[tuple[int, float]], length: float) -> None:
    """Corner numbers along the inside of the panel's top."""
    last = -np.inf
    for number, at in places:
        if at - last < 0.75 * _NEAREST_LABELS * length:
            continue
        last = at
        panel.annotate(
            str(number),
            (at, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(0, -3),
            textcoords="offset points",
            ha="center",
            va="top",
            color=PENCIL,
            fontweight="bold",
            fontsize=10,
        )


def _corner_speeds(lap: LapTrace, circuit: Circuit) -> list[tuple[int, float, float]]:
    """Number, distance driven and speed [km/h] of each corner's slowest point."""
    found = []
    n = len(lap.distance)
    for corner in circuit.corners:
        first, last = round(corner.start / circuit.step), round(corner.end / circuit.step)
        inside = np.arange(first, last + 1 if last > first else last + n + 1) % n
        slowest = int(inside[np.argmin(lap.speed[inside])])
        found.append((corner.number, float(lap.distance[slowest]), float(lap.speed[slowest]) * _KMH))
    return found


def _slowest(panel: "Axes", lap: LapTrace, circuit: Circuit) -> None:
    """Write each corner's slowest speed below the trace, the slowest first, where there is room for it."""
    low, high = panel.get_ylim()
    across, up = _PANEL_WIDTH / lap.length, _SPEED_HEIGHT * 72.0 / (high - low)
    trace = (lap.distance * across, (lap.speed * _KMH - low) * up)
    placing = Placing(*trace, _PANEL_WIDTH, _SPEED_HEIGHT * 72.0)
    for _, at, speed in sorted(_corner_speeds(lap, circuit), key=lambda row: row[2]):
        words = f"{speed:.0f}"
        candidates = (
            Box(
                x=at * across + aside,
                y=(speed - low) * up - down,
                half_width=3.3 * len(words),
                half_height=4.5,
            )
            for down in (9.0, 12.0, 16.0)
            for aside in (0.0, 8.0, -8.0, 15.0, -15.0)
        )
        box = placing.first_free(candidates, 1.5)
        if box is not None:
            panel.text(box.x / across, low + box.y / up, words, ha="center", va="center_baseline")


def _limit_band(panel: "Axes", lap: LapTrace, top: float) -> None:
    """The limit in force as a band of patterns under the trace, its letters, and the key beneath."""
    from matplotlib.patches import Patch

    limits = lap.channel("limit").astype(int)
    floor = min(0.0, 10.0 * np.floor(0.1 * (float(lap.speed.min()) * _KMH - 0.45 * top)))
    low, high = floor - 0.02 * top, floor + 0.1 * top
    ends = np.append(lap.distance, lap.length)
    changes = np.flatnonzero(np.diff(limits)) + 1
    for first, last in zip([0, *changes], [*changes, len(limits)], strict=True):
        style = LIMIT_STYLES[Limit(int(limits[first]))]
        start, end = ends[first], ends[last]
        panel.fill_between(
            (start, end),
            low,
            high,
            facecolor=PAPER if style.hatch else style.colour,
            edgecolor=style.colour,
            hatch=style.hatch,
            linewidth=0.5,
            zorder=2,
        )
        if end - start > 0.02 * lap.length:
            panel.annotate(
                style.letter,
                (0.5 * (start + end), high),
                xytext=(0, 2),
                textcoords="offset points",
                ha="center",
                color=style.colour,
                fontweight="bold",
                fontsize=9.5,
            )
    panel.set_ylim(low, top * 1.13)
    panel.set_yticks([tick for tick in range(0, int(top) + 1, 50) if tick > high + 0.06 * top])
    shares = lap.limit_share()
    used = sorted(
        (limit for limit in Limit if shares[limit.name.lower()] > 0.0),
        key=lambda one: -shares[one.name.lower()],
    )
    handles = [
        Patch(
            facecolor=PAPER if LIMIT_STYLES[limit].hatch else LIMIT_STYLES[limit].colour,
            edgecolor=LIMIT_STYLES[limit].colour,
            hatch=LIMIT_STYLES[limit].hatch,
            label=f"{LIMIT_STYLES[limit].letter} {LIMIT_STYLES[limit].word}",
        )
        for limit in used
    ]
    panel.legend(
        handles=handles,
        loc="lower right",
        bbox_to_anchor=(1.0, 1.02),
        ncols=len(handles),
        handlelength=1.9,
        columnspacing=1.0,
        handletextpad=0.5,
    )
