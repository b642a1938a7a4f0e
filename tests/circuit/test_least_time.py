"""The line of least time: right where the answer is known, better than least curvature elsewhere."""

import numpy as np
import pytest
from shapes import circle, circuit_of
from test_racing_line import CAR, demo, stays_in

from cars import front_driven_hatchback
from tintop.circuit.circuit import Path
from tintop.circuit.least_time import quickest
from tintop.circuit.path import path_along
from tintop.circuit.racing_line import minimum_curvature
from tintop.event import Weather
from tintop.lap.flying_lap import lap_timer


def time_by_grip(path: Path) -> float:
    """Lap time of a car that only knows 11 m/s² sideways and 55 m/s."""
    slowness = np.sqrt(np.maximum(np.abs(path.lateral_curvature) / 11.0, 1 / 55.0**2))
    return float(np.sum(path.step * slowness))


def test_the_quickest_line_round_a_ring_by_grip_alone_is_the_inner_edge() -> None:
    """Time round a circle at constant lateral acceleration a is 2 pi sqrt(radius / a): least inside."""
    circuit = circuit_of(*circle(100.0), width=12.0)
    room = 6.0 - CAR / 2 - 0.3
    offset = quickest(circuit, CAR, time_by_grip)
    assert time_by_grip(path_along(circuit, offset)) == pytest.approx(
        2 * np.pi * np.sqrt((100.0 - room) / 11.0), rel=2e-3
    )


def test_on_the_demo_the_quickest_line_is_no_slower_than_least_curvature() -> None:
    circuit = demo()
    told: list[float] = []
    offset = quickest(circuit, CAR, time_by_grip, told.append)
    least = time_by_grip(path_along(circuit, minimum_curvature(circuit, CAR)))
    assert stays_in(circuit, offset)
    assert time_by_grip(path_along(circuit, offset)) <= least - 0.05
    assert told[-1] == 1.0 and told == sorted(told)


def test_a_real_car_gains_more_than_half_a_second_on_the_demo_over_least_curvature() -> None:
    circuit = demo()
    timer = lap_timer(front_driven_hatchback(), Weather())
    offset = quickest(circuit, CAR, timer)
    assert stays_in(circuit, offset)
    gain = timer(path_along(circuit, minimum_curvature(circuit, CAR))) - timer(path_along(circuit, offset))
    assert 0.5 < gain < 5.0
