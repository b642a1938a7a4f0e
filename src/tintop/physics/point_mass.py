"""A car as one point with grip and power: closed forms that a lap must reproduce."""

import math
from typing import NamedTuple


class Straight(NamedTuple):
    """Highest speed [m/s], time [s] and the distance at which braking starts [m]."""

    peak_speed: float
    time: float
    switch: float


class Oval(NamedTuple):
    """Two straights and two semicircles: speeds [m/s], times of one straight, one corner and the lap [s]."""

    corner_speed: float
    peak_speed: float
    straight_time: float
    corner_time: float
    lap_time: float


def circle_speed(
    friction: float,
    radius: float,
    gravity: float,
    mass: float = 1.0,
    downforce: float = 0.0,
    drag: float = 0.0,
) -> float:
    """Give the highest steady speed [m/s] on a level circle; infinite when grip never limits.

    radius [m]; gravity [m/s²]; mass [kg]; downforce and drag = force per speed² [N/(m/s)²];
    the tyres hold the drag beside the corner (friction circle). Source: force balance.
    """
    # (m v²/R)² + (kx v²)² = (mu (m g + kz v²))², a quadratic in v²
    square = (mass / radius) ** 2 + drag**2 - (friction * downforce) ** 2
    half = friction**2 * mass * gravity * downforce
    constant = (friction * mass * gravity) ** 2
    inside = half**2 + square * constant
    if square <= 0.0:
        return math.inf
    return math.sqrt((half + math.sqrt(inside)) / square)


def lap_of_circle(radius: float, speed: float) -> float:
    """Give the time [s] of one turn of a circle [m] at a speed [m/s]. Source: identity."""
    return 2.0 * math.pi * radius / speed


def straight_between(length: float, speed: float, acceleration: float, deceleration: float) -> Straight:
    """Give the quickest way along a straight from a speed back to the same speed.

    length [m]; speed [m/s]; constant acceleration and deceleration [m/s²]. Source: uniform acceleration.
    """
    gained = 2.0 * length * acceleration * deceleration / (acceleration + deceleration)
    peak = math.sqrt(speed**2 + gained)
    time = (peak - speed) * (1.0 / acceleration + 1.0 / deceleration)
    return Straight(peak, time, (peak**2 - speed**2) / (2.0 * acceleration))


def power_distance(mass: float, power: float, speed: float, end_speed: float) -> float:
    """Give the distance [m] in which a constant power [W] alone takes a mass [kg] to a speed [m/s].

    Source: integral of m·v²·dv = P·ds.
    """
    return mass / (3.0 * power) * (end_speed**3 - speed**3)


def power_time(mass: float, power: float, speed: float, end_speed: float) -> float:
    """Give the time [s] in which a constant power [W] alone takes a mass [kg] to a speed [m/s].

    Source: integral of m·v·dv = P·dt.
    """
    return mass / (2.0 * power) * (end_speed**2 - speed**2)


def peak_speed_under_power(
    length: float, mass: float, power: float, speed: float, end_speed: float, deceleration: float
) -> float:
    """Give the speed [m/s] at which braking must begin on a straight driven at constant power.

    length [m]; start and end speeds [m/s]. Source: power_distance plus braking distance, solved by bisection.
    """

    def needed(peak: float) -> float:
        braking = (peak**2 - end_speed**2) / (2.0 * deceleration)
        return power_distance(mass, power, speed, peak) + braking

    low, high = max(speed, end_speed), max(speed, end_speed) + 1.0
    while needed(high) < length:
        high *= 2.0
    for _ in range(100):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if needed(middle) < length else (low, middle)
    return 0.5 * (low + high)


def standing_straight(
    length: float, mass: float, power: float, traction: float, deceleration: float
) -> Straight:
    """Give the quickest way from rest to rest along a straight: traction, then power, then brakes, no drag.

    length [m]; mass [kg]; power [W]; traction and deceleration [m/s²]. The straight must be long enough for
    the power to limit. Source: uniform acceleration and power_distance.
    """
    change = power / (mass * traction)
    first = change**2 / (2.0 * traction)
    peak = peak_speed_under_power(length - first, mass, power, change, 0.0, deceleration)
    time = change / traction + power_time(mass, power, change, peak) + peak / deceleration
    return Straight(peak, time, length - peak**2 / (2.0 * deceleration))


def oval_constant_limits(
    straight: float, radius: float, friction: float, acceleration: float, deceleration: float, gravity: float
) -> Oval:
    """Give the lap of an oval with constant acceleration and deceleration on the straights.

    lengths [m]; accelerations [m/s²]. Source: uniform acceleration.
    """
    corner = circle_speed(friction, radius, gravity)
    part = straight_between(straight, corner, acceleration, deceleration)
    turn = math.pi * radius / corner
    return Oval(corner, part.peak_speed, part.time, turn, 2.0 * (part.time + turn))


def oval_constant_power(
    straight: float, radius: float, friction: float, mass: float, power: float, gravity: float
) -> Oval:
    """Give the lap of an oval with constant power and braking at the grip limit, no drag.

    lengths [m]; mass [kg]; power [W]; gravity [m/s²]. Source: power_distance and uniform deceleration.
    """
    corner = circle_speed(friction, radius, gravity)
    deceleration = friction * gravity
    peak = peak_speed_under_power(straight, mass, power, corner, corner, deceleration)
    time = power_time(mass, power, corner, peak) + (peak - corner) / deceleration
    turn = math.pi * radius / corner
    return Oval(corner, peak, time, turn, 2.0 * (time + turn))
