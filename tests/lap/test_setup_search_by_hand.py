"""The worked example of docs/theory/setup_search.md, step by step."""

import math
from dataclasses import replace

import pytest

from setups_by_hand import chassis_by_hand, dry_by_hand
from tintop.car.chassis import Adjuster, End, Item
from tintop.car.setup_ranges import ranges_of, with_value
from tintop.lap.setup_effect import Quick, toe_drag
from tintop.lap.setup_gain import Doubt, gain_range
from tintop.lap.setup_search import Demands, search_setup

_DEGREE = math.pi / 180.0
CHASSIS = replace(
    chassis_by_hand(),
    adjusters=(
        Adjuster(item=Item.CAMBER, end=End.FRONT, low=-4.0 * _DEGREE, high=-1.0 * _DEGREE, step=_DEGREE),
        Adjuster(item=Item.BAR, end=End.REAR, low=1, high=3, step=1),
    ),
)
NOW = with_value(CHASSIS, dry_by_hand(), Item.CAMBER, End.FRONT, -4.0 * _DEGREE)


def lap_of(setup):
    camber = setup.corners[0].camber / _DEGREE + 2.0
    bar = setup.rear.bar_hole - 2.0
    return 80.0 + 0.10 * camber**2 + 0.03 * bar**2 + 0.02 * camber * bar


def judge(setup):
    return Quick(lap_time=lap_of(setup), balance=0.05, lock_margin=0.1, bump_left=0.01)


@pytest.fixture(scope="module")
def found():
    return search_setup(CHASSIS, NOW, ranges_of(CHASSIS, NOW), judge, judge, Demands())


def test_now_and_at_the_best(found):
    assert lap_of(NOW) == pytest.approx(80.39)
    assert lap_of(found.setup) == pytest.approx(80.00)
    assert found.gain == pytest.approx(0.39)
    assert found.setup.rear.bar_hole == 2
    assert found.setup.corners[0].camber == pytest.approx(-2.0 * _DEGREE)


def test_along_camber_in_hole_three():
    line = [lap_of(with_value(CHASSIS, NOW, Item.CAMBER, End.FRONT, c * _DEGREE)) for c in (-4, -3, -2, -1)]
    assert line == pytest.approx([80.39, 80.11, 80.03, 80.15])


def test_what_each_is_worth(found):
    assert {change.range.item: change.worth for change in found.changes} == {
        Item.CAMBER: pytest.approx(0.40),
        Item.BAR: pytest.approx(0.03),
    }


def test_how_flat_it_is(found):
    camber, bar = found.flatness
    assert camber.one_step == (pytest.approx(0.10), pytest.approx(0.10))
    assert (camber.low, camber.high) == (camber.at, camber.at)
    assert bar.one_step == (pytest.approx(0.03), pytest.approx(0.03))
    assert (bar.range.places[bar.low], bar.range.places[bar.high]) == (1, 3)


def test_the_range_and_toe():
    doubts = (Doubt(path="a", seconds=0.08), Doubt(path="b", seconds=0.03))
    assert gain_range(0.39, doubts) == (pytest.approx(0.22, abs=0.005), pytest.approx(0.56, abs=0.005))
    tyre = replace(CHASSIS.tyre_sets[0].front, friction_lateral=1.2, slide_slip=0.16)
    assert toe_drag(tyre, 0.002 / 0.405) == pytest.approx(5.5e-4, rel=0.005)
