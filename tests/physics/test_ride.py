import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import ride

rates = st.floats(5e3, 3e5)


@pytest.mark.parametrize("case_id", ["V1-01", "V1-02", "V1-04", "V1-05", "V1-07"])
def test_published_case(case_id):
    check(case_id)


@given(rates, rates)
def test_springs_in_series_are_softer_than_either(one, other):
    both = ride.ride_rate(one, other)
    assert both == pytest.approx(ride.ride_rate(other, one), rel=1e-12)
    assert both < min(one, other)


@given(rates, st.floats(100.0, 600.0))
def test_frequency_from_rate_equals_frequency_from_deflection(rate, mass):
    deflection = mass * 9.80665 / rate
    assert ride.ride_frequency(rate, mass) == pytest.approx(ride.ride_frequency_of_deflection(deflection))


@given(rates, rates, st.floats(0.9, 1.5), st.floats(0.9, 1.5), st.floats(0.7, 1.3))
def test_ride_modes_are_the_eigenvalues_of_the_two_equations(front, rear, a, b, index):
    mass = 1000.0
    inertia = index * mass * a * b
    matrix = np.array(
        [
            [(front + rear) / mass, (rear * b - front * a) / mass],
            [(rear * b - front * a) / inertia, (front * a**2 + rear * b**2) / inertia],
        ]
    )
    squares = sorted(np.linalg.eigvals(matrix).real, reverse=True)
    modes = ride.bounce_and_pitch(mass, inertia, a, b, front, rear)
    for mode, square in zip(modes, squares, strict=True):
        assert mode.frequency == pytest.approx(math.sqrt(square) / (2.0 * math.pi), rel=1e-6)


@given(st.floats(0.010, 0.030), st.floats(1.05, 1.5))
def test_a_bar_grows_with_the_fourth_power_of_its_diameter(diameter, factor):
    thin = ride.torsion_bar_rate(diameter, 0.9, 79.3e9)
    assert ride.torsion_bar_rate(factor * diameter, 0.9, 79.3e9) == pytest.approx(thin * factor**4)


@given(st.floats(0.3, 1.2))
def test_wheel_rate_keeps_the_energy_of_the_spring(motion_ratio):
    travel, spring = 0.03, 70e3
    in_spring = 0.5 * spring * (motion_ratio * travel) ** 2
    assert 0.5 * ride.wheel_rate(spring, motion_ratio) * travel**2 == pytest.approx(in_spring)
