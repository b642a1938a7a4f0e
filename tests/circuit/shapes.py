"""Closed lines with known answers."""

import numpy as np
from numpy.typing import NDArray

from tintop.circuit.build import build_circuit
from tintop.circuit.circuit import Circuit
from tintop.circuit.raw import RawCircuit, RawLine

Points = NDArray[np.float64]


def circuit_of(
    x: Points,
    y: Points,
    height: Points | None = None,
    width: float | None = None,
    banking: float | None = None,
    step: float = 1.0,
    **more: object,
) -> Circuit:
    half = None if width is None else np.full(x.shape, width / 2.0)
    tilt = None if banking is None else np.full(x.shape, banking)
    line = RawLine(first=x, second=y, height=height, width_left=half, width_right=half, banking=tilt)
    raw = RawCircuit(lines=(line,), is_geographic=False, name="shape", **more)  # type: ignore[arg-type]
    return build_circuit(raw, step=step)


def circle(radius: float = 100.0, count: int = 200) -> tuple[Points, Points]:
    """Points of a circle, driven to the left."""
    angle = 2.0 * np.pi * np.arange(count) / count
    return radius * np.cos(angle), radius * np.sin(angle)


def of_curvature(curvature: Points, spacing: float) -> tuple[Points, Points]:
    """Points of a line from its curvature at the middle of each small step."""
    heading = np.cumsum(curvature) * spacing - curvature * spacing / 2.0
    return (
        np.concatenate(([0.0], np.cumsum(np.cos(heading)) * spacing)),
        np.concatenate(([0.0], np.cumsum(np.sin(heading)) * spacing)),
    )


def oval(straight: float = 400.0, radius: float = 80.0, spacing: float = 2.0) -> tuple[Points, Points]:
    """Points of two straights and two semicircles, driven to the left."""
    along = np.arange(0.0, straight, spacing)
    angle = np.arange(0.0, np.pi, spacing / radius)
    x = np.concatenate((along, straight + radius * np.sin(angle), straight - along, -radius * np.sin(angle)))
    y = np.concatenate(
        (0 * along, radius - radius * np.cos(angle), 2 * radius + 0 * along, radius + radius * np.cos(angle))
    )
    return x, y


def figure_of_eight(size: float = 400.0, count: int = 600) -> tuple[Points, Points]:
    angle = 2.0 * np.pi * np.arange(count) / count
    return size * np.sin(angle), size * np.sin(angle) * np.cos(angle)
