"""A body on four springs, two bars and four tyres on level ground: what a turned perch does. N, m, rad.

Wheels stand in the order FL FR RL RR. Everything is a change from how the car stands: a lift is the height
by which a perch would raise its corner if no other spring pulled back, counted at the wheel. Springs and
tyres are straight lines; the small shift of the centre of gravity as the body tilts is left out.
"""

from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
_MOST_WAYS = 2  # whole steps either way of the exact turns that are tried at each corner
_HEIGHT_PER_NEWTON = 5e-5  # [m/N]; own choice: 0.1 % of cross counts as half a millimetre


class FourCorners(NamedTuple):
    """Where the wheels stand [m]; rates at the wheel and of the tyres [N/m], of the bars [N·m/rad].

    `base` is the distance between the springs of an axle ÷ its track: 1 for independent wheels.
    """

    wheelbase: float
    track_front: float
    track_rear: float
    wheel_rate_front: float
    wheel_rate_rear: float
    tyre_rate_front: float
    tyre_rate_rear: float
    bar_front: float = 0.0
    bar_rear: float = 0.0
    base_front: float = 1.0
    base_rear: float = 1.0


class Moved(NamedTuple):
    """What a move came to: loads [N] and heights of the body over each wheel [m]."""

    loads: FloatArray
    heights: FloatArray


def warp_pattern(track_front: float, track_rear: float) -> FloatArray:
    """Give the only way four loads can change with total and moments kept; (4,), its cross adds to 1.

    FR and RL gain together what FL and RR lose; the axle with the narrower track changes more.
    Source: statics, three equations for four loads.
    """
    front = track_rear / (track_front + track_rear)
    rear = track_front / (track_front + track_rear)
    return np.array([-front, front, rear, -rear])


def responses(car: FourCorners) -> Moved:
    """Give loads [N/m] and body heights [m/m] by corner (rows) per lift of each corner (columns), 4 × 4.

    Source: statics of a rigid body, three equations, with a spring, a bar and a tyre at each wheel.
    """
    across = _across(car)
    held = _suspension(car)
    tyres = np.diag(_pairs(car.tyre_rate_front, car.tyre_rate_rear))
    perches = _springs(car, 1)
    # unknown: body (3), wheels (4); loads on the body are held·(wheel − body) + perches·lift = −tyres·wheel
    matrix = np.zeros((7, 7))
    matrix[:3, :3] = -across.T @ held @ across
    matrix[:3, 3:] = across.T @ held
    matrix[3:, :3] = -held @ across
    matrix[3:, 3:] = held + tyres
    lifted = np.vstack([-across.T @ perches, -perches])
    found = np.linalg.solve(matrix, lifted)
    return Moved(loads=-tyres @ found[3:], heights=across @ found[:3])


def under_load(car: FourCorners, down: float, ahead: float, left: float) -> Moved:
    """Give the loads [N] and body heights [m] when a weight [N] is put at a place from the car's middle [m].

    Source: as responses.
    """
    across = _across(car)
    together = np.linalg.inv(
        np.linalg.inv(_suspension(car)) + np.diag(1.0 / _pairs(car.tyre_rate_front, car.tyre_rate_rear))
    )
    body = np.linalg.solve(across.T @ together @ across, -down * np.array([1.0, ahead, left]))
    heights = across @ body
    return Moved(loads=-together @ heights, heights=heights)


def lifts_for(found: Moved, cross_gain: float, corners: tuple[int, ...] = (0, 1, 2, 3)) -> FloatArray:
    """Give the lift of each corner [m] that moves so much load [N] to FR and RL, the heights kept.

    With all four corners the heights stay exactly; with fewer the sum of their squares is the least there is.
    Source: least squares under one linear condition.
    """
    chosen = list(corners)
    cross = found.loads[1, chosen] + found.loads[2, chosen]
    heights = found.heights[:, chosen]
    count = len(chosen)
    matrix = np.zeros((count + 1, count + 1))
    matrix[:count, :count] = heights.T @ heights
    matrix[:count, count] = matrix[count, :count] = cross
    scale = float(np.max(np.abs(cross)))
    matrix[count, :count] /= scale
    lifts = np.zeros(4)
    lifts[chosen] = np.linalg.solve(matrix, np.append(np.zeros(count), cross_gain / scale))[:count]
    return lifts


def rounded_turns(
    found: Moved, turns: FloatArray, lift_per_turn: FloatArray, cross_gain: float, step: float = 0.25
) -> FloatArray:
    """Give turns in whole steps near the exact ones: nearest their cross gain [N] and their heights.

    A newton of cross counts as much as 0.05 mm of height. Source: all choices tried, two steps either way.
    """
    options = [
        [0.0]
        if not turn
        else [step * (np.floor(turn / step) + each) for each in range(1 - _MOST_WAYS, 1 + _MOST_WAYS)]
        for turn in turns
    ]
    choices = np.array(list(product(*options)))
    lifts = choices * lift_per_turn
    loads, heights = lifts @ found.loads.T, (lifts - turns * lift_per_turn) @ found.heights.T
    missed = loads[:, 1] + loads[:, 2] - cross_gain
    cost = missed**2 + np.sum((heights / _HEIGHT_PER_NEWTON) ** 2, axis=1)
    best: FloatArray = choices[int(np.argmin(cost))]
    return best


def _pairs(front: float, rear: float) -> FloatArray:
    return np.array([front, front, rear, rear], dtype=np.float64)


def _across(car: FourCorners) -> FloatArray:
    """Heights at the four wheels by heave, pitch (nose up) and roll (left up)."""
    half = 0.5 * car.wheelbase
    ahead = np.array([half, half, -half, -half])
    left = 0.5 * np.array([car.track_front, -car.track_front, car.track_rear, -car.track_rear])
    return np.column_stack([np.ones(4), ahead, left])


def _springs(car: FourCorners, power: int) -> FloatArray:
    """Wheel rates; left against right counts the base to a power: 1 of a perch's lift, 2 of a travel."""
    rates: FloatArray = np.diag(_pairs(car.wheel_rate_front, car.wheel_rate_rear))
    for place, base in ((0, car.base_front), (2, car.base_rear)):
        missing = 0.5 * (1.0 - base**power) * rates[place, place]
        rates[place : place + 2, place : place + 2] -= missing * np.array([[1.0, -1.0], [-1.0, 1.0]])
    return rates


def _suspension(car: FourCorners) -> FloatArray:
    """Forces on the body by travel of wheel against body: springs, and bars that couple left and right."""
    held = _springs(car, 2)
    for place, bar, track in ((0, car.bar_front, car.track_front), (2, car.bar_rear, car.track_rear)):
        twist = bar / track**2
        held[place : place + 2, place : place + 2] += twist * np.array([[1.0, -1.0], [-1.0, 1.0]])
    return held
