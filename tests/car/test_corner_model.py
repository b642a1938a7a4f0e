"""Perch turns: by hand, as statics allows, and within what turns."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setups_by_hand import car_by_hand, chassis_by_hand, setup_by_hand
from tintop.car.chassis import CORNERS
from tintop.car.corner_model import corner_model, height_per_turn, perch_turns
from tintop.errors import BadInput

CAR, CHASSIS, SETUP = car_by_hand(), chassis_by_hand(), setup_by_hand()
MODEL = corner_model(CAR, CHASSIS, SETUP)
LOADS = {"FL": 345.0, "FR": 352.0, "RL": 219.0, "RR": 226.0}
SKEWED = {"FL": 365.0, "FR": 332.0, "RL": 199.0, "RR": 246.0}


def test_the_model_stands_on_springs_perches_and_bars():
    assert MODEL.four.wheel_rate_front == pytest.approx(30e3 * 0.95**2)
    assert MODEL.lift_per_turn == pytest.approx((1.5e-3 / 0.95,) * 2 + (1.5e-3 / 0.7,) * 2)
    assert MODEL.four.bar_front == 0.0 and MODEL.bars == ("bar", "bar")
    hooked = corner_model(CAR, CHASSIS, SETUP, has_bars=True)
    assert hooked.four.bar_front == pytest.approx(1e4)


@given(
    st.tuples(*(st.floats(180.0, 400.0) for _ in CORNERS)),
    st.floats(0.47, 0.53),
)
def test_quarter_turns_come_near_the_target_and_keep_the_sums(loads, target):
    found = perch_turns(MODEL, dict(zip(CORNERS, loads, strict=True)), target)
    assert found.after == pytest.approx(target, abs=2e-3)
    assert all(each * 4.0 == round(each * 4.0) for each in found.turns)
    assert sum(found.loads) == pytest.approx(sum(loads))
    assert found.loads[0] + found.loads[1] == pytest.approx(loads[0] + loads[1], abs=1e-6)
    assert max(abs(each) for each in found.heights) < 1.2e-3


def test_too_little_on_the_diagonal_raises_its_perches_and_lowers_the_others():
    found = perch_turns(MODEL, SKEWED, 0.5)
    assert found.turns[0] < 0.0 < found.turns[1]
    assert found.turns[3] < 0.0 < found.turns[2]
    assert found.before == pytest.approx(531.0 / 1142.0)


def test_a_diagonal_pair_turns_twice_as_far():
    four, pair = perch_turns(MODEL, SKEWED, 0.5), perch_turns(MODEL, SKEWED, 0.5, ("FR", "RL"))
    assert pair.turns[0] == pair.turns[3] == 0.0
    assert pair.exact[1] > 1.5 * four.exact[1]
    assert pair.after == pytest.approx(0.5, abs=2e-3)


def test_bars_left_hooked_take_part_of_every_turn():
    """The heights held, the tyres give under the load moved, and a bar works against it."""
    hooked = perch_turns(corner_model(CAR, CHASSIS, SETUP, has_bars=True), SKEWED, 0.5)
    assert abs(hooked.exact[0]) > abs(perch_turns(MODEL, SKEWED, 0.5).exact[0])


def test_a_turn_up_lifts_its_own_corner_most():
    heights = height_per_turn(MODEL, "FL")
    assert heights[0] == max(heights) > 0.0
    assert heights[0] < MODEL.lift_per_turn[0]


def test_a_perch_that_does_not_turn_is_not_turned():
    fixed = replace(CHASSIS, rear=replace(CHASSIS.rear, perch_pitch=None))
    model = corner_model(CAR, fixed, SETUP)
    found = perch_turns(model, SKEWED, 0.5)
    assert found.corners == ("FL", "FR") and found.turns[2] == found.turns[3] == 0.0
    assert found.after == pytest.approx(0.5, abs=3e-3)
    with pytest.raises(BadInput, match="perch RL: found one that does not turn; expected one of FL, FR"):
        perch_turns(model, SKEWED, 0.5, ("FR", "RL"))
    none = corner_model(CAR, replace(fixed, front=replace(CHASSIS.front, perch_pitch=None)), SETUP)
    with pytest.raises(BadInput, match="none that turns"):
        perch_turns(none, SKEWED, 0.5)


@pytest.mark.parametrize("target", [0.2, 50.0, float("nan")])
def test_a_target_no_car_has_is_refused(target):
    with pytest.raises(BadInput, match="target cross-weight"):
        perch_turns(MODEL, LOADS, target)
