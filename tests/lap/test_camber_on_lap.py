"""Camber to the road through a lap: against the lap model's own numbers where both must agree."""

import math
from dataclasses import replace

import pytest

from benches import demo_bench
from demo_cars import demo_circuit, demo_lane
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import End
from tintop.car.strut_top import top_for_camber
from tintop.car.wheel_motion import wheel_at
from tintop.car.wheel_paths import WheelTable
from tintop.event import Weather
from tintop.lap.camber_choice import camber_choice, camber_room
from tintop.lap.camber_on_lap import camber_on_lap, lowered_by, path_as_set, with_recovery_of_links
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.vehicle import numbers_for

BENCH = demo_bench()
CAR, CHASSIS, DRY = BENCH.described.car, BENCH.chassis, BENCH.setup("dry")
WEATHER = Weather()


def table(leans: float) -> WheelTable:
    return WheelTable(
        travel=(-0.2, 0.2),
        camber=(-0.03, -0.03),
        toe=(0.0, 0.0),
        leans_with_body=leans,
        roll_centre_height=0.06,
    )


def on_lap(chassis=CHASSIS, setup=DRY, car=CAR):
    return camber_on_lap(car, chassis, setup, demo_circuit(), demo_lane(), WEATHER)


def test_links_that_lean_as_the_lap_model_is_told_agree_with_it_in_every_corner():
    shares = (CAR.suspension.camber_recovery_front, CAR.suspension.camber_recovery_rear)
    chassis = replace(
        CHASSIS,
        front=replace(CHASSIS.front, wheel_path=table(1.0 - shares[0])),
        rear=replace(CHASSIS.rear, wheel_path=table(1.0 - shares[1])),
    )
    found = on_lap(chassis)
    assert found.front.recovery == pytest.approx(shares[0])
    for corner in found.corners:
        for one in corner.wheels:
            assert one.camber == pytest.approx(one.by_constant, abs=1e-12)
    fitted = car_with_setup(CAR, chassis, DRY, WEATHER)
    linked = with_recovery_of_links(CAR, fitted, chassis, DRY)
    assert lap_time(linked, demo_lane(), WEATHER) == pytest.approx(lap_time(fitted, demo_lane(), WEATHER))


def test_what_the_lap_model_has_is_what_its_kernel_is_given():
    fitted = car_with_setup(CAR, CHASSIS, DRY, WEATHER)
    axle = numbers_for(fitted, WEATHER, Conditions()).vehicle.front
    for corner in on_lap().corners:
        outer = corner.outer(End.FRONT)
        lean = axle.camber_per_acceleration * abs(corner.lateral)
        assert outer.by_constant == pytest.approx(axle.camber + lean)


def test_the_outer_wheel_goes_up_the_inner_down_and_they_swap_with_the_bend():
    for corner in on_lap().corners:
        for one in corner.wheels:
            assert one.is_outer is (one.wheel.endswith("R") if corner.is_left else one.wheel.endswith("L"))
        outer = corner.outer(End.FRONT)
        inner = next(one for one in corner.wheels if one.wheel[0] == "F" and not one.is_outer)
        assert outer.travel > inner.travel
        assert outer.load > inner.load
        assert outer.camber > inner.camber


def test_the_strut_leans_less_than_a_wheel_bolted_to_the_body():
    bolted = replace(CHASSIS, front=replace(CHASSIS.front, wheel_path=table(1.0)))
    assert on_lap().front.outer < on_lap(bolted).front.outer


def test_more_static_camber_comes_through_nearly_whole():
    more = DRY.with_pair(End.FRONT, camber=DRY.corners[0].camber - math.radians(0.5))
    moved = on_lap(setup=more).front.outer - on_lap().front.outer
    assert moved == pytest.approx(math.radians(-0.5), abs=math.radians(0.08))


def test_the_strut_of_another_setup_stands_where_its_camber_and_height_put_it():
    road = BENCH.setup("road")
    strut, path = CHASSIS.front.wheel_path, path_as_set(CAR, CHASSIS, road, End.FRONT)
    lowered = lowered_by(CHASSIS, road, End.FRONT)
    assert lowered == pytest.approx(-0.008)
    by_tops = road.corners[0].camber - CAR.suspension.camber_front - wheel_at(strut, lowered).camber
    assert path.top[1] - strut.top[1] == pytest.approx(-top_for_camber(strut, by_tops), abs=1e-6)
    # with the tops and at its height, the wheel of the points as measured has the set-up's camber
    moved = wheel_at(strut, lowered, 0.0, top_for_camber(strut, by_tops))
    measured = CAR.suspension.camber_front
    assert measured + moved.camber == pytest.approx(road.corners[0].camber, abs=math.radians(0.03))
    assert wheel_at(path, 0.0).camber == pytest.approx(0.0, abs=1e-9)


def test_steps_are_whole_laps_with_the_links_shares():
    found = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3)
    fitted = car_with_setup(CAR, CHASSIS, DRY, WEATHER)
    linked = with_recovery_of_links(CAR, fitted, CHASSIS, DRY)
    step = found.steps[4]
    driven = replace(linked, suspension=replace(linked.suspension, camber_front=step.camber))
    assert step.lap_time == pytest.approx(flying_lap(driven, demo_lane(), WEATHER).lap_time, abs=1e-9)
    assert found.quickest.lap_time == min(one.lap_time for one in (*found.steps, found.now))
    assert found.gain == pytest.approx(found.now.lap_time - found.within.lap_time)
    assert found.gain_low <= found.gain <= found.gain_high


def test_a_tight_limit_takes_camber_off_and_none_at_all_leaves_no_step():
    free = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=1.0)
    assert free.within == free.quickest
    tight = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=60e-6)
    assert tight.within is not None
    assert tight.within.inner <= 60e-6
    assert tight.within.camber > free.steps[0].camber
    none = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=1e-9)
    assert none.within is None


def test_room_is_the_adjusters_else_the_slots_else_none():
    assert camber_room(CAR, CHASSIS, DRY, End.FRONT).basis == "the car's adjuster"
    bare = replace(CHASSIS, adjusters=())
    slots = camber_room(CAR, bare, DRY, End.FRONT)
    assert slots.low < DRY.corners[0].camber < slots.high
    assert not camber_room(CAR, bare, DRY, End.REAR).is_adjustable
