"""What the car can do on a flat road, by speed and cornering."""

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel
from tintop.physics.four_wheels import (
    FRONT_GRIP,
    REAR_GRIP,
    Driveline,
    Vehicle,
    corner_drag,
    drive_at,
    gear_at,
    held_force,
    resistance_force,
    tyres,
    worst_use_square,
)

FloatArray = NDArray[np.float64]


@kernel
def envelope(
    vehicle: Vehicle, driveline: Driveline, speeds: FloatArray, shares: FloatArray, gravity: float
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """What the car can do on a flat road, by speed and by share of its steady lateral limit.

    speeds (m,), shares (k,) from 0 to 1; returns the steady lateral limit (m,) [m/s²], its limiting axle
    (m,), and the highest and lowest path acceleration (m, k) [m/s²].
    """
    rows = speeds.shape[0]
    lateral_limit = np.empty(rows)
    axle = np.empty(rows)
    most = np.empty((rows, shares.shape[0]))
    least = np.empty((rows, shares.shape[0]))
    for row in range(rows):
        now = speeds[row]
        resistance = resistance_force(vehicle, now, gravity, 0.0)
        drive = drive_at(driveline, gear_at(driveline, now), now)
        low, high = 0.0, 60.0
        for _ in range(50):
            trial = 0.5 * (low + high)
            hold = resistance + vehicle.mass * trial * 0.5 * (
                vehicle.front.slide_slip + vehicle.rear.slide_slip
            )
            if worst_use_square(vehicle, now, min(hold, drive), trial, gravity) > 1.0:
                high = trial
            else:
                low = trial
        lateral_limit[row] = low
        front, rear = tyres(vehicle, now, min(resistance, drive), low, gravity)
        axle[row] = FRONT_GRIP if front.used_square >= rear.used_square else REAR_GRIP
        for column in range(shares.shape[0]):
            lateral = low * shares[column]
            force, _, front, rear = held_force(vehicle, now, lateral, gravity, drive, 0.0, 0.0)
            mass = vehicle.mass + vehicle.rolling_mass + driveline.gear_mass[gear_at(driveline, now)]
            most[row, column] = (force - resistance - corner_drag(vehicle, front, rear)) / mass
            force, _, front, rear = held_force(vehicle, now, lateral, gravity, -vehicle.brake_force, 0.0, 0.0)
            mass = vehicle.mass + vehicle.rolling_mass
            least[row, column] = (force - resistance - corner_drag(vehicle, front, rear)) / mass
    return lateral_limit, axle, most, least
