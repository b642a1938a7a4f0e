"""What a set-up does: against closed forms and other parts of the model, then what is common practice."""

import math
from dataclasses import replace

import numpy as np
import pytest

from short_benches import SHORT, short_bench
from tintop.car.brakes import Brakes
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import BiasDevice, End, Item
from tintop.car.setup_ranges import with_value
from tintop.event import Weather
from tintop.garage.setup_effects import effects_of, line_of
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.setup_effect import (
    bump_left,
    fitted,
    lock_margin,
    mean_lap_time,
    place_for,
    quick_effect,
    remembering,
    setup_effect,
    toe_drag,
    without_gear_changes,
)
from tintop.physics.braking import BrakedCar, adhesion_used
from tintop.physics.four_wheels import slip
from tintop.physics.road_profile import RoadClass

BENCH = short_bench()
CAR, CHASSIS, DRY = BENCH.described.car, BENCH.chassis, BENCH.setup("dry")
LINE = line_of(BENCH, SHORT)
PLACE = place_for(CAR, LINE, Weather())


def effect(setup, chassis=CHASSIS):
    return setup_effect(CAR, chassis, setup, LINE, Weather(), place=PLACE)


def test_toe_drag_is_the_laps_own_tyre_at_little_slip():
    """The side force the lap's brush model gives at the slip of the toe, turned by the toe."""
    tyre, share = CAR.tyre_front, 0.01
    toe = slip(tyre.slide_slip, share)
    assert toe_drag(tyre, toe) == pytest.approx(share * tyre.friction_lateral * toe, rel=0.01)
    assert toe_drag(tyre, -toe) == toe_drag(tyre, toe)
    assert toe_drag(tyre, 0.0) == 0.0


def test_toe_makes_the_lap_slower_and_the_wheels_roll_harder():
    straight = DRY.with_pair(End.FRONT, toe=0.0)
    dragging = DRY.with_pair(End.FRONT, toe=0.02)
    assert fitted(CAR, CHASSIS, straight, PLACE).car.tyre_front.rolling_resistance < (
        fitted(CAR, CHASSIS, dragging, PLACE).car.tyre_front.rolling_resistance
    )
    assert effect(dragging).mean_lap_time > effect(straight).mean_lap_time


def test_neither_axle_locks_before_the_other_at_the_share_where_adhesion_is_used_alike():
    """Directive 71/320/EEC: at the rate of both tyres' friction the ideal share locks both together."""
    one = replace(CHASSIS, bias=replace(CHASSIS.bias, device=BiasDevice.NONE))
    tyres = CHASSIS.tyres(DRY.tyres)
    alike = replace(tyres, rear=replace(tyres.rear, friction_longitudinal=tyres.front.friction_longitudinal))
    one = replace(one, tyre_sets=(alike,))
    car = car_with_setup(CAR, one, DRY, Weather())
    friction = alike.front.friction_longitudinal
    braked = BrakedCar(car.dimensions.wheelbase, car.masses.cg_height, car.masses.front_share)
    ideal = braked.front_share + friction * braked.cg_height / braked.wheelbase
    assert adhesion_used(braked, ideal, friction) == pytest.approx((friction, friction))
    valve = _valve_for(car.brakes, ideal, car)
    balanced = replace(car, brakes=replace(car.brakes, rear_valve_share=valve))
    assert lock_margin(balanced, one, DRY, Weather()) == pytest.approx(0.0, abs=1e-9)
    less_rear = replace(car, brakes=replace(car.brakes, rear_valve_share=0.9 * valve))
    assert lock_margin(less_rear, one, DRY, Weather()) > 0.0
    more_rear = replace(car, brakes=replace(car.brakes, rear_valve_share=min(1.1 * valve, 1.0)))
    assert lock_margin(more_rear, one, DRY, Weather()) < 0.0


def _valve_for(brakes: Brakes, share: float, car) -> float:
    whole = replace(brakes, rear_valve_share=1.0)
    front = whole.torque_gain_front * max(brakes.front.pad.frictions) / car.tyre_front.radius
    rear = whole.torque_gain_rear * max(brakes.rear.pad.frictions) / car.tyre_rear.radius
    return front * (1.0 - share) / share / rear


def test_the_rear_is_nearer_to_locking_in_the_dry_than_in_the_wet():
    car = car_with_setup(CAR, CHASSIS, DRY, Weather())
    assert lock_margin(car, CHASSIS, DRY, Weather()) < lock_margin(car, CHASSIS, DRY, Weather(wetness=1.0))


def test_bump_travel_left_by_hand():
    still = bump_left(CAR, CHASSIS, DRY, 0.0)
    assert still == pytest.approx(min(CHASSIS.front.bump_travel, CHASSIS.rear.bump_travel))
    lower = with_value(CHASSIS, DRY, Item.RIDE_HEIGHT, End.FRONT, 0.124)
    assert bump_left(CAR, CHASSIS, lower, 0.0) == pytest.approx(still - 0.004)
    front = CHASSIS.front
    wheel = front.spring("70 N/mm").rate * front.motion_ratio**2
    hung = 0.5 * wheel * CAR.dimensions.track_front**2 + front.bar("standard").stiffness(1)
    tyres = 0.5 * front.tyre_rate * CAR.dimensions.track_front**2
    by_springs = 1.0 - hung * tyres / (hung + tyres) / tyres
    rolled = bump_left(CAR, CHASSIS, DRY, 0.04)
    assert rolled == pytest.approx(front.bump_travel - 0.04 * by_springs * 0.5 * CAR.dimensions.track_front)


def test_balance_and_lap_are_those_of_the_flying_lap():
    found = effect(DRY)
    one = fitted(CAR, CHASSIS, DRY, PLACE)
    lap = flying_lap(one.car, LINE, Weather(), one.conditions)
    assert found.lap_time == lap.lap_time
    cornering = np.abs(lap.lateral_acceleration) >= 3.0
    weight = lap.segment_time[cornering]
    by_hand = float(np.sum(lap.channel("balance")[cornering] * weight) / np.sum(weight))
    assert found.balance == pytest.approx(by_hand)
    assert found.mean_lap_time == pytest.approx(found.lap_time, abs=0.03)


def test_the_mean_lap_moves_smoothly_where_one_lap_jumps():
    """Gear changes make one lap jump as grip rises; the mean's second differences stay a fraction of that."""
    one = fitted(CAR, CHASSIS, DRY, PLACE)
    grips = 1.0 + np.arange(-0.01, 0.01, 0.0005)

    def roughness(time_at):
        times = np.array([time_at(float(grip)) for grip in grips])
        return float(np.std(np.diff(times, 2)))

    single = roughness(
        lambda grip: lap_time(one.car, LINE, Weather(), replace(one.conditions, grip=(grip,) * 4))
    )
    mean = roughness(lambda grip: mean_lap_time(one.car, (grip, grip), PLACE))
    unshifting = without_gear_changes(one.car)
    smooth = roughness(lambda grip: mean_lap_time(unshifting, (grip, grip), PLACE, (1.0,)))
    assert mean < 0.5 * single
    assert smooth < 0.5 * single


def test_off_its_target_pressure_the_car_is_slower():
    low = with_value(CHASSIS, DRY, Item.PRESSURE, End.FRONT, 1.3e5)
    assert effect(low).mean_lap_time > effect(DRY).mean_lap_time
    assert effect(low).pressure_off[0] < effect(DRY).pressure_off[0]


def test_dampers_that_are_not_described_leave_comfort_unknown_and_grip_whole():
    bare = replace(CHASSIS, front=replace(CHASSIS.front, dampers=()))
    found = effect(replace(DRY, front=replace(DRY.front, damper="")), bare)
    assert found.comfort_road is None
    assert found.load_variation is None
    assert found.grip_kept == (1.0, 1.0)


def test_a_rougher_surface_leaves_less_grip():
    rough = replace(PLACE, surface=RoadClass.D)
    assert fitted(CAR, CHASSIS, DRY, rough).grip_kept < fitted(CAR, CHASSIS, DRY, PLACE).grip_kept
    assert quick_effect(CAR, CHASSIS, DRY, rough).lap_time > quick_effect(CAR, CHASSIS, DRY, PLACE).lap_time


def test_a_ride_is_asked_once_for_set_ups_it_feels_alike():
    asked = []

    def ride(*arguments):
        asked.append(arguments)
        return

    once = remembering(ride)
    for bar, pressure in ((3.0, 1.7e5), (3.0, 1.8e5), (2.0, 1.8e5)):
        setup = with_value(CHASSIS, DRY, Item.PRESSURE, End.FRONT, pressure)
        fitted(CAR, CHASSIS, with_value(CHASSIS, setup, Item.BAR, End.REAR, bar), PLACE, once)
    assert len(asked) == 2  # the pressure is not felt, the bar is


def test_road_dry_and_wet_of_the_demo_do_what_practice_says():
    """Common practice, no source: softer on the road rides better; the wet is slower than the dry."""
    found = effects_of(BENCH, ("road", "dry", "wet"), SHORT)
    assert found["road"].comfort_road < found["dry"].comfort_road
    assert found["dry"].lap_time < found["road"].lap_time
    assert found["dry"].lap_time < found["wet"].lap_time
    assert all(math.isfinite(one.balance) for one in found.values())
