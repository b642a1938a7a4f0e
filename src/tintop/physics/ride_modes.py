"""The car's own motions on springs and tyres: heave, pitch, roll and wheel hop, each with its damping; SI."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from tintop.physics.ride_frequency import FloatArray, RideCar


class DampedMode(NamedTuple):
    """One motion of the car on its springs: undamped frequency [Hz], and its damping ratio."""

    frequency: float
    ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RideModes:
    """The body's three motions and its wheels' hop: mean of the axle's two wheels together and against."""

    heave: DampedMode
    pitch: DampedMode
    roll: DampedMode
    hop_front: DampedMode
    hop_rear: DampedMode


def matrices(
    car: RideCar, damping_front: float, damping_rear: float, *, is_rolling: bool
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Mass, damping and stiffness of half the problem; heave, pitch, hub front, hub rear, or roll and hubs.

    Hubs are those of the left wheel, both sides' energy counted. Source: Lagrange.
    """
    if is_rolling:
        body = np.array([[0.5 * car.track_front], [0.5 * car.track_rear]])
        masses = [car.roll_inertia]
        bars = (2.0 * car.bar_front / car.track_front**2, 2.0 * car.bar_rear / car.track_rear**2)
    else:
        body = np.array([[1.0, -car.cg_to_front], [1.0, car.cg_to_rear]])
        masses = [car.sprung_mass, car.pitch_inertia]
        bars = (0.0, 0.0)
    travel = np.hstack([-body, np.eye(2)])
    hubs = np.hstack([np.zeros_like(body), np.eye(2)])
    mass = np.diag([*masses, 2.0 * car.unsprung_front, 2.0 * car.unsprung_rear])
    springs = 2.0 * np.diag([car.wheel_rate_front + bars[0], car.wheel_rate_rear + bars[1]])
    tyres = 2.0 * np.diag([car.tyre_rate_front, car.tyre_rate_rear])
    dampers = 2.0 * np.diag([damping_front, damping_rear])
    tyre_dampers = 2.0 * np.diag([car.tyre_damping_front, car.tyre_damping_rear])
    stiffness = travel.T @ springs @ travel + hubs.T @ tyres @ hubs
    damping = travel.T @ dampers @ travel + hubs.T @ tyre_dampers @ hubs
    return mass, damping, stiffness


def modes_of(car: RideCar, damping_front: float, damping_rear: float) -> RideModes:
    """Undamped motions and the damping each meets along its own shape.

    The ratio is φᵀCφ / 2ω of the shape scaled to unit modal mass: exact where damping follows the shapes, and
    defined for any. Heave is the motion of the lower two with more of the body's energy up and down.
    """
    shapes = {}
    for is_rolling in (False, True):
        mass, damping, stiffness = matrices(car, damping_front, damping_rear, is_rolling=is_rolling)
        scale = 1.0 / np.sqrt(np.diag(mass))
        squares, vectors = np.linalg.eigh(scale[:, None] * stiffness * scale)
        omega = np.sqrt(squares)
        ratios = np.einsum("ij,ik,kj->j", vectors, scale[:, None] * damping * scale, vectors) / (2.0 * omega)
        shapes[is_rolling] = (omega / (2.0 * np.pi), ratios, vectors)
    frequency, ratio, vectors = shapes[False]
    rolling, roll_ratio, roll_vectors = shapes[True]

    def mode(place: int) -> DampedMode:
        return DampedMode(float(frequency[place]), float(ratio[place]))

    heave = 0 if vectors[0, 0] ** 2 >= vectors[0, 1] ** 2 else 1
    front_hop = 2 if vectors[2, 2] ** 2 >= vectors[2, 3] ** 2 else 3
    front_hop_rolling = 1 if roll_vectors[1, 1] ** 2 >= roll_vectors[1, 2] ** 2 else 2

    def hop(place: int, rolling_place: int) -> DampedMode:
        return DampedMode(
            0.5 * float(frequency[place] + rolling[rolling_place]),
            0.5 * float(ratio[place] + roll_ratio[rolling_place]),
        )

    return RideModes(
        heave=mode(heave),
        pitch=mode(1 - heave),
        roll=DampedMode(float(rolling[0]), float(roll_ratio[0])),
        hop_front=hop(front_hop, front_hop_rolling),
        hop_rear=hop(5 - front_hop, 3 - front_hop_rolling),
    )
