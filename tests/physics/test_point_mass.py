import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import point_mass


@pytest.mark.parametrize("case_id", [f"V8-0{n}" for n in (1, 2, 3, 4, 5, 6, 9)])
def test_published_case(case_id):
    check(case_id)


@given(st.floats(0.6, 1.6), st.floats(10.0, 300.0), st.floats(0.0, 0.6), st.floats(0.0, 0.6))
def test_circle_speed_uses_exactly_the_grip_there_is(friction, radius, downforce, drag):
    mass, gravity = 1100.0, 9.81
    speed = point_mass.circle_speed(friction, radius, gravity, mass, downforce, drag)
    needed = math.hypot(mass * speed**2 / radius, drag * speed**2)
    assert needed == pytest.approx(friction * (mass * gravity + downforce * speed**2), rel=1e-9)


def test_enough_downforce_leaves_no_limit():
    assert point_mass.circle_speed(1.5, 100.0, 9.81, 620.0, 2.15, 0.0) < math.inf
    assert point_mass.circle_speed(1.5, 200.0, 9.81, 620.0, 2.15, 0.0) == math.inf


@given(st.floats(60e3, 300e3), st.floats(15.0, 35.0), st.floats(1.05, 2.5))
def test_constant_power_turns_into_kinetic_energy(power, start, factor):
    mass, end = 1100.0, factor * start
    time = point_mass.power_time(mass, power, start, end)
    assert power * time == pytest.approx(0.5 * mass * (end**2 - start**2), rel=1e-9)
    distance = point_mass.power_distance(mass, power, start, end)
    assert start * time < distance < end * time


@given(st.floats(100.0, 900.0), st.floats(80e3, 300e3), st.floats(15.0, 30.0))
def test_power_and_braking_fill_the_straight(length, power, corner):
    peak = point_mass.peak_speed_under_power(length, 1100.0, power, corner, corner, 10.0)
    used = point_mass.power_distance(1100.0, power, corner, peak) + (peak**2 - corner**2) / 20.0
    assert used == pytest.approx(length, rel=1e-9)


@given(st.floats(0.8, 1.4), st.floats(1.01, 1.3))
def test_more_grip_is_a_quicker_oval(friction, factor):
    slow = point_mass.oval_constant_power(500.0, 60.0, friction, 1100.0, 110e3, 9.81)
    quick = point_mass.oval_constant_power(500.0, 60.0, factor * friction, 1100.0, 110e3, 9.81)
    assert quick.lap_time < slow.lap_time
