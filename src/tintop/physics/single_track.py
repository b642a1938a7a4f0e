"""The single-track model: balance, characteristic speed, stability; axes per ISO 8855."""

import math
from typing import NamedTuple

from tintop.physics.constants import STANDARD_GRAVITY


class SingleTrack(NamedTuple):
    """Mass [kg], yaw inertia [kg·m²], axle distances [m] and cornering stiffnesses of whole axles [N/rad]."""

    mass: float
    yaw_inertia: float
    cg_to_front: float
    cg_to_rear: float
    stiffness_front: float
    stiffness_rear: float

    @property
    def wheelbase(self) -> float:
        """Distance between the axles [m]."""
        return self.cg_to_front + self.cg_to_rear


class SingleTrackState(NamedTuple):
    """Position [m], steer [rad], speed [m/s], heading [rad], yaw rate [rad/s] and sideslip [rad]."""

    x: float
    y: float
    steer: float
    speed: float
    heading: float
    yaw_rate: float
    sideslip: float


def understeer_gradient(
    load_front: float,
    load_rear: float,
    stiffness_front: float,
    stiffness_rear: float,
    gravity: float = STANDARD_GRAVITY,
) -> float:
    """Give the steer needed per lateral acceleration [rad/(m/s²)]; positive means understeer.

    Loads [N] and cornering stiffnesses [N/rad] both of axles or both of single wheels.
    Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 6 (from memory).
    """
    return (load_front / stiffness_front - load_rear / stiffness_rear) / gravity


def gradient_of(car: SingleTrack) -> float:
    """Give the understeer gradient [rad/(m/s²)] of a single-track car. Source: Gillespie 1992, ch. 6."""
    front = car.mass * car.cg_to_rear / car.wheelbase
    rear = car.mass * car.cg_to_front / car.wheelbase
    return understeer_gradient(front, rear, car.stiffness_front, car.stiffness_rear, gravity=1.0)


def characteristic_speed(wheelbase: float, gradient: float) -> float:
    """Give the speed [m/s] at which an understeering car needs twice the steer of a slow one.

    Infinite for a neutral car; for an oversteering car (negative gradient) it is the critical speed, above
    which it is unstable.
    Source: Gillespie 1992, ch. 6 (from memory).
    """
    return math.sqrt(wheelbase / abs(gradient)) if gradient else math.inf


def steer_angle(wheelbase: float, radius: float, gradient: float, acceleration_y: float) -> float:
    """Give the front wheels' steer [rad] in a steady corner. Source: Gillespie 1992, ch. 6 (from memory)."""
    return wheelbase / radius + gradient * acceleration_y


def sideslip(
    radius: float, speed: float, cg_to_rear: float, load_rear: float, stiffness_rear: float, gravity: float
) -> float:
    """Give the sideslip angle [rad] at the centre of gravity in a steady corner, positive nose out.

    radius, cg_to_rear [m]; speed [m/s]; load_rear [N] and stiffness_rear [N/rad] of axle or wheel.
    Source: Gillespie 1992, ch. 6 (from memory).
    """
    return cg_to_rear / radius - load_rear / stiffness_rear * speed**2 / (gravity * radius)


def yaw_gain(wheelbase: float, speed: float, gradient: float) -> float:
    """Give the yaw rate per steer angle [1/s] of a steady corner. Source: Gillespie 1992, ch. 6."""
    return speed / (wheelbase + gradient * speed**2)


def acceleration_gain(wheelbase: float, speed: float, gradient: float) -> float:
    """Give the lateral acceleration per steer angle [m/s²/rad] of a steady corner. Source: as yaw_gain."""
    return speed * yaw_gain(wheelbase, speed, gradient)


def static_margin(
    cg_to_front: float, wheelbase: float, stiffness_front: float, stiffness_rear: float
) -> float:
    """Give how far the neutral point lies behind the centre of gravity, as a share of the wheelbase.

    Source: Gillespie 1992, ch. 6 (from memory).
    """
    return stiffness_rear / (stiffness_front + stiffness_rear) - cg_to_front / wheelbase


def yaw_oscillation(car: SingleTrack, speed: float) -> tuple[float, float]:
    """Give the square of the natural frequency [rad²/s²] and the decay 2·zeta·omega [rad/s] at a speed.

    A negative square means that the car diverges.
    Source: W. F. and D. L. Milliken, Race Car Vehicle
    Dynamics, SAE 1995, ch. 6 (from memory).
    """
    front, rear = car.stiffness_front, car.stiffness_rear
    square = (
        front * rear * car.wheelbase**2 / (car.mass * car.yaw_inertia * speed**2)
        + (car.cg_to_rear * rear - car.cg_to_front * front) / car.yaw_inertia
    )
    decay = (front + rear) / (car.mass * speed) + (car.cg_to_front**2 * front + car.cg_to_rear**2 * rear) / (
        car.yaw_inertia * speed
    )
    return square, decay


def eigenvalues(car: SingleTrack, speed: float) -> tuple[complex, complex]:
    """Give the two eigenvalues [1/s] of lateral and yaw motion at a speed, the less stable first.

    Source: as yaw_oscillation.
    """
    square, decay = yaw_oscillation(car, speed)
    root = complex(0.25 * decay**2 - square) ** 0.5
    # the product form keeps the eigenvalue near zero exact
    stable = -0.5 * decay - root
    return square / stable, stable


def state_derivative(
    state: SingleTrackState,
    *,
    mass: float,
    yaw_inertia: float,
    cg_to_front: float,
    cg_to_rear: float,
    cg_height: float,
    friction: float,
    stiffness_per_load: float,
    steer_rate: float,
    acceleration_x: float,
    gravity: float = STANDARD_GRAVITY,
) -> SingleTrackState:
    """Give the rate of change of a single-track car whose axle stiffness follows the load it carries.

    stiffness_per_load [1/rad] is cornering stiffness per friction and load; the rest SI.
    Source: M. Althoff and G. Würsching, CommonRoad: Vehicle Models, 2020, single-track model.
    """
    wheelbase = cg_to_front + cg_to_rear
    load_front = mass * (gravity * cg_to_rear - acceleration_x * cg_height) / wheelbase
    load_rear = mass * (gravity * cg_to_front + acceleration_x * cg_height) / wheelbase
    slip_front = state.steer - state.sideslip - cg_to_front * state.yaw_rate / state.speed
    slip_rear = -state.sideslip + cg_to_rear * state.yaw_rate / state.speed
    force_front = friction * stiffness_per_load * load_front * slip_front
    force_rear = friction * stiffness_per_load * load_rear * slip_rear
    course = state.heading + state.sideslip
    return SingleTrackState(
        x=state.speed * math.cos(course),
        y=state.speed * math.sin(course),
        steer=steer_rate,
        speed=acceleration_x,
        heading=state.yaw_rate,
        yaw_rate=(cg_to_front * force_front - cg_to_rear * force_rear) / yaw_inertia,
        sideslip=(force_front + force_rear) / (mass * state.speed) - state.yaw_rate,
    )
