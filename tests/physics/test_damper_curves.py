"""Damper curves: what was measured is met, plain damping is itself, an odd curve by its closed form."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.physics.damper_curves import critical_damping, equivalent_damping, mean_force, measured_force

GRID = np.linspace(-2.0, 2.0, 801)


@settings(max_examples=30, deadline=None)
@given(damping=st.floats(100.0, 2e4), rms=st.floats(0.01, 1.0))
def test_a_plain_damper_is_its_own_equivalent(damping, rms):
    found = equivalent_damping(damping * GRID, 2.0, np.array(rms))
    assert float(found) == pytest.approx(damping, rel=1e-9)
    assert mean_force(damping * GRID, 2.0, rms) == pytest.approx(0.0, abs=1e-6 * damping)


@settings(max_examples=30, deadline=None)
@given(bump=st.floats(100.0, 1e4), rebound=st.floats(100.0, 1e4), rms=st.floats(0.02, 0.4))
def test_two_strokes_count_at_their_mean(bump, rebound, rms):
    """E[vF]/E[v²] of c1 v above and c2 v below nought is (c1 + c2)/2; the mean force (c1 − c2) σ/√(2π)."""
    table = np.where(GRID > 0.0, bump, rebound) * GRID
    assert float(equivalent_damping(table, 2.0, np.array(rms))) == pytest.approx(
        0.5 * (bump + rebound), rel=1e-6
    )
    drawn = (bump - rebound) * rms / math.sqrt(2.0 * math.pi)
    assert mean_force(table, 2.0, rms) == pytest.approx(drawn, rel=5e-3, abs=0.02)


@pytest.mark.parametrize("rms", [0.05, 0.2, 0.4])
def test_a_damper_as_the_square_of_speed(rms):
    """F = q v|v| gives 2 q σ √(2/π): Caughey 1963 (from memory), E|v|³ = 2σ³√(2/π)."""
    q = 3000.0
    found = equivalent_damping(q * GRID * np.abs(GRID), 2.0, np.array(rms))
    assert float(found) == pytest.approx(2.0 * q * rms * math.sqrt(2.0 / math.pi), rel=3e-3)


def test_measured_forces_are_met_and_gone_on_from():
    speeds, forces = np.array([0.05, 0.1, 0.3]), np.array([100.0, 150.0, 250.0])
    asked = np.array([0.0, 0.025, 0.05, 0.1, 0.2, 0.3, 0.5])
    assert measured_force(speeds, forces, asked) == pytest.approx(
        [0.0, 50.0, 100.0, 150.0, 200.0, 250.0, 350.0]
    )


def test_a_curve_that_falls_at_its_end_is_not_carried_on_falling():
    forces = measured_force(np.array([0.0, 0.1, 0.2]), np.array([0.0, 200.0, 150.0]), np.array([1.0]))
    assert forces == pytest.approx([150.0])


def test_critical_damping():
    assert critical_damping(100.0, 4.0) == 40.0
