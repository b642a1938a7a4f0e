"""What a set-up costs of tread on the road: more lean and more toe cost more, the worse wheel counts."""

from dataclasses import replace

from setups_by_hand import car_by_hand, chassis_by_hand, setup_by_hand
from tintop.car.chassis import End
from tintop.car.road_tread import tread_on_road
from tintop.car.setup import Setup


def _inner(setup: Setup, end: End = End.FRONT) -> float:
    return tread_on_road(car_by_hand(), chassis_by_hand(), setup, end).inner


def test_lean_and_toe_cost_tread() -> None:
    road = setup_by_hand()
    assert 0.0 < _inner(road) < _inner(road.with_pair(End.FRONT, camber=-0.05))
    assert _inner(road) < _inner(road.with_pair(End.FRONT, toe=-0.004))
    assert _inner(road, End.REAR) == _inner(road.with_pair(End.FRONT, camber=-0.05), End.REAR)


def test_the_worse_of_two_wheels_counts() -> None:
    road = setup_by_hand()
    one = replace(road, corners=(replace(road.corners[0], camber=-0.05), *road.corners[1:]))
    assert _inner(one) == _inner(road.with_pair(End.FRONT, camber=-0.05))


def test_more_camber_is_as_if_it_were_set() -> None:
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    more = tread_on_road(car, chassis, road, End.FRONT, more_camber=-0.03)
    assert more == tread_on_road(car, chassis, road.with_pair(End.FRONT, camber=-0.05), End.FRONT)
