"""The motions against an eigen-solution put together otherwise."""

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given, settings

from ride_cars import HATCHBACK, cars, state_matrices
from tintop.physics.ride_modes import modes_of


@settings(max_examples=40, deadline=None)
@given(car=cars())
def test_modes_against_an_independent_eigen_solution(car):
    """scipy.linalg.eig of all seven motions at once: seven frequencies, five of them named by the product."""
    mass, damping, stiffness = state_matrices(car, 1500.0, 1800.0)
    squares, shapes = scipy.linalg.eig(stiffness, mass)
    order = np.argsort(squares.real)
    frequencies = np.sqrt(squares.real[order]) / (2.0 * np.pi)
    ratios = []
    for place in order:
        shape = shapes[:, place].real
        ratios.append(
            shape @ damping @ shape / (2.0 * math.sqrt(squares[place].real) * (shape @ mass @ shape))
        )
    found = modes_of(car, 1500.0, 1800.0)
    body = sorted([found.heave, found.pitch, found.roll])
    assert [one.frequency for one in body] == pytest.approx(list(frequencies[:3]), rel=1e-9)
    if min(np.diff(frequencies[:3])) > 1e-3:
        assert [one.ratio for one in body] == pytest.approx(ratios[:3], rel=1e-6)
    hops = found.hop_front.frequency + found.hop_rear.frequency
    assert 2.0 * hops == pytest.approx(sum(frequencies[3:]), rel=1e-9)


def test_damped_roots_of_a_light_damper():
    """Lightly damped, the ratio along the shape is that of the damped root."""
    mass, damping, stiffness = state_matrices(HATCHBACK, 100.0, 100.0)
    system = np.block(
        [[np.zeros((7, 7)), np.eye(7)], [-np.linalg.solve(mass, stiffness), -np.linalg.solve(mass, damping)]]
    )
    roots = scipy.linalg.eigvals(system)
    lowest = min((root for root in roots if root.imag > 0.0), key=abs)
    found = modes_of(HATCHBACK, 100.0, 100.0)
    least = min(found.heave, found.pitch, found.roll)
    assert least.frequency == pytest.approx(abs(lowest) / (2.0 * math.pi), rel=1e-3)
    assert least.ratio == pytest.approx(-lowest.real / abs(lowest), rel=1e-2)
