"""How the car rides: the effect of clicks, road and grip, and what load variation costs a tyre."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dampers_by_hand import chassis_measured, setup_measured
from setups_by_hand import car_by_hand
from tintop.car.chassis import End
from tintop.car.ride_quality import (
    ROAD_FOR,
    ROADS,
    grip_kept,
    handling_for,
    ride_car,
    ride_quality,
    road_named,
)
from tintop.car.setup import Purpose
from tintop.errors import BadInput
from tintop.physics.road_profile import RoadClass

CAR, CHASSIS = car_by_hand(), chassis_measured()
DRY = setup_measured(Purpose.DRY)


def quality(setup=DRY, road=RoadClass.A, speed=36.0):
    return ride_quality(CAR, CHASSIS, setup, road, speed)


def test_the_masses_are_the_cars():
    ride = ride_car(CAR, CHASSIS, DRY)
    fuel = DRY.fuel_volume * CAR.fuel.density
    unsprung = CAR.masses.unsprung_front + CAR.masses.unsprung_rear
    assert ride.sprung_mass == pytest.approx(CAR.masses.without_fuel + fuel - unsprung)
    assert ride.wheelbase == pytest.approx(CAR.dimensions.wheelbase)
    dry_front = CAR.masses.front_share * CAR.masses.without_fuel
    tank = 1.0 - CAR.masses.tank_behind_front_axle / CAR.dimensions.wheelbase
    front = 2.0 * ride.static_load_front / 9.80665
    assert front == pytest.approx(dry_front + fuel * tank)


def test_harder_clicks_swing_less_and_shake_more():
    soft, middle, hard = (quality(setup_measured(Purpose.DRY, click, click)) for click in (0, 6, 12))
    assert soft.swing_front > middle.swing_front > hard.swing_front
    assert soft.comfort < middle.comfort < hard.comfort
    assert soft.modes.heave.ratio < middle.modes.heave.ratio < hard.modes.heave.ratio
    assert middle.road_variation_front < max(soft.road_variation_front, hard.road_variation_front)


def test_less_grip_swings_the_body_less_by_as_much():
    dry, wet = quality(), quality(replace(DRY, purpose=Purpose.WET))
    tyres = CHASSIS.tyres(DRY.tyres)
    shares = (
        handling_for(CHASSIS, replace(DRY, purpose=Purpose.WET)).across / handling_for(CHASSIS, DRY).across
    )
    assert shares == pytest.approx(tyres.front.friction_wet_share, rel=0.2)
    assert wet.swing_front < dry.swing_front and wet.load_variation_front < dry.load_variation_front


def test_load_variation_is_road_and_swing_together():
    found = quality()
    assert found.load_variation_rear == pytest.approx(np.hypot(found.road_variation_rear, found.swing_rear))
    assert found.drawn_down_front > 0.0  # rebound is stiffer than bump
    rougher = quality(road=RoadClass.B)
    assert rougher.road_variation_front > found.road_variation_front


def test_plain_damping_agrees_with_the_speed_it_leaves():
    """What the search settles on is a fixed point: on a digressive curve a rougher road is damped less."""
    assert quality(road=RoadClass.C).damping_front < quality(road=RoadClass.A).damping_front


def test_unknown_dampers_and_impossible_speeds_are_refused():
    bare = replace(CHASSIS, rear=replace(CHASSIS.rear, dampers=()))
    nameless = replace(DRY, rear=replace(DRY.rear, damper=""))
    with pytest.raises(BadInput, match="rear dampers"):
        ride_quality(CAR, bare, nameless, RoadClass.A, 30.0)
    with pytest.raises(BadInput, match="speed on the road"):
        quality(speed=500.0)


def test_left_and_right_count_at_their_mean():
    left, right = DRY.pair(End.FRONT)
    uneven = replace(DRY, corners=(replace(left, bump=4), replace(right, bump=8), *DRY.corners[2:]))
    assert quality(uneven).comfort == pytest.approx(quality().comfort)


@settings(max_examples=40, deadline=None)
@given(
    load=st.floats(800.0, 8000.0),
    variation=st.floats(0.0, 0.4),
    sensitivity=st.floats(-0.3, 0.0),
)
def test_grip_kept_is_the_mean_over_the_loads(load, variation, sensitivity):
    """Against the mean of mu0 (1 + k (F − Fr)/Fr) F over a Gaussian load, by quadrature."""
    tyre = replace(CAR.tyre_front, load_sensitivity=sensitivity, reference_load=3000.0)
    spread = np.linspace(-8.0, 8.0, 4001)
    weight = np.exp(-0.5 * spread**2) / np.sum(np.exp(-0.5 * spread**2))
    loads = load * (1.0 + variation * spread)
    forces = (1.0 + sensitivity * (loads - 3000.0) / 3000.0) * loads
    steady = (1.0 + sensitivity * (load - 3000.0) / 3000.0) * load
    assert grip_kept(tyre, load, variation) == pytest.approx(np.sum(weight * forces) / steady, abs=1e-6)


def test_roads_by_name_and_class():
    usual = ROAD_FOR[Purpose.DRY]
    assert road_named("", None, usual) is usual
    assert road_named("B road", None, usual) is ROADS["B road"]
    assert road_named("d", 20.0, usual).road_class is RoadClass.D
    assert road_named("", 20.0, usual).speed == 20.0
    with pytest.raises(BadInput, match="Did you mean B road"):
        road_named("B rode", None, usual)
