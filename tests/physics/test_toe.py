"""Toe over the rim and as an angle."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.toe import toe_angle, toe_over_rim


def test_a_millimetre_on_a_sixteen_inch_rim_is_some_eight_and_a_half_minutes() -> None:
    """Chord of a circle: 1 mm on 406.4 mm is asin(1/406.4) = 8.459 minutes of arc."""
    minutes = math.degrees(toe_angle(1e-3, 0.4064)) * 60.0
    assert minutes == pytest.approx(8.459, abs=1e-3)


@given(st.floats(-0.02, 0.02), st.floats(0.25, 0.7))
def test_one_is_the_other_turned_round(over_rim: float, rim: float) -> None:
    assert toe_over_rim(toe_angle(over_rim, rim), rim) == pytest.approx(over_rim, abs=1e-15)
