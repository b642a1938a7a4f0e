"""Lines of least bending within the widths.

Offsets are periodic cubic B-splines, so they are smooth and, their coefficients kept within the road,
never leave it. Least curvature is a quadratic programme, restated about its own answer a few times.
"""

import numpy as np
from scipy import sparse
from scipy.interpolate import CubicSpline
from scipy.ndimage import minimum_filter1d

from tintop.circuit.circuit import Circuit, FloatArray
from tintop.circuit.path import left_normals
from tintop.circuit.recognise import check_widths
from tintop.errors import refuse

MESH = 4.0  # [m] between the coefficients of the quadratic programme
RESTATED = 4


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
    settings.tol_gap_abs = settings.tol_gap_rel = settings.tol_feas = 1e-6
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
    bounds = coefficient_bounds(circuit, *room_beside(circuit, car_width, margin))
    return spline_values(Bending(circuit, *bounds).least(), circuit.x.size)


def shortest(circuit: Circuit, car_width: float, margin: float = 0.3) -> FloatArray:
    """Give the offset (n,) [m] of nearly the shortest line: length outweighs curvature."""
    bounds = coefficient_bounds(circuit, *room_beside(circuit, car_width, margin))
    return spline_values(Bending(circuit, *bounds).least(length_weight=1e-2), circuit.x.size)


def coefficient_bounds(
    circuit: Circuit, right: FloatArray, left: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give the bounds of B-spline coefficients MESH apart that keep the whole line within the road."""
    count = max(16, round(circuit.length / MESH))
    lowest = -_lowest_around(circuit, -right, count, 2.0)
    highest = _lowest_around(circuit, left, count, 2.0)
    middle = (lowest + highest) / 2.0
    crossed = lowest > highest
    return np.where(crossed, middle, lowest), np.where(crossed, middle, highest)


class Bending:
    """The lines of least weighted bending within bounds, as coefficients MESH apart."""

    def __init__(self, circuit: Circuit, lowest: FloatArray, highest: FloatArray) -> None:
        self.lowest, self.highest = lowest, highest
        self.count = count = lowest.size
        spacing = circuit.length / count
        normal_x, normal_y = (_coarse(circuit, one, count) for one in left_normals(circuit))
        self.x, self.y = _coarse(circuit, circuit.x, count), _coarse(circuit, circuit.y, count)
        at_nodes = _cyclic(count, (1 / 6, 4 / 6, 1 / 6))
        self.slope = _cyclic(count, (-0.5 / spacing, 0.0, 0.5 / spacing))
        self.bend = _cyclic(count, (1 / spacing**2, -2 / spacing**2, 1 / spacing**2))
        self.to_x, self.to_y = sparse.diags(normal_x) @ at_nodes, sparse.diags(normal_y) @ at_nodes
        self.along = (self.slope @ self.to_x, self.slope @ self.to_y)
        self.across = (self.bend @ self.to_x, self.bend @ self.to_y)

    def least(
        self,
        weight: FloatArray | float = 1.0,
        length_weight: FloatArray | float = 0.0,
        begin: FloatArray | None = None,
        restated: int = RESTATED,
    ) -> FloatArray:
        """Give the coefficients of least integral of weight · curvature² + length_weight, from `begin`."""
        offset = np.zeros(self.count) if begin is None else begin
        best, best_cost = offset, np.inf
        for attempt in range(restated + 1):
            line_x, line_y = self.x + self.to_x @ offset, self.y + self.to_y @ offset
            dx, dy = self.slope @ line_x, self.slope @ line_y
            ddx, ddy = self.bend @ line_x, self.bend @ line_y
            speed = np.hypot(dx, dy)
            curvature = (dx * ddy - dy * ddx) / speed**3
            cost = float(np.sum(weight * curvature**2 * speed) + np.sum(length_weight * speed))
            if cost < best_cost:
                best, best_cost = offset, cost
            if attempt == restated:
                break
            # curvature of a line near this one, to first order in the change of its points
            by_slope_x = ddy / speed**3 - 3.0 * curvature * dx / speed**2
            by_slope_y = -ddx / speed**3 - 3.0 * curvature * dy / speed**2
            change = (
                sparse.diags(by_slope_x) @ self.along[0]
                + sparse.diags(by_slope_y) @ self.along[1]
                + sparse.diags(-dy / speed**3) @ self.across[0]
                + sparse.diags(dx / speed**3) @ self.across[1]
            )
            rest = curvature - change @ offset
            quadratic = 2.0 * (change.T @ sparse.diags(weight * speed) @ change)
            quadratic = quadratic + 1e-9 * sparse.identity(self.count)
            linear = 2.0 * change.T @ (weight * speed * rest)
            if np.any(length_weight):
                for one, centre in zip(self.along, (self.slope @ self.x, self.slope @ self.y), strict=True):
                    quadratic = quadratic + one.T @ sparse.diags(length_weight / speed) @ one
                    linear = linear + one.T @ (length_weight * centre / speed)
            scale = 1.0 / max(float(abs(quadratic).max()), 1e-12)
            offset = _solve((quadratic * scale).tocsc(), linear * scale, self.lowest, self.highest)
        return best
