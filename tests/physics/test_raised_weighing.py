"""Height of the centre of gravity: a tilted rigid car weighed in coordinates, and doubts by many draws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.raised_weighing import (
    RaisedDoubt,
    RaisedWeighing,
    cg_height_doubt,
    cg_height_raised,
    gain,
    lift_for_doubt,
    unlocked_error,
)
from tintop.physics.weighing import cg_height_per_scale_error

V13_01 = RaisedWeighing(
    front_left=308.4,
    front_right=308.4,
    rear_left=252.3,
    rear_right=252.3,
    down_left=320.65,
    down_right=320.65,
    wheelbase=2.6,
    lift=0.65,
    hub_front=0.3,
    hub_rear=0.3,
    is_rear_raised=True,
)
NONE = RaisedDoubt(pad=0.0, lift=0.0, wheelbase=0.0, hub=0.0)


def tilted(mass, wheelbase, to_front, height, hub, lift, is_rear_raised) -> RaisedWeighing:
    """Turn the points of the car about the hub that stays down, and take moments of what hangs where."""
    level_front = mass * (wheelbase - to_front) / wheelbase
    angle = math.asin(lift / wheelbase)
    pivot = np.array([0.0, hub]) if is_rear_raised else np.array([-wheelbase, hub])
    other = np.array([-wheelbase, hub]) if is_rear_raised else np.array([0.0, hub])
    way = -angle if is_rear_raised else angle
    turn = np.array([[math.cos(way), -math.sin(way)], [math.sin(way), math.cos(way)]])
    cg = pivot + turn @ (np.array([-to_front, height]) - pivot)
    raised = pivot + turn @ (other - pivot)
    assert raised[1] - hub == pytest.approx(lift)
    down = mass * (cg[0] - raised[0]) / (pivot[0] - raised[0])
    rear = mass - level_front
    return RaisedWeighing(
        level_front / 2, level_front / 2, rear / 2, rear / 2, down / 2, down / 2,
        wheelbase, lift, hub, hub, is_rear_raised,
    )  # fmt: skip


@given(
    st.floats(600, 2000),
    st.floats(2.1, 3.0),
    st.floats(0.35, 0.65),
    st.floats(0.35, 0.7),
    st.floats(0.25, 0.35),
    st.floats(0.15, 0.9),
    st.booleans(),
)
def test_a_tilted_car_gives_back_its_height(mass, wheelbase, share, height, hub, lift, is_rear_raised):
    weighed = tilted(mass, wheelbase, share * wheelbase, height, hub, lift, is_rear_raised)
    assert cg_height_raised(weighed) == pytest.approx(height, rel=1e-9)


def test_wheels_of_two_sizes_carry_the_line_through_the_hubs():
    level = V13_01._replace(hub_rear=0.32)
    front_share = 616.8 / 1121.4
    assert cg_height_raised(level) - cg_height_raised(V13_01) == pytest.approx(0.02 * (1.0 - front_share))


def test_the_doubt_is_that_of_many_draws():
    """JCGM 101: 200,000 draws of every input against the law of propagation."""
    doubt = RaisedDoubt(pad=0.5, lift=0.004, wheelbase=0.003, hub=0.003)
    chance = np.random.default_rng(7)
    size = 200_000
    names = ("front_left", "front_right", "rear_left", "rear_right", "down_left", "down_right")
    drawn = {name: getattr(V13_01, name) + doubt.pad * chance.standard_normal(size) for name in names}
    lift = V13_01.lift + doubt.lift * chance.standard_normal(size)
    base = V13_01.wheelbase + doubt.wheelbase * chance.standard_normal(size)
    hub = [0.3 + doubt.hub * chance.standard_normal(size) for _ in range(2)]
    total = sum(drawn[name] for name in names[:4])
    front = drawn["front_left"] + drawn["front_right"]
    slope = lift / np.sqrt(base**2 - lift**2)
    moved = drawn["down_left"] + drawn["down_right"] - front
    heights = front / total * hub[0] + (1 - front / total) * hub[1] + moved * base / (total * slope)
    assert cg_height_doubt(V13_01, doubt)[0] == pytest.approx(float(heights.std()), rel=0.01)


def test_one_pad_off_by_a_kilogram_moves_it_as_the_closed_form_says():
    part = cg_height_doubt(V13_01, NONE._replace(pad=1.0))[1]["scales"]
    one = 9.81 * cg_height_per_scale_error(1121.4 * 9.81, 2.6, 0.65)
    assert one == pytest.approx(0.00898, abs=5e-6)
    assert part == pytest.approx(2.0 * one, rel=0.02)  # two pads down, the same two level: root of four
    assert cg_height_doubt(V13_01, NONE)[0] == 0.0


def test_a_higher_lift_makes_it_surer_and_says_how_high():
    doubt = RaisedDoubt(pad=0.5, lift=0.003, wheelbase=0.003, hub=0.002)
    low = tilted(1121.4, 2.6, 1.17, 0.52, 0.3, 0.3, True)
    now = cg_height_doubt(low, doubt)[0]
    lift = lift_for_doubt(low, doubt, 0.5 * now)
    assert lift is not None and 0.5 < lift < 0.7
    there = tilted(1121.4, 2.6, 1.17, 0.52, 0.3, lift, True)
    assert cg_height_doubt(there, doubt)[0] == pytest.approx(0.5 * now, rel=0.02)
    assert lift_for_doubt(low, doubt, 2.0 * now) == low.lift
    assert lift_for_doubt(low, doubt, 1e-6) is None


def test_springs_left_free_read_too_high():
    """A body on two springs, turned and weighed in coordinates, against the first-order figure."""
    mass, unsprung, base, to_front, height, hub, lift, rate = 1100.0, 140.0, 2.6, 1.17, 0.5, 0.3, 0.5, 30e3
    sprung = mass - unsprung
    height_sprung = (mass * height - unsprung * hub) / sprung
    angle = math.asin(lift / base)
    lean, front = 0.0, mass * 9.81 * (base - to_front) / base
    for _ in range(50):
        moment = mass * (height - hub) * math.tan(angle) + sprung * (height_sprung - hub) * lean
        moved = moment * 9.81 / base
        lean = 0.5 * moved * (2.0 / rate) / base
    weighed = tilted(mass, base, to_front, height, hub, lift, True)
    half = moved / 9.81 / 2.0
    free = weighed._replace(down_left=front / 9.81 / 2 + half, down_right=front / 9.81 / 2 + half)
    too_high = cg_height_raised(free) - height
    assert too_high == pytest.approx(
        unlocked_error(free, sprung / mass, height_sprung - hub, rate, rate, 9.81), rel=0.02
    )
    assert too_high > 0.0


def test_a_gain_is_what_the_axle_left_down_gains():
    assert gain(V13_01) == pytest.approx(24.5)
    assert gain(V13_01._replace(is_rear_raised=False)) == pytest.approx(641.3 - 504.6)
