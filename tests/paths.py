"""Flat closed paths of straights and arcs for the tests."""

import math

import numpy as np

from tintop.circuit.circuit import Path

_GRAVITY = 9.80665


def flat_path(name: str, parts: list[tuple[float, float]], step: float = 1.0) -> Path:
    """Give a flat path from (length, curvature) parts; only the curvature matters to the lap, not closure."""
    lengths = np.array([length for length, _ in parts])
    curvatures = np.array([curvature for _, curvature in parts])
    n = round(float(lengths.sum()) / step)
    step = float(lengths.sum()) / n
    distance = np.arange(n) * step
    curvature = curvatures[
        np.searchsorted(np.cumsum(lengths), distance + 1e-9, side="right").clip(0, len(parts) - 1)
    ]
    heading = np.cumsum(curvature) * step
    zero = np.zeros(n)
    return Path(
        name=name,
        x=np.cumsum(np.cos(heading)) * step,
        y=np.cumsum(np.sin(heading)) * step,
        z=zero,
        distance=distance,
        step=np.full(n, step),
        lateral_curvature=curvature,
        normal_curvature=zero,
        gravity_x=zero,
        gravity_y=zero,
        gravity_z=np.full(n, _GRAVITY),
        offset=zero,
    )


def oval(straight: float, radius: float, step: float = 1.0) -> Path:
    """Two straights and two left semicircles."""
    half = (math.pi * radius, 1.0 / radius)
    return flat_path("oval", [(straight, 0.0), half, (straight, 0.0), half], step)


def club_circuit(step: float = 1.0) -> Path:
    """A clockwise club circuit of about 3.3 km with eight corners."""
    corners = [
        (90.0, -100.0),
        (35.0, -70.0),
        (60.0, 60.0),
        (25.0, -110.0),
        (120.0, -45.0),
        (40.0, 80.0),
        (30.0, -125.0),
        (70.0, -50.0),
    ]
    straights = [620.0, 180.0, 260.0, 240.0, 420.0, 190.0, 330.0, 360.0]
    parts: list[tuple[float, float]] = []
    for (radius, turn), straight in zip(corners, straights, strict=True):
        angle = math.radians(turn)
        parts += [(straight, 0.0), (radius * abs(angle), math.copysign(1.0 / radius, angle))]
    return flat_path("club circuit", parts, step)
