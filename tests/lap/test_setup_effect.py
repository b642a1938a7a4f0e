"""What a set-up does: against closed forms and other parts of the model, then what is common practice."""

import math
from dataclasses import replace

import numpy as np
import pytest

from short_benches import SHORT, short_bench
from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import with_value
from tintop.event import Weather
from tintop.garage.brakes import BrakesAsked, brakes_for
from tintop.garage.setup_effects import effects_of, line_of
from tintop.garage.springs import ask_which_springs
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.setup_effect import (
    fitted,
    mean_lap_time,
    place_for,
    quick_effect,
    remembering,
    setup_effect,
    toe_drag,
    without_gear_changes,
)
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


def test_which_axle_locks_first_is_what_the_brakes_page_says():
    """The same figure and the same verdict, for every set-up of the demo on the road it is for."""
    found = effects_of(BENCH, tuple(BENCH.setups), SHORT)
    for name, one in found.items():
        case = brakes_for(BENCH, BrakesAsked(setup=name)).cases[0]
        assert one.lock.margin == pytest.approx(case.worst.margin, abs=1e-12), name
        assert one.lock.doubt == pytest.approx(case.worst.doubt, rel=1e-9), name
        assert one.lock.pads == case.worst.pads, name
        assert (one.lock.first, one.lock.verdict) == (case.first, case.verdict), name
    assert len({one.lock.verdict for one in found.values()}) > 1


def test_the_search_and_the_whole_effect_know_one_bump_travel_and_one_locking():
    quick, whole = quick_effect(CAR, CHASSIS, DRY, PLACE), effect(DRY)
    assert (quick.bump_left, quick.lock_margin) == (whole.bump_left, whole.lock.margin)


def test_bump_travel_left_is_what_the_springs_page_says():
    """No other figure than that of the wheel with least to spare along the lap driven there."""
    for name in ("road", "dry"):
        setup = BENCH.setup(name)
        used = ask_which_springs(BENCH, setup, Weather(), SHORT).driven.travel
        spare = [left - most for most, left in zip(used.most, used.left, strict=True)]
        assert effect(setup).bump_left == pytest.approx(min(spare), abs=1e-12)
        assert min(spare) == spare[used.fullest]


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
