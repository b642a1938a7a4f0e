import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import load_transfer

CAR = {
    "weight": 11000.0,
    "front_share": 0.6,
    "cg_height": 0.5,
    "roll_centre_front": 0.05,
    "roll_centre_rear": 0.12,
    "track_front": 1.5,
    "track_rear": 1.48,
    "roll_stiffness_front": 50e3,
    "roll_stiffness_rear": 30e3,
}
sides = st.floats(-15.0, 15.0)


@pytest.mark.parametrize("case_id", ["V1-06", "V1-08", "V8-10"])
def test_published_case(case_id):
    check(case_id)


@given(sides)
def test_moments_about_the_ground_balance_exactly(side):
    moved = load_transfer.lateral_load_transfer(**CAR, acceleration_y=side, with_weight_moment=False)
    overturning = CAR["weight"] / 9.80665 * side * CAR["cg_height"]
    assert moved.front * 1.5 + moved.rear * 1.48 == pytest.approx(overturning, rel=1e-9, abs=1e-9)


@given(sides)
def test_left_and_right_corners_mirror(side):
    left = load_transfer.lateral_load_transfer(**CAR, acceleration_y=side)
    right = load_transfer.lateral_load_transfer(**CAR, acceleration_y=-side)
    assert left.front == pytest.approx(-right.front, abs=1e-9)
    assert left.rear == pytest.approx(-right.rear, abs=1e-9)


@given(st.floats(1.05, 3.0))
def test_a_stiffer_front_bar_moves_transfer_to_the_front(factor):
    before = load_transfer.lateral_load_transfer(**CAR, acceleration_y=9.0)
    stiffer = CAR | {"roll_stiffness_front": factor * CAR["roll_stiffness_front"]}
    after = load_transfer.lateral_load_transfer(**stiffer, acceleration_y=9.0)
    assert after.front_share > before.front_share
    assert after.roll < before.roll


@given(st.floats(-12.0, 6.0))
def test_axle_loads_carry_the_weight_whatever_the_acceleration(along):
    front, rear = load_transfer.axle_loads(11000.0, 2.6, 1.1, 0.5, along, 9.81)
    level_front, _ = load_transfer.axle_loads(11000.0, 2.6, 1.1, 0.5, 0.0, 9.81)
    assert front + rear == pytest.approx(11000.0, rel=1e-12)
    assert (front > level_front) == (along < 0.0) or front == pytest.approx(level_front, abs=1e-6)


@given(st.floats(-10.0, 10.0), st.floats(-14.0, 14.0), st.floats(0.0, 3000.0), st.floats(0.0, 3000.0))
def test_four_wheels_carry_weight_and_downforce(along, side, front, rear):
    loads = load_transfer.wheel_loads(
        mass=1200.0,
        cg_to_front=1.5,
        cg_to_rear=1.4,
        cg_height=0.4,
        track_mean=1.55,
        roll_share_front=0.55,
        downforce_front=front,
        downforce_rear=rear,
        acceleration_x=along,
        acceleration_y=side,
    )
    assert sum(loads) == pytest.approx(1200.0 * 9.80665 + front + rear, rel=1e-12)
    outer = loads.front_right + loads.rear_right - loads.front_left - loads.rear_left
    assert outer * 0.5 * 1.55 == pytest.approx(1200.0 * side * 0.4, rel=1e-9, abs=1e-6)
