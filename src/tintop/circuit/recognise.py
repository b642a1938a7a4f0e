"""Is this closed line the centre of a road one can race on? If not, say why."""

import numpy as np
from scipy.spatial import cKDTree

from tintop.circuit.circuit import Circuit, FloatArray
from tintop.circuit.smoothing import chords_of, turning
from tintop.errors import refuse

SHORTEST, LONGEST = 300.0, 30_000.0  # [m]
RETRACED_NEAR = 2.5  # [m]: two roads are never nearer than this, centre to centre
SHARP_VERTEX = np.radians(40.0)
TIGHTEST_ROAD = (
    6.0  # [m]: the tightest hairpins of street circuits have about 7 m; common practice, no source
)


def check_length(length: float, where: str) -> None:
    """Refuse a line shorter than 300 m or longer than 30 km."""
    if not SHORTEST <= length <= LONGEST:
        raise refuse(where, f"a line of {length:.0f} m", "a circuit of 300 m to 30 km")


def check_retraced(x: FloatArray, y: FloatArray, where: str) -> None:
    """Refuse a closed line that runs over its own road again; a crossing (bridge) passes."""
    distance = np.concatenate(([0.0], np.cumsum(chords_of(x, y))))
    length = distance[-1]
    spacing = max(2.0, length / 8000.0)
    mesh = np.arange(0.0, length, spacing)
    even_x = np.interp(mesh, distance, np.append(x, x[0]))
    even_y = np.interp(mesh, distance, np.append(y, y[0]))
    pairs = cKDTree(np.column_stack((even_x, even_y))).query_pairs(RETRACED_NEAR, output_type="ndarray")
    apart = np.abs(pairs[:, 0] - pairs[:, 1]) * spacing
    pairs = pairs[np.minimum(apart, length - apart) > 40.0]
    heading = np.arctan2(np.roll(even_y, -1) - even_y, np.roll(even_x, -1) - even_x)
    parallel = np.abs(np.sin(heading[pairs[:, 0]] - heading[pairs[:, 1]])) < 0.35
    retraced = np.unique(pairs[parallel]).size * spacing
    if retraced > max(40.0, 0.02 * length):
        raise refuse(
            where,
            f"a line that runs over its own road for {retraced:.0f} m of {length:.0f} m",
            "one lap of a circuit, each piece of road once",
        )


def check_road(x: FloatArray, y: FloatArray, where: str) -> None:
    """Refuse a closed line that turns as no road does: a fence, the outline of the grounds.

    At a sharp point the tightest curve that still touches both chords has the radius
    min(chord)/(2 tan(turn/2)); a road bends with 6 m or more.
    """
    turn, chord = np.abs(turning(x, y)), chords_of(x, y)
    shorter = np.minimum(chord, np.roll(chord, 1))
    sharp = (turn > SHARP_VERTEX) & (shorter > 3.0)
    square = sharp & (shorter < 2.0 * TIGHTEST_ROAD * np.tan(np.minimum(turn, 3.1) / 2.0))
    lonely = sharp & (np.roll(turn, 1) < turn / 3.0) & (np.roll(turn, -1) < turn / 3.0) & (shorter > 12.0)
    if np.count_nonzero(square | lonely) >= 3:
        raise refuse(
            where,
            f"{np.count_nonzero(square | lonely)} sharp points (up to {np.degrees(turn.max()):.0f}° "
            "at one point), as in a boundary",
            "the centre line of a road, not the outline of the grounds",
        )


def check_widths(circuit: Circuit, car_width: float) -> None:
    """Refuse a circuit narrower anywhere than the car [m] with 0.5 m to spare."""
    width = circuit.width_left + circuit.width_right
    narrowest = int(np.argmin(width))
    if width[narrowest] < car_width + 0.5:
        raise refuse(
            f"circuit {circuit.name} at {narrowest * circuit.step:.0f} m",
            f"a road {width[narrowest]:.2f} m wide",
            f"at least {car_width + 0.5:.2f} m for a car of {car_width:.2f} m",
        )
