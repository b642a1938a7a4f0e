"""Round tubes: section, stress, and the strut's load by Euler and by Johnson."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


class RoundTube(NamedTuple):
    """A round tube's section: area [m²], second moments [m⁴], moduli [m³]."""

    area: float
    second_moment: float
    polar_moment: float
    elastic_modulus: float
    plastic_modulus: float

    @property
    def radius_of_gyration(self) -> float:
        """Radius of gyration [m]."""
        return math.sqrt(self.second_moment / self.area)


def round_tube(diameter: float, wall: float) -> RoundTube:
    """Give the section of a tube from outside diameter and wall [m].

    Source: geometry; the plastic modulus is (D³ - d³)/6.
    """
    bore = diameter - 2.0 * wall
    second = math.pi / 64.0 * (diameter**4 - bore**4)
    return RoundTube(
        area=math.pi / 4.0 * (diameter**2 - bore**2),
        second_moment=second,
        polar_moment=2.0 * second,
        elastic_modulus=2.0 * second / diameter,
        plastic_modulus=(diameter**3 - bore**3) / 6.0,
    )


def euler_load(section: RoundTube, length: float, youngs_modulus: float) -> float:
    """Give the elastic buckling load [N] of a strut pinned at both ends; length [m], modulus [Pa].

    Source: Euler; S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, ch. 2 (from memory).
    """
    return math.pi**2 * youngs_modulus * section.second_moment / length**2


def transition_slenderness(youngs_modulus: float, yield_strength: float) -> float:
    """Give the slenderness at which Johnson's parabola touches Euler's curve, at half the yield stress.

    Source: J. E. Shigley, Mechanical Engineering Design, chapter on columns (from memory).
    """
    return math.sqrt(2.0 * math.pi**2 * youngs_modulus / yield_strength)


def johnson_load(section: RoundTube, length: float, youngs_modulus: float, yield_strength: float) -> float:
    """Give the buckling load [N] of a short strut by J. B. Johnson's parabola.

    Source: J. E. Shigley, Mechanical Engineering Design, chapter on columns (from memory).
    """
    slenderness = length / section.radius_of_gyration
    lost = (yield_strength * slenderness / (2.0 * math.pi)) ** 2 / youngs_modulus
    return section.area * (yield_strength - lost)


def buckling_load(section: RoundTube, length: float, youngs_modulus: float, yield_strength: float) -> float:
    """Give the buckling load [N] of a pinned strut: Johnson's below the transition, Euler's above it."""
    slender = length / section.radius_of_gyration
    if slender > transition_slenderness(youngs_modulus, yield_strength):
        return euler_load(section, length, youngs_modulus)
    return johnson_load(section, length, youngs_modulus, yield_strength)


class TubeForces(NamedTuple):
    """What a tube's section carries: axial and shear force [N], bending and torsion [N·m]; no signs."""

    axial: FloatArray
    shear: FloatArray
    bending: FloatArray
    torsion: FloatArray


def equivalent_stress(area: FloatArray, elastic_modulus: FloatArray, forces: TubeForces) -> FloatArray:
    """Give the greater of the stresses at the outer fibre and at the neutral axis [Pa], by von Mises.

    The shear stress at the neutral axis is that of a thin round tube, twice the mean.
    Source: S. P. Timoshenko, Strength of Materials, part I (from memory); von Mises.
    """
    axial, twist = forces.axial / area, forces.torsion / (2.0 * elastic_modulus)
    outer = np.sqrt((axial + forces.bending / elastic_modulus) ** 2 + 3.0 * twist**2)
    neutral = np.sqrt(axial**2 + 3.0 * (twist + 2.0 * forces.shear / area) ** 2)
    return np.maximum(outer, neutral)
