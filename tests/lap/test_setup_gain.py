"""Whole laps of two set-ups and the range of what lies between them."""

from dataclasses import replace

import pytest

from short_benches import SHORT, short_bench
from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import with_value
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.garage.setup_effects import line_of
from tintop.known import Known, Origin
from tintop.lap.setup_effect import place_for
from tintop.lap.setup_gain import SURFACE, Confirmed, chassis_moved, confirmed

BENCH = short_bench()
CAR, CHASSIS, DRY = BENCH.described.car, BENCH.chassis, BENCH.setup("dry")
PLACE = place_for(CAR, line_of(BENCH, SHORT), Weather())


def known(value, uncertainty):
    return Known(value=value, uncertainty=uncertainty, origin=Origin.MEASURED)


def test_a_set_up_gains_nothing_on_itself_whatever_is_not_known():
    found = confirmed(CAR, CHASSIS, DRY, DRY, PLACE, known=BENCH.described.known)
    assert found.gain == 0.0
    assert (found.low, found.high) == (0.0, 0.0)
    assert not found.is_worth_it


def test_the_other_way_round_is_the_opposite():
    softer = with_value(CHASSIS, DRY, Item.BAR, End.REAR, 1.0)
    doubts = {"masses.cg_height": known(CAR.masses.cg_height, 0.025)}
    there = confirmed(CAR, CHASSIS, DRY, softer, PLACE, known=doubts)
    back = confirmed(CAR, CHASSIS, softer, DRY, PLACE, known=doubts)
    assert there.gain == pytest.approx(-back.gain)
    assert there.high - there.low == pytest.approx(back.high - back.low)


def test_a_larger_doubt_widens_the_range_and_leaves_the_gain():
    softer = with_value(CHASSIS, DRY, Item.BAR, End.REAR, 1.0)

    def with_doubt(metres):
        doubt = {"masses.cg_height": known(CAR.masses.cg_height, metres)}
        return confirmed(CAR, CHASSIS, DRY, softer, PLACE, known=doubt)

    small, large = with_doubt(0.01), with_doubt(0.04)
    assert small.gain == large.gain
    assert large.high - large.low > small.high - small.low
    assert {doubt.path for doubt in large.doubts} == {"masses.cg_height", SURFACE}


def test_a_doubt_about_the_chassis_counts():
    stiffer = with_value(CHASSIS, DRY, Item.SPRINGS, End.REAR, "60 N/mm")
    path = "rear.motion_ratio"
    doubt = {path: known(CHASSIS.rear.motion_ratio, 0.05)}
    found = confirmed(CAR, CHASSIS, DRY, stiffer, PLACE, chassis_known=doubt)
    assert next(one for one in found.doubts if one.path == path).seconds > 0.0


def test_a_gain_within_its_doubt_is_not_worth_it():
    found = confirmed(CAR, CHASSIS, DRY, with_value(CHASSIS, DRY, Item.BAR, End.REAR, 1.0), PLACE)
    better = Confirmed(before=found.after, after=found.before, low=0.01, high=0.5, doubts=())
    if better.gain < 0.0:
        better = replace(better, before=found.before, after=found.after)
    assert better.gain > 0.014
    assert better.is_worth_it
    assert not replace(better, low=-0.01).is_worth_it


@pytest.mark.parametrize("path", ["front.motion_ratio", "pitch_inertia", "rear.springs.1.rate"])
def test_one_number_of_the_chassis_is_moved(path):
    def value(chassis):
        found = chassis
        for step in path.split("."):
            found = found[int(step) - 1] if step.isdecimal() else getattr(found, step)
        return found

    moved = chassis_moved(CHASSIS, path, 0.01)
    assert value(moved) == pytest.approx(value(CHASSIS) + 0.01)
    assert chassis_moved(moved, path, -0.01).rear.bars == CHASSIS.rear.bars


def test_a_row_of_stiffnesses_and_a_table_of_forces_are_scaled_by_their_first():
    bar = CHASSIS.rear.bars[0].roll_stiffness
    moved = chassis_moved(CHASSIS, "rear.bars.1.roll_stiffness", 0.1 * bar[0])
    assert moved.rear.bars[0].roll_stiffness == pytest.approx([1.1 * one for one in bar])
    forces = CHASSIS.front.dampers[0].bump.forces
    moved = chassis_moved(CHASSIS, "front.dampers.1.bump.forces", -0.2 * forces[0][0])
    assert moved.front.dampers[0].bump.forces[3] == pytest.approx([0.8 * one for one in forces[3]])


def test_a_path_to_no_number_moves_nothing_and_an_impossible_value_is_refused():
    assert chassis_moved(CHASSIS, "front.wings", 0.1) == CHASSIS
    assert chassis_moved(CHASSIS, "front.springs.9.rate", 0.1) == CHASSIS
    with pytest.raises(BadInput, match="motion ratio"):
        chassis_moved(CHASSIS, "front.motion_ratio", 5.0)
