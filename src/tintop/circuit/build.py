"""From the raw lines of a file to a circuit: project, cut, stitch, recognise, smooth, lay on an even mesh."""

import re
from dataclasses import replace

import numpy as np
from scipy.interpolate import CubicSpline

from tintop.circuit.circuit import Circuit, FloatArray, Smoothing
from tintop.circuit.corners import find_corners
from tintop.circuit.heights import scatter_of_heights, smooth_heights
from tintop.circuit.laps import cut_one_lap
from tintop.circuit.pit_lane import pit_lane_beside
from tintop.circuit.projection import local_metres
from tintop.circuit.raw import RawCircuit, RawLine
from tintop.circuit.recognise import check_length, check_retraced, check_road
from tintop.circuit.smoothing import SmoothLine, chords_of, low_pass, smooth_closed
from tintop.circuit.stitching import BANKING, HEIGHT, LEFT, RIGHT, Loop, Way, X, Y, stitch
from tintop.errors import refuse

ASSUMED_WIDTH = 10.0  # [m]; common practice, no source
WIDTH_SMOOTHING = 10.0  # [m]
PIT_ROLES = ("pit_lane", "pitlane", "pit lane", "pit")


def build_circuit(
    raw: RawCircuit, *, step: float = 1.0, reverse: bool = False, start: float | None = None
) -> Circuit:
    """Make a circuit of what a file holds.

    `step` [m] is the wanted spacing (made to fit the length), `start` the distance [m] along the line as
    read, in its driven direction, at which the start line lies; without it, the first point. Raises
    BadInput, with the true reason, for what is not one closed lap of a road.
    """
    where = raw.name
    if not 0.2 <= step <= 25.0:
        raise refuse("step", f"{step:g} m", "0.2 to 25 m")
    ways, pits = _in_metres(raw)
    if not ways:
        found = "only a pit lane" if pits else "no line of two points or more"
        raise refuse(where, found, "the ways of a closed circuit")
    notes = list(raw.notes)
    if raw.is_log:
        way, said = cut_one_lap(ways, where)
        loop = stitch([way], where)
        notes += said
    else:
        loop = stitch(ways, where)
    notes += loop.notes
    table = loop.table[::-1] if reverse else loop.table
    if table.shape[0] < 8:
        raise refuse(where, f"{table.shape[0]} different points", "a closed line of at least 8 points")
    x, y = table[:, X], table[:, Y]
    length_read = float(np.sum(chords_of(x, y)))
    check_length(length_read, where)
    check_retraced(x, y, where)
    check_road(x, y, where)
    line = smooth_closed(x, y, raw.is_log)
    begin = 0.0
    if start is not None:
        if not 0.0 <= start < length_read:
            raise refuse("start line", f"{start:g} m", f"0 to {length_read:.0f} m along the line")
        begin = start
    elif len(raw.lines) > 1:
        notes.append(
            "the file does not say where the start line is: the first point of its first way is taken"
        )
    return _on_even_mesh(raw, loop, table, line, step, begin, reverse, notes, pits)


def _is_pit_lane(line: RawLine) -> bool:
    return line.role.lower() in PIT_ROLES or re.search(r"\bpit\b", line.label.lower()) is not None


def _in_metres(raw: RawCircuit) -> tuple[list[Way], list[Way]]:
    """Give the ways of the circuit and those of the pit lane, in metres about one centre."""
    usable = [line for line in raw.lines if line.first.size > 1]
    if not usable:
        return [], []
    first = np.concatenate([line.first for line in usable])
    second = np.concatenate([line.second for line in usable])
    if raw.is_geographic:
        first, second = local_metres(first, second)
    elif max(np.ptp(first), np.ptp(second)) > 50_000.0:
        raise refuse(
            raw.name,
            f"a line {max(np.ptp(first), np.ptp(second)) / 1000:.0f} km across",
            "positions in metres of one circuit",
        )
    elif (
        max(np.abs(first).max(), np.abs(second).max()) > 50_000.0
    ):  # a grid of a country: keep digits for metres
        first, second = first - first.mean(), second - second.mean()
    ways: list[Way] = []
    pits: list[Way] = []
    at = 0
    for line in usable:
        count = line.first.size
        table = np.full((count, 6), np.nan)
        table[:, X], table[:, Y] = first[at : at + count], second[at : at + count]
        for column, values in (
            (HEIGHT, line.height),
            (LEFT, line.width_left),
            (RIGHT, line.width_right),
            (BANKING, line.banking),
        ):
            if values is not None:
                table[:, column] = values
        at += count
        way = Way(table=table, label=line.label)
        (pits if _is_pit_lane(line) else ways).append(way)
    return ways, pits


def _column(
    table: FloatArray,
    column: int,
    chord_at: FloatArray,
    length: float,
    line: SmoothLine,
    notes: list[str],
    what: str,
) -> FloatArray | None:
    """Carry a column onto the fine mesh; None when fewer than nine in ten points have it."""
    values = table[:, column]
    known = np.isfinite(values)
    if not known.any():
        return None
    if np.mean(known) < 0.9:
        notes.append(f"{what} given at only {np.mean(known):.0%} of the points: not used")
        return None
    if not known.all():
        notes.append(f"{what} missing at {np.count_nonzero(~known)} points: taken from their neighbours")
    return np.asarray(np.interp(line.read_distance, chord_at[known], values[known], period=length))


def _on_even_mesh(
    raw: RawCircuit,
    loop: Loop,
    table: FloatArray,
    line: SmoothLine,
    step: float,
    begin: float,
    reverse: bool,
    notes: list[str],
    pits: list[Way],
) -> Circuit:
    chord = chords_of(table[:, X], table[:, Y])
    chord_at = np.cumsum(chord) - chord
    fine_step = line.length / line.x.size
    height = _column(table, HEIGHT, chord_at, line.length_read, line, notes, "height")
    left = _column(table, LEFT, chord_at, line.length_read, line, notes, "width")
    right = _column(table, RIGHT, chord_at, line.length_read, line, notes, "width")
    banking = _column(table, BANKING, chord_at, line.length_read, line, notes, "banking")
    if height is not None:
        scatter = scatter_of_heights(table[:, HEIGHT])
        height, said = smooth_heights(height, fine_step, scatter, float(np.median(chord)))
        notes += said
    has_widths = left is not None and right is not None
    if left is None or right is None:
        left = right = np.full(line.x.shape, ASSUMED_WIDTH / 2.0)
        notes.append(f"no widths in the file: {ASSUMED_WIDTH:g} m in all assumed")
    elif reverse:
        left, right = right, left
    if banking is not None and reverse:
        banking = -banking
    begin_fine = float(
        np.interp(
            begin, np.append(line.read_distance, line.length_read), np.append(line.distance, line.length)
        )
    )
    count = max(32, round(line.length / step))
    even = line.length / count
    mesh = (begin_fine + even * np.arange(count)) % line.length
    known = np.append(line.distance, line.length)

    def laid(values: FloatArray, smoothing_length: float = 0.0) -> FloatArray:
        if smoothing_length:
            values = low_pass(values, fine_step, smoothing_length)
        return np.asarray(CubicSpline(known, np.append(values, values[0]), bc_type="periodic")(mesh))

    curvature = laid(line.curvature)
    x, y = laid(line.x), laid(line.y)
    pit = raw.pit_lane
    if pit is not None and (reverse or begin):
        pit = replace(
            pit, entry=(pit.entry - begin_fine) % line.length, exit=(pit.exit - begin_fine) % line.length
        )
        if reverse:
            pit = None
            notes.append("the pit lane is left out: the circuit is driven against the file's direction")
    if pit is None and pits and not reverse:
        pit, said = pit_lane_beside(pits, x, y, even)
        notes += said
    if line.scatter > 0.15:
        notes.append(f"the points scatter by about {line.scatter:.2f} m across the line")
    _compare_with_published(raw, line.length, notes)
    return Circuit(
        name=raw.name,
        x=x,
        y=y,
        z=laid(height) if height is not None else np.zeros(count),
        width_left=laid(left, WIDTH_SMOOTHING),
        width_right=laid(right, WIDTH_SMOOTHING),
        banking=laid(banking, WIDTH_SMOOTHING) if banking is not None else np.zeros(count),
        curvature=curvature,
        step=even,
        corners=find_corners(curvature, even),
        sectors=(line.length / 3.0, line.length * 2.0 / 3.0, line.length),
        pit_lane=pit,
        smoothing=Smoothing(
            points_read=sum(one.first.size for one in raw.lines),
            gap_closed=loop.gap_closed,
            length_read=line.length_read,
            length=line.length,
            moved_mean=float(np.mean(line.moved)),
            moved_max=float(np.max(line.moved)),
            notes=(*notes, f"smoothed over {line.smoothing_length:.1f} m"),
        ),
        has_widths=has_widths,
        has_heights=height is not None,
        source=raw.source,
    )


def _compare_with_published(raw: RawCircuit, length: float, notes: list[str]) -> None:
    if raw.published_length and abs(length / raw.published_length - 1.0) > 0.005:
        notes.append(
            f"the line is {length:.0f} m long, the file gives {raw.published_length:.0f} m as the length: "
            "another layout, or a rough line"
        )
