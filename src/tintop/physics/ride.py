"""Springs, bars and tyres: rates, ride frequencies and damping; SI throughout."""

import math
from typing import NamedTuple

from tintop.physics.constants import STANDARD_GRAVITY


class RideMode(NamedTuple):
    """One of the two ride motions: frequency [Hz] and its still point, metres ahead of the centre of gravity.

    A still point far away means bounce, one within the wheelbase pitch.
    """

    frequency: float
    node: float


def ride_rate(wheel_rate: float, tyre_rate: float) -> float:
    """Give the rate [N/m] of suspension and tyre in series.

    Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 5 (from memory).
    """
    return wheel_rate * tyre_rate / (wheel_rate + tyre_rate)


def ride_frequency(rate: float, mass: float) -> float:
    """Give the undamped natural frequency [Hz] of a mass [kg] on a rate [N/m].

    Source: Gillespie 1992, ch. 5 (from memory).
    """
    return math.sqrt(rate / mass) / (2.0 * math.pi)


def ride_frequency_of_deflection(deflection: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Give the natural frequency [Hz] of a linear spring that the weight compresses by a deflection [m].

    Source: Gillespie 1992, ch. 5 (from memory).
    """
    return math.sqrt(gravity / deflection) / (2.0 * math.pi)


def damping_ratio(damping: float, rate: float, mass: float) -> float:
    """Give the share of critical damping from N·s/m, N/m and kg. Source: identity."""
    return damping / (2.0 * math.sqrt(rate * mass))


def bounce_and_pitch(
    mass: float,
    pitch_inertia: float,
    cg_to_front: float,
    cg_to_rear: float,
    rate_front: float,
    rate_rear: float,
) -> tuple[RideMode, RideMode]:
    """Give the faster and the slower ride motion of a body on two axle rates.

    mass [kg]; pitch_inertia [kg·m²]; lengths [m]; axle ride rates [N/m].
    Source: Gillespie 1992, ch. 5, bounce and pitch (from memory).
    """
    heave = (rate_front + rate_rear) / mass
    coupling = (rate_rear * cg_to_rear - rate_front * cg_to_front) / mass
    pitch = (rate_front * cg_to_front**2 + rate_rear * cg_to_rear**2) / pitch_inertia
    radius_squared = pitch_inertia / mass
    middle = 0.5 * (heave + pitch)
    half = math.sqrt(0.25 * (heave - pitch) ** 2 + coupling**2 / radius_squared)

    def mode(square: float) -> RideMode:
        node = -coupling / (heave - square) if heave != square else math.inf
        return RideMode(math.sqrt(square) / (2.0 * math.pi), node)

    return mode(middle + half), mode(middle - half)


def wheel_rate(spring_rate: float, motion_ratio: float) -> float:
    """Give the rate at the wheel [N/m] from the spring's [N/m] and spring travel per wheel travel.

    Source: virtual work.
    """
    return spring_rate * motion_ratio**2


def roll_stiffness_of_springs(wheel_rate: float, track: float) -> float:
    """Give an axle's roll stiffness [N·m/rad] from the rate at one wheel [N/m] and the track [m].

    For a solid axle take the spring rate and the distance between the springs. Source: Gillespie 1992, ch. 6
    (from memory).
    """
    return 0.5 * wheel_rate * track**2


def round_bar_area_moment(diameter: float) -> float:
    """Give the polar area moment [m⁴] of a round bar from its diameter [m]. Source: geometry."""
    return math.pi * diameter**4 / 32.0


def torsion_bar_rate(diameter: float, length: float, shear_modulus: float) -> float:
    """Give the torsion rate [N·m/rad] of a round bar from m, m and Pa.

    Source: elementary torsion, J. E. Shigley, Mechanical Engineering Design (from memory).
    """
    return shear_modulus * round_bar_area_moment(diameter) / length


def roll_stiffness_of_bar(torsion_rate: float, arm: float, link_motion_ratio: float, track: float) -> float:
    """Give the roll stiffness [N·m/rad] of an anti-roll bar with stiff arms.

    torsion_rate [N·m/rad]; arm [m] from bar to link; link_motion_ratio = link travel per wheel travel;
    track [m]. Source: virtual work.
    """
    return torsion_rate * (link_motion_ratio * track / arm) ** 2


def coil_rate(wire_diameter: float, coil_diameter: float, active_coils: float, shear_modulus: float) -> float:
    """Give the rate [N/m] of a coil spring from wire and mean coil diameter [m], turns and Pa.

    Source: Shigley, Mechanical Engineering Design, helical springs (from memory).
    """
    return shear_modulus * wire_diameter**4 / (8.0 * active_coils * coil_diameter**3)


def spring_force(wheel_load: float, motion_ratio: float) -> float:
    """Give the force in a spring [N] from the sprung load at its wheel [N]. Source: virtual work."""
    return wheel_load / motion_ratio


def force_at_droop(static_force: float, spring_rate: float, motion_ratio: float, droop: float) -> float:
    """Give the force left in a spring [N] with its wheel hanging; below 0 it is loose by -force ÷ rate.

    static_force [N] at ride height; spring_rate [N/m]; motion_ratio = spring per wheel travel; droop [m] of
    the wheel. Source: statics.
    """
    return static_force - spring_rate * motion_ratio * droop


def leaned_compression(moved: float, track: float, hung_stiffness: float) -> float:
    """Give how far an outer wheel moves into its arch [m] as the body leans on springs and bar.

    moved: load that reached it through springs, bar and tyres [N]; track [m]; hung_stiffness: roll
    stiffness of springs and bar together, without the tyres [N·m/rad]. Source: statics.
    """
    return moved * track / hung_stiffness * 0.5 * track
