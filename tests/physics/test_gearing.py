"""Gear arithmetic against a tape measure, ISO sizes and what must hold."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.gearing import (
    drop,
    engine_speed_at,
    inertia_load_share,
    road_speed,
    turns_per_kilometre,
)

RPM = math.pi / 30.0


def test_a_thousand_revolutions_in_top_gear_by_hand() -> None:
    """1000 rpm through 0.90 × 4.06 on a 298 mm radius: 2π × 0.298 × 60 ÷ 3.654 = 30.745 km/h."""
    assert 3.6 * road_speed(1000.0 * RPM, 0.90, 4.06, 0.298) == pytest.approx(30.745, abs=5e-4)


@given(
    st.floats(1.0, 90.0), st.floats(0.5, 4.0), st.floats(2.5, 6.0), st.floats(0.25, 0.35), st.floats(0.0, 0.1)
)
def test_engine_speed_and_road_speed_are_each_others_inverse(
    speed: float, ratio: float, final: float, radius: float, slip: float
) -> None:
    engine = engine_speed_at(speed, ratio, final, radius)
    assert road_speed(engine, ratio, final, radius) == pytest.approx(speed, rel=1e-12)
    slipping = engine_speed_at(speed, ratio, final, radius, slip)
    assert 1.0 - road_speed(engine, ratio, final, radius) / road_speed(
        slipping, ratio, final, radius
    ) == pytest.approx(slip, abs=1e-12)


def test_an_upshift_drops_by_the_ratio_of_ratios() -> None:
    assert 7000.0 * drop(3.15, 1.95) == pytest.approx(4333.3, abs=0.1)


def test_turns_a_kilometre() -> None:
    assert turns_per_kilometre(0.298) == pytest.approx(534.08, abs=0.01)


def test_inertia_loads_grow_with_the_square() -> None:
    assert inertia_load_share(6500.0, 7000.0) == pytest.approx(0.86224, abs=1e-5)
