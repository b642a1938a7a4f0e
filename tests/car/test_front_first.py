"""One rule for the answer and the turns it advises: what is advised passes, and a step less does not."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benches import demo_bench
from cars import front_driven_hatchback, rear_driven_coupe
from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, brake_balance, turned
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.car.front_first import (
    FrontFirst,
    FrontFirstNeed,
    SetBrakes,
    front_first,
    front_first_need,
    pads_of,
    set_brakes,
    turns_for,
    turns_on_each,
)
from tintop.car.lock_order import ONE_SIDED, usual_ask
from tintop.known import Known, Origin

CAR = front_driven_hatchback()
DRY = BrakeAsk(friction=1.0, front_temp=350.0, rear_temp=230.0)
WET = BrakeAsk(friction=0.5, front_temp=200.0, rear_temp=130.0)
VALVE = BrakeBias(device=BiasDevice.VALVE, share_per_turn=0.04, least_turns=-6.0, most_turns=16.0)
BAR = BrakeBias(device=BiasDevice.BAR, share_per_turn=0.01, least_turns=-12.0, most_turns=25.0)


def number(value, uncertainty, origin=Origin.ESTIMATED):
    return Known(value=value, uncertainty=uncertainty, origin=origin)


KNOWN = {
    "brakes.front.pad.frictions": number(1.0, 0.06),
    "brakes.rear.pad.frictions": number(1.0, 0.06),
    "brakes.rear_valve_share": number(0.8, 0.03),
    "brakes.bar_front_share": number(0.5, 0.01),
    "engine.friction_pressure": number(1.5e5, 0.3e5),
    "masses.cg_height": number(0.5, 0.02),
}


def standing(bias, turns, car=CAR, per_turn=0.0, known=KNOWN):
    car = replace(
        car,
        brakes=replace(
            car.brakes, rear_valve_share=0.7, is_tandem_cylinder=bias is not BAR, bar_front_share=0.5
        ),
    )
    car = replace(car, brakes=turned(car.brakes, bias, turns))
    return SetBrakes(car=car, bias=bias, turns=turns, known=known, per_turn_doubt=per_turn)


cars = st.sampled_from([CAR, rear_driven_coupe()])
devices = st.sampled_from([VALVE, BAR])


@settings(max_examples=25, deadline=None)
@given(st.floats(0.3, 1.2), devices, st.floats(-6.0, 6.0), cars, st.floats(0.0, 0.01))
def test_what_is_advised_is_accepted_by_the_same_rule_and_a_step_less_is_not(
    friction, bias, turns, car, per_turn
):
    ask = replace(DRY, friction=friction)
    brakes = standing(bias, turns, car, per_turn)
    advised = turns_for(brakes, ask)
    after = front_first(brakes.at(advised.at), ask)
    assert after == advised.found and bias.least_turns <= advised.at <= bias.most_turns
    assert advised.reached == (after.verdict is Verdict.YES)
    if advised.reached and advised.at - 0.25 >= bias.least_turns:
        assert front_first(brakes.at(advised.at - 0.25), ask).verdict is not Verdict.YES
    if not advised.reached:
        assert advised.at == bias.most_turns


@settings(max_examples=25, deadline=None)
@given(st.floats(0.6, 1.2), devices, st.floats(-6.0, 6.0), cars)
def test_a_turn_to_the_rear_in_the_wet_is_never_offered_but_where_the_dry_road_passes_too(
    friction, bias, turns, car
):
    brakes = standing(bias, turns, car, 0.004)
    asks = {"dry": replace(DRY, friction=friction), "wet": replace(WET, friction=0.48 * friction)}
    for advised in turns_on_each(brakes, asks, may_go_rearward=True).values():
        if advised.turns < 0.0:
            assert all(
                front_first(brakes.at(advised.at), ask).verdict is Verdict.YES for ask in asks.values()
            )
    assert all(one.turns >= 0.0 for one in turns_on_each(brakes, asks, may_go_rearward=False).values())


def test_the_devices_own_doubt_grows_with_the_turns_and_is_counted():
    """Worked by hand: a share moved by ten turns of 0.6 points each is in doubt by six points."""
    there = standing(VALVE, -5.0, per_turn=0.006)
    share = there.car.brakes.rear_valve_share
    assert share == pytest.approx(0.9)
    known = there.known_here["brakes.rear_valve_share"]
    assert (known.value, known.uncertainty) == (share, pytest.approx(math.hypot(0.03, 0.03)))
    by_document = replace(there, per_turn_doubt=0.0)
    assert front_first(there, DRY).doubt > front_first(by_document, DRY).doubt
    bar = standing(BAR, 10.0, per_turn=0.002)
    assert bar.known_here["brakes.bar_front_share"].uncertainty == pytest.approx(math.hypot(0.01, 0.02))
    unwritten = replace(there, known={})
    assert unwritten.known_here["brakes.rear_valve_share"].uncertainty == pytest.approx(0.03)


def test_the_worst_of_cold_working_and_hot_pads_decides():
    brakes = SetBrakes(car=CAR)
    found = front_first(brakes, DRY)
    margins = {pads: brake_balance(CAR, ask).margin for pads, ask in pads_of(DRY).items()}
    assert found.by_pads == pytest.approx(margins)
    assert found.margin == min(margins.values()) == margins[found.pads]
    assert found.rate == pytest.approx(brake_balance(CAR, pads_of(DRY)[found.pads]).at_limit.rate)
    assert found.needed == MARGIN


def test_cold_pads_that_lock_the_rear_first_are_never_a_yes():
    rear = replace(CAR.brakes.rear.pad, frictions=(0.5, *CAR.brakes.rear.pad.frictions[1:]))
    brakes = replace(CAR.brakes, rear=replace(CAR.brakes.rear, pad=rear), rear_valve_share=0.5)
    ask = replace(DRY, friction=0.9)
    found = front_first(SetBrakes(car=replace(CAR, brakes=brakes)), ask)
    assert brake_balance(replace(CAR, brakes=brakes), ask).margin > MARGIN
    assert found.pads == "cold" and found.verdict is Verdict.NO


def test_pads_hot_are_no_cooler_than_they_work():
    hot = pads_of(DRY)["hot"]
    assert (hot.front_temp, hot.rear_temp) == (600.0, 400.0)
    hotter = pads_of(replace(DRY, front_temp=680.0, rear_temp=450.0))["hot"]
    assert (hotter.front_temp, hotter.rear_temp) == (680.0, 450.0)
    assert pads_of(replace(DRY, front_temp=-5.0))["cold"].front_temp == -5.0


def test_a_rear_valve_that_nobody_wrote_is_taken_as_none():
    written = SetBrakes(car=CAR, known={"brakes.rear_valve_share": number(0.95, 0.05)})
    assumed = SetBrakes(
        car=replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=0.95)),
        known={"brakes.rear_valve_share": number(0.95, 0.05, Origin.ASSUMED)},
    )
    assert written.braked is written.car
    assert assumed.braked.brakes.rear_valve_share == 1.0
    open_valve = replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=1.0))
    assert front_first(assumed, DRY).margin == front_first(SetBrakes(car=open_valve), DRY).margin
    turned_in = SetBrakes(car=assumed.car, bias=VALVE, known=assumed.known).at(2.0)
    assert turned_in.braked.brakes.rear_valve_share == pytest.approx(1.0 - 2.0 * 0.04)


def test_nothing_to_turn_is_none():
    assert turns_for(SetBrakes(car=CAR), DRY) is None
    assert turns_on_each(SetBrakes(car=CAR), {"dry": DRY}, may_go_rearward=True) == {"dry": None}


@pytest.mark.parametrize("name", ["dry", "wet", "road"])
def test_the_need_of_a_set_up_is_the_turn_of_its_own_road_and_never_rearward(name):
    bench = demo_bench()
    setup = bench.setup(name)
    weather = bench.weather(setup.purpose)
    known = bench.described.known, bench.chassis_known
    need = front_first_need(bench.described.car, bench.chassis, setup, weather, *known)
    car = car_with_setup(bench.described.car, bench.chassis, setup, weather)
    brakes = set_brakes(car, bench.chassis, setup, *known)
    assert brakes.step == 0.5 and brakes.per_turn_doubt == pytest.approx(0.006)
    ask = usual_ask(car, setup.purpose, weather.wetness)
    assert need.turns >= 0.0 and need.at == setup.brake_bias_turns + need.turns
    assert need.found == front_first(brakes.at(need.at), ask)


def test_what_a_search_may_demand_of_its_own_measure():
    def need(turns, margin, doubt=0.01):
        found = FrontFirst(margin=margin, doubt=doubt, pads="cold", rate=1.0, by_pads={})
        return FrontFirstNeed(turns=turns, at=turns, found=found)

    needed = max(MARGIN, ONE_SIDED * 0.01)
    assert need(3.0, 0.05).demanded(0.07) == 0.07  # the very turns
    assert need(0.0, 0.05).demanded(0.07) == pytest.approx(0.07 - (0.05 - needed))  # what is spare may go
    assert need(4.0, 0.01).demanded(0.03) == 0.03  # the end of its room
    assert need(4.0, -0.01).demanded(0.03) == pytest.approx(0.04)  # beyond any reach: the rear is first
