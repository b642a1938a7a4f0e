"""Which axle locks first: the same as the whole balance, and never yes where it is not proven."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cars import front_driven_hatchback
from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, brake_balance, usual_friction
from tintop.car.lock_order import (
    ONE_SIDED,
    LockOrder,
    known_as_set,
    least_safe,
    lock_order,
    pads_of,
    usual_ask,
)
from tintop.car.setup import Purpose
from tintop.known import Known, Origin
from tintop.physics.braking import braking_at_locking, ideal_front_brake_share

CAR = front_driven_hatchback()
KNOWN = {"masses.cg_height": Known(value=0.5, uncertainty=0.03, origin=Origin.ESTIMATED)}


DRY = BrakeAsk(friction=1.0, front_temp=350.0, rear_temp=230.0)


def number(value, uncertainty, origin=Origin.ESTIMATED):
    return Known(value=value, uncertainty=uncertainty, origin=origin)


def with_valve(share):
    return replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=share))


temps = st.floats(20.0, 600.0)


@given(st.floats(0.25, 1.3), temps, temps, st.floats(0.0, 40.0), st.floats(0.3, 1.0))
def test_it_is_the_whole_balances_and_the_closed_forms(friction, front, rear, fuel, valve):
    car = replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=valve))
    ask = BrakeAsk(friction=friction, front_temp=front, rear_temp=rear, fuel_mass=fuel)
    order = lock_order(car, ask, KNOWN)
    whole = brake_balance(car, pads_of(ask)[order.pads], KNOWN)
    assert order.margin == whole.margin and order.rate == whole.at_limit.rate
    assert order.doubt >= whole.doubt
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


def test_the_devices_own_doubt_grows_with_the_turns_and_is_counted():
    """Worked by hand: a share moved by ten points, each turn known to three parts in ten: three points."""
    known = {"brakes.rear_valve_share": number(0.7, 0.04), "bias.share_per_turn": number(0.02, 0.006)}
    set_ = known_as_set(with_valve(0.8), known)["brakes.rear_valve_share"]
    assert (set_.value, set_.uncertainty) == (0.8, pytest.approx(0.05))  # 3, 4, 5
    stands = known_as_set(with_valve(0.7), known)["brakes.rear_valve_share"]
    assert stands.uncertainty == pytest.approx(0.04)
    alone = {"brakes.rear_valve_share": known["brakes.rear_valve_share"]}
    assert lock_order(with_valve(0.8), DRY, known).doubt > lock_order(with_valve(0.8), DRY, alone).doubt
    bar = {"brakes.bar_front_share": number(0.5, 0.01), "bias.share_per_turn": number(0.02, 0.004)}
    moved = replace(CAR, brakes=replace(CAR.brakes, is_tandem_cylinder=False, bar_front_share=0.6))
    assert known_as_set(moved, bar)["brakes.bar_front_share"].uncertainty == pytest.approx(
        math.hypot(0.01, 0.02)
    )


def test_the_worst_of_cold_working_and_hot_pads_decides():
    found = lock_order(CAR, DRY)
    margins = {pads: brake_balance(CAR, ask).margin for pads, ask in pads_of(DRY).items()}
    assert found.by_pads == pytest.approx(margins)
    assert found.margin == min(margins.values()) == margins[found.pads]
    assert found.needed == MARGIN


def test_cold_pads_that_lock_the_rear_first_are_never_a_yes():
    rear = replace(CAR.brakes.rear.pad, frictions=(0.5, *CAR.brakes.rear.pad.frictions[1:]))
    brakes = replace(CAR.brakes, rear=replace(CAR.brakes.rear, pad=rear), rear_valve_share=0.5)
    car, ask = replace(CAR, brakes=brakes), replace(DRY, friction=0.9)
    found = lock_order(car, ask)
    assert brake_balance(car, ask).margin > MARGIN
    assert found.pads == "cold" and found.verdict is Verdict.NO


def test_pads_hot_are_no_cooler_than_they_work():
    hot = pads_of(DRY)["hot"]
    assert (hot.front_temp, hot.rear_temp) == (600.0, 400.0)
    hotter = pads_of(replace(DRY, front_temp=680.0, rear_temp=450.0))["hot"]
    assert (hotter.front_temp, hotter.rear_temp) == (680.0, 450.0)
    assert pads_of(replace(DRY, front_temp=-5.0))["cold"].front_temp == -5.0


def test_a_rear_valve_that_nobody_wrote_is_taken_as_none():
    written = {"brakes.rear_valve_share": number(0.95, 0.05)}
    assumed = {"brakes.rear_valve_share": number(0.95, 0.05, Origin.ASSUMED)}
    assert least_safe(with_valve(0.95), written).brakes.rear_valve_share == 0.95
    assert least_safe(with_valve(0.95), assumed).brakes.rear_valve_share == 1.0
    assert least_safe(with_valve(0.87), assumed).brakes.rear_valve_share == pytest.approx(0.92)
    assert lock_order(with_valve(0.95), DRY, assumed).margin == lock_order(with_valve(1.0), DRY).margin
    assert known_as_set(with_valve(0.95), assumed)["brakes.rear_valve_share"].uncertainty == 0.0
