"""A frame of straight round bars in space: small displacements, six movements a node, moment releases.

Each bar is told by the six forces that are free at it: axial force, torsion, and the two bendings at either
end; all else at its ends follows from their equilibrium. Shear deformation is left out.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.int64]

AXIAL, TORSION, BEND_Z_START, BEND_Z_END, BEND_Y_START, BEND_Y_END = range(6)
_FREE_STIFFNESS = 1e-11  # of the stiffest mode, all scaled to a diagonal of ones
_A_MOVE = 1e-5  # of the largest movement or turn of a mode
_PLANES = ((1, 5, 1.0), (2, 4, -1.0))  # a bar's sideways movement, its turn there, and the sign between them


class Frame(NamedTuple):
    """n nodes, m bars; SI. `released` are bar ends that pass no bending, `held` movements of nodes held."""

    nodes: FloatArray  # (n, 3)
    ends: IntArray  # (m, 2)
    area: FloatArray  # (m,)
    second_moment: FloatArray  # (m,)
    polar_moment: FloatArray  # (m,)
    youngs_modulus: float
    shear_modulus: float
    released: BoolArray  # (m, 2)
    held: BoolArray  # (n, 6): three movements, three turns

    @property
    def lengths(self) -> FloatArray:
        """Length of each bar [m]."""
        along = self.nodes[self.ends[:, 1]] - self.nodes[self.ends[:, 0]]
        return np.asarray(np.linalg.norm(along, axis=1))


class Assembled(NamedTuple):
    """A frame made ready: what its bars' forces give on its nodes, and its stiffness."""

    frame: Frame
    axes: FloatArray  # (m, 3, 3): rows are each bar's own x, y, z
    equilibrium: FloatArray  # (m, 12, 6): forces and moments on the nodes, of the bar's six
    bar_stiffness: FloatArray  # (m, 6, 6)
    places: IntArray  # (m, 12): where each bar's twelve stand among the frame's 6 n
    free: IntArray
    stiffness: FloatArray  # (f, f) of what is free
    modes: FloatArray  # (f, k): each of unit stiffness, apart from turns that meet none and move nothing


class Loose(NamedTuple):
    """A frame that is a mechanism: the node that moves freely farthest, and whither."""

    node: int
    direction: FloatArray  # (3,)


class Solved(NamedTuple):
    """A frame under l loads."""

    moves: FloatArray  # (l, n, 6)
    bar_forces: FloatArray  # (l, m, 6): tension and the bar's own moments
    end_forces: FloatArray  # (l, m, 12): on the bar, along its own axes, as in the stiffness method
    reactions: FloatArray  # (l, n, 6): on the frame, where held


def bar_axes(frame: Frame) -> FloatArray:
    """Give each bar's own axes (m, 3, 3): x along it, z as near to upwards as may be; round bars ask no more.

    Source: geometry.
    """
    along = frame.nodes[frame.ends[:, 1]] - frame.nodes[frame.ends[:, 0]]
    along /= np.linalg.norm(along, axis=1)[:, None]
    upright = np.abs(along[:, 2]) > 0.9
    reference = np.where(upright[:, None], np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0]))
    across = np.cross(reference, along)
    across /= np.linalg.norm(across, axis=1)[:, None]
    return np.stack((along, across, np.cross(along, across)), axis=1)


def _own_equilibrium(lengths: FloatArray) -> FloatArray:
    """End forces (m, 12, 6) along the bar's own axes, of its six."""
    one_over = 1.0 / lengths
    found = np.zeros((lengths.size, 12, 6))
    found[:, 0, AXIAL], found[:, 6, AXIAL] = -1.0, 1.0
    found[:, 3, TORSION], found[:, 9, TORSION] = -1.0, 1.0
    for bend, moment in ((BEND_Z_START, 5), (BEND_Z_END, 11)):
        found[:, moment, bend] = 1.0
        found[:, 1, bend], found[:, 7, bend] = one_over, -one_over
    for bend, moment in ((BEND_Y_START, 4), (BEND_Y_END, 10)):
        found[:, moment, bend] = 1.0
        found[:, 2, bend], found[:, 8, bend] = -one_over, one_over
    return found


def _bar_stiffness(frame: Frame) -> FloatArray:
    """Stiffness (m, 6, 6) of each bar in its six, releases condensed."""
    lengths = frame.lengths
    found = np.zeros((lengths.size, 6, 6))
    found[:, AXIAL, AXIAL] = frame.youngs_modulus * frame.area / lengths
    found[:, TORSION, TORSION] = frame.shear_modulus * frame.polar_moment / lengths
    bending = frame.youngs_modulus * frame.second_moment / lengths
    start, end = frame.released[:, 0], frame.released[:, 1]
    near = np.where(start, 0.0, np.where(end, 3.0, 4.0)) * bending
    far = np.where(end, 0.0, np.where(start, 3.0, 4.0)) * bending
    both = np.where(start | end, 0.0, 2.0) * bending
    for first, second in ((BEND_Z_START, BEND_Z_END), (BEND_Y_START, BEND_Y_END)):
        found[:, first, first], found[:, second, second] = near, far
        found[:, first, second] = found[:, second, first] = both
    return found


def bar_flexibility(frame: Frame) -> FloatArray:
    """Give the flexibility (m, 6, 6) of each bar in its six; nothing where an end is released.

    Source: a beam without shear deformation; Timoshenko, Strength of Materials, part I (from memory).
    """
    lengths = frame.lengths
    found = np.zeros((lengths.size, 6, 6))
    found[:, AXIAL, AXIAL] = lengths / (frame.youngs_modulus * frame.area)
    found[:, TORSION, TORSION] = lengths / (frame.shear_modulus * frame.polar_moment)
    bending = lengths / (6.0 * frame.youngs_modulus * frame.second_moment)
    start, end = (np.where(side, 0.0, 1.0) for side in frame.released.T)
    for first, second in ((BEND_Z_START, BEND_Z_END), (BEND_Y_START, BEND_Y_END)):
        found[:, first, first], found[:, second, second] = 2.0 * bending * start, 2.0 * bending * end
        found[:, first, second] = found[:, second, first] = -bending * start * end
    return found


def _turned(axes: FloatArray) -> FloatArray:
    """Turning matrices (m, 12, 12) from the frame's axes to each bar's own."""
    found = np.zeros((axes.shape[0], 12, 12))
    for block in range(0, 12, 3):
        found[:, block : block + 3, block : block + 3] = axes
    return found


def _gathered(frame: Frame, places: IntArray, bars: FloatArray) -> FloatArray:
    """Sum bars' matrices (m, 12, 12) into the frame's (6n, 6n)."""
    size = 6 * frame.nodes.shape[0]
    flat = (places[:, :, None] * size + places[:, None, :]).ravel()
    summed = np.bincount(flat, weights=bars.ravel(), minlength=size * size)
    return np.asarray(summed, dtype=np.float64).reshape(size, size)


def assemble(frame: Frame) -> Assembled | Loose:
    """Make a frame ready to be solved, or say which node moves freely.

    A node that only spins, moving nothing, as where every end is released, is let be.
    Source: displacement method; W. McGuire, R. H. Gallagher and R. D. Ziemian, Matrix Structural Analysis,
    2nd ed. 2000, ch. 3 to 5 and 13 (from memory).
    """
    axes = bar_axes(frame)
    equilibrium = np.swapaxes(_turned(axes), 1, 2) @ _own_equilibrium(frame.lengths)
    bar_stiffness = _bar_stiffness(frame)
    places = (6 * frame.ends[:, :, None] + np.arange(6)).reshape(-1, 12)
    whole = _gathered(frame, places, equilibrium @ bar_stiffness @ np.swapaxes(equilibrium, 1, 2))
    free = np.flatnonzero(~frame.held.ravel())
    stiffness = whole[np.ix_(free, free)]
    scale = 1.0 / np.sqrt(np.maximum(np.diag(stiffness), 1e-9 * np.diag(stiffness).max(initial=1.0)))
    values, modes = np.linalg.eigh(scale[:, None] * stiffness * scale)
    is_loose = values < _FREE_STIFFNESS * values.max(initial=1.0)
    if is_loose.any():
        loose, _ = np.linalg.qr(scale[:, None] * modes[:, is_loose])
        node = _freest(frame, free, loose)
        if node is not None:
            return node
    firm = scale[:, None] * modes[:, ~is_loose] / np.sqrt(values[~is_loose])
    return Assembled(frame, axes, equilibrium, bar_stiffness, places, free, stiffness, firm)


def _freest(frame: Frame, free: IntArray, loose: FloatArray) -> Loose | None:
    everywhere = np.zeros((6 * frame.nodes.shape[0], loose.shape[1]))
    everywhere[free] = loose
    movement = everywhere.reshape(-1, 6, loose.shape[1])[:, :3]
    how_far = np.linalg.norm(movement, axis=(1, 2))
    node = int(np.argmax(how_far))
    if how_far[node] < _A_MOVE:
        return None
    left, _, _ = np.linalg.svd(movement[node])
    return Loose(node, left[:, 0])


def solve(ready: Assembled, loads: FloatArray) -> Solved:
    """Give movements, bar forces and reactions under loads (l, n, 6) [N, N·m] on the nodes.

    Source: as `assemble`.
    """
    frame = ready.frame
    flat = loads.reshape(loads.shape[0], -1)
    moves = np.zeros_like(flat)
    given = flat[:, ready.free]
    found = given @ ready.modes @ ready.modes.T
    for _ in range(2):  # refined, for the modes carry the rounding of their own making
        found += (given - found @ ready.stiffness) @ ready.modes @ ready.modes.T
    moves[:, ready.free] = found
    strains = np.einsum("mij,lmi->lmj", ready.equilibrium, moves[:, ready.places])
    bar_forces = np.einsum("mij,lmj->lmi", ready.bar_stiffness, strains)
    shape = (loads.shape[0], *frame.held.shape)
    reactions = np.where(frame.held, (on_nodes(ready, bar_forces) - flat).reshape(shape), 0.0)
    end_forces = np.einsum("mij,lmj->lmi", _own_equilibrium(frame.lengths), bar_forces)
    return Solved(moves.reshape(shape), bar_forces, end_forces, reactions)


def on_nodes(ready: Assembled, bar_forces: FloatArray) -> FloatArray:
    """Sum what bars' forces (l, m, 6) ask of the nodes: (l, 6n); equal to the loads where nothing is held."""
    each = np.einsum("mij,lmj->lmi", ready.equilibrium, bar_forces)
    found = np.zeros((bar_forces.shape[0], ready.frame.held.size))
    for row, values in zip(found, each, strict=True):
        np.add.at(row, ready.places, values)
    return found


def critical_factor(ready: Assembled, tension: FloatArray) -> float:
    """Give the multiple of a load at which the frame as a whole buckles, elastic; inf where it never does.

    `tension` (m,) [N] is the bars' under the load. Right for swaying to about 1 %; the buckling of one bar
    between its nodes is overstated by a fifth or not seen, and is to be looked at bar by bar.
    Source: geometric stiffness of a beam of cubic shape; McGuire, Gallagher and Ziemian 2000, ch. 9 (from
    memory); a released end turns as it does in the bar's own bending.
    """
    frame = ready.frame
    bars = np.swapaxes(_turned(ready.axes), 1, 2) @ _geometric(frame, tension) @ _turned(ready.axes)
    geometric = _gathered(frame, ready.places, bars)[np.ix_(ready.free, ready.free)]
    lowest = float(np.linalg.eigvalsh(ready.modes.T @ geometric @ ready.modes).min(initial=0.0))
    return -1.0 / lowest if lowest < -1e-12 else float("inf")


def _geometric(frame: Frame, tension: FloatArray) -> FloatArray:
    lengths = frame.lengths
    found = np.zeros((lengths.size, 12, 12))
    side, lean = 1.2 * tension / lengths, 0.1 * tension
    near = 2.0 / 15.0 * tension * lengths
    for move, turn, sign in _PLANES:
        found[:, move, move] = found[:, move + 6, move + 6] = side
        found[:, move, move + 6] = found[:, move + 6, move] = -side
        for end in (0, 6):
            found[:, turn + end, turn + end] = near
            found[:, move, turn + end] = found[:, turn + end, move] = sign * lean
            found[:, move + 6, turn + end] = found[:, turn + end, move + 6] = -sign * lean
        found[:, turn, turn + 6] = found[:, turn + 6, turn] = -near / 4.0
    released = _released_turns(frame)
    return np.asarray(np.swapaxes(released, 1, 2) @ found @ released)


def _released_turns(frame: Frame) -> FloatArray:
    """What each bar's ends do (m, 12, 12) when its nodes move: a released end turns free of its node."""
    found = np.tile(np.eye(12), (frame.lengths.size, 1, 1))
    for end, other in ((0, 1), (1, 0)):
        is_free, is_both = frame.released[:, end], frame.released.all(axis=1)
        leaning = np.where(is_free, np.where(is_both, 1.0, 1.5), 0.0) / frame.lengths
        for move, turn, sign in _PLANES:
            here = turn + 6 * end
            found[is_free, here, here] = 0.0
            found[:, here, move], found[:, here, move + 6] = -sign * leaning, sign * leaning
            found[:, here, turn + 6 * other] = np.where(is_free & ~is_both, -0.5, 0.0)
    return found
