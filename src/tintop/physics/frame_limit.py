"""What a frame of round tubes carries beyond first yield: an estimate with plastic hinges at its nodes.

Two theorems, each a small convex programme, take the place of a march from hinge to hinge. Tubes do not
harden, hinges form at the ends of bars, all loads grow together, and nothing is unloaded.
"""

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from tintop.physics.frame import (
    AXIAL,
    BEND_Y_END,
    BEND_Y_START,
    BEND_Z_END,
    BEND_Z_START,
    TORSION,
    Assembled,
    FloatArray,
    IntArray,
    bar_flexibility,
)

if TYPE_CHECKING:
    from scipy.sparse import csc_array

_SHARES = np.array([0.0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0])  # of the squash load, where chords meet
_BENDS = ((BEND_Z_START, BEND_Y_START), (BEND_Z_END, BEND_Y_END))
_SOLVED = ("Solved", "AlmostSolved")


class Strength(NamedTuple):
    """Each bar's squash load [N], plastic torsion and plastic bending [N·m], (m,) each."""

    squash: FloatArray
    torsion: FloatArray
    bending: FloatArray


class Stressed(NamedTuple):
    """A frame at a multiple of its load with hinges counted: bar forces (m, 6), movements (6n,)."""

    bar_forces: FloatArray
    moves: FloatArray


def tube_strength(area: FloatArray, plastic_modulus: FloatArray, yield_strength: float) -> Strength:
    """Give the strengths of round tubes [m², m³, Pa].

    A round tube's plastic torsion is pi/2 of its plastic modulus times the yield in shear of von Mises.
    Source: geometry.
    """
    bending = plastic_modulus * yield_strength
    return Strength(area * yield_strength, 0.5 * np.pi / np.sqrt(3.0) * bending, bending)


def end_bending(bar_forces: FloatArray) -> FloatArray:
    """Give the bending of both planes together at each bar's start and end, (..., m, 2) [N·m]."""
    return np.stack([np.hypot(bar_forces[..., z], bar_forces[..., y]) for z, y in _BENDS], axis=-1)


def _chords() -> tuple[FloatArray, FloatArray]:
    """Straight lines inside M/Mp = cos(pi/2 N/Np): height at N = 0, and fall."""
    heights = np.cos(0.5 * np.pi * _SHARES)
    fall = (heights[:-1] - heights[1:]) / np.diff(_SHARES)
    return heights[:-1] + fall * _SHARES[:-1], fall


def plastic_use(strength: Strength, bar_forces: FloatArray) -> FloatArray:
    """Give the share of its full plastic strength that each bar end uses, (..., m, 2).

    One over the use is the multiple at which a hinge forms, all forces growing together. A thin round tube
    under axial force and bending: M/Mp = cos(pi/2 N/Np), here by seven chords inside the curve, at most 1 %
    to the safe side; torsion takes its share of the yield stress first.
    Source: M. R. Horne, Plastic Theory of Structures, 2nd ed. 1979, axial force and the plastic moment (from
    memory); von Mises.
    """
    start, fall = _chords()
    axial = np.abs(bar_forces[..., AXIAL]) / strength.squash
    torsion = np.abs(bar_forces[..., TORSION]) / strength.torsion
    bending = end_bending(bar_forces) / strength.bending[:, None]
    direct = ((bending[..., None] + fall * axial[..., None, None]) / start).max(axis=-1)
    return np.asarray(np.hypot(direct, torsion[..., None]))


def limit_factor(ready: Assembled, strength: Strength, load: FloatArray) -> float:
    """Give the greatest multiple of a load (6n,) under which no mechanism forms yet; nan if none was found.

    It is the greatest load in equilibrium with forces that are nowhere beyond yield.
    Source: static theorem, H. J. Greenberg and W. Prager 1952, as in Horne 1979, ch. 2 (from memory).
    """
    from scipy.sparse import csc_array, hstack

    said = _statement(ready, strength, load)
    growing = np.zeros((said.rows.shape[0], 1))
    growing[: said.load.size, 0] = -said.load
    bounds = said.bounds.copy()
    bounds[: said.load.size] = 0.0
    cost = np.zeros(said.rows.shape[1] + 1)
    cost[-1] = -1.0
    nothing = csc_array((cost.size, cost.size))
    answer = _least(nothing, cost, csc_array(hstack((said.rows, csc_array(growing)))), bounds, said.cones)
    return float(answer.x[-1]) if str(answer.status) in _SOLVED else float("nan")


def stressed(ready: Assembled, strength: Strength, load: FloatArray, factor: float) -> Stressed | None:
    """Give bar forces and movements at a multiple of a load (6n,), hinges counted; None beyond the limit.

    Of all forces in equilibrium and nowhere beyond yield, those of least complementary energy; the movements
    are the multipliers of the equilibrium.
    Source: A. Haar and T. von Kármán 1909, as in G. Maier, Meccanica 5, 1970 (from memory).
    """
    said = _statement(ready, strength, load)
    energy, energy_unit = _energy(ready, said)
    bounds = said.bounds.copy()
    bounds[: said.load.size] = factor * said.load
    answer = _least(energy, np.zeros(said.rows.shape[1]), said.rows, bounds, said.cones)
    if str(answer.status) not in _SOLVED:
        return None
    forces = np.zeros(said.column.shape)
    forces[said.column >= 0] = np.asarray(answer.x)[: said.present]
    moves = np.zeros(ready.frame.held.size)
    moves[ready.free] = -np.asarray(answer.z)[: said.load.size] * energy_unit / said.force_unit
    return Stressed(forces * said.unit, moves)


class _Statement(NamedTuple):
    """Equilibrium and yield as rows of a conic programme.

    Its unknowns are the bars' forces in shares of their strength; then, for each bar, the share of yield that
    torsion leaves, and the bending that axial force leaves of it.
    """

    rows: "csc_array"
    bounds: FloatArray
    cones: list[Any]
    load: FloatArray
    column: IntArray  # (m, 6): where each bar's forces stand, -1 where released
    present: int  # how many forces there are
    unit: FloatArray  # (m, 6)
    force_unit: float


def _statement(ready: Assembled, strength: Strength, load: FloatArray) -> _Statement:
    import clarabel

    bars = strength.squash.size
    present = np.ones((bars, 6), dtype=bool)
    for side, bends in enumerate(_BENDS):
        present[:, bends] = ~ready.frame.released[:, side, None]
    count = int(present.sum())
    column = np.where(present, np.cumsum(present).reshape(bars, 6) - 1, -1)
    unit = np.column_stack((strength.squash, strength.torsion, *[strength.bending] * 4))
    force_unit = float(strength.bending.mean())
    after_torsion, after_axial = count + np.arange(bars), count + bars + np.arange(bars)

    rows = _Rows(count + 2 * bars)
    _equilibrium(rows, ready, column, unit / force_unit)
    balanced = rows.height
    for height, fall in zip(*_chords(), strict=True):
        for sign in (1.0, -1.0):
            rows.add((after_axial, 1.0), (after_torsion, -height), (column[:, AXIAL], sign * fall))
    bounded = rows.height - balanced
    first_cone = rows.height
    rows.cone(np.full(bars, -1), after_torsion, column[:, TORSION])
    for bends in _BENDS:
        firm = present[:, bends[0]]
        rows.cone(after_axial[firm], column[firm, bends[0]], column[firm, bends[1]])
    bounds = np.zeros(rows.height)
    scaled_load = load[ready.free] / force_unit
    bounds[:balanced] = scaled_load
    bounds[first_cone : first_cone + 3 * bars : 3] = 1.0  # the whole yield stress
    cones = [clarabel.ZeroConeT(balanced), clarabel.NonnegativeConeT(bounded)]
    cones += [clarabel.SecondOrderConeT(3)] * ((rows.height - first_cone) // 3)
    return _Statement(rows.matrix(), bounds, cones, scaled_load, column, count, unit, force_unit)


class _Rows:
    """Rows of a sparse matrix, gathered."""

    def __init__(self, width: int) -> None:
        self.width, self.height = width, 0
        self.parts: list[tuple[IntArray, IntArray, FloatArray]] = []

    def put(self, rows: IntArray, columns: IntArray, values: FloatArray) -> None:
        """Add entries below what is there; a column of -1 is left out."""
        used = columns >= 0
        self.parts.append((rows[used] + self.height, columns[used], values[used]))

    def add(self, *terms: tuple[IntArray, float]) -> None:
        """Add one row for each place of the terms' columns."""
        count = terms[0][0].size
        for columns, value in terms:
            self.put(np.arange(count), columns, np.full(count, value))
        self.height += count

    def cone(self, *members: IntArray) -> None:
        """Add three rows for each place: the first member is no smaller than the other two together."""
        count = members[0].size
        for place, columns in enumerate(members):
            self.put(3 * np.arange(count) + place, columns, np.full(count, -1.0))
        self.height += 3 * count

    def matrix(self) -> "csc_array":
        """Give the rows as they stand."""
        from scipy.sparse import csc_array

        rows, columns, values = (np.concatenate(part) for part in zip(*self.parts, strict=True))
        return csc_array((values, (rows, columns)), shape=(self.height, self.width))


def _equilibrium(rows: _Rows, ready: Assembled, column: IntArray, unit: FloatArray) -> None:
    row_of = np.full(ready.frame.held.size, -1)
    row_of[ready.free] = np.arange(ready.free.size)
    values = ready.equilibrium * unit[:, None, :]
    at = np.broadcast_to(row_of[ready.places][:, :, None], values.shape)
    columns = np.broadcast_to(column[:, None, :], values.shape)
    used = (at >= 0) & (values != 0.0)
    rows.put(at[used], columns[used], values[used])
    rows.height += ready.free.size


def _energy(ready: Assembled, said: _Statement) -> tuple["csc_array", float]:
    """Complementary energy of the bars' forces, upper triangle, and the unit it is in [J]."""
    from scipy.sparse import csc_array

    values = bar_flexibility(ready.frame) * said.unit[:, :, None] * said.unit[:, None, :]
    energy_unit = float(values.diagonal(axis1=1, axis2=2).max())
    rows = np.broadcast_to(said.column[:, :, None], values.shape)
    columns = np.broadcast_to(said.column[:, None, :], values.shape)
    used = (rows >= 0) & (columns >= rows)
    width = said.rows.shape[1]
    entries = (values[used] / energy_unit, (rows[used], columns[used]))
    return csc_array(entries, shape=(width, width)), energy_unit


def _least(energy: "csc_array", cost: FloatArray, rows: "csc_array", bounds: FloatArray, cones: Any) -> Any:
    import clarabel

    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.max_threads = 1  # small problems: more threads wait longer for one another than they work
    return clarabel.DefaultSolver(energy, cost, rows, bounds, cones, settings).solve()
