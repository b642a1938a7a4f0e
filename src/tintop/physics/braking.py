"""Braking: adhesion used, order of locking, pedal to pad, energy, disc temperature and pad wear."""

import math
from typing import NamedTuple

from tintop.physics.constants import STANDARD_GRAVITY


class BrakedCar(NamedTuple):
    """Wheelbase and height of the centre of gravity [m], and the front axle's share of the weight."""

    wheelbase: float
    cg_height: float
    front_share: float


def stopping_distance(speed: float, deceleration: float) -> float:
    """Give the distance [m] of a stop from a speed [m/s] at constant deceleration [m/s²].

    Source: identity.
    """
    return speed**2 / (2.0 * deceleration)


def kinetic_energy(mass: float, speed: float, end_speed: float = 0.0) -> float:
    """Give the kinetic energy [J] that a mass [kg] loses between two speeds [m/s]. Source: identity."""
    return 0.5 * mass * (speed**2 - end_speed**2)


def braking_with_drag(
    mass: float, brake_force: float, drag: float, speed: float, end_speed: float
) -> tuple[float, float]:
    """Give distance [m] and time [s] of braking under a constant force helped by drag.

    mass [kg]; brake_force [N]; drag = force per speed² [N/(m/s)²], above zero; speeds [m/s].
    Source: closed form of m·v·dv/ds = -(F + k·v²).
    """
    distance = (
        mass / (2.0 * drag) * math.log((brake_force + drag * speed**2) / (brake_force + drag * end_speed**2))
    )
    root = math.sqrt(drag / brake_force)
    time = mass / math.sqrt(brake_force * drag) * (math.atan(speed * root) - math.atan(end_speed * root))
    return distance, time


def adhesion_used(car: BrakedCar, front_brake_share: float, braking: float) -> tuple[float, float]:
    """Give the friction that the front and the rear axle need at a braking rate (deceleration ÷ gravity).

    The axle with the higher figure locks first. Source: Directive 71/320/EEC, annex II, appendix.
    """
    moved = braking * car.cg_height / car.wheelbase
    front = front_brake_share * braking / (car.front_share + moved)
    rear = (1.0 - front_brake_share) * braking / (1.0 - car.front_share - moved)
    return front, rear


def ideal_front_brake_share(car: BrakedCar, braking: float) -> float:
    """Give the front share of brake force at which both axles lock together at a braking rate.

    Source: Directive 71/320/EEC, annex II, appendix: adhesion used alike at both axles.
    """
    return car.front_share + braking * car.cg_height / car.wheelbase


def critical_braking(car: BrakedCar, front_brake_share: float) -> float:
    """Give the braking rate above which the rear axle locks first. Source: as ideal_front_brake_share."""
    return (front_brake_share - car.front_share) * car.wheelbase / car.cg_height


def braking_efficiency(car: BrakedCar, front_brake_share: float, braking: float) -> float:
    """Give the braking rate as a share of the friction that the harder used axle needs.

    Source: J. Y. Wong, Theory of Ground Vehicles, ch. 3 (from memory).
    """
    return braking / max(adhesion_used(car, front_brake_share, braking))


def braking_at_locking(
    car: BrakedCar, front_brake_share: float, friction: float, rolling_resistance: float = 0.0
) -> tuple[float, float]:
    """Give the braking rates at which the front and the rear axle lock; the lower one comes first.

    Infinite where the axle can never lock.
    Source: J. Y. Wong, Theory of Ground Vehicles, ch. 3 (from memory).
    """
    lever = friction * car.cg_height / car.wheelbase
    rear_brake_share = 1.0 - front_brake_share
    front = friction * car.front_share + rear_brake_share * rolling_resistance
    rear = friction * (1.0 - car.front_share) + front_brake_share * rolling_resistance
    return (
        front / (front_brake_share - lever) if front_brake_share > lever else math.inf,
        rear / (rear_brake_share + lever),
    )


def line_pressure(pedal_force: float, pedal_ratio: float, boost: float, master_cylinder_area: float) -> float:
    """Give the brake line pressure [Pa] from the foot's force [N], lever, servo factor and piston area [m²].

    Source: hydrostatics.
    """
    return pedal_force * pedal_ratio * boost / master_cylinder_area


def brake_torque(pressure: float, piston_area: float, pad_friction: float, effective_radius: float) -> float:
    """Give the torque [N·m] of one caliper from line pressure [Pa].

    piston_area of ONE side [m²]; two pads rub; effective_radius [m].
    Source: R. Limpert, Brake Design and Safety (from memory).
    """
    return 2.0 * pad_friction * pressure * piston_area * effective_radius


def stop_temp_rise(energy: float, mass: float, specific_heat: float) -> float:
    """Give how much one stop's energy [J] warms a disc [K] of kg and J/(kg·K) that loses nothing meanwhile.

    Source: R. Limpert, Brake Design and Safety, ch. 3 (from memory).
    """
    return energy / (mass * specific_heat)


def cooling_rate(heat_transfer: float, area: float, mass: float, specific_heat: float) -> float:
    """Give the rate [1/s] at which a disc's excess temperature decays, from W/(m²·K), m², kg and J/(kg·K).

    Source: Newton's law of cooling.
    """
    return heat_transfer * area / (mass * specific_heat)


def repeated_stop_rise(rise_per_stop: float, stops: int, cooling_rate: float, interval: float) -> float:
    """Give the disc's rise above the air [K] at the end of the n-th stop of an even series.

    rise_per_stop [K]; cooling_rate [1/s]; interval between stops [s].

    Source: R. Limpert, Brake Design and Safety, ch. 3; T. P. Newcomb and R. T. Spurr, Braking of Road
    Vehicles, 1967 (both from memory).
    """
    decay = cooling_rate * interval
    return rise_per_stop * math.expm1(-stops * decay) / math.expm1(-decay)


def repeated_stop_limit(rise_per_stop: float, cooling_rate: float, interval: float) -> float:
    """Give the rise [K] that an endless even series of stops tends to. Source: as repeated_stop_rise."""
    return -rise_per_stop / math.expm1(-cooling_rate * interval)


def pad_wear_volume(friction_work: float, friction: float, specific_wear: float) -> float:
    """Give the volume of pad worn off [m³] by a friction work [J].

    specific_wear = volume per sliding distance and normal force [m³/(N·m)].
    Source: J. F. Archard's law of wear (from memory).
    """
    return specific_wear * friction_work / friction


def approval_distance_71_320(speed_kmh: float) -> float:
    """Give the longest stop [m] that Directive 71/320/EEC admits for a car, from km/h.

    Source: Directive 71/320/EEC, annex II (from memory).
    """
    return 0.1 * speed_kmh + speed_kmh**2 / 150.0


def approval_distance_r13h(speed_kmh: float) -> float:
    """Give the longest stop [m] that UN Regulation 13-H admits for a car, from km/h.

    Source: UN R13-H, annex 3 (from memory).
    """
    return 0.1 * speed_kmh + 0.0060 * speed_kmh**2


def mean_fully_developed_deceleration(start_speed_kmh: float, distance: float) -> float:
    """Give the mean deceleration [m/s²] between 0.8 and 0.1 of a starting speed [km/h] over a distance [m].

    Source: Directive 71/320/EEC, annex II, 1.1.2.
    """
    begin, end = 0.8 * start_speed_kmh, 0.1 * start_speed_kmh
    return (begin**2 - end**2) / (25.92 * distance)


def braking_rate(brake_force: float, mass: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Give the braking rate (deceleration ÷ gravity) of a force [N] on a mass [kg]. Source: Newton."""
    return brake_force / (mass * gravity)
