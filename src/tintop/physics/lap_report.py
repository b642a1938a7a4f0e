"""What happens along a lap at given speeds: forces, loads, grip, power and fuel, by inverse dynamics."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel
from tintop.physics.four_wheels import (
    GEAR_SHIFT,
    Driveline,
    Road,
    Vehicle,
    drive_at,
    gear_at,
    grip_beside,
    resistance_force,
    share_of,
    slip,
    tyres,
    used_square,
)

FloatArray = NDArray[np.float64]

_SETTLED = 0.005  # change of the corner drag that needs no further look [N per kg]
_LOOKS = 3


class Report(NamedTuple):
    """What happens at each of n points, for the segment that follows it; SI, wheels FL FR RL RR."""

    longitudinal: FloatArray
    lateral: FloatArray
    gear: FloatArray
    engine_speed: FloatArray
    throttle: FloatArray
    brake_share: FloatArray
    drive_force: FloatArray
    brake_force: FloatArray
    balance: FloatArray
    engine_power: FloatArray
    fuel_flow: FloatArray
    drag_force: FloatArray
    rolling_force: FloatArray
    inertia_force: FloatArray
    wheel_load: FloatArray
    grip_used: FloatArray
    brake_power: FloatArray
    tyre_slip_power: FloatArray


@kernel
def report(
    vehicle: Vehicle, driveline: Driveline, road: Road, speed: FloatArray, limit: FloatArray, pace: float
) -> Report:
    """Forces, loads, grip, power and fuel along a lap driven at `speed` (n,), by inverse dynamics.

    `pace` below 1 means the speeds were scaled down from the limit; no shift is then without drive.
    """
    n = speed.shape[0]
    line = np.empty((14, n))
    wheel = np.empty((4, n, 4))
    gear = gear_at(driveline, speed[0])
    slip_drag = 0.0  # the last point's, to begin with at this one
    for at in range(n):
        after = at + 1 if at + 1 < n else 0
        step = road.step[at]
        square = 0.5 * (speed[at] * speed[at] + speed[after] * speed[after])
        now = math.sqrt(square)
        along = (speed[after] * speed[after] - speed[at] * speed[at]) / (2.0 * step)
        lateral = square * 0.5 * (road.lateral_curvature[at] + road.lateral_curvature[after]) - 0.5 * (
            road.gravity_y[at] + road.gravity_y[after]
        )
        normal = max(square * road.normal_curvature[at] + road.gravity_z[at], 0.0)
        best = gear_at(driveline, now)
        if best > gear or (best < gear and gear_at(driveline, now + 2.0) < gear) or along < 0.0:
            gear = best
        shifting = limit[at] == GEAR_SHIFT and pace == 1.0
        mass = vehicle.mass + vehicle.rolling_mass
        if along > 0.0 and not shifting:
            mass += driveline.gear_mass[gear]
        resistance = resistance_force(vehicle, now, normal, road.gravity_x[at])
        need = mass * along + resistance
        force = need + slip_drag
        front, rear = tyres(vehicle, now, force, lateral, normal)
        slip_front = slip(vehicle.front.slide_slip, front.share_y)
        slip_rear = slip(vehicle.rear.slide_slip, rear.share_y)
        for _ in range(_LOOKS):
            slip_drag = abs(front.demand) * slip_front + abs(rear.demand) * slip_rear
            if abs(need + slip_drag - force) <= _SETTLED * vehicle.mass:
                break
            force = need + slip_drag
            front, rear = tyres(vehicle, now, force, lateral, normal)
            slip_front = slip(vehicle.front.slide_slip, front.share_y)
            slip_rear = slip(vehicle.rear.slide_slip, rear.share_y)
        full = drive_at(driveline, gear, now)
        slip_loss = 0.0
        for end in range(2):
            w = front if end == 0 else rear
            slide_slip = vehicle.front.slide_slip if end == 0 else vehicle.rear.slide_slip
            slip_y = slip_front if end == 0 else slip_rear
            for side in range(2):
                k = 2 * end + side
                pull = w.force_left if side == 0 else w.force_right
                grip_x = w.grip_x_left if side == 0 else w.grip_x_right
                share_x = share_of(pull, grip_x)
                used = math.sqrt(used_square(share_x, grip_x, w.share_y))
                grip_y = grip_beside(w.grip_y_left if side == 0 else w.grip_y_right, share_x)
                slip_x = slip(slide_slip, min(used, 1.0)) * share_x / used if share_x > 0.0 else 0.0
                wheel[0, at, k] = w.load_left if side == 0 else w.load_right
                wheel[1, at, k] = used
                wheel[2, at, k] = -min(pull, 0.0) * now * (1.0 - slip_x)
                slip_loss += max(pull, 0.0) * now * slip_x
                wheel[3, at, k] = now * (abs(pull) * slip_x + grip_y * w.share_y * slip_y)
        engine_speed = max(now * driveline.engine_ratio[gear], driveline.idle_speed)
        power = 0.0
        fuel = 0.0
        if force > 0.0:
            power = (force * now + slip_loss) / driveline.efficiency
            fuel = driveline.fuel_per_work * (power + driveline.friction_work * engine_speed)
        line[0, at] = along
        line[1, at] = lateral
        line[2, at] = gear + 1
        line[3, at] = engine_speed
        line[4, at] = min(max(force, 0.0) / full, 1.0) if full > 0.0 else 0.0
        line[5, at] = min(max(-force, 0.0) / vehicle.brake_force, 1.0)
        line[6, at] = max(force, 0.0)
        line[7, at] = max(-force, 0.0)
        line[8, at] = math.sqrt(front.used_square) - math.sqrt(rear.used_square)
        line[9, at] = power
        line[10, at] = fuel
        line[11, at] = vehicle.drag * square
        line[12, at] = resistance - vehicle.drag * square + vehicle.mass * road.gravity_x[at]
        line[13, at] = mass * along
    return Report(
        line[0],
        line[1],
        line[2],
        line[3],
        line[4],
        line[5],
        line[6],
        line[7],
        line[8],
        line[9],
        line[10],
        line[11],
        line[12],
        line[13],
        wheel[0],
        wheel[1],
        wheel[2],
        wheel[3],
    )
