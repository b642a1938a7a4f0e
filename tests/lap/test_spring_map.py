"""Maps of springs and bars: each cell is a whole lap, and nothing is left out."""

from dataclasses import replace

import pytest

from demo_cars import demo_lane
from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import Chassis, End, Offer
from tintop.event import Weather
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.setup_effect import without_gear_changes
from tintop.lap.spring_map import (
    Varied,
    choices,
    cornering_speed,
    cost_of,
    smooth_fit,
    spring_map,
    trial_on,
)

CAR, CHASSIS, SETUP, DAY = car_by_hand(), chassis_by_hand(), dry_by_hand(), Weather()
LANE = demo_lane(5.0)
TRIAL = trial_on(smooth_fit(CAR, CHASSIS, DAY), LANE, DAY, 25.0)


def offered(price: int | None) -> Chassis:
    """The chassis with its stiff front springs in a shop."""
    soft, stiff, other = CHASSIS.front.springs
    stiff = replace(stiff, offer=Offer(price_cents=price, is_owned=False))
    return replace(CHASSIS, front=replace(CHASSIS.front, springs=(soft, stiff, other)))


def test_every_pair_is_driven_and_the_present_one_is_known() -> None:
    found = spring_map(CHASSIS, SETUP, TRIAL, Varied.SPRINGS)
    assert [choice.words for choice in found.fronts] == ["soft", "unmarked", "stiff"]
    assert len(found.cells) == 9
    now = [cell for cell in found.cells if cell.is_now]
    assert len(now) == 1
    assert now[0].difference == 0.0
    assert found.cell(2, 1).front.words == "stiff"
    assert found.cell(2, 1).rear.words == "unmarked"
    for cell in found.cells:
        changed = car_with_setup(CAR, CHASSIS, cell.setup, DAY)
        assert cell.tried.lap_time == lap_time(without_gear_changes(changed), LANE, DAY)


def test_a_bar_unhooked_is_a_choice_and_holes_run_from_the_softest() -> None:
    found = choices(CHASSIS, End.REAR, Varied.BARS)
    assert [choice.words for choice in found] == [
        "bar, unhooked",
        "bar, hole 1",
        "bar, hole 2",
        "bar, hole 3",
    ]
    assert found[2].on(SETUP).rear.bar_hole == 2
    assert found[2].on(SETUP).front == SETUP.front


def test_what_is_not_owned_costs_and_an_unknown_price_stays_unknown() -> None:
    priced = choices(offered(18000), End.FRONT, Varied.SPRINGS)
    rear = choices(CHASSIS, End.REAR, Varied.SPRINGS)[0]
    assert cost_of(priced[2], rear) == 18000
    assert cost_of(priced[0], rear) == 0
    assert cost_of(choices(offered(None), End.FRONT, Varied.SPRINGS)[2], rear) is None
    cells = spring_map(offered(18000), SETUP, TRIAL, Varied.SPRINGS).cells
    assert sum(not cell.is_owned for cell in cells) == 3


def test_the_map_tells_how_far_it_is_and_can_be_stopped() -> None:
    heard: list[float] = []
    spring_map(CHASSIS, SETUP, TRIAL, Varied.BARS, heard.append)
    assert heard == sorted(heard)
    assert heard[-1] == 1.0

    class Stopped(Exception):
        pass

    def stop(share: float) -> None:
        if share > 0.2:
            raise Stopped

    with pytest.raises(Stopped):
        spring_map(CHASSIS, SETUP, TRIAL, Varied.BARS, stop)


def test_the_usual_cornering_speed_lies_within_the_laps() -> None:
    lap = flying_lap(CAR, LANE, DAY)
    assert lap.speed.min() < cornering_speed(lap) < lap.speed.max()
