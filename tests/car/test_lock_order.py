"""Which axle locks first: the same as the whole balance, and never yes where it is not proven."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cars import front_driven_hatchback
from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, brake_balance, usual_friction
from tintop.car.lock_order import ONE_SIDED, LockOrder, lock_order, order_of, usual_ask
from tintop.car.setup import Purpose
from tintop.known import Known, Origin
from tintop.physics.braking import braking_at_locking, ideal_front_brake_share

CAR = front_driven_hatchback()
KNOWN = {"masses.cg_height": Known(value=0.5, uncertainty=0.03, origin=Origin.ESTIMATED)}


temps = st.floats(20.0, 600.0)


@given(st.floats(0.25, 1.3), temps, temps, st.floats(0.0, 40.0), st.floats(0.3, 1.0))
def test_it_is_the_whole_balances_and_the_closed_forms(friction, front, rear, fuel, valve):
    car = replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=valve))
    ask = BrakeAsk(friction=friction, front_temp=front, rear_temp=rear, fuel_mass=fuel)
    order, whole = lock_order(car, ask, KNOWN), brake_balance(car, ask, KNOWN)
    assert order == order_of(whole)
    share = whole.at_limit.front_share
    locks = braking_at_locking(whole.braked, share, friction)
    assert order.margin == pytest.approx(share - ideal_front_brake_share(whole.braked, min(locks)), abs=1e-9)
    if abs(order.margin) > 1e-9:
        assert order.first == ("front" if locks[0] < locks[1] else "rear")


@given(st.floats(-0.3, 0.3), st.floats(0.0, 0.1))
def test_yes_is_said_only_with_two_points_and_the_doubt_in_hand(margin, doubt):
    verdict = LockOrder(margin=margin, doubt=doubt).verdict
    assert (verdict is Verdict.NO) == (margin < 0.0)
    assert (verdict is Verdict.YES) == (margin >= max(MARGIN, ONE_SIDED * doubt))
    if verdict is Verdict.CLOSE:
        assert ONE_SIDED * doubt <= margin < MARGIN


def test_what_is_asked_is_the_roads_grip_and_pads_as_warm_as_the_day_makes_them():
    dry, wet, road = (
        usual_ask(CAR, Purpose.DRY, 0.0), usual_ask(CAR, Purpose.DRY, 1.0), usual_ask(CAR, Purpose.ROAD, 0.0)
    )  # fmt: skip
    assert wet == usual_ask(CAR, Purpose.ROAD, 1.0) == usual_ask(CAR, Purpose.WET, 1.0)
    assert usual_ask(CAR, Purpose.WET, 0.0) == dry
    assert dry.friction == road.friction == usual_friction(CAR, 0.0)
    assert wet.friction == usual_friction(CAR, 1.0) < dry.friction
    assert dry.front_temp > wet.front_temp > road.front_temp
    assert dry.fuel_mass == 0.0
    assert usual_ask(CAR, Purpose.DRY, 0.0, fuel_mass=20.0, valve_knee=2e6) == replace(
        dry, fuel_mass=20.0, valve_knee=2e6
    )
