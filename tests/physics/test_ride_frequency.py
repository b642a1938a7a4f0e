"""The linear ride model against the closed quarter car and an eigen-solution put together otherwise."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ride_cars import EVEN, HATCHBACK, cars, quarter_car, state_matrices
from tintop.physics.ride_frequency import (
    FREQUENCIES,
    Handling,
    body_swing,
    both_sides_alike,
    on_road,
    one_side_against_the_other,
)
from tintop.physics.road_profile import RoadClass

C = np.array(2000.0)


def test_quarter_car_in_closed_form():
    """A car even front to rear, all wheels on one height: four quarter cars, body and wheel and tyre load."""
    found = both_sides_alike(EVEN, C, C, FREQUENCIES, 1.0, 1.0)
    body, wheel = quarter_car(FREQUENCIES, EVEN.sprung_mass / 4.0, 38.0, 25e3, 2000.0, 2.1e5)
    omega = 2.0 * np.pi * FREQUENCIES
    np.testing.assert_allclose(found.heave, -(omega**2) * body, rtol=1e-9)
    np.testing.assert_allclose(found.load_front, 2.1e5 * (1.0 - wheel), rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(found.travel_rear, wheel - body, rtol=1e-6, atol=1e-12)
    assert np.max(np.abs(found.pitch)) < 1e-9


@settings(max_examples=15, deadline=None)
@given(car=cars(), front=st.floats(300, 6000), rear=st.floats(300, 6000))
def test_both_halves_against_seven_motions_solved_at_once(car, front, rear):
    frequencies = np.array([0.7, 1.6, 5.0, 13.0, 40.0])
    mass, damping, stiffness = state_matrices(car, front, rear)
    heights = np.array([1.0, -0.4 + 0.3j, 0.2j, 0.8])
    left = [0.5 * (heights[0] + heights[1]), 0.5 * (heights[2] + heights[3])]
    apart = [0.5 * (heights[0] - heights[1]), 0.5 * (heights[2] - heights[3])]
    alike = both_sides_alike(car, np.array(front), np.array(rear), frequencies, *left)
    against = one_side_against_the_other(car, np.array(front), np.array(rear), frequencies, *apart)
    for place, frequency in enumerate(frequencies):
        omega = 2.0 * math.pi * frequency
        pushed = np.zeros(7, dtype=complex)
        rates = [car.tyre_rate_front + 1j * omega * car.tyre_damping_front] * 2 + [
            car.tyre_rate_rear + 1j * omega * car.tyre_damping_rear
        ] * 2
        pushed[3:] = np.array(rates) * heights
        moved = np.linalg.solve(stiffness + 1j * omega * damping - omega**2 * mass, pushed)
        assert alike.heave[place] == pytest.approx(-(omega**2) * moved[0], rel=1e-6)
        assert alike.pitch[place] == pytest.approx(-(omega**2) * moved[1], rel=1e-6)
        assert against.roll[place] == pytest.approx(-(omega**2) * moved[2], rel=1e-6)
        loads = np.array(rates) * (heights - moved[3:])
        assert alike.load_front[place] + against.load_front[place] == pytest.approx(loads[0], rel=1e-6)
        assert alike.load_rear[place] - against.load_rear[place] == pytest.approx(loads[3], rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(car=cars(), speed=st.floats(10, 60))
def test_a_rougher_class_doubles_everything(car, speed):
    """Four times the spectrum, twice the r.m.s.: linear."""
    smooth, rough = (on_road(car, C, C, one.roughness, speed) for one in (RoadClass.A, RoadClass.B))
    for name in ("load_front", "load_rear", "travel_front", "heave", "pitch", "roll", "speed_rear"):
        assert float(getattr(rough, name)) == pytest.approx(2.0 * float(getattr(smooth, name)), rel=1e-9)


def test_many_dampings_at_once_are_those_one_by_one():
    front, rear = np.array([[800.0], [3000.0]]), np.array([[900.0, 2500.0, 5000.0]])
    many = on_road(HATCHBACK, front, rear, 16e-6, 36.0)
    assert many.load_front.shape == (2, 3)
    one = on_road(HATCHBACK, np.array(3000.0), np.array(2500.0), 16e-6, 36.0)
    assert many.load_front[1, 1] == pytest.approx(float(one.load_front), rel=1e-12)


def test_tyre_load_and_comfort_ask_for_different_damping():
    """A softer damper is more comfortable; the tyre load is steadiest at more. M. Mitschke, conflict of ride
    (from memory)."""
    dampings = np.linspace(300.0, 6000.0, 60)
    found = on_road(EVEN, dampings, dampings, 64e-6, 30.0)
    best_grip, best_comfort = dampings[np.argmin(found.load_front)], dampings[np.argmin(found.heave)]
    assert best_comfort < best_grip < dampings[-1]


def test_stiffer_dampers_swing_less_under_the_driver():
    handling = Handling(along=4.0, across=7.0, changes=0.25, lag=0.2)
    dampings = np.geomspace(300.0, 8000.0, 12)
    found = body_swing(HATCHBACK, dampings, dampings, handling, 0.5, 0.45)
    assert np.all(np.diff(found.load_front) < 0.0) and np.all(np.diff(found.load_rear) < 0.0)
    half = body_swing(HATCHBACK, dampings, dampings, handling._replace(along=2.0, across=3.5), 0.5, 0.45)
    assert half.load_front == pytest.approx(0.5 * found.load_front)
