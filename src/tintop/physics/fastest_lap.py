"""The fastest closed lap along a path: corner speeds, full throttle forwards, braking backwards.

Method: quasi-steady forward-backward integration, as in D. L. Brayshaw and M. F. Harrison, A quasi steady
state approach to race car lap simulation, Proc. IMechE D 219, 2005 (from memory).
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel
from tintop.physics.four_wheels import (
    BRAKES,
    FRONT_GRIP,
    GEAR_SHIFT,
    LIMITER,
    POWER,
    REAR_GRIP,
    Driveline,
    Road,
    Vehicle,
    corner_drag,
    drive_at,
    gear_at,
    held_force,
    resistance_force,
    worst_use_square,
)

FloatArray = NDArray[np.float64]

_TOLERANCE = 1e-5  # of the square of the grip used
_CORNER_STEPS = 120
_CRAWL = 0.1  # slowest speed considered [m/s]
_SHIFT_BACK = 2.0  # speed to lose before a lower gear is taken again [m/s]
_LAPS_TO_CLOSE = 6
_CLOSES = 1e-5  # relative difference of speed taken as the same


class Point(NamedTuple):
    """The road at one point; see Road."""

    lateral_curvature: float
    normal_curvature: float
    gravity_x: float
    gravity_y: float
    gravity_z: float


@kernel
def point_of(road: Road, at: int) -> Point:
    """Give the road at one point."""
    return Point(
        road.lateral_curvature[at],
        road.normal_curvature[at],
        road.gravity_x[at],
        road.gravity_y[at],
        road.gravity_z[at],
    )


@kernel
def _corner_use(vehicle: Vehicle, driveline: Driveline, point: Point, speed: float) -> float:
    """Square of the grip used when holding a steady speed at a point, the force to hold it included."""
    square = speed * speed
    lateral = square * point.lateral_curvature - point.gravity_y
    normal = square * point.normal_curvature + point.gravity_z
    if normal <= 0.0:
        return 2.0 - normal
    hold = resistance_force(vehicle, speed, normal, point.gravity_x) + vehicle.mass * abs(lateral) * 0.5 * (
        vehicle.front.slide_slip + vehicle.rear.slide_slip
    )
    force = max(min(hold, drive_at(driveline, gear_at(driveline, speed), speed)), -vehicle.brake_force)
    return worst_use_square(vehicle, speed, force, lateral, normal)


@kernel
def _is_easy(vehicle: Vehicle, point: Point, speed: float) -> bool:
    """Whether a quarter of the poorest tyre's grip is enough, so that the search can be spared."""
    square = speed * speed
    lateral = square * point.lateral_curvature - point.gravity_y
    normal = square * point.normal_curvature + point.gravity_z
    return abs(lateral) < 0.25 * vehicle.lowest_friction * normal


@kernel
def corner_speed(
    vehicle: Vehicle, driveline: Driveline, point: Point, too_fast: float, guess: float
) -> float:
    """Highest steady speed at a point that all four tyres hold, below a speed they do not hold [m/s].

    The grip used grows about with the square of the speed: each trial is corrected by that, inside a bracket
    that is halved every fourth time, since it grows faster where a wheel lifts.
    """
    low, high = 0.0, too_fast
    trial = guess if 0.0 < guess < too_fast else 0.9 * too_fast
    for step in range(_CORNER_STEPS):
        use = _corner_use(vehicle, driveline, point, trial)
        if abs(use - 1.0) < _TOLERANCE:
            return trial
        if use > 1.0:
            high = trial
        else:
            low = trial
        trial *= use**-0.25 if use > 0.0 else 2.0
        if not low < trial < high or step % 4 == 3:
            trial = 0.5 * (low + high)
    return low


@kernel
def fastest_lap(vehicle: Vehicle, driveline: Driveline, road: Road) -> tuple[FloatArray, FloatArray]:
    """Speed at each point [m/s] and the limit in force there, each (n,), of the fastest closed lap.

    Forward under full throttle, held down to the steady corner speed wherever the tyres need it; then
    backward under braking. Starts at the sharpest point, and goes round again until the lap closes.
    """
    n = road.step.shape[0]
    speed = np.empty(n)
    limit = np.empty(n)
    start = int(np.argmax(np.abs(road.lateral_curvature)))
    speed[:] = -1.0
    now = driveline.top_speed
    if _corner_use(vehicle, driveline, point_of(road, start), now) > 1.0:
        now = corner_speed(vehicle, driveline, point_of(road, start), now, 0.5 * now)
    for _ in range(_LAPS_TO_CLOSE):
        end = _full_throttle(vehicle, driveline, road, speed, limit, start, now)
        if abs(end - now) < _CLOSES * now:
            break
        now = end
    _brake_back(vehicle, road, speed, limit, start)
    return speed, limit


@kernel
def _full_throttle(
    vehicle: Vehicle,
    driveline: Driveline,
    road: Road,
    speed: FloatArray,
    limit: FloatArray,
    start: int,
    now: float,
) -> float:
    """Fill speed and limit for one lap from `start` at speed `now`; returns the speed back at the start."""
    n = road.step.shape[0]
    gear = gear_at(driveline, now)
    shifting = 0.0
    force, slope = 0.0, 0.0
    is_held = True
    corner = now
    after = start
    for _ in range(n):
        at = after
        after = at + 1 if at + 1 < n else 0
        if is_held and abs(now - speed[at]) < _CLOSES * now:
            return float(speed[start])  # a second lap has joined the first
        speed[at] = now
        square = now * now
        lateral = (
            square * 0.5 * (road.lateral_curvature[at] + road.lateral_curvature[after]) - road.gravity_y[at]
        )
        normal = max(square * road.normal_curvature[at] + road.gravity_z[at], 0.0)
        best = gear_at(driveline, now)
        if is_held:
            gear, shifting = best, 0.0
        elif best > gear:
            gear, shifting = best, vehicle.shift_time
        elif best < gear and gear_at(driveline, now + _SHIFT_BACK) < gear:
            gear = best
        wanted = drive_at(driveline, gear, now) if shifting <= 0.0 else 0.0
        force, slope, front, rear = held_force(vehicle, now, lateral, normal, wanted, force, slope)
        limit[at] = GEAR_SHIFT if shifting > 0.0 else POWER
        if force < wanted:
            limit[at] = FRONT_GRIP if front.used_square >= rear.used_square else REAR_GRIP
        mass = vehicle.mass + vehicle.rolling_mass + (0.0 if shifting > 0.0 else driveline.gear_mass[gear])
        pull = (
            force
            - resistance_force(vehicle, now, normal, road.gravity_x[at])
            - corner_drag(vehicle, front, rear)
        )
        following = math.sqrt(max(square + 2.0 * road.step[at] * pull / mass, _CRAWL * _CRAWL))
        shifting -= 2.0 * road.step[at] / (now + following)
        is_held = False
        if following >= driveline.top_speed:
            following = driveline.top_speed
            limit[at] = LIMITER
        there = point_of(road, after)
        if (
            not _is_easy(vehicle, there, following)
            and _corner_use(vehicle, driveline, there, following) > 1.0 + _TOLERANCE
        ):
            corner = corner_speed(vehicle, driveline, there, following, corner)
            following = corner
            is_held = True
            limit[at] = FRONT_GRIP if front.used_square >= rear.used_square else REAR_GRIP
        now = following
    return now


@kernel
def _brake_back(vehicle: Vehicle, road: Road, speed: FloatArray, limit: FloatArray, start: int) -> None:
    """Lower the speeds so that each can be braked to the next; two laps, as braking may cross the start."""
    n = road.step.shape[0]
    force, slope = 0.0, 0.0
    wanted = -vehicle.brake_force
    at = start
    for count in range(2 * n):
        after = at
        at = after - 1 if after > 0 else n - 1
        now = speed[after]
        if speed[at] <= now:
            if count >= n:
                break
            continue
        square = now * now
        lateral = (
            square * 0.5 * (road.lateral_curvature[at] + road.lateral_curvature[after])
            - road.gravity_y[after]
        )
        normal = max(square * road.normal_curvature[after] + road.gravity_z[after], 0.0)
        force, slope, front, rear = held_force(vehicle, now, lateral, normal, wanted, force, slope)
        pull = (
            force
            - resistance_force(vehicle, now, normal, road.gravity_x[after])
            - corner_drag(vehicle, front, rear)
        )
        before = math.sqrt(
            max(square - 2.0 * road.step[at] * pull / (vehicle.mass + vehicle.rolling_mass), _CRAWL * _CRAWL)
        )
        if before < speed[at]:
            speed[at] = before
            if force == wanted:
                limit[at] = BRAKES
            else:
                limit[at] = FRONT_GRIP if front.used_square >= rear.used_square else REAR_GRIP
