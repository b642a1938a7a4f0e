"""Place a drawn pit lane beside the circuit."""

import numpy as np
from scipy.spatial import cKDTree

from tintop.circuit.circuit import FloatArray, PitLane
from tintop.circuit.stitching import Way, X, Y

ASSUMED_LIMIT = 60.0 / 3.6  # [m/s]; common practice, no source
FARTHEST_JOIN = 25.0  # [m] from an end of the pit lane to the centre line


def pit_lane_beside(
    pits: list[Way], x: FloatArray, y: FloatArray, step: float
) -> tuple[PitLane | None, list[str]]:
    """Give the pit lane whose ends meet the centre line (n,) [m], or None with the reason.

    Pit ways are joined end to start in the order of the file; the speed limit is assumed 60 km/h.
    """
    table = np.concatenate([way.table[:, :2] for way in pits])
    gaps, found = cKDTree(np.column_stack((x, y))).query(table[[0, -1]])
    nearest = np.atleast_1d(found)
    if np.max(gaps) > FARTHEST_JOIN:
        return None, [f"pit lane left out: an end lies {np.max(gaps):.0f} m from the circuit"]
    length = float(np.sum(np.hypot(np.diff(table[:, X]), np.diff(table[:, Y]))))
    entry, leaving = float(nearest[0] * step), float(nearest[1] * step)
    beside = (leaving - entry) % (step * x.size)
    if not 0.5 * length < beside < 2.0 * length:
        entry, leaving = leaving, entry
        beside = (leaving - entry) % (step * x.size)
    if not 0.5 * length < beside < 2.0 * length:
        return None, [f"pit lane left out: {length:.0f} m long beside {beside:.0f} m of road"]
    return (
        PitLane(entry=entry, exit=leaving, length=length, speed_limit=ASSUMED_LIMIT),
        [f"pit lane of {length:.0f} m taken from the file; its speed limit is assumed 60 km/h"],
    )
