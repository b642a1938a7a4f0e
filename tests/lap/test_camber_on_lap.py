"""Camber to the road through a lap: against the lap model's own numbers where both must agree."""

import math
from dataclasses import replace

import pytest

from benches import demo_bench
from demo_cars import demo_circuit, demo_lane
from tintop.car.camber_by_treads import CamberByTreads
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
from tintop.lap.outer_wheel import UPRIGHT, outer_at_hardest
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
    assert free.within.outer <= UPRIGHT + 1e-9 < free.quickest.outer
    limit = 0.5 * (free.now.inner + free.within.inner)
    tight = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=limit)
    assert tight.within is not None
    assert tight.within.inner <= limit < tight.now.inner
    assert tight.within.camber > free.steps[0].camber
    none = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=1e-9)
    assert none.within is None


def test_the_outer_wheel_of_the_camber_proposed_is_upright_at_most_by_a_lap_of_its_own():
    """The straight count from the present camber against the whole strut solved at the proposed one."""
    found = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 180e3, limit=1.0)
    change = found.within.camber - found.now.camber
    assert change > 0.0  # the lap alone wants it less negative still
    corners = tuple(
        replace(one, camber=one.camber + change * (one in DRY.corners[:2])) for one in DRY.corners
    )
    setup = replace(DRY, corners=corners)
    exact = outer_at_hardest(CAR, CHASSIS, setup, End.FRONT, demo_lane(), WEATHER)
    assert exact == pytest.approx(found.within.outer, abs=math.radians(0.1))
    assert exact <= 0.0
    assert found.upright == pytest.approx(found.now.camber - found.now.outer + UPRIGHT)
    assert found.within.camber <= found.upright


def test_the_outer_wheel_at_the_hardest_corner_is_that_of_the_corners():
    course, lane = demo_circuit(), demo_lane()
    lap = flying_lap(car_with_setup(CAR, CHASSIS, DRY, WEATHER), lane, WEATHER)
    corners = camber_on_lap(CAR, CHASSIS, DRY, course, lane, WEATHER, lap).corners
    most = max(abs(one.lateral) for one in corners)
    by_corners = max(one.outer(End.FRONT).camber for one in corners if abs(one.lateral) >= 0.95 * most)
    found = outer_at_hardest(CAR, CHASSIS, DRY, End.FRONT, lane, WEATHER, lap)
    assert found == pytest.approx(by_corners, abs=math.radians(0.05))


@pytest.mark.parametrize(("way", "holds"), [(0, "as it is"), (-1, "no less"), (1, "the lap")])
def test_the_treads_go_before_the_lap(way, holds):
    treads = CamberByTreads(end=End.FRONT, way=way, lean=5.0, session="the trophy race")
    found = camber_choice(CAR, CHASSIS, DRY, End.FRONT, demo_lane(), WEATHER, 1e3, limit=1.0, treads=treads)
    if holds == "as it is":
        assert found.within is found.now and found.gain == 0.0
    elif holds == "no less":
        assert found.within.camber <= found.now.camber
    else:
        assert found.within.camber > found.now.camber


def test_room_is_the_adjusters_else_the_slots_else_none():
    assert camber_room(CAR, CHASSIS, DRY, End.FRONT).basis == "the car's adjuster"
    bare = replace(CHASSIS, adjusters=())
    slots = camber_room(CAR, bare, DRY, End.FRONT)
    assert slots.low < DRY.corners[0].camber < slots.high
    assert not camber_room(CAR, bare, DRY, End.REAR).is_adjustable
