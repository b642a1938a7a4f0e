"""Is this closed line the centre of a road one can race on? If not, say why."""

import numpy as np
from scipy.spatial import cKDTree

from tintop.circuit.circuit import Circuit, FloatArray
from tintop.circuit.smoothing import chords_of, turning
from tintop.errors import refuse

SHORTEST, LONGEST = 300.0, 30_000.0  # [m]
RETRACED_NEAR = 2.5  # [m]: two roads are never nearer than this, centre to centre
SHARPEST_POINT = np.radians(100.0)
VAGUEST_CORNER = 8.0  # [m]


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
    """Refuse a closed line that turns as no road does: back on itself, or as a fence or boundary.

    Where a line turns by an angle between two chords, the arc through its points lies up to chord · angle / 8
    beside them: by that much the file leaves open where a road would run. Real centre lines stay below 5 m.
    """
    turn, chord = np.abs(turning(x, y)), chords_of(x, y)
    shorter = np.minimum(chord, np.roll(chord, 1))
    back = np.where(shorter > 3.0, turn, 0.0)
    if back.max() > SHARPEST_POINT:
        raise refuse(
            where,
            f"a line that turns back by {np.degrees(back.max()):.0f}° at one point",
            "one lap of a road, without going back",
        )
    open_room = shorter * turn / 8.0
    worst = int(np.argmax(open_room))
    if open_room[worst] > VAGUEST_CORNER:
        raise refuse(
            where,
            f"a line that turns by {np.degrees(turn[worst]):.0f}° at one point between straights of "
            f"{shorter[worst]:.0f} m and more, as the outline of the grounds does",
            "the centre line of a road, its corners drawn",
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
