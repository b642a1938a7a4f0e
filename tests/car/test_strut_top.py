"""A strut whose top was moved for a set-up is a strut of its own."""

import math

import pytest

from tintop.car.strut_top import strut_as_set, top_for_camber
from tintop.car.wheel_motion import wheel_at
from tintop.car.wheel_path_check import check_wheel_path
from tintop.car.wheel_path_doubt import wheel_doubt
from wheel_paths import STRUT


@pytest.mark.parametrize("degrees", [-0.8, 0.6])
def test_the_top_goes_where_the_camber_is(degrees):
    inward = top_for_camber(STRUT, math.radians(degrees))
    assert math.degrees(wheel_at(STRUT, 0.0, 0.0, inward).camber) == pytest.approx(degrees, abs=1e-5)


def test_a_strut_as_set_keeps_its_links_and_gives_the_slots_away():
    change = math.radians(-0.5)
    moved = strut_as_set(STRUT, change)
    check_wheel_path(moved, "front")
    for one, other in (("arm_front", "ball_joint"), ("arm_rear", "ball_joint")):
        before = math.dist(getattr(STRUT, one), getattr(STRUT, other))
        assert math.dist(getattr(moved, one), getattr(moved, other)) == pytest.approx(before, abs=1e-9)
    inward = top_for_camber(STRUT, change)
    assert moved.slots_inward == pytest.approx(STRUT.slots_inward - inward)
    assert moved.wheel_centre[2] == pytest.approx(STRUT.wheel_centre[2])
    # king-pin inclination has grown by about what the wheel leans
    grown = wheel_at(moved, 0.0).kingpin_inclination - wheel_at(STRUT, 0.0).kingpin_inclination
    assert grown == pytest.approx(-change, rel=0.15)


def test_a_moved_strut_knows_how_its_wheel_leans():
    """A degree, less what the track rod takes when it brings the toe back."""
    moved = strut_as_set(STRUT, math.radians(-1.0))
    assert math.degrees(moved.camber) == pytest.approx(-1.0, abs=0.03)
    pose = wheel_at(moved, 0.0)
    out = -moved.wheel_centre[2] * math.tan(moved.camber)
    assert pose.contact[1] == pytest.approx(moved.wheel_centre[1] + out, abs=1e-9)


def test_the_doubt_of_the_camber_is_in_the_scrub_by_hand():
    points, both = wheel_doubt(STRUT, 0.002, 0.0), wheel_doubt(STRUT, 0.002, math.radians(0.15))
    alone = math.sqrt(both.scrub_radius**2 - points.scrub_radius**2)
    assert alone == pytest.approx(STRUT.wheel_centre[2] * math.radians(0.15), rel=0.01)
    assert both.caster == pytest.approx(points.caster)


def test_doubt_of_caster_by_hand():
    """Both ends of the axis unsure along the car, and a little by its height."""
    found = wheel_doubt(STRUT, 0.003)
    rise = STRUT.top[2] - STRUT.ball_joint[2]
    assert found.caster == pytest.approx(0.003 * math.sqrt(2.0) / rise, rel=0.05)
    twice = wheel_doubt(STRUT, 0.006)
    assert twice.roll_centre_height == pytest.approx(2.0 * found.roll_centre_height, rel=0.05)
