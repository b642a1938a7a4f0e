"""The line of least time within the widths, for a car whose lap time the caller gives.

What a little curvature and a little length cost at each place is found by asking the lap time of paths with
that place changed. A line of least bending, weighted so that its slope is the lap time's own, then says which
way to move; the step is as long as the lap time allows. Repeated, it ends where no small move gains.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from scipy.ndimage import gaussian_filter1d

from tintop.circuit.circuit import Circuit, FloatArray, Path
from tintop.circuit.path import path_along
from tintop.circuit.racing_line import Bending, coefficient_bounds, room_beside, spline_values

ROUNDS = 10
THINNED = 4.0  # [m] between the points of the paths that are asked for costs
CURVATURE_BLOCK = 3  # points changed together
LENGTH_BLOCK = 24
STRAIGHT = 1.0 / 600.0  # [1/m]: whatever bends less costs no time by its curvature
WIDEST_BEND = 300.0  # [m]: wider bends count as this wide in the weights
LEAST_SHARE = 1e-2  # of the heaviest weight, so that every place keeps the line smooth
FIRST_STEP, SHORTEST_STEP = 0.2, 0.02  # of the way to the weighted line
LEAST_GAIN = 2e-4  # of the lap time, in a round, to go on

LapTime = Callable[[Path], float]


def quickest(
    circuit: Circuit,
    car_width: float,
    lap_time_of: LapTime,
    progress: Callable[[float], None] | None = None,
    *,
    rounds: int = ROUNDS,
    margin: float = 0.3,
) -> FloatArray:
    """Give the offset (n,) [m, left positive] of the quickest line found; never slower than least curvature.

    `lap_time_of` gives the lap time [s] of a path; `progress` is told the share of the rounds done. Raises
    BadInput where the car does not fit. Every line tried is smooth and within the road.
    """
    bending = Bending(circuit, *coefficient_bounds(circuit, *room_beside(circuit, car_width, margin)))
    points = circuit.x.size

    def path_of(coefficients: FloatArray) -> Path:
        return path_along(circuit, spline_values(coefficients, points), "quickest line")

    now = best = bending.least()
    before = best_time = lap_time_of(path_of(now))
    step, logarithm = FIRST_STEP, None
    for number in range(rounds):
        weight, slowness = _costs(path_of(now), lap_time_of, bending.count)
        logarithm = np.log(weight) if logarithm is None else 0.5 * (logarithm + np.log(weight))
        towards = bending.least(np.exp(logarithm), slowness, now, 1)
        tried = [
            (lap_time_of(path_of(now + share * (towards - now))), share)
            for share in (0.5 * step, step, min(2.0 * step, 1.0))
        ]
        seconds, share = min(tried)
        now = now + share * (towards - now)
        step = max(share, SHORTEST_STEP)
        if seconds < best_time:
            best_time, best = seconds, now
        if progress is not None:
            progress((number + 1) / rounds)
        if abs(before - seconds) < LEAST_GAIN * seconds and number > 2:
            break
        before = seconds
    if progress is not None:
        progress(1.0)
    return spline_values(best, points)


def _costs(path: Path, lap_time_of: LapTime, count: int) -> tuple[FloatArray, FloatArray]:
    """Weights of curvature² and of length at `count` even places, whose slopes are those of the lap time."""
    thin = thinned(path)
    bend = np.abs(thin.lateral_curvature)
    curving = np.where(bend > STRAIGHT, 0.03 * bend + 2e-4, 0.0)
    curved = _slope(thin, "lateral_curvature", curving, CURVATURE_BLOCK, lap_time_of)
    per_metre = curved / thin.step
    slowness = _slope(thin, "step", 0.05 * thin.step, LENGTH_BLOCK, lap_time_of)
    here = np.linspace(0.0, 1.0, thin.x.size, endpoint=False)
    places = np.linspace(0.0, 1.0, count, endpoint=False)

    def at_places(values: FloatArray, eased: float) -> FloatArray:
        return np.interp(places, here, gaussian_filter1d(values, eased, mode="wrap"), period=1.0)

    weight = at_places(np.maximum(per_metre, 0.0), 3.0) / (
        2.0 * np.maximum(at_places(bend, 1.0), 1.0 / WIDEST_BEND)
    )
    return np.maximum(weight, LEAST_SHARE * np.max(weight) + 1e-12), at_places(
        np.maximum(slowness, 1e-6), 2.0
    )


def _slope(path: Path, name: str, change: FloatArray, block: int, lap_time_of: LapTime) -> FloatArray:
    """Seconds per unit of a channel's size, block by block; 0 where nothing is to be changed."""
    values: FloatArray = getattr(path, name)
    away = np.where(values >= 0.0, change, -change)
    standing = lap_time_of(path)
    slope = np.zeros(values.size)
    for first in range(0, values.size, block):
        part = slice(first, min(first + block, values.size))
        if not np.any(change[part]):
            continue
        changed = values.copy()
        changed[part] += away[part]
        other = replace(path, **{name: changed})  # type: ignore[arg-type]
        slope[part] = (lap_time_of(other) - standing) / np.sum(change[part])
    return slope


def thinned(path: Path) -> Path:
    """The path with a point every few metres, for laps that cost little."""
    every = max(1, round(THINNED / float(np.mean(path.step))))
    kept = np.arange(0, path.x.size, every)
    names = [name for name in Path.__dataclass_fields__ if name not in ("name", "step")]
    thin = {name: np.ascontiguousarray(getattr(path, name)[kept]) for name in names}
    return Path(name=path.name, step=np.add.reduceat(path.step, kept), **thin)
