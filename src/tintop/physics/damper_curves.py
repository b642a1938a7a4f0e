"""A damper's force against speed: as a table at even steps, and as the plain damping that does the same; SI.

Speed and force of bump are positive, of rebound negative. Tables have an odd number of forces, at even steps
from −top speed to +top speed.
"""

import math

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_SPREAD: FloatArray = np.linspace(-4.0, 4.0, 161)  # standard deviations
_WEIGHT: FloatArray = np.exp(-0.5 * _SPREAD**2) / np.sum(np.exp(-0.5 * _SPREAD**2))


def measured_force(speeds: FloatArray, forces: FloatArray, speed: FloatArray) -> FloatArray:
    """Force [N] of one direction at speeds of zero or more, straight between what was measured.

    Below the first speed straight to the first force from nothing at rest, above the last on along its last
    stretch, never falling.
    """
    known_speed, known_force = (
        (speeds, forces) if speeds[0] == 0.0 else (np.r_[0.0, speeds], np.r_[0.0, forces])
    )
    slope = max((known_force[-1] - known_force[-2]) / (known_speed[-1] - known_speed[-2]), 0.0)
    beyond = np.maximum(speed - known_speed[-1], 0.0)
    force: FloatArray = np.interp(speed, known_speed, known_force) + slope * beyond
    return force


def equivalent_damping(table: FloatArray, top_speed: float, rms_speed: FloatArray) -> FloatArray:
    """Give the damping [N·s/m] that takes as much out of a random motion as the curve does, E[vF]/E[v²].

    Speed is Gaussian with r.m.s. `rms_speed` [m/s, any shape, above 0].
    Source: statistical linearisation, T. K. Caughey, J. Acoust. Soc. Am. 35 (1963) (from memory).
    """
    grid = np.linspace(-top_speed, top_speed, len(table))
    rms = np.maximum(np.asarray(rms_speed, dtype=float), 1e-6)[..., None]
    speed = rms * _SPREAD
    force = _on(grid, table, speed)
    damping: FloatArray = np.sum(_WEIGHT * speed * force, axis=-1) / np.sum(_WEIGHT * speed**2, axis=-1)
    return damping


def mean_force(table: FloatArray, top_speed: float, rms_speed: float) -> float:
    """Mean force [N] of a random motion: negative where rebound is stiffer, drawing the body down."""
    grid = np.linspace(-top_speed, top_speed, len(table))
    return float(np.sum(_WEIGHT * _on(grid, table, rms_speed * _SPREAD)))


def _on(grid: FloatArray, table: FloatArray, speed: FloatArray) -> FloatArray:
    inside = np.interp(speed, grid, table)
    step = grid[1] - grid[0]
    above = (table[-1] - table[-2]) / step * np.maximum(speed - grid[-1], 0.0)
    below = (table[1] - table[0]) / step * np.minimum(speed - grid[0], 0.0)
    force: FloatArray = inside + above + below
    return force


def critical_damping(rate: float, mass: float) -> float:
    """Damping [N·s/m] from which a mass on a rate no longer swings. Source: identity."""
    return 2.0 * math.sqrt(rate * mass)
