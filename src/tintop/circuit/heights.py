"""Smooth the heights of a circuit until its crests and dips are those of a road."""

import numpy as np

from tintop.circuit.circuit import FloatArray
from tintop.circuit.smoothing import derivative, low_pass
from tintop.errors import refuse

SHARPEST_CREST = 1.0 / 150.0  # [1/m]; common practice, no source
CURVATURE_NOISE = 3e-4  # [1/m] left by scattered heights: 0.04 g at 35 m/s
STEEPEST = 0.25  # grade; the steepest public circuits reach about 0.2 (from memory)
SMOOTHING_LENGTHS = (10.0, 15.0, 20.0, 30.0, 40.0, 60.0, 80.0)  # [m]


def scatter_of_heights(height: FloatArray) -> float:
    """Estimate the scatter of heights (n,) about a smooth road [m] from their fourth differences.

    White scatter s gives fourth differences of variance 70 s²; their median is not moved by a few real kinks.
    """
    known = height[np.isfinite(height)]
    uneven = sum(
        factor * np.roll(known, shift) for shift, factor in ((-2, 1), (-1, -4), (0, 6), (1, -4), (2, 1))
    )
    return float(np.sqrt(np.median(np.square(uneven)) / (70.0 * 0.455))) if known.size else 0.0


def smooth_heights(
    height: FloatArray, spacing: float, scatter: float = 0.0, point_spacing: float = 1.0
) -> tuple[FloatArray, list[str]]:
    """Filter heights [m] on an even closed mesh of `spacing` [m] until no crest is sharper than 150 m.

    The first smoothing length tried brings the `scatter` [m] of points `point_spacing` [m] apart down to a
    noise of CURVATURE_NOISE. Returns the heights and notes. Raises BadInput when the road stays steeper than
    25 %.
    """
    for_scatter = (0.29 * scatter * np.sqrt(point_spacing) / CURVATURE_NOISE) ** 0.4
    first = float(min(SMOOTHING_LENGTHS[-1], max(SMOOTHING_LENGTHS[0], for_scatter)))
    for smoothing_length in (first, *(one for one in SMOOTHING_LENGTHS if one > first)):
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
        f"heights smoothed over {smoothing_length:.0f} m, moved by {np.mean(moved):.2f} m on average, "
        f"{np.max(moved):.2f} m at most"
    )
    return smooth, [note]
