"""Wear on the road: what must hold of any such estimate, and the example of the theory page by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.tread_wear import cornering_stiffness, edge_load_share, road_wear, slip_work
from tintop.physics.tyre_formulae import brush_slide_slip

WHEEL = {
    "load": 3300.0, "friction": 1.2, "slide_slip": 0.16, "wear_rate": 22e-12, "radius": 0.298,
    "tyre_rate": 2.0e5,
}  # fmt: skip


def test_the_example_of_the_theory_page_by_hand():
    stiffness = cornering_stiffness(1.2, 3300.0, 0.16)
    assert stiffness == pytest.approx(74250.0)
    sideways, along = slip_work(stiffness, 0.0, math.radians(-3.0), 0.09, 0.298)
    assert sideways == pytest.approx(0.962, abs=0.001)
    assert along == pytest.approx(1.671, abs=0.001)
    assert edge_load_share(math.radians(-3.0), 3300.0, 2.0e5) == pytest.approx(0.2856, abs=1e-4)
    wear = road_wear(**WHEEL, camber=math.radians(-3.0), toe=0.0)
    assert wear.inner * 1e9 == pytest.approx(0.499, abs=0.001)  # mm in 1000 km
    assert wear.middle * 1e9 == pytest.approx(0.165, abs=1e-6)


def test_stiffness_is_that_of_the_brush_whose_slide_slip_it_is():
    assert brush_slide_slip(cornering_stiffness(1.1, 4000.0, 0.14), 1.1 * 4000.0) == pytest.approx(0.14)


def test_upright_and_straight_it_wears_evenly_as_road_tyres_do():
    wear = road_wear(**{**WHEEL, "wear_rate": 20e-12}, camber=0.0, toe=0.0)
    assert wear.inner == wear.middle == wear.outer == pytest.approx(0.15e-9)


@given(camber=st.floats(-0.09, 0.0), more=st.floats(0.001, 0.03), toe=st.floats(-0.01, 0.01))
def test_more_camber_takes_more_off_the_inner_edge_and_never_less_than_off_the_outer(camber, more, toe):
    less, further = (road_wear(**WHEEL, camber=lean, toe=toe) for lean in (camber, camber - more))
    assert further.inner > less.inner
    assert further.inner >= further.outer
    assert further.middle == less.middle


@given(toe=st.floats(-0.01, 0.01), more=st.floats(0.0005, 0.01))
def test_toe_wears_the_whole_tread_in_or_out_alike(toe, more):
    wear = road_wear(**WHEEL, camber=-0.03, toe=toe)
    assert wear == road_wear(**WHEEL, camber=-0.03, toe=-toe)
    wider = road_wear(**WHEEL, camber=-0.03, toe=math.copysign(abs(toe) + more, toe))
    assert all(b > a for a, b in zip(wear, wider, strict=True))
