import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import weighing
from tintop.physics.weighing import CornerWeights

scales = st.floats(150.0, 450.0)
corners = st.builds(CornerWeights, scales, scales, scales, scales)


@pytest.mark.parametrize("case_id", ["V13-01", "V13-02", "V13-03"])
def test_published_case(case_id):
    check(case_id)


@given(st.floats(0.3, 0.8), st.floats(0.2, 1.0), st.floats(1.0, 1.6))
def test_lifting_recovers_the_height(height, lift, to_front):
    raised = weighing.front_load_lifted(11000.0, 2.6, to_front, height, 0.3, lift)
    gain = raised - 11000.0 * (2.6 - to_front) / 2.6
    found = weighing.cg_height_from_lift(11000.0, 2.6, 0.3, lift, gain)
    assert found == pytest.approx(height, abs=1e-9)


@given(st.floats(0.3, 0.8), st.floats(0.2, 1.0), st.floats(1.0, 1.6))
def test_lifted_load_is_the_statics_of_the_turned_car(height, lift, to_front):
    """Moments about the rear contact point, the car's points turned by the angle between its hubs."""
    angle = math.asin(lift / 2.6)
    base = 2.6 * math.cos(angle)
    cg = to_front * math.cos(angle) - (height - 0.3) * math.sin(angle)
    front = 11000.0 * (base - cg) / base
    found = weighing.front_load_lifted(11000.0, 2.6, to_front, height, 0.3, lift)
    assert found == pytest.approx(front, rel=1e-9)


@given(corners)
def test_cross_can_be_made_even_without_moving_axle_or_side(weights):
    after = weighing.with_cross_moved(weights, weighing.to_even_cross(weights))
    assert after.cross_share == pytest.approx(0.5, abs=1e-12)
    assert after.front_share == pytest.approx(weights.front_share, abs=1e-12)
    assert after.left_share == pytest.approx(weights.left_share, abs=1e-12)


@given(corners)
def test_a_mirrored_car_has_its_centre_mirrored(weights):
    other = CornerWeights(weights.front_right, weights.front_left, weights.rear_right, weights.rear_left)
    here = weighing.cg_left_of_middle(weights, 1.5, 1.45)
    assert weighing.cg_left_of_middle(other, 1.5, 1.45) == pytest.approx(-here, abs=1e-12)
