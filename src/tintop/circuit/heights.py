"""Smooth the heights of a circuit until its crests and dips are those of a road."""

import numpy as np

from tintop.circuit.circuit import FloatArray
from tintop.circuit.smoothing import derivative, low_pass
from tintop.errors import refuse

SHARPEST_CREST = 1.0 / 150.0  # [1/m]; common practice, no source
STEEPEST = 0.25  # grade; the steepest public circuits reach about 0.2 (from memory)
SMOOTHING_LENGTHS = (10.0, 15.0, 20.0, 30.0, 40.0, 60.0, 80.0)  # [m]


def smooth_heights(height: FloatArray, spacing: float) -> tuple[FloatArray, list[str]]:
    """Filter heights [m] on an even closed mesh of `spacing` [m] until no crest is sharper than 150 m.

    Returns the heights and notes. Raises BadInput when the road stays steeper than 25 %.
    """
    for smoothing_length in SMOOTHING_LENGTHS:
        smooth = low_pass(height, spacing, smoothing_length)
        bend = derivative(smooth, spacing, 2)
        if np.max(np.abs(bend)) <= SHARPEST_CREST:
            break
    grade = derivative(smooth, spacing)
    if np.max(np.abs(grade)) > STEEPEST:
        raise refuse(
            "heights",
            f"a grade of {np.max(np.abs(grade)):.0%}",
            "a road, at most 25 % steep",
            "Are the heights in metres?",
        )
    moved = np.abs(smooth - height)
    note = (
        f"heights smoothed over {smoothing_length:g} m, moved by {np.mean(moved):.2f} m on average, "
        f"{np.max(moved):.2f} m at most"
    )
    return smooth, [note]
