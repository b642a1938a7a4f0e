import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import tyre_formulae as tyre

curves = st.builds(
    tyre.MagicCurve,
    st.floats(5.0, 14.0),
    st.floats(1.2, 1.8),
    st.floats(1e3, 8e3),
    st.floats(-2.0, 0.9),
    st.just(0.0),
    st.just(0.0),
)


@pytest.mark.parametrize("case_id", [f"V3-0{n}" for n in (1, 2, 3, 4, 5, 6, 8)])
def test_published_case(case_id):
    check(case_id)


@given(curves, st.floats(0.0, 0.6))
def test_magic_formula_is_odd_and_never_above_its_peak(curve, slip):
    force = tyre.magic_force(curve, slip)
    assert tyre.magic_force(curve, -slip) == pytest.approx(-force, abs=1e-9)
    assert abs(force) <= curve.d * (1.0 + 1e-12)


@given(curves)
def test_magic_peak_slip_gives_the_peak(curve):
    assert tyre.magic_force(curve, tyre.magic_peak_slip(curve)) == pytest.approx(curve.d, rel=1e-9)


@given(curves)
def test_slope_at_the_origin_is_the_product_of_three_factors(curve):
    slope = tyre.magic_force(curve, 1e-7) / 1e-7
    assert slope == pytest.approx(curve.b * curve.c * curve.d, rel=1e-4)


@given(st.floats(-0.2, 0.0), st.floats(1000.0, 4000.0), st.floats(0.0, 0.9))
def test_lateral_transfer_never_gains_an_axle_grip(degression, load, share):
    moved = share * load

    def peak(one: float) -> float:
        return tyre.load_degressive_peak(1.1, one, 3000.0, degression)

    loss = 2.0 * peak(load) - peak(load + moved) - peak(load - moved)
    assert loss == pytest.approx(2.0 * 1.1 * -degression * moved**2 / 3000.0, rel=1e-6, abs=1e-6)


@given(st.floats(1.2, 4.0), st.floats(0.0, 3.0))
def test_peaked_shape_is_highest_at_one(shape, share):
    assert tyre.peaked_shape(1.0, shape) == pytest.approx(1.0)
    assert tyre.peaked_shape(share, shape) <= 1.0 + 1e-12


@given(st.floats(-1.0, 1.0))
def test_the_ellipse_is_full_beside_any_longitudinal_force(share):
    side = tyre.ellipse_side_force(share * 3000.0, 3000.0, 2800.0)
    assert tyre.ellipse_use(share * 3000.0, side, 3000.0, 2800.0) == pytest.approx(1.0)


@given(st.floats(-0.5, 0.5))
def test_brush_is_the_printed_cubic_until_it_slides(slip):
    stiffness, grip = 80e3, 4e3
    force = tyre.brush_force(stiffness, grip, slip)
    if abs(slip) < tyre.brush_slide_slip(stiffness, grip):
        cubic = (
            stiffness * slip
            - stiffness**2 * slip * abs(slip) / (3.0 * grip)
            + stiffness**3 * slip**3 / (27.0 * grip**2)
        )
        assert force == pytest.approx(cubic, abs=1e-6)
    else:
        assert force == pytest.approx(math.copysign(grip, slip))
