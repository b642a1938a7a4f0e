"""The search of clicks: as good as trying every one, and what is as good."""

import math
from dataclasses import replace
from itertools import product

import pytest

from dampers_by_hand import chassis_measured, setup_measured, side
from setups_by_hand import car_by_hand
from tintop.car.chassis import Damper, End
from tintop.car.click_search import (
    AS_GOOD,
    Clicks,
    Wanted,
    best_clicks,
    pairs_of,
    rated_as,
    with_clicks,
)
from tintop.car.ride_quality import ride_car, ride_quality
from tintop.errors import BadInput
from tintop.physics.road_profile import RoadClass

CAR, SETUP = car_by_hand(), setup_measured(bump=1, rebound=1)
FEW = Damper(name="measured", bump=side(100.0, 900.0, 2), rebound=side(200.0, 1600.0, 2))


def chassis(damper: Damper):
    whole = chassis_measured()
    return replace(
        whole,
        front=replace(whole.front, dampers=(damper,)),
        rear=replace(whole.rear, dampers=(damper,)),
    )


def off_balance(clicks: Clicks) -> float:
    """What strokes off the balance of 1.7 cost: forces of one damper at any speed stand as their clicks."""
    bump, rebound = 100.0 + 400.0 * clicks.bump, 200.0 + 700.0 * clicks.rebound
    return 0.05 * math.log(rebound / bump / 1.7) ** 2


@pytest.mark.parametrize(("road", "worth"), [(RoadClass.A, 0.0), (RoadClass.C, 0.5)])
def test_as_good_as_trying_every_click(road, worth):
    """All 81 clicks one by one by the whole ride model, by the same rule; missed by 0.2 % at most."""
    few, speed = chassis(FEW), 30.0
    ride = ride_car(CAR, few, SETUP)
    clicks = [Clicks(bump=one, rebound=other) for one, other in product(range(3), repeat=2)]
    merits = {}
    for front, rear in product(clicks, repeat=2):
        quality = ride_quality(CAR, few, with_clicks(SETUP, front, rear), road, speed)
        rated = rated_as(ride, quality, front, rear)
        merits[front, rear] = math.log(rated.variation) + worth * math.log(rated.comfort)
    wanted = Wanted(comfort_worth=worth, rebound_to_bump=1.7)
    rules = {pair: merit + sum(map(off_balance, pair)) for pair, merit in merits.items()}
    best = best_clicks(CAR, few, SETUP, road, speed, wanted).best
    assert rules[best.front, best.rear] <= min(rules.values()) + 2e-3
    mapped = math.log(best.variation) + worth * math.log(best.comfort)
    assert mapped == pytest.approx(merits[best.front, best.rear], abs=2e-3)


def test_every_pair_of_both_ends_is_rated():
    found = best_clicks(
        CAR, chassis(FEW), SETUP, RoadClass.A, 30.0, Wanted(comfort_worth=0.0, rebound_to_bump=1.5)
    )
    assert len(found.rated) == 2 * 9
    low, high = found.as_good[End.FRONT, "bump"]
    assert 0 <= low <= found.best.front.bump <= high <= 2


def test_one_knob_has_as_many_choices_as_clicks():
    linked = replace(FEW, is_linked=True)
    assert [pair.bump for pair in pairs_of(linked)] == [0, 1, 2]
    found = best_clicks(
        CAR, chassis(linked), SETUP, RoadClass.A, 30.0, Wanted(comfort_worth=0.0, rebound_to_bump=1.5)
    )
    assert found.best.front.bump == found.best.front.rebound
    assert len(found.rated) == 6


def test_more_worth_of_comfort_never_asks_for_less_of_it():
    comforts = [
        best_clicks(
            CAR,
            chassis_measured(),
            SETUP,
            RoadClass.C,
            22.0,
            Wanted(comfort_worth=worth, rebound_to_bump=2.0),
        ).best.comfort
        for worth in (0.0, 0.5, 2.0)
    ]
    assert comforts[0] > comforts[1] > comforts[2]


def test_unknown_dampers_are_refused():
    bare = chassis(FEW)
    bare = replace(bare, rear=replace(bare.rear, dampers=()))
    nameless = replace(SETUP, rear=replace(SETUP.rear, damper=""))
    with pytest.raises(BadInput, match="rear dampers"):
        best_clicks(CAR, bare, nameless, RoadClass.A, 30.0, Wanted(comfort_worth=0.0, rebound_to_bump=1.5))
    assert AS_GOOD < 0.05
