"""Toe as a length over the rim and as an angle of the wheel."""

import math


def toe_angle(over_rim: float, rim_diameter: float) -> float:
    """Give a wheel's toe angle [rad] from the difference front to rear of the rim [m] and its diameter [m].

    Source: geometry.
    """
    return math.asin(over_rim / rim_diameter)


def toe_over_rim(angle: float, rim_diameter: float) -> float:
    """Give the difference front to rear of the rim [m] from a wheel's toe angle [rad] and its diameter [m].

    Source: geometry.
    """
    return rim_diameter * math.sin(angle)
