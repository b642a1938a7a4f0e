import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics import straps
from tintop.physics.straps import Point

millimetres = st.integers(-3000, 3000)
places = st.builds(lambda x, y, z: Point(x / 1000, y / 1000, z / 1000), millimetres, millimetres, millimetres)
SIDE = (straps.angle_below_horizontal, straps.angle_from_vertical)


def _is_apart(one: Point, other: Point, *axes: int) -> bool:
    return any(one[axis] != other[axis] for axis in axes)


def test_published_case():
    check("V16-01")


@given(millimetres, millimetres, st.integers(1, 2000))
def test_as_far_down_as_back_is_45_degrees_and_nothing_beside_it(x, z, run):
    start, end = Point(x / 1000, 0.0, z / 1000), Point((x - run) / 1000, 0.3, (z - run) / 1000)
    assert straps.angle_below_horizontal(start, end) == math.radians(45)
    assert straps.angle_from_vertical(start, end) == math.radians(45)


def test_the_anchor_lower_is_positive_and_ahead_is_past_a_right_angle():
    hip = Point(1.0, 0.3, 0.4)
    assert straps.angle_below_horizontal(hip, Point(0.7, 0.3, 0.5)) < 0.0
    assert straps.angle_below_horizontal(hip, Point(0.7, 0.3, 0.3)) > 0.0
    assert straps.angle_below_horizontal(hip, Point(1.1, 0.3, 0.2)) > math.pi / 2.0


@given(places, places, places)
def test_no_datum_matters(one, other, moved):
    if not _is_apart(one, other, 0, 2) or not _is_apart(one, other, 0, 1):
        return
    there = [Point(*(a + b for a, b in zip(place, moved, strict=True))) for place in (one, other)]
    for angle in (*SIDE, straps.plan_angle):
        assert angle(*there) == pytest.approx(angle(one, other), abs=1e-9)


@given(places, places)
def test_left_and_right_alike(one, other):
    if not _is_apart(one, other, 0, 2) or not _is_apart(one, other, 0, 1):
        return
    mirrored = [Point(place.x, -place.y, place.z) for place in (one, other)]
    for angle in (*SIDE, straps.plan_angle):
        assert angle(*mirrored) == angle(one, other)


@given(places, places, st.floats(-0.7, 0.7))
def test_side_view_angle_turns_with_the_car(one, other, turn):
    """Both points rotated nose-down about the y axis by an angle: the strap's angle moves by just that."""
    if not _is_apart(one, other, 0, 2):
        return

    def turned(place):
        return Point(
            place.x * math.cos(turn) + place.z * math.sin(turn),
            place.y,
            place.z * math.cos(turn) - place.x * math.sin(turn),
        )

    before = straps.angle_below_horizontal(one, other)
    after = straps.angle_below_horizontal(turned(one), turned(other))
    assert math.remainder(after - before + turn, 2.0 * math.pi) == pytest.approx(0.0, abs=1e-5)


@given(places, places)
def test_a_stay_is_measured_in_either_order(one, other):
    if not _is_apart(one, other, 0, 2):
        return
    assert straps.angle_from_vertical(one, other) == straps.angle_from_vertical(other, one)


def test_a_stay_with_its_foot_ahead_leans_the_other_way():
    top = Point(0.0, 0.5, 1.1)
    assert straps.stay_angle(top, Point(-0.5, 0.5, 0.6)) == math.radians(45)
    assert straps.stay_angle(top, Point(0.5, 0.5, 0.6)) == -math.radians(45)
    with pytest.raises(BadInput, match="the top first"):
        straps.stay_angle(Point(-0.5, 0.5, 0.6), top)


@given(places, places)
def test_a_stay_with_its_sense_is_as_far_from_vertical_as_without(top, foot):
    if top.z <= foot.z:
        return
    assert abs(straps.stay_angle(top, foot)) == straps.angle_from_vertical(top, foot)


def test_the_crotch_strap_is_measured_from_the_chest_line():
    crotch, lean = Point(1.0, 0.3, 0.4), math.radians(20)
    along_the_chest = Point(1.0 + 0.2 * math.sin(lean), 0.3, 0.4 - 0.2 * math.cos(lean))
    straight_down = Point(1.0, 0.3, 0.2)
    assert straps.angle_behind_chest(crotch, along_the_chest, lean) == pytest.approx(0.0, abs=1e-8)
    assert straps.angle_behind_chest(crotch, straight_down, lean) == pytest.approx(lean)
    assert straps.angle_behind_chest(crotch, straight_down, 0.0) == 0.0


def test_spread_is_that_of_a_hundred_thousand_tape_measures():
    import numpy as np

    dice = np.random.default_rng(7)
    one, other, error = np.array([1.2, 0.1, 0.9]), np.array([0.85, -0.05, 0.7]), 0.003
    drawn = (one - other) + math.sqrt(2.0) * error * dice.standard_normal((100_000, 3))
    side = np.arctan2(drawn[:, 2], drawn[:, 0]).std()
    plan = np.arctan2(np.abs(drawn[:, 1]), np.abs(drawn[:, 0])).std()
    points = Point(*one), Point(*other)
    assert straps.side_view_spread(*points, error) == pytest.approx(side, rel=0.01)
    assert straps.plan_view_spread(*points, error) == pytest.approx(plan, rel=0.01)


@pytest.mark.parametrize("angle", [*SIDE, straps.plan_angle])
def test_points_that_fall_together_are_refused(angle):
    with pytest.raises(BadInput, match="fall together"):
        angle(Point(0.1 + 0.2, 0.5, 0.7), Point(0.3, 0.5, 0.7))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: straps.plan_angle(Point(math.nan, 0.0, 0.0), Point(0.0, 0.0, 0.0)), "no number"),
        (lambda: straps.angle_from_vertical(Point(0, 0, math.inf), Point(0, 0, 0)), "no number"),
        (lambda: straps.side_view_spread(Point(1, 0, 0), Point(0, 0, 0), -0.001), "error of a coordinate"),
        (lambda: straps.plan_view_spread(Point(1, 0, 0), Point(0, 0, 0), math.nan), "error of a coordinate"),
        (lambda: straps.angle_behind_chest(Point(1, 0, 1), Point(1, 0, 0), math.pi / 2), "chest lean"),
    ],
)
def test_nonsense_is_refused_in_words(call, says):
    with pytest.raises(BadInput, match=says):
        call()
