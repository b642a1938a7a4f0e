"""Ballast to the class minimum at the finish: how much, where, and its bolts."""

from dataclasses import replace

import pytest

from setups_by_hand import car_by_hand, chassis_by_hand
from tintop.car.ballast_plan import Centre, ballast_plan, bolts_needed
from tintop.car.chassis import BallastPlace
from tintop.errors import BadInput

CAR = car_by_hand()
FOOTWELL = BallastPlace(name="footwell", x=-1.05, y=-0.38, z=0.26, most=25.0)
WELL = BallastPlace(name="spare wheel well", x=-2.95, y=0.0, z=0.33, most=20.0)
CHASSIS = replace(chassis_by_hand(), least_mass=1140.0, ballast_places=(FOOTWELL, WELL))
CENTRE = Centre(x=-0.99, y=0.03, z=0.5)


def plan(mass=1122.0, doubt=1.0, finish_fuel=0.0, chassis=CHASSIS):
    return ballast_plan(CAR, chassis, mass, CENTRE, doubt, finish_fuel)


def test_what_is_missing_counts_twice_the_doubt_and_goes_in_half_kilograms():
    found = plan()
    assert found.margin == pytest.approx(-18.0)
    assert found.need == pytest.approx(20.0)
    assert sum(each.mass for each in found.placed) == pytest.approx(20.0)
    assert all(2.0 * each.mass == round(2.0 * each.mass) for each in found.placed)


def test_fuel_left_at_the_finish_saves_ballast():
    found = plan(finish_fuel=6.0)
    assert found.need == pytest.approx(14.0)
    assert found.before.x < CENTRE.x  # the tank lies behind


def test_a_car_heavy_to_the_left_takes_it_on_the_right():
    found = plan()
    assert found.placed[0].place is FOOTWELL
    assert abs(found.after.y) < abs(found.before.y)
    assert [each.place for each in found.alone] == [WELL]
    by_hand = (1122.0 * CENTRE.x + 20.0 * FOOTWELL.x) / 1142.0
    assert found.after.x == pytest.approx(by_hand)


def test_over_the_minimum_nothing_is_placed():
    found = plan(mass=1150.0)
    assert found.margin == pytest.approx(10.0) and found.need == 0.0 and not found.placed


def test_without_a_minimum_there_is_no_plan_and_without_room_a_refusal():
    assert plan(chassis=replace(CHASSIS, least_mass=None)) is None
    with pytest.raises(BadInput, match=r"45\.0 kg that the ballast places carry"):
        plan(mass=1050.0)
    assert plan(chassis=replace(CHASSIS, ballast_places=())).placed == ()


def test_the_pull_is_25_g_and_bolts_grow_with_the_mass():
    """20 kg at 25 g is 4903 N; on four M8 8.8 1226 N across each, of 13.2 kN (18.8 kN off) carried."""
    assert plan().placed[0].pull == pytest.approx(20.0 * 25.0 * 9.80665)
    needed = [bolts_needed(kilograms) for kilograms in (2.0, 20.0, 40.0, 80.0, 400.0)]
    assert needed[0] == 2 and needed[-1] is None
    counts = [each for each in needed if each is not None]
    assert counts == sorted(counts)


def test_shares_of_a_centre():
    centre = Centre(x=-1.0, y=0.02, z=0.5)
    assert centre.front_share(2.5) == pytest.approx(0.6)
    assert centre.left_share(1.5) == pytest.approx(0.5 + 0.02 / 1.5)
