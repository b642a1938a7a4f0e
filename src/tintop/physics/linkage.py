"""Where an upright stands on its links: rods of fixed length and a slider, solved as one rigid body in space.

Points are (x, y, z) [m] with x forward, y left, z up; the upright's pose is a shift of its wheel centre and a
rotation about it, both nought as measured. Source: rigid-body kinematics; J. C. Dixon, Suspension Geometry
and Computation, Wiley 2009, chs. 12 to 15 (from memory).
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_LONGEST_STEP = 0.02  # [m] that anything is moved at once on the way from the measured pose
_CLOSE = 1e-13  # [m]
_TRIES = 25
_WIDEST_TURN = 0.5  # [rad] in one step; more is another way of putting the links together
_LEAST_DETERMINANT = 1e-9  # beneath it the links leave the upright free, or are stretched out straight


class Slider(NamedTuple):
    """A line fixed in the upright that passes through a point of the body."""

    top: FloatArray  # of the body (3,)
    point: FloatArray  # on the line (3,)
    normals: FloatArray  # two unit vectors across the line (2, 3)


class Linkage(NamedTuple):
    """An upright on rods, as measured; `track_rod` is the row of the rod that the rack moves."""

    wheel_centre: FloatArray
    inner: FloatArray  # the rods' joints on the body (n, 3)
    outer: FloatArray  # on the upright (n, 3)
    lengths: FloatArray  # (n,)
    track_rod: int
    slider: Slider | None


class Poses(NamedTuple):
    """Poses of an upright, a row each, their change per metre of travel, and how far the links miss [m]."""

    shift: FloatArray  # of the wheel centre (n, 3)
    rotation: FloatArray  # (n, 3, 3)
    shift_rate: FloatArray  # per metre of travel (n, 3)
    turn_rate: FloatArray  # [rad/m] (n, 3)
    residual: FloatArray  # (n,)

    @property
    def is_met(self) -> NDArray[np.bool_]:
        """Whether the links meet within a nanometre (n,)."""
        return self.residual < 1e-9


def strut_linkage(
    top: FloatArray,
    axis_point: FloatArray,
    arm_front: FloatArray,
    arm_rear: FloatArray,
    ball_joint: FloatArray,
    track_rod_inner: FloatArray,
    track_rod_outer: FloatArray,
    wheel_centre: FloatArray,
) -> Linkage:
    """Give the linkage of a MacPherson strut: an arm on two pivots, a track rod, a slider through its top.

    `axis_point` lies on the slider's axis, on the upright.
    """
    along = (top - axis_point) / np.linalg.norm(top - axis_point)
    aside = np.array([1.0, 0.0, 0.0]) - along[0] * along
    first = aside / np.linalg.norm(aside)
    slider = Slider(top=top, point=axis_point, normals=np.stack((first, np.cross(along, first))))
    rods = ((arm_front, ball_joint), (arm_rear, ball_joint), (track_rod_inner, track_rod_outer))
    return _linkage(wheel_centre, rods, slider)


def wishbone_linkage(
    upper_front: FloatArray,
    upper_rear: FloatArray,
    upper_ball_joint: FloatArray,
    lower_front: FloatArray,
    lower_rear: FloatArray,
    lower_ball_joint: FloatArray,
    track_rod_inner: FloatArray,
    track_rod_outer: FloatArray,
    wheel_centre: FloatArray,
) -> Linkage:
    """Give the linkage of two wishbones, each on two pivots, and a track rod."""
    rods = (
        (upper_front, upper_ball_joint),
        (upper_rear, upper_ball_joint),
        (lower_front, lower_ball_joint),
        (lower_rear, lower_ball_joint),
        (track_rod_inner, track_rod_outer),
    )
    return _linkage(wheel_centre, rods, None)


def moved_points(linkage: Linkage, poses: Poses, points: FloatArray) -> FloatArray:
    """Give where points of the upright (m, 3), as measured, lie in each pose (n, m, 3)."""
    moved: FloatArray = np.einsum("nij,mj->nmi", poses.rotation, points - linkage.wheel_centre)
    return moved + (linkage.wheel_centre + poses.shift)[:, None, :]


def poses_at(linkage: Linkage, travel: FloatArray, rack: FloatArray, top: FloatArray) -> Poses:
    """Give the poses with the wheel centre up, the rack moved left [m] (n,) and the top moved (n, 3).

    All walk there from the measured pose in steps of 20 mm or less, each step solved by Newton's method on
    six unknowns; where `is_met` is false the links cannot meet.
    """
    furthest = max(
        float(np.max(np.abs(travel))), float(np.max(np.abs(rack))), float(np.max(np.linalg.norm(top, axis=1)))
    )
    steps = max(1, math.ceil(furthest / _LONGEST_STEP))
    count = travel.size
    shift, rotation = np.zeros((count, 3)), np.tile(np.eye(3), (count, 1, 1))
    is_lost = np.zeros(count, dtype=np.bool_)
    for step in range(1, steps + 1):
        share = step / steps
        shift, rotation, slopes, miss, lost = _solved(
            linkage, share * travel, share * rack, share * top, shift, rotation
        )
        is_lost |= lost
    rates = np.linalg.solve(slopes, np.broadcast_to(_PER_TRAVEL, (count, 6, 1)))[..., 0]
    residual = np.where(is_lost, np.inf, np.max(np.abs(miss), axis=1))
    return Poses(shift, rotation, rates[:, :3], rates[:, 3:], residual)


_PER_TRAVEL = np.array([0.0, 0.0, 0.0, 0.0, 0.0, 1.0])[:, None]


def _linkage(
    wheel_centre: FloatArray, rods: tuple[tuple[FloatArray, FloatArray], ...], slider: Slider | None
) -> Linkage:
    inner, outer = (np.stack(ends) for ends in zip(*rods, strict=True))
    lengths = np.linalg.norm(outer - inner, axis=1)
    return Linkage(wheel_centre, inner, outer, lengths, len(rods) - 1, slider)


def _solved(
    linkage: Linkage,
    travel: FloatArray,
    rack: FloatArray,
    top: FloatArray,
    shift: FloatArray,
    rotation: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, NDArray[np.bool_]]:
    """Shift, rotation, slopes, misses, and whether the links came apart on the way, from a pose near by."""
    inner = np.tile(linkage.inner, (travel.size, 1, 1))
    inner[:, linkage.track_rod, 1] += rack
    is_lost = np.zeros(travel.size, dtype=np.bool_)
    for _ in range(_TRIES):
        miss, slopes = _misses(linkage, inner, top, travel, shift, rotation)
        is_lost |= ~(np.abs(np.linalg.det(slopes)) > _LEAST_DETERMINANT)
        slopes[is_lost], miss[is_lost] = np.eye(6), 0.0  # they stay where they came apart
        if np.max(np.abs(miss)) < _CLOSE:
            break
        change = np.linalg.solve(slopes, -miss[..., None])[..., 0]
        is_lost |= np.linalg.norm(change[:, 3:], axis=1) > _WIDEST_TURN
        change[is_lost] = 0.0
        shift = shift + change[:, :3]
        rotation = _turns(change[:, 3:].astype(np.float64)) @ rotation
    return shift, rotation, slopes, miss, is_lost


def _misses(
    linkage: Linkage,
    inner: FloatArray,
    top: FloatArray,
    travel: FloatArray,
    shift: FloatArray,
    rotation: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """By how much rods, slider and travel are missed (n, 6) and the slopes to shift and turn (n, 6, 6)."""
    miss, slopes = np.empty((travel.size, 6)), np.empty((travel.size, 6, 6))
    turned = np.swapaxes(rotation, 1, 2)
    arms = (linkage.outer - linkage.wheel_centre) @ turned
    reach = arms + (linkage.wheel_centre + shift)[:, None, :] - inner
    length = np.sqrt(np.sum(reach * reach, axis=2))
    count = linkage.lengths.size
    along = reach / length[..., None]
    miss[:, :count] = length - linkage.lengths
    slopes[:, :count, :3] = along
    slopes[:, :count, 3:] = _cross(arms, along)
    if linkage.slider is not None:
        arm = (linkage.slider.point - linkage.wheel_centre) @ turned
        normals = linkage.slider.normals @ turned
        above = linkage.slider.top + top - linkage.wheel_centre - shift
        miss[:, 3:5] = np.einsum("nij,nj->ni", normals, above - arm)
        slopes[:, 3:5, :3] = -normals
        slopes[:, 3:5, 3:] = _cross(normals, above[:, None, :])
    miss[:, 5] = shift[:, 2] - travel
    slopes[:, 5] = (0.0, 0.0, 1.0, 0.0, 0.0, 0.0)
    return miss, slopes


def _cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Cross products of vectors (..., 3), several times quicker than numpy's own on a few of them."""
    first, second = np.broadcast_arrays(a, b)
    found = np.empty_like(first)
    for place in range(3):
        one, other = (place + 1) % 3, (place + 2) % 3
        found[..., place] = first[..., one] * second[..., other] - first[..., other] * second[..., one]
    return found


def _turns(vectors: FloatArray) -> FloatArray:
    """The rotations by rotation vectors [rad] (n, 3), by Rodrigues' formula."""
    angle = np.linalg.norm(vectors, axis=1)[:, None, None]
    skew = np.zeros((vectors.shape[0], 3, 3))
    skew[:, 2, 1], skew[:, 0, 2], skew[:, 1, 0] = vectors.T
    skew -= np.swapaxes(skew, 1, 2)
    turned: FloatArray = (
        np.eye(3) + np.sinc(angle / np.pi) * skew + 0.5 * np.sinc(0.5 * angle / np.pi) ** 2 * (skew @ skew)
    )
    return turned
