"""Join the ways of a file into one closed racing loop.

Ways are cut where another way's end touches them; ends nearer than `JOINED` are one junction. The loop taken
is the longest tour that passes no junction twice and turns no junction sharply. What it leaves out is said.
"""

import itertools
from dataclasses import dataclass

import numpy as np

from tintop.circuit.circuit import FloatArray
from tintop.errors import refuse

JOINED = 1.5  # [m]
SHARPEST_JUNCTION = np.radians(75.0)
MOST_TOURS = 20_000
X, Y, HEIGHT, LEFT, RIGHT, BANKING = range(6)
GAP_SHARE = 0.02  # of the length, that may be missing between last and first point
LARGEST_GAP = 150.0  # [m]


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One line in metres: a table (n, 6) of x, y, height, widths left and right, banking; NaN = not known."""

    table: FloatArray
    label: str = ""

    @property
    def length(self) -> float:
        """Length [m] of the way."""
        return float(np.sum(np.hypot(np.diff(self.table[:, X]), np.diff(self.table[:, Y]))))


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """The closed line found: table (n, 6), last point not the first repeated, the gap closed, and notes."""

    table: FloatArray
    gap_closed: float
    notes: tuple[str, ...] = ()


def without_repeats(table: FloatArray, nearest: float = 0.05) -> FloatArray:
    """Drop points nearer than `nearest` [m] to the one before."""
    keep = np.ones(table.shape[0], dtype=bool)
    last = 0
    near = np.hypot(np.diff(table[:, X]), np.diff(table[:, Y])) < nearest
    if not near.any():
        return table
    for index in range(1, table.shape[0]):
        if np.hypot(table[index, X] - table[last, X], table[index, Y] - table[last, Y]) < nearest:
            keep[index] = False
        else:
            last = index
    return table[keep]


def closed(way: Way, where: str) -> Loop:
    """Close one line, or refuse it as open.

    The gap may be 2 % of the length, or one and a half of the line's own wide spacings, at most 150 m.
    """
    table = without_repeats(way.table)
    if table.shape[0] < 4:
        raise refuse(where, f"{table.shape[0]} different points", "a closed line of at least 8 points")
    chord = np.hypot(np.diff(table[:, X]), np.diff(table[:, Y]))
    gap = float(np.hypot(table[0, X] - table[-1, X], table[0, Y] - table[-1, Y]))
    length = float(np.sum(chord))
    allowed = min(LARGEST_GAP, max(GAP_SHARE * length, 1.5 * float(np.quantile(chord, 0.9))))
    if gap > allowed:
        raise refuse(
            where,
            f"an open line: {length:.0f} m long with {gap:.0f} m between its ends",
            f"a closed circuit (ends within {allowed:.0f} m)",
        )
    if gap < 0.05:
        table = table[:-1]
    return Loop(table=table, gap_closed=gap if gap >= 0.05 else 0.0)


def _cut_at_junctions(ways: list[Way]) -> list[Way]:
    """Cut every way at inner points where an end of another way lies."""
    ends = np.array([way.table[end, :2] for way in ways for end in (0, -1)])
    pieces: list[Way] = []
    for way in ways:
        inner = way.table[1:-1, :2]
        if inner.shape[0] == 0:
            pieces.append(way)
            continue
        near = np.min(
            np.hypot(inner[:, None, 0] - ends[None, :, 0], inner[:, None, 1] - ends[None, :, 1]), axis=1
        )
        cuts = [0, *(np.flatnonzero(near < 0.2) + 1).tolist(), way.table.shape[0] - 1]
        pieces += [
            Way(table=way.table[first : last + 1], label=way.label)
            for first, last in itertools.pairwise(cuts)
            if last > first
        ]
    return pieces


def _junctions(ways: list[Way]) -> list[tuple[int, int]]:
    """Number the junction at the start and end of each way."""
    places: list[FloatArray] = []

    def number(point: FloatArray) -> int:
        for index, place in enumerate(places):
            if np.hypot(*(place - point)) < JOINED:
                return index
        places.append(point)
        return len(places) - 1

    return [(number(way.table[0, :2]), number(way.table[-1, :2])) for way in ways]


def _heading(table: FloatArray, at_end: bool, forward: bool) -> float:
    """Direction of travel when leaving (at_end=False) or arriving over about 10 m."""
    rows = table if forward else table[::-1]
    rows = rows[::-1] if at_end else rows
    reach = np.hypot(rows[:, X] - rows[0, X], rows[:, Y] - rows[0, Y])
    far = min(int(np.argmax(reach > 3.0)) or rows.shape[0] - 1, rows.shape[0] - 1)
    dx, dy = rows[far, X] - rows[0, X], rows[far, Y] - rows[0, Y]
    return float(np.arctan2(-dy, -dx) if at_end else np.arctan2(dy, dx))


def _tours(ways: list[Way], ends: list[tuple[int, int]], where: str) -> list[list[tuple[int, bool]]]:
    """Find all tours (way, forward) that pass no junction twice and bend no junction sharply."""
    at: dict[int, list[tuple[int, bool]]] = {}
    for index, (start, end) in enumerate(ends):
        at.setdefault(start, []).append((index, True))
        at.setdefault(end, []).append((index, False))
    leaving = {(i, f): _heading(w.table, False, f) for i, w in enumerate(ways) for f in (True, False)}
    arriving = {(i, f): _heading(w.table, True, f) for i, w in enumerate(ways) for f in (True, False)}

    def smooth(one: tuple[int, bool], following: tuple[int, bool]) -> bool:
        bend = (leaving[following] - arriving[one] + np.pi) % (2 * np.pi) - np.pi
        return bool(abs(bend) < SHARPEST_JUNCTION)

    found: list[list[tuple[int, bool]]] = []
    tried = 0
    for first in range(len(ways)):
        home = ends[first][0]
        stack: list[tuple[list[tuple[int, bool]], frozenset[int]]] = [
            ([(first, True)], frozenset({ends[first][1]}))
        ]
        while stack:
            tour, passed = stack.pop()
            tried += 1
            if tried > MOST_TOURS:
                raise refuse(
                    where,
                    f"a web of {len(ways)} ways with more than {MOST_TOURS} possible tours",
                    "the ways of one circuit",
                )
            here = ends[tour[-1][0]][1 if tour[-1][1] else 0]
            if here == home:
                if smooth(tour[-1], tour[0]):
                    found.append(tour)
                continue
            for following in at[here]:
                way = following[0]
                if way < first or any(way == used for used, _ in tour):
                    continue
                there = ends[way][1 if following[1] else 0]
                if there in passed or not smooth(tour[-1], following):
                    continue
                stack.append(([*tour, following], passed | {there}))
    return found


def stitch(ways: list[Way], where: str) -> Loop:
    """Join unordered ways into the longest smooth closed tour, driven the way most of its ways are drawn.

    The first point is that of the first way in the file that belongs to the tour. Raises BadInput when the
    ways make no closed tour: with the length found and the largest gap.
    """
    whole = [Way(table=without_repeats(way.table), label=way.label) for way in ways]
    whole = [way for way in whole if way.table.shape[0] > 1]
    if not whole:
        raise refuse(where, "points that are all in one place", "a closed line of at least 8 points")
    if len(whole) == 1:
        return closed(whole[0], where)
    pieces = _cut_at_junctions(whole)
    ends = _junctions(pieces)
    tours = _tours(pieces, ends, where)
    if not tours:
        return _chained(whole, where)
    tour = max(tours, key=lambda one: sum(pieces[index].length for index, _ in one))
    if sum(pieces[index].length * (1 if forward else -1) for index, forward in tour) < 0.0:
        tour = [(index, not forward) for index, forward in reversed(tour)]
    beginning = tour.index(min(tour))
    tour = tour[beginning:] + tour[:beginning]
    rows = [pieces[index].table if forward else pieces[index].table[::-1] for index, forward in tour]
    used = {index for index, _ in tour}
    left_out = [pieces[index] for index in range(len(pieces)) if index not in used]
    notes = [f"joined {len(tour)} ways into one loop"]
    if left_out:
        total = sum(way.length for way in left_out)
        said = ", ".join(f"{way.label or 'unnamed'} ({way.length:.0f} m)" for way in left_out[:8])
        notes.append(
            f"left out {len(left_out)} ways ({total:.0f} m) that are not on the longest loop: {said}"
        )
    table = without_repeats(np.concatenate([row[:-1] for row in rows]))
    return Loop(table=table, gap_closed=0.0, notes=tuple(notes))


def _chained(ways: list[Way], where: str) -> Loop:
    """Chain ways end to nearest end and close the small gaps, or refuse."""
    left = list(ways)
    first = max(range(len(left)), key=lambda index: left[index].length)
    chain = left.pop(first).table
    gaps: list[float] = []
    while left:
        distances = [
            (float(np.hypot(*(way.table[end, :2] - chain[-1, :2]))), index, end)
            for index, way in enumerate(left)
            for end in (0, -1)
        ]
        gap, index, end = min(distances)
        home = float(np.hypot(*(chain[0, :2] - chain[-1, :2])))
        if home <= gap:
            break
        gaps.append(gap)
        table = left.pop(index).table
        chain = np.concatenate((chain, table if end == 0 else table[::-1]))
    total = sum(way.length for way in ways)
    widest = max(gaps, default=0.0)
    if widest > min(30.0, GAP_SHARE * total):
        raise refuse(
            where,
            f"{len(ways)} ways, {total:.0f} m in all, that make no closed loop (a gap of {widest:.0f} m)",
            "the ways of one closed circuit",
        )
    loop = closed(Way(table=chain), where)
    notes = [f"joined {len(ways) - len(left)} ways end to end over gaps of up to {widest:.1f} m"]
    if left:
        notes.append(f"left out {len(left)} ways ({sum(way.length for way in left):.0f} m)")
    return Loop(table=loop.table, gap_closed=max(widest, loop.gap_closed), notes=tuple(notes))
