"""Gears: engine speed and road speed, what an upshift drops, and what engine speed costs; SI.

Equations and symbols: docs/theory/gearing.md.
"""

import math


def road_speed(engine_speed: float, ratio: float, final_drive: float, radius: float) -> float:
    """Give the speed [m/s] at an engine speed [rad/s], through a gear and a final drive, radius rolling [m].

    Source: kinematics of rolling.
    """
    return engine_speed * radius / (ratio * final_drive)


def engine_speed_at(
    speed: float, ratio: float, final_drive: float, radius: float, slip: float = 0.0
) -> float:
    """Give the engine speed [rad/s] at a road speed [m/s]; `slip` is how much more the driven tyres turn.

    slip = (turning speed × radius - speed) ÷ (turning speed × radius). Source: kinematics of rolling; slip as
    in T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 2 (from memory).
    """
    return speed * ratio * final_drive / (radius * (1.0 - slip))


def drop(ratio: float, next_ratio: float) -> float:
    """Give the share of engine speed that is left after an upshift at one road speed. Source: kinematics."""
    return next_ratio / ratio


def turns_per_kilometre(radius: float) -> float:
    """Give how often a wheel turns in 1,000 m on a rolling radius [m]. Source: kinematics."""
    return 1000.0 / (2.0 * math.pi * radius)


def inertia_load_share(engine_speed: float, reference: float) -> float:
    """Give the inertia loads of piston and rod as a share of those at a reference engine speed.

    Source: centripetal and reciprocating acceleration grow with the square of speed, J. B. Heywood, Internal
    Combustion Engine Fundamentals, 1988 (from memory).
    """
    return (engine_speed / reference) ** 2
