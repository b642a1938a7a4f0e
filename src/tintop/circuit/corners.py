"""Find the corners of a closed line and number them from the start line."""

import numpy as np

from tintop.circuit.circuit import Corner, FloatArray

STRAIGHT_RADIUS = 400.0  # [m]: a bend wider than this is driven as a straight; common practice, no source
LEAST_TURN = np.radians(12.0)
SAME_CORNER_GAP = 15.0  # [m] between two bends of one hand that make one corner


def find_corners(curvature: FloatArray, step: float) -> tuple[Corner, ...]:
    """Find stretches that bend one way more tightly than 400 m through 12° or more.

    Curvature (n,) [1/m] on an even closed mesh of `step` [m]. A corner over the start line is numbered last.
    """
    count = curvature.size
    side = np.where(np.abs(curvature) > 1.0 / STRAIGHT_RADIUS, np.sign(curvature), 0.0).astype(int)
    changes = np.flatnonzero(side != np.roll(side, 1))
    if changes.size == 0:
        if side[0] == 0:
            return ()
        tightest = int(np.argmax(np.abs(curvature)))
        return (
            Corner(
                number=1,
                start=0.0,
                apex=tightest * step,
                end=(count - 1) * step,
                radius=float(1.0 / abs(curvature[tightest])),
                is_left=bool(side[0] > 0),
            ),
        )
    stretches: list[list[int]] = []  # first, last (may exceed count), side
    for first, following in zip(changes, [*changes[1:], changes[0] + count], strict=True):
        if side[first] == 0:
            continue
        same_hand = bool(stretches) and stretches[-1][2] == side[first]
        if same_hand and (first - stretches[-1][1]) * step <= SAME_CORNER_GAP:
            stretches[-1][1] = int(following) - 1
        else:
            stretches.append([int(first), int(following) - 1, int(side[first])])
    corners: list[Corner] = []
    for begin, last, hand in stretches:
        inside = curvature[np.arange(begin, last + 1) % count]
        if abs(float(np.sum(inside))) * step < LEAST_TURN:
            continue
        peak = int(np.argmax(np.abs(inside)))
        corners.append(
            Corner(
                number=len(corners) + 1,
                start=begin * step,
                apex=(begin + peak) % count * step,
                end=last % count * step,
                radius=float(1.0 / abs(inside[peak])),
                is_left=hand > 0,
            )
        )
    return tuple(corners)
