"""Turns of a perch, millimetres at the strut top, toe at the rim: by hand and against closed forms."""

import math
from dataclasses import replace

import pytest

from setups_by_hand import STRUT, car_by_hand, chassis_by_hand, setup_by_hand
from tintop.car.changeover_steps import (
    axle_load,
    perch_moved,
    rod_arm,
    steps_of,
    toe_moved,
    top_moved,
)
from tintop.car.chassis import End, Item
from tintop.car.strut_top import top_moved as solved_again
from tintop.car.wheel_motion import wheel_at


def test_axle_loads_are_the_car() -> None:
    car = car_by_hand()
    whole = sum(axle_load(car, 0.04, end) for end in End)
    assert whole == pytest.approx(9.80665 * (car.masses.without_fuel + 0.04 * car.fuel.density))


def test_a_perch_goes_up_as_the_body_does_times_the_motion_ratio() -> None:
    """The same springs: 15 mm lower at a motion ratio of 0.7 is 10.5 mm of perch, 7 turns of 1.5 mm."""
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    low = road.with_pair(End.REAR, ride_height=0.115)
    assert perch_moved(2, road, low, car, chassis) == pytest.approx(-0.0105)
    steps = steps_of(Item.RIDE_HEIGHT, End.REAR, (), road, low, car, chassis)
    assert [step.turns for step in steps] == pytest.approx([-7.0, -7.0])


def test_other_springs_at_the_same_height() -> None:
    """The perch takes up what the new spring is shorter, less what it gives less under the same load."""
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    stiff = replace(road, front=replace(road.front, spring="stiff"))
    load = 0.5 * axle_load(car, 0.03, End.FRONT) - 0.5 * 9.80665 * car.masses.unsprung_front
    force = load / 0.95
    by_hand = -((0.2 - force / 60e3) - (0.25 - force / 30e3))
    assert perch_moved(0, road, stiff, car, chassis) == pytest.approx(by_hand, rel=1e-9)
    unmarked = replace(road, front=replace(road.front, spring="unmarked"))
    assert perch_moved(0, road, unmarked, car, chassis) is None


def test_smaller_tyres_ask_for_perch() -> None:
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    assert perch_moved(0, road, replace(road, tyres="semi-slicks"), car, chassis) == pytest.approx(
        0.95 * 0.006
    )


def test_a_strut_top_moves_about_ten_millimetres_for_a_degree() -> None:
    """Common practice, no source; and the wheel then leans as is wanted, by the strut's own geometry."""
    chassis, road = chassis_by_hand(), setup_by_hand()
    leaning = road.with_pair(End.FRONT, camber=road.corners[0].camber - math.radians(1.0))
    moved = top_moved(0, road, leaning, chassis)
    assert moved is not None and 0.008 < moved < 0.014
    inner, outer = (wheel_at(STRUT, 0.0, 0.0, 0.5 * sign * moved).camber for sign in (1.0, -1.0))
    assert inner - outer == pytest.approx(-math.radians(1.0), abs=1e-8)
    assert top_moved(2, road, leaning, chassis) is None  # a beam has no strut top
    far = road.with_pair(End.FRONT, camber=road.corners[0].camber - math.radians(6.0))
    assert top_moved(0, road, far, chassis) is None


def test_the_toe_that_comes_with_the_camber_is_taken_out_again() -> None:
    """The rod's turns by the arm agree with those of the whole linkage solved again."""
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    leaning = road.with_pair(End.FRONT, camber=road.corners[0].camber - math.radians(1.0))
    comes = toe_moved(0, road, leaning, chassis)
    moved = top_moved(0, road, leaning, chassis)
    assert comes is not None and moved is not None
    whole = solved_again(STRUT, moved, 0.43)
    assert comes == pytest.approx(whole.toe, rel=0.05)
    step = steps_of(Item.TOE, End.FRONT, (), road, leaning, car, chassis)[0]
    assert step.move == pytest.approx(-whole.toe_at_rim, rel=0.05)
    assert step.turns == pytest.approx(whole.turns, rel=0.1)


def test_a_beam_whose_camber_is_shimmed_has_its_toe_measured() -> None:
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    shimmed = road.with_pair(End.REAR, camber=-0.03)
    step = steps_of(Item.TOE, End.REAR, (), road, shimmed, car, chassis)[0]
    assert step.move is step.turns is None


def test_a_rod_behind_the_axle_turns_the_wheel_in_when_longer() -> None:
    assert rod_arm(STRUT) > 0.1
    x, y, z = STRUT.track_rod_outer
    assert rod_arm(replace(STRUT, track_rod_outer=(-x, y, z))) < 0.0
