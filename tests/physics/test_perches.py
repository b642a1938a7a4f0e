"""Perches, spring lengths and track rods: the worked example of docs/theory/setups.md, and statics."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.perches import body_over_wheel, loaded_length, perch_rise, rod_growth
from tintop.physics.toe import toe_angle

PAGE = Path(__file__).parents[2] / "docs" / "theory" / "setups.md"


def test_the_worked_example() -> None:
    """Each number by the formula, and on the page."""
    lowered = perch_rise(0.70, -0.015, 0.0)
    old = loaded_length(0.250, 2850.0, 0.95, 30e3)
    new = loaded_length(0.210, 2850.0, 0.95, 60e3)
    other = perch_rise(0.95, 0.0, new - old)
    smaller = body_over_wheel(0.13, 0.294, 3200.0, 2e5) - body_over_wheel(0.13, 0.300, 3200.0, 2e5)
    tyres = perch_rise(0.95, smaller, 0.0)
    toe = toe_angle(1e-3, 0.42)
    growth = rod_growth(0.130, math.radians(0.5))
    found = {
        "10.5 mm": (-lowered, 0.0105),
        "7 turns down": (-lowered / 1.5e-3, 7.0),
        "150 mm": (old, 0.150),
        "160 mm": (new, 0.160),
        "6.7 turns down": (-other / 1.5e-3, 6.67),
        "5.7 mm": (tyres, 0.0057),
        "3.8 turns up": (tyres / 1.5e-3, 3.8),
        "0.136°": (math.degrees(toe), 0.1364),
        "1.13 mm": (growth, 1.134e-3),
        "0.76 of a turn": (growth / 1.5e-3, 0.756),
    }
    page = PAGE.read_text("utf-8")
    for words, (value, by_hand) in found.items():
        assert value == pytest.approx(by_hand, rel=1e-3), words
        assert words in page, f"the page does not say {words}"


@given(
    st.floats(0.3, 1.0),
    st.floats(1e3, 5e3),
    st.floats(2e4, 1.5e5),
    st.floats(0.1, 0.3),
    st.floats(-0.03, 0.03),
)
def test_the_perch_puts_the_body_where_it_is_wanted(
    ratio: float, load: float, rate: float, free: float, rise: float
) -> None:
    """Perch, spring and body close again: the spring stands between the perch and the body's own seat."""
    before = loaded_length(free, load, ratio, rate)
    after = loaded_length(1.1 * free, load, ratio, 2.0 * rate)
    turned = perch_rise(ratio, rise, after - before)
    assert turned + after == pytest.approx(before + ratio * rise, abs=1e-12)


def test_a_heavier_wheel_presses_its_tyre_and_its_spring() -> None:
    assert loaded_length(0.25, 3000.0, 0.9, 4e4) < loaded_length(0.25, 2000.0, 0.9, 4e4)
    assert body_over_wheel(0.13, 0.3, 3000.0, 2e5) > body_over_wheel(0.13, 0.3, 2000.0, 2e5)
