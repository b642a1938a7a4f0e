"""The line a car drives, from a circuit and an offset from its centre line."""

import numpy as np

from tintop.circuit.circuit import Circuit, FloatArray, Path
from tintop.errors import refuse

STANDARD_GRAVITY = 9.80665  # [m/s²] ISO 80000-3


def _first(values: FloatArray) -> FloatArray:
    ahead, behind = np.roll(values, -1, axis=-1), np.roll(values, 1, axis=-1)
    return (8.0 * (ahead - behind) - (np.roll(values, -2, axis=-1) - np.roll(values, 2, axis=-1))) / 12.0


def _second(values: FloatArray) -> FloatArray:
    near = np.roll(values, -1, axis=-1) + np.roll(values, 1, axis=-1)
    far = np.roll(values, -2, axis=-1) + np.roll(values, 2, axis=-1)
    return (16.0 * near - far - 30.0 * values) / 12.0


def left_normals(circuit: Circuit) -> tuple[FloatArray, FloatArray]:
    """Give the horizontal unit vectors to the left of the centre line (n,)."""
    along = _first(np.stack((circuit.x, circuit.y)))
    along = along / np.hypot(along[0], along[1])
    return -along[1], along[0]


def path_along(circuit: Circuit, offset: FloatArray | None = None, name: str = "centre line") -> Path:
    """Give the path at `offset` (n,) [m] left of the centre line, in the road's own axes.

    The offset is measured across the (banked) road. Derivatives are central differences of fourth order on
    the closed mesh; curvature is dT/ds resolved along the road's left and its normal, T the unit tangent.
    A left turn has positive lateral curvature, a dip positive normal curvature; uphill gravity_x is negative;
    with the left edge higher gravity_y is negative. Raises BadInput when the offset has another shape, is not
    finite, or lies beyond the centre of a corner.
    Source: M.P. do Carmo, "Differential Geometry of Curves and Surfaces" (1976), ch. 1 (from memory).
    """
    if offset is None:
        offset = np.zeros_like(circuit.x)
    if offset.shape != circuit.x.shape or not np.all(np.isfinite(offset)):
        raise refuse(
            f"line {name}",
            f"{offset.size} offsets, or one that is not a number",
            f"{circuit.x.size} finite numbers, one for each point of the centre line",
        )
    if np.any(circuit.curvature * offset > 0.95):
        where = int(np.argmax(circuit.curvature * offset)) * circuit.step
        raise refuse(
            f"line {name} at {where:.0f} m",
            "an offset beyond the centre of the corner",
            "a line that stays on the road",
        )
    left_x, left_y = left_normals(circuit)
    across, up = np.cos(circuit.banking) * offset, np.sin(circuit.banking) * offset
    points = np.stack((circuit.x + left_x * across, circuit.y + left_y * across, circuit.z + up))
    velocity, bend = _first(points), _second(points)
    speed = np.sqrt(np.einsum("ij,ij->j", velocity, velocity))
    tangent = velocity / speed
    curvature = (bend - np.einsum("ij,ij->j", bend, tangent) * tangent) / speed**2
    level = np.hypot(tangent[0], tangent[1])
    flat_left = np.stack((-tangent[1] / level, tangent[0] / level, np.zeros_like(level)))
    flat_up = np.stack((-tangent[0] * tangent[2] / level, -tangent[1] * tangent[2] / level, level))
    cosine, sine = np.cos(circuit.banking), np.sin(circuit.banking)
    left = cosine * flat_left + sine * flat_up
    road_up = cosine * flat_up - sine * flat_left
    gap = np.roll(points, -1, axis=1) - points
    chord = np.sqrt(np.einsum("ij,ij->j", gap, gap))
    total = np.einsum("ij,ij->j", curvature, curvature)
    step = chord * (1.0 + (total + np.roll(total, -1)) / 2.0 * chord**2 / 24.0)
    return Path(
        name=name,
        x=points[0],
        y=points[1],
        z=points[2],
        distance=np.cumsum(step) - step,
        step=step,
        lateral_curvature=np.einsum("ij,ij->j", curvature, left),
        normal_curvature=np.einsum("ij,ij->j", curvature, road_up),
        gravity_x=-STANDARD_GRAVITY * tangent[2],
        gravity_y=-STANDARD_GRAVITY * left[2],
        gravity_z=STANDARD_GRAVITY * road_up[2],
        offset=offset.copy(),
    )
