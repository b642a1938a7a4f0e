"""Braking: adhesion used, order of locking, pedal to pad, energy, disc temperature and pad wear."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from tintop.physics.constants import STANDARD_GRAVITY

_LEAST_RATE, _MOST_RATE = 0.15, 0.8  # of UN R13-H, annex 5
_LEAST_FRICTION, _MOST_FRICTION = 0.2, 0.8
_SHUT_THROTTLE = 7e4  # mean effective pressure of pumping against a shut throttle [Pa]


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


def ideal_rear_force(car: BrakedCar, front_force: float) -> float:
    """Give the ideal rear brake force to a front one, both ÷ the car's weight: the parabola of the drawing.

    Source: R. Limpert, Brake Design and Safety, ch. 7, optimum braking (from memory).
    """
    lever = car.cg_height / car.wheelbase
    half = car.front_share / (2.0 * lever)
    return math.sqrt(half**2 + front_force / lever) - half - front_force


def valve_pressure(pressure: float, knee: float, share: float) -> float:
    """Give the pressure a rear valve lets through [Pa]: all of it up to its knee [Pa], a share above.

    A knee of 0 is a valve that takes its share from the first. Source: the valve's own definition, as in
    T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 3 (from memory).
    """
    return min(pressure, knee) + share * max(pressure - knee, 0.0)


def regulation_least_braking(friction: float) -> float:
    """Give the least braking rate at which an axle may need a friction of 0.2 to 0.8.

    Source: UN Regulation 13-H, annex 5, 3.1: z ≥ 0.1 + 0.7·(k − 0.2) (from memory).
    """
    return 0.1 + 0.7 * (friction - 0.2)


def regulation_least_braking_of_1985(friction: float) -> float:
    """Give the same by the older text, which asked for more of each friction.

    Source: Directive 71/320/EEC as amended, annex II, appendix: z ≥ 0.1 + 0.85·(k − 0.2) (from memory).
    """
    return 0.1 + 0.85 * (friction - 0.2)


def rear_first_rates(
    rates: Sequence[float], front_used: Sequence[float], rear_used: Sequence[float]
) -> tuple[float, ...]:
    """Give the rates from 0.15 to 0.8 at which the rear axle needs more friction; the rule is none.

    Source: UN Regulation 13-H, annex 5, 3.1 (from memory); Directive 71/320/EEC, annex II, appendix, 3.1.1.
    """
    return tuple(
        rate
        for rate, front, rear in zip(rates, front_used, rear_used, strict=True)
        if _LEAST_RATE <= rate <= _MOST_RATE and rear > front
    )


def weak_rates(
    rates: Sequence[float], front_used: Sequence[float], rear_used: Sequence[float]
) -> tuple[float, ...]:
    """Give the rates at which an axle needs a friction of 0.2 to 0.8 that should have braked more.

    Source: as regulation_least_braking.
    """
    return tuple(
        rate
        for rate, front, rear in zip(rates, front_used, rear_used, strict=True)
        if any(
            _LEAST_FRICTION <= used <= _MOST_FRICTION and rate < regulation_least_braking(used) - 1e-12
            for used in (front, rear)
        )
    )


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


def pedal_at_locking(
    car: BrakedCar, weight: float, friction: float, front_gain: float, rear_start: float, rear_gain: float
) -> tuple[float, float]:
    """Give the pedal forces [N] at which the front and the rear axle lock; infinite where one never does.

    weight [N]; brake force of the front = front_gain × pedal, of the rear = rear_start + rear_gain × pedal:
    one side of a rear valve's knee. Source: adhesion used alike to the road's friction, solved for the pedal.
    """
    lever = friction * car.cg_height / car.wheelbase
    whole = front_gain + rear_gain
    front_room = front_gain - lever * whole
    front = math.inf
    if front_room > 0.0:
        front = (friction * weight * car.front_share + lever * rear_start) / front_room
    rear = (friction * weight * (1.0 - car.front_share) - (1.0 + lever) * rear_start) / (
        rear_gain + lever * whole
    )
    return front, rear


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


def engine_drag_torque(friction_pressure: float, displacement: float) -> float:
    """Give the torque [N·m] by which a four-stroke engine with its throttle shut holds back its crankshaft.

    friction_pressure = mean effective pressure of friction [Pa], to which a shut throttle adds about 0.7 bar
    of pumping; displacement [m³]. Source: definition of the mean effective pressure; J. B. Heywood, Internal
    Combustion Engine Fundamentals, 1988, ch. 13 (both from memory).
    """
    return (friction_pressure + _SHUT_THROTTLE) * displacement / (4.0 * math.pi)


def fluid_moved(piston_area: float, pad_gap: float, pressure: float, give: float) -> float:
    """Give the fluid [m³] that one wheel's brake takes at a line pressure [Pa].

    piston_area of one side [m²]; pad_gap from pad to disc on each side [m]; give = volume by which caliper,
    pads and hose swell per pressure [m³/Pa]. A sliding caliper's one piston travels both gaps, fixed ones
    one each: the volume is the same. Source: R. Limpert, Brake Design and Safety, ch. 5 (from memory).
    """
    return 2.0 * piston_area * pad_gap + give * pressure


def pedal_travel(fluid: float, master_cylinder_area: float, pedal_ratio: float) -> float:
    """Give how far the pedal's pad moves [m] to push fluid [m³] out of a cylinder [m²].

    Source: lever and hydrostatics.
    """
    return pedal_ratio * fluid / master_cylinder_area


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
