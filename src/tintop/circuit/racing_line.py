"""The racing line within the widths: least curvature, then least time with the car.

Offsets are periodic cubic B-splines, so they are smooth and, their coefficients kept within the road,
never leave it. Least curvature is a quadratic programme, restated about its own answer a few times. Least
time works on the answer with a few control points, by the lap time the caller gives for a path.
"""

import contextlib
from collections.abc import Callable

import numpy as np
from scipy import sparse
from scipy.interpolate import CubicSpline
from scipy.ndimage import minimum_filter1d
from scipy.optimize import minimize

from tintop.circuit.circuit import Circuit, FloatArray, Path
from tintop.circuit.path import left_normals, path_along
from tintop.circuit.recognise import check_widths
from tintop.errors import refuse

MESH = 4.0  # [m] between the coefficients of the quadratic programme
RESTATED = 4
FIRST_STEP = 0.1  # of half the room, the first change tried
NEAREST = 0.999  # of the room, where a line that touches the edge starts to be free to leave it


def room_beside(circuit: Circuit, car_width: float, margin: float = 0.3) -> tuple[FloatArray, FloatArray]:
    """Give how far right (negative) and left (positive) of the centre line the car's middle may run (n,) [m].

    Half the car and `margin` [m] stay within the road. Raises BadInput where the car does not fit.
    """
    check_widths(circuit, car_width)
    if margin < 0.0:
        raise refuse("margin", f"{margin:g} m", "zero or more")
    kept = car_width / 2.0 + margin
    right, left = -(circuit.width_right - kept), circuit.width_left - kept
    crossed = right > left
    middle = (circuit.width_left - circuit.width_right) / 2.0
    right, left = np.where(crossed, middle, right), np.where(crossed, middle, left)
    inside = 0.9 / np.maximum(np.abs(circuit.curvature), 1e-9)  # never beyond the centre of the corner
    return np.maximum(right, -inside), np.minimum(left, inside)


def _coarse(circuit: Circuit, values: FloatArray, count: int) -> FloatArray:
    at = np.arange(circuit.x.size + 1) * circuit.step
    mesh = np.arange(count) * circuit.length / count
    return np.asarray(CubicSpline(at, np.append(values, values[0]), bc_type="periodic")(mesh))


def _lowest_around(circuit: Circuit, values: FloatArray, count: int, reach: float) -> FloatArray:
    """Give the least value within `reach` coefficients of each coefficient."""
    size = 2 * int(np.ceil(reach * circuit.length / count / circuit.step)) + 1
    lowest = minimum_filter1d(values, min(size, values.size), mode="wrap")
    return np.asarray(lowest[(np.arange(count) * circuit.length / count / circuit.step).astype(int)])


def spline_values(coefficients: FloatArray, count: int) -> FloatArray:
    """Evaluate a periodic uniform cubic B-spline at `count` even points of one period."""
    place = np.arange(count) * coefficients.size / count
    first = place.astype(int)
    t = place - first
    weights = ((1 - t) ** 3, 3 * t**3 - 6 * t**2 + 4, -3 * t**3 + 3 * t**2 + 3 * t + 1, t**3)
    values = np.zeros(count)
    for shift, weight in zip((-1, 0, 1, 2), weights, strict=True):
        values += weight * coefficients[(first + shift) % coefficients.size] / 6.0
    return np.asarray(values)


def _cyclic(count: int, bands: tuple[float, float, float]) -> sparse.csr_matrix:
    index = np.arange(count)
    rows = np.concatenate((index, index, index))
    columns = np.concatenate(((index - 1) % count, index, (index + 1) % count))
    values = np.repeat(np.array(bands), count)
    return sparse.csr_matrix((values, (rows, columns)), shape=(count, count))


def _solve(
    quadratic: sparse.csc_matrix, linear: FloatArray, lowest: FloatArray, highest: FloatArray
) -> FloatArray:
    """Solve min ½ c'Qc + l'c with lowest ≤ c ≤ highest by an interior-point method."""
    import clarabel

    count = linear.size
    identity = sparse.identity(count, format="csc")
    bounds = sparse.vstack((identity, -identity), format="csc")
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    solver = clarabel.DefaultSolver(
        sparse.triu(quadratic, format="csc"),
        linear,
        bounds,
        np.concatenate((highest, -lowest)),
        [clarabel.NonnegativeConeT(2 * count)],
        settings,
    )
    solution: FloatArray = np.asarray(solver.solve().x, dtype=np.float64)
    return np.clip(solution, lowest, highest)


def minimum_curvature(circuit: Circuit, car_width: float, margin: float = 0.3) -> FloatArray:
    """Give the offset (n,) [m, left positive] of the line of least integral of curvature squared.

    `car_width` and `margin` [m] to each edge. Raises BadInput where the car does not fit.
    Source: the statement as a quadratic programme follows F. Braghin et al., "Race driver model", Computers
    and Structures 86 (2008) (from memory); solved by a public interior-point method.
    """
    bounds = _coefficient_bounds(circuit, *room_beside(circuit, car_width, margin))
    return spline_values(_least(circuit, *bounds, length_weight=0.0), circuit.x.size)


def shortest(circuit: Circuit, car_width: float, margin: float = 0.3) -> FloatArray:
    """Give the offset (n,) [m] of nearly the shortest line: length outweighs curvature."""
    bounds = _coefficient_bounds(circuit, *room_beside(circuit, car_width, margin))
    return spline_values(_least(circuit, *bounds, length_weight=1e-2), circuit.x.size)


def _coefficient_bounds(
    circuit: Circuit, right: FloatArray, left: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give the bounds of B-spline coefficients MESH apart that keep the whole line within the road."""
    count = max(16, round(circuit.length / MESH))
    lowest = -_lowest_around(circuit, -right, count, 2.0)
    highest = _lowest_around(circuit, left, count, 2.0)
    middle = (lowest + highest) / 2.0
    crossed = lowest > highest
    return np.where(crossed, middle, lowest), np.where(crossed, middle, highest)


def _least(circuit: Circuit, lowest: FloatArray, highest: FloatArray, length_weight: float) -> FloatArray:
    """Give the coefficients of the least integral of curvature² + length_weight · (slope)²."""
    count = lowest.size
    spacing = circuit.length / count
    normal_x, normal_y = (_coarse(circuit, one, count) for one in left_normals(circuit))
    x, y = _coarse(circuit, circuit.x, count), _coarse(circuit, circuit.y, count)
    at_nodes = _cyclic(count, (1 / 6, 4 / 6, 1 / 6))
    slope = _cyclic(count, (-0.5 / spacing, 0.0, 0.5 / spacing))
    bend = _cyclic(count, (1 / spacing**2, -2 / spacing**2, 1 / spacing**2))
    to_x, to_y = sparse.diags(normal_x) @ at_nodes, sparse.diags(normal_y) @ at_nodes
    offset = np.zeros(count)
    best, best_cost = offset, np.inf
    for _ in range(RESTATED + 1):
        line_x, line_y = x + to_x @ offset, y + to_y @ offset
        dx, dy = slope @ line_x, slope @ line_y
        ddx, ddy = bend @ line_x, bend @ line_y
        speed = np.hypot(dx, dy)
        curvature = (dx * ddy - dy * ddx) / speed**3
        cost = float(np.sum(curvature**2 * speed) + length_weight * np.sum(speed))
        if cost < best_cost:
            best, best_cost = offset, cost
        # curvature of a line near this one, to first order in the change of its points
        by_slope_x = ddy / speed**3 - 3.0 * curvature * dx / speed**2
        by_slope_y = -ddx / speed**3 - 3.0 * curvature * dy / speed**2
        change = (sparse.diags(by_slope_x) @ slope + sparse.diags(-dy / speed**3) @ bend) @ to_x + (
            sparse.diags(by_slope_y) @ slope + sparse.diags(dx / speed**3) @ bend
        ) @ to_y
        rest = curvature - change @ offset
        weighted = sparse.diags(speed)
        quadratic = (change.T @ weighted @ change) * 2.0 + 1e-9 * sparse.identity(count)
        linear = 2.0 * change.T @ (speed * rest)
        if length_weight:
            along = (slope @ to_x, slope @ to_y)
            quadratic = quadratic + length_weight * sum(
                one.T @ sparse.diags(1.0 / speed) @ one for one in along
            )
            linear = linear + length_weight * (
                along[0].T @ ((slope @ x) / speed) + along[1].T @ ((slope @ y) / speed)
            )
        scale = 1.0 / max(float(abs(quadratic).max()), 1e-12)
        offset = _solve((quadratic * scale).tocsc(), linear * scale, lowest, highest)
    return best


def quickest(
    circuit: Circuit,
    car_width: float,
    lap_time_of: Callable[[Path], float],
    progress: Callable[[float], None] | None = None,
    *,
    budget: int = 2000,
    margin: float = 0.3,
    controls: int = 80,
) -> FloatArray:
    """Give the offset (n,) [m] of the quickest line found; never slower than the line of least curvature.

    `lap_time_of` gives the lap time [s] of a path, `budget` is the number of laps that may be asked for,
    `progress` is told the share of it used. It starts from the best blend of the least-curvature and the
    shortest line and moves `controls` B-spline coefficients by a quasi-Newton method with bounds.
    """
    lowest, highest = _coefficient_bounds(circuit, *room_beside(circuit, car_width, margin))
    asked = 0

    def time_of(offset: FloatArray) -> float:
        nonlocal asked
        asked += 1
        if progress is not None and asked % 20 == 0:
            progress(min(1.0, asked / budget))
        return lap_time_of(path_along(circuit, offset, "quickest line"))

    least = _least(circuit, lowest, highest, length_weight=0.0)
    short = _least(circuit, lowest, highest, length_weight=1e-2)
    blends = [least + share * (short - least) for share in (0.0, 0.03, 0.07, 0.15, 0.3, 0.6, 1.0)]
    times = [time_of(spline_values(blend, circuit.x.size)) for blend in blends]
    best_time, start = min(zip(times, blends, strict=True), key=lambda one: one[0])
    best = spline_values(start, circuit.x.size)
    middle, half = (highest + lowest) / 2.0, np.maximum((highest - lowest) / 2.0, 1e-3)
    free = _unbounded(np.clip((start - middle) / half, -NEAREST, NEAREST))
    controls = int(min(controls, max(8, circuit.length // 15)))

    def line(coefficients: FloatArray) -> FloatArray:
        moved = middle + half * _bounded(free + FIRST_STEP * spline_values(coefficients, free.size))
        return spline_values(moved, circuit.x.size)

    def cost(coefficients: FloatArray) -> float:
        nonlocal best_time, best
        offset = line(coefficients)
        seconds = time_of(offset)
        if seconds < best_time:
            best_time, best = seconds, offset
        return seconds

    def cost_and_slope(coefficients: FloatArray) -> tuple[float, FloatArray]:
        here = cost(coefficients)
        slope = np.empty(controls)
        for index in range(controls):
            if asked >= budget:
                raise _SpentError
            moved = coefficients.copy()
            moved[index] += 0.1
            slope[index] = (cost(moved) - here) / 0.1
        return here, slope

    with contextlib.suppress(_SpentError):
        minimize(
            cost_and_slope,
            np.zeros(controls),
            jac=True,
            method="L-BFGS-B",
            bounds=[(-30.0, 30.0)] * controls,
            options={"maxiter": 60, "ftol": 1e-7},
        )
    if progress is not None:
        progress(1.0)
    return best


class _SpentError(Exception):
    """The laps allowed are used up."""


def _bounded(free: FloatArray) -> FloatArray:
    return np.asarray(free / (1.0 + free**4) ** 0.25)


def _unbounded(bounded: FloatArray) -> FloatArray:
    return np.asarray(bounded / (1.0 - bounded**4) ** 0.25)
