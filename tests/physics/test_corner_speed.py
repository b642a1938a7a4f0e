"""The steady corner speed, found from anywhere."""

import pytest

from cars import front_driven_hatchback
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for
from tintop.physics.fastest_lap import Point, corner_speed


@pytest.mark.parametrize(("too_fast", "guess"), [(60.0, 30.0), (40.0, 20.0), (25.0, 24.0), (22.0, 13.0)])
def test_a_car_about_to_lift_a_wheel_takes_the_corner_at_one_speed_whatever_the_guess(
    too_fast: float, guess: float
) -> None:
    numbers = numbers_for(front_driven_hatchback(), Weather(), Conditions(grip=(1.27,) * 4))
    bend = Point(1.0 / 35.0, 0.0, 0.0, 0.0, 9.80665)
    found = corner_speed(numbers.vehicle, numbers.driveline, bend, too_fast, guess)
    assert found == pytest.approx(20.684, rel=0.02)
    reference = corner_speed(numbers.vehicle, numbers.driveline, bend, 60.0, 30.0)
    assert found == pytest.approx(reference, rel=1e-4)
