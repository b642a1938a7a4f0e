import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics.tubes import (
    TubeForces,
    buckling_load,
    equivalent_stress,
    euler_load,
    johnson_load,
    round_tube,
    transition_slenderness,
)

MODULUS, YIELD = 205e9, 350e6


def test_sections_of_published_tubes():
    check("V10-03")


def test_struts_by_euler_and_johnson():
    check("V10-04")


@given(st.floats(0.02, 0.08), st.floats(0.02, 0.45))
def test_section_agrees_with_an_integral_over_rings(diameter, share):
    wall = share * diameter
    edges = np.linspace(diameter / 2.0 - wall, diameter / 2.0, 4001)
    radius = 0.5 * (edges[:-1] + edges[1:])
    ring = 2.0 * np.pi * radius * np.diff(edges)
    tube = round_tube(diameter, wall)
    assert tube.area == pytest.approx(ring.sum(), rel=1e-6)
    assert tube.polar_moment == pytest.approx((ring * radius**2).sum(), rel=1e-6)
    mean_distance = 2.0 * radius / math.pi  # of a ring from its diameter
    assert tube.plastic_modulus == pytest.approx((ring * mean_distance).sum(), rel=1e-6)


def test_johnson_touches_euler_at_half_the_yield_stress():
    tube = round_tube(0.040, 0.002)
    length = transition_slenderness(MODULUS, YIELD) * tube.radius_of_gyration
    assert euler_load(tube, length, MODULUS) == pytest.approx(0.5 * YIELD * tube.area)
    assert johnson_load(tube, length, MODULUS, YIELD) == pytest.approx(0.5 * YIELD * tube.area)


@given(st.floats(0.05, 6.0), st.floats(1.001, 2.0))
def test_a_longer_strut_never_carries_more(length, longer):
    tube = round_tube(0.038, 0.0025)
    load = buckling_load(tube, length, MODULUS, YIELD)
    assert buckling_load(tube, length * longer, MODULUS, YIELD) < load <= YIELD * tube.area


def test_stress_by_hand():
    tube = round_tube(0.045, 0.0025)
    ten_kilonewtons, one = np.array([1e4]), np.array([1e3])
    nothing = np.array([0.0])
    area, modulus = np.array([tube.area]), np.array([tube.elastic_modulus])

    def stress(axial=nothing, shear=nothing, bending=nothing, torsion=nothing):
        return equivalent_stress(area, modulus, TubeForces(axial, shear, bending, torsion))[0]

    assert stress(axial=ten_kilonewtons) == pytest.approx(1e4 / tube.area)
    assert stress(bending=one) == pytest.approx(1e3 / tube.elastic_modulus)
    assert stress(axial=ten_kilonewtons, bending=one) == pytest.approx(
        1e4 / tube.area + 1e3 / tube.elastic_modulus
    )
    assert stress(torsion=one) == pytest.approx(math.sqrt(3.0) * 1e3 * 0.0225 / tube.polar_moment)
    assert stress(shear=ten_kilonewtons) == pytest.approx(math.sqrt(3.0) * 2.0 * 1e4 / tube.area)
