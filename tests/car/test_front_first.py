"""One rule for the answer and the turns it advises: what is advised passes, and a step less does not."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benches import demo_bench
from cars import front_driven_hatchback, rear_driven_coupe
from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, turned
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.car.front_first import (
    FrontFirstNeed,
    SetBrakes,
    front_first_need,
    set_brakes,
    turns_for,
    turns_on_each,
)
from tintop.car.lock_order import ONE_SIDED, LockOrder, usual_ask
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
    "brakes.rear_valve_share": number(0.7, 0.03),
    "brakes.bar_front_share": number(0.5, 0.01),
    "engine.friction_pressure": number(1.5e5, 0.3e5),
    "masses.cg_height": number(0.5, 0.02),
}


def standing(bias, turns, car, per_turn):
    car = replace(
        car,
        brakes=replace(
            car.brakes, rear_valve_share=0.7, is_tandem_cylinder=bias is not BAR, bar_front_share=0.5
        ),
    )
    car = replace(car, brakes=turned(car.brakes, bias, turns))
    return SetBrakes(
        car=car,
        bias=bias,
        turns=turns,
        known={**KNOWN, "bias.share_per_turn": number(bias.share_per_turn, per_turn)},
    )


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
    after = brakes.at(advised.at).order(ask)
    assert after == advised.found and bias.least_turns <= advised.at <= bias.most_turns
    assert advised.reached == (after.verdict is Verdict.YES)
    if advised.reached and advised.at - 0.25 >= bias.least_turns:
        assert brakes.at(advised.at - 0.25).order(ask).verdict is not Verdict.YES
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
            assert all(brakes.at(advised.at).order(ask).verdict is Verdict.YES for ask in asks.values())
    assert all(one.turns >= 0.0 for one in turns_on_each(brakes, asks, may_go_rearward=False).values())


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
    assert brakes.step == 0.5 and brakes.known["bias.share_per_turn"].uncertainty == pytest.approx(0.006)
    ask = usual_ask(car, setup.purpose, weather.wetness)
    assert need.turns >= 0.0 and need.at == setup.brake_bias_turns + need.turns
    assert need.found == brakes.at(need.at).order(ask)


def test_what_a_search_may_demand_of_its_own_measure():
    def need(turns, margin, doubt=0.01):
        found = LockOrder(margin=margin, doubt=doubt, pads="cold", rate=1.0, by_pads={})
        return FrontFirstNeed(turns=turns, at=turns, found=found)

    needed = max(MARGIN, ONE_SIDED * 0.01)
    assert need(3.0, 0.05).demanded(0.07) == 0.07  # the very turns
    assert need(0.0, 0.05).demanded(0.07) == pytest.approx(0.07 - (0.05 - needed))  # what is spare may go
    assert need(4.0, 0.01).demanded(0.03) == 0.03  # the end of its room
    assert need(4.0, -0.01).demanded(0.03) == pytest.approx(0.04)  # beyond any reach: the rear is first
