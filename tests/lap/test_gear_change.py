"""No gear is held at its limiter for want of a decimal."""

import numpy as np
import pytest

from cars import front_driven_hatchback
from tintop.car.numbers import with_number
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for


@pytest.mark.parametrize("miles", np.linspace(0.97, 1.03, 25))
def test_at_every_speed_the_gear_chosen_pulls_all_through_its_cell(miles: float) -> None:
    """The second gear's limiter falls on, just below and just above a column of the table."""
    car = front_driven_hatchback()
    radius = car.tyre_front.radius
    at_limiter = car.engine.limiter_speed * radius / (car.gearbox.ratios[1] * car.gearbox.final_drive)
    on_a_column = round(at_limiter * miles, 1) / at_limiter
    for nudge in (1.0 - 1e-12, 1.0, 1.0 + 1e-12):
        nudged = with_number(car, "gearbox.final_drive", car.gearbox.final_drive / on_a_column * nudge)
        driveline = numbers_for(nudged, Weather(), Conditions()).driveline
        top = int(driveline.top_speed / driveline.speed_step)
        gears = driveline.best_gear[:top].astype(int)
        here, following = np.arange(top), np.arange(1, top + 1)
        assert np.all(driveline.force[gears, here] > 0.0)
        assert np.all(driveline.force[gears, following] > 0.5 * driveline.force[gears, here])
