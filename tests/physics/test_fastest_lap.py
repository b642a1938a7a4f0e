"""The fastest lap: closed forms on circles, ovals, banking and grade; mesh; plain Python the same."""

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cars import front_driven_hatchback, rear_driven_coupe
from demo_cars import CARS, demo_car, demo_lane, demo_weather
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for, road_of
from tintop.physics.fastest_lap import fastest_lap
from tintop.physics.four_wheels import BRAKES, LIMITER, POWER, worst_use_square
from tintop.physics.point_mass import circle_speed, oval_constant_power
from tintop.proof.lap_cases import circle, level_road, oval, point_mass, road_with, segment_times

G = 9.80665


@settings(max_examples=20, deadline=None)
@given(
    friction=st.floats(0.5, 2.0),
    radius=st.floats(8.0, 300.0),
    downforce=st.floats(0.0, 1.0),
    drag=st.floats(0.0, 1.0),
)
def test_circle(friction: float, radius: float, downforce: float, drag: float) -> None:
    car = point_mass(mass=1000.0, friction=friction, downforce=downforce, drag=drag)
    expected = circle_speed(friction, radius, G, 1000.0, downforce, drag)
    speed, _ = fastest_lap(*car, circle(radius, G, mesh=1.0))
    assert speed == pytest.approx(np.full_like(speed, min(expected, 150.0)), rel=1e-4)


@settings(max_examples=20, deadline=None)
@given(bank=st.floats(-0.2, 0.5), friction=st.floats(0.6, 1.4), radius=st.floats(20.0, 200.0))
def test_banked_circle(bank: float, friction: float, radius: float) -> None:
    """v² = g r (tan b + mu) / (1 - mu tan b). Source: force balance; b lifts the outer edge."""
    car = point_mass(mass=1000.0, friction=friction)
    n = 200
    flat_bend = 1.0 / radius
    road = road_with(np.full(n, 2.0 * math.pi * radius / n), np.full(n, flat_bend * math.cos(bank)), G)
    # a left turn: the right edge is the outer one, so gravity pulls to the left
    road = road._replace(
        normal_curvature=np.full(n, flat_bend * math.sin(bank)),
        gravity_y=np.full(n, G * math.sin(bank)),
        gravity_z=np.full(n, G * math.cos(bank)),
    )
    tangent = math.tan(bank)
    expected = math.sqrt(G * radius * (tangent + friction) / (1.0 - friction * tangent))
    speed, _ = fastest_lap(*car, road)
    assert speed == pytest.approx(np.full(n, min(expected, 150.0)), rel=1e-4)


@pytest.mark.parametrize("grade", [-0.02, 0.0, 0.03, 0.08])
def test_steady_speed_up_a_grade(grade: float) -> None:
    """P = v (k v² + m g (crr cos + sin)). Source: force balance."""
    mass, power, drag, rolling = 1100.0, 90e3, 0.42, 0.013
    car = point_mass(
        mass=mass, friction=1.1, power=power, drag=drag, rolling_resistance=rolling, top_speed=120.0
    )
    n = 8000
    slope = math.atan(grade)
    road = road_with(np.full(n, 2.0), np.zeros(n), G)._replace(
        gravity_x=np.full(n, -G * math.sin(slope)), gravity_z=np.full(n, G * math.cos(slope))
    )
    speed, limit = fastest_lap(*car, road)
    v = float(speed[-1])
    weight = mass * G * (rolling * math.cos(slope) + math.sin(slope))
    assert v * (drag * v**2 + weight) == pytest.approx(power, rel=1e-4)
    assert np.all(limit == POWER)


def test_a_crest_makes_light_and_a_dip_makes_heavy() -> None:
    """v² (k/mu - kn) = g: with normal curvature the grip grows with the square of the speed."""
    car = point_mass(mass=1000.0, friction=1.1)
    for normal in (-0.004, 0.004):
        n = 100
        road = road_with(np.full(n, 1.0), np.full(n, 0.01), G)._replace(normal_curvature=np.full(n, normal))
        speed, _ = fastest_lap(*car, road)
        assert speed**2 == pytest.approx(np.full(n, G / (0.01 / 1.1 - normal)), rel=1e-4)


@pytest.mark.parametrize("mesh", [4.0, 2.0, 1.0, 0.5, 0.25])
def test_halving_the_step_halves_the_error(mesh: float) -> None:
    exact = oval_constant_power(500.0, 60.0, 1.05, 1100.0, 110e3, G).lap_time
    road = oval(500.0, 60.0, G, mesh)
    time = float(
        np.sum(
            segment_times(road, fastest_lap(*point_mass(mass=1100.0, friction=1.05, power=110e3), road)[0])
        )
    )
    assert abs(time / exact - 1.0) < 1.5e-4 * mesh


def test_brakes_that_are_too_weak_limit_and_the_distance_is_right() -> None:
    car = point_mass(mass=1000.0, friction=1.2, pull=6000.0, brake_force=4000.0)
    road = oval(400.0, 30.0, G)
    speed, limit = fastest_lap(*car, road)
    corner, peak = float(speed.min()), float(speed.max())
    assert np.sum(limit == BRAKES) * 0.1 == pytest.approx(2.0 * (peak**2 - corner**2) / 8.0, rel=5e-3)


def test_the_limiter_holds_the_speed() -> None:
    car = point_mass(mass=1000.0, friction=1.2, power=150e3, top_speed=40.0)
    speed, limit = fastest_lap(*car, oval(800.0, 60.0, G, 1.0))
    assert speed.max() == pytest.approx(40.0)
    assert np.all(speed[limit == LIMITER] <= 40.0)
    assert np.sum(limit == LIMITER) > 800


@pytest.mark.parametrize("name", CARS)
def test_no_wheel_beyond_its_grip_at_the_solved_points(name: str) -> None:
    """At each point the force of the following metre, with the curvature it meets, is within the grip."""
    numbers = numbers_for(demo_car(name), demo_weather(), Conditions(fuel_mass=20.0))
    vehicle, road = numbers.vehicle, road_of(demo_lane())
    speed, _ = fastest_lap(vehicle, numbers.driveline, road)
    bend = 0.5 * (road.lateral_curvature + np.roll(road.lateral_curvature, -1))
    worst = 0.0
    for at in range(speed.size):
        square = speed[at] ** 2
        lateral = square * road.lateral_curvature[at] - road.gravity_y[at]
        normal = square * road.normal_curvature[at] + road.gravity_z[at]
        worst = max(worst, worst_use_square(vehicle, speed[at], 0.0, lateral, normal))
        assert abs(square * bend[at]) < 14.0
    # coasting: the force that would hold the speed is left out, so the limit itself is just below 1
    assert math.sqrt(worst) <= 1.0 + 2e-5


@settings(max_examples=15, deadline=None)
@given(start=st.integers(1, 900))
def test_the_start_line_may_lie_anywhere(start: int) -> None:
    car = point_mass(mass=1100.0, friction=1.1, power=110e3, drag=0.4)
    road = level_road(
        [(300.0, 0.0), (94.2, 1 / 30.0), (200.0, 0.0), (157.1, -1 / 50.0), (150.0, 0.0)], G, 1.0
    )
    turned = type(road)(*(np.roll(part, start) for part in road))
    here = float(np.sum(segment_times(road, fastest_lap(*car, road)[0])))
    there = float(np.sum(segment_times(turned, fastest_lap(*car, turned)[0])))
    assert there == pytest.approx(here, rel=1e-6)


PLAIN = """
import json, sys
sys.path.insert(0, sys.argv[1])
from paths import oval
from cars import front_driven_hatchback, rear_driven_coupe
from tintop.event import Weather
from tintop.lap.flying_lap import flying_lap
found = []
for car in (front_driven_hatchback(), rear_driven_coupe()):
    lap = flying_lap(car, oval(120.0, 25.0, 2.0), Weather())
    found += [lap.lap_time, *lap.speed.tolist(), float(lap.per_lap("fuel_flow"))]
print(json.dumps(found))
"""


def test_compiled_and_plain_python_give_the_same_lap() -> None:
    here = str(Path(__file__).parents[1])

    def run(**extra: str) -> list[float]:
        said = subprocess.run(
            [sys.executable, "-c", PLAIN, here],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, **extra},
        )
        numbers: list[float] = json.loads(said.stdout)
        return numbers

    assert run(NUMBA_DISABLE_JIT="1") == pytest.approx(run(NUMBA_DISABLE_JIT="0"), rel=1e-9)


@pytest.mark.parametrize("car", [front_driven_hatchback(), rear_driven_coupe()], ids=lambda car: car.name)
def test_a_second_look_changes_nothing(car) -> None:  # type: ignore[no-untyped-def]
    numbers = numbers_for(car, Weather(), Conditions())
    road = road_of(demo_lane())
    one, two = (fastest_lap(numbers.vehicle, numbers.driveline, road) for _ in range(2))
    assert np.array_equal(one[0], two[0])
    assert np.array_equal(one[1], two[1])
