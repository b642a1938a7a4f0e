"""The same car, path and mesh stated to a general-purpose optimiser (CasADi with IPOPT).

The car is a single-track one: two axles with load transfer along the car, a friction ellipse each, drive on
one axle, brakes split by a fixed share, constant power, drag and rolling resistance; throttle and brake are
not used together. A point mass is the same with its centre of gravity on the road and drive and brakes shared
as the load.
"""

import math
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.physics.fastest_lap import fastest_lap
from tintop.physics.four_wheels import Road, Vehicle
from tintop.proof.lap_cases import point_mass

FloatArray = NDArray[np.float64]

GRAVITY = 9.80665
TOP_SPEED = 80.0


@dataclass(frozen=True)
class Stated:
    """The car of the problem; SI."""

    mass: float = 1130.0
    friction: float = 1.15
    power: float = 100e3
    drag: float = 0.42
    rolling_resistance: float = 0.014
    wheelbase: float = 2.55
    rear_share: float = 0.40
    cg_height: float = 0.50
    drive_front: float = 1.0
    brake_front: float = 0.72

    @classmethod
    def point(cls) -> "Stated":
        """The point mass: nothing to tell the axles apart."""
        return cls(rear_share=0.5, cg_height=0.0, drive_front=0.5, brake_front=0.5)


def kernel_lap(car: Stated, road: Road) -> tuple[float, float]:
    """Lap time and wall time of the product's kernel [s], already compiled."""
    vehicle, driveline = point_mass(
        mass=car.mass,
        friction=car.friction,
        power=car.power,
        brake_force=3.0 * car.friction * car.mass * GRAVITY,
        drag=car.drag,
        rolling_resistance=car.rolling_resistance,
        rear_share=car.rear_share,
        rear_drive_share=1.0 - car.drive_front,
        top_speed=TOP_SPEED,
    )
    vehicle: Vehicle = vehicle._replace(
        wheelbase=car.wheelbase,
        height_share=car.cg_height / car.wheelbase,
        front=vehicle.front._replace(brake_share=car.brake_front),
        rear=vehicle.rear._replace(brake_share=1.0 - car.brake_front),
    )
    fastest_lap(vehicle, driveline, road)
    taken = []
    for _ in range(30):
        start = time.perf_counter()
        speed, _ = fastest_lap(vehicle, driveline, road)
        taken.append(time.perf_counter() - start)
    return float(np.sum(2.0 * road.step / (speed + np.roll(speed, -1)))), float(np.median(taken))


def optimised_lap(car: Stated, road: Road) -> tuple[float, float]:
    """Lap time and wall time of the optimiser [s]; RuntimeError where it does not converge."""
    import casadi as ca

    n = road.step.shape[0]
    step, bend = ca.DM(road.step), ca.DM(road.lateral_curvature)
    square = ca.MX.sym("speed squared", n)
    drive = ca.MX.sym("drive per newton of weight", n)
    brake = ca.MX.sym("brake per newton of weight", n)
    weight = car.mass * GRAVITY
    following = ca.vertcat(square[1:], square[0])
    pull = (drive - brake) * weight - car.drag * square - car.rolling_resistance * weight
    motion = (following - square - 2.0 * step * pull / car.mass) / 100.0
    moved = (drive - brake) * car.cg_height / car.wheelbase
    side = square * bend / GRAVITY
    constraints = [motion, ca.power(drive * weight / car.power, 2) * square, drive * brake * 100.0]
    for load_share, drive_share, brake_share, sign in (
        (1.0 - car.rear_share, car.drive_front, car.brake_front, -1.0),
        (car.rear_share, 1.0 - car.drive_front, 1.0 - car.brake_front, 1.0),
    ):
        load = load_share + sign * moved
        along = drive_share * drive - brake_share * brake
        constraints.append(along**2 + (load_share * side) ** 2 - (car.friction * load) ** 2)
    seconds = ca.sum1(2.0 * step / (ca.sqrt(square) + ca.sqrt(following)))
    solver = ca.nlpsol(
        "lap",
        "ipopt",
        {"x": ca.vertcat(square, drive, brake), "f": seconds, "g": ca.vertcat(*constraints)},
        {"ipopt.print_level": 0, "print_time": 0, "ipopt.sb": "yes", "ipopt.max_iter": 1000},
    )
    corner = car.friction * GRAVITY / np.maximum(np.abs(road.lateral_curvature), 1e-4)
    begin = 0.5 * np.minimum(corner, 40.0**2)
    start = time.perf_counter()
    found = solver(
        x0=np.concatenate((begin, np.full(n, 0.05), np.full(n, 0.01))),
        lbx=np.concatenate((np.full(n, 1.0), np.zeros(2 * n))),
        ubx=np.concatenate((np.full(n, TOP_SPEED**2), np.full(2 * n, 3.0))),
        lbg=np.concatenate((np.zeros(n), np.full(4 * n, -math.inf))),
        ubg=np.concatenate((np.zeros(n), np.ones(n), np.full(n, 1e-2), np.zeros(2 * n))),
    )
    taken = time.perf_counter() - start
    if not solver.stats()["success"]:
        raise RuntimeError(f"the optimiser says {solver.stats()['return_status']}")
    return float(found["f"]), taken
