"""What a marched race takes off pads, discs and treads."""

import numpy as np

from tintop.race.march import FloatArray, RaceTrace


def used_up(thickness: FloatArray) -> tuple[float, float, float, float]:
    """Thickness gone by the end [m] at FL FR RL RR, from thickness (n, 4) at the end of each lap.

    New parts fitted at a stop show as a rise, which is not counted; the first lap wears like the second.
    """
    lost = np.clip(-np.diff(thickness, axis=0), 0.0, None)
    total = lost.sum(axis=0) + (lost[0] if lost.shape[0] else 0.0)
    front_left, front_right, rear_left, rear_right = (float(each) for each in total)
    return front_left, front_right, rear_left, rear_right


def running_time(trace: RaceTrace) -> float:
    """Time of the race spent driving, stops left out [s]."""
    return float(trace.lap_time.sum())
