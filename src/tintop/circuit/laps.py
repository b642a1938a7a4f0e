"""Cut one lap out of a recorded drive that passes the same place again and again."""

import itertools

import numpy as np

from tintop.circuit.circuit import FloatArray
from tintop.circuit.stitching import Way, X, Y, without_repeats
from tintop.errors import refuse

SAME_PLACE = 15.0  # [m]
SAME_WAY = np.radians(45.0)
SHORTEST_LAP = 300.0  # [m]
TRIED_PLACES = 12
THINNED = 3.0  # [m]: points nearer than this are mostly scatter, or a car standing still


def cut_one_lap(ways: list[Way], where: str) -> tuple[Way, list[str]]:
    """Give the most typical lap of a drive, or the whole of it when it passes no place twice.

    Laps are counted at the place passed most often in the same direction; the lap nearest the median length
    is taken, from one passing to the next. Raises BadInput for fewer than 8 points.
    """
    table = without_repeats(np.concatenate([way.table for way in ways]), nearest=THINNED)
    if table.shape[0] < 8:
        raise refuse(where, f"{table.shape[0]} different points", "a lap of at least 8 points")
    chord = np.hypot(np.diff(table[:, X]), np.diff(table[:, Y]))
    distance = np.concatenate(([0.0], np.cumsum(chord)))
    best: list[tuple[int, float]] = []
    for place in np.linspace(0.05, 0.95, TRIED_PLACES) * distance[-1]:
        passings = _passings(table, distance, int(np.searchsorted(distance, place)))
        if len(passings) > len(best):
            best = passings
    if len(best) < 2:
        return Way(table=_meet(table) if _comes_back(table) else table), []
    lengths = np.array([distance[after[0]] - distance[one[0]] for one, after in itertools.pairwise(best)])
    median = float(np.median(lengths))
    typical = np.abs(lengths / median - 1.0) < 0.05
    chosen = int(np.argmin(np.abs(lengths - median)))
    lap = table[best[chosen][0] : best[chosen + 1][0] + 1].copy()
    return Way(table=_meet(lap)), [
        f"{np.count_nonzero(typical)} laps found in the drive; lap {chosen + 1} of "
        f"{lengths.size} taken ({lengths[chosen]:.0f} m)"
    ]


def _passings(table: FloatArray, distance: FloatArray, place: int) -> list[tuple[int, float]]:
    """Find the points nearest to `place` at each passing in the same direction: index and how far off."""
    ahead, behind = min(place + 1, table.shape[0] - 1), max(place - 1, 0)
    direction = table[ahead, :2] - table[behind, :2]
    direction = direction / max(float(np.hypot(*direction)), 1e-9)
    relative = table[:, :2] - table[place, :2]
    along = relative @ direction
    across = relative[:, 1] * direction[0] - relative[:, 0] * direction[1]
    crossing = np.flatnonzero((along[:-1] < 0.0) & (along[1:] >= 0.0))
    share = -along[crossing] / (along[crossing + 1] - along[crossing])
    off = np.abs(across[crossing] + share * (across[crossing + 1] - across[crossing]))
    step = table[crossing + 1, :2] - table[crossing, :2]
    straight = (step @ direction) > np.cos(SAME_WAY) * np.hypot(step[:, 0], step[:, 1])
    passings: list[tuple[int, float]] = []
    for index, gap in zip(
        crossing[(off < SAME_PLACE) & straight], off[(off < SAME_PLACE) & straight], strict=True
    ):
        if not passings or distance[index] - distance[passings[-1][0]] >= SHORTEST_LAP:
            passings.append((int(index) + 1, float(gap)))
    return passings


def _comes_back(table: FloatArray) -> bool:
    """Whether the drive ends on its first point."""
    return bool(np.hypot(table[-1, X] - table[0, X], table[-1, Y] - table[0, Y]) < THINNED)


def _meet(lap: FloatArray) -> FloatArray:
    """End the lap on its first point, leaving out what lies beyond it or too near."""
    onward = lap[1, :2] - lap[0, :2]
    end = lap.shape[0]
    while end > 8:
        back = lap[end - 1, :2] - lap[0, :2]
        if back @ onward <= 0.0 and np.hypot(back[0], back[1]) >= THINNED:
            break
        end -= 1
    return np.concatenate((lap[:end], lap[:1]))
