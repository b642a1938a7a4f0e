"""The performance envelope: closed forms at its corners, and agreement with the lap."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cars import front_driven_hatchback, rear_driven_coupe
from paths import flat_path
from tintop.car.car import Car
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.lap.performance import performance_envelope
from tintop.lap.vehicle import GRAVITY, numbers_for

AIR = Weather()
CARS = [front_driven_hatchback(), rear_driven_coupe()]


@pytest.mark.parametrize("car", CARS, ids=lambda car: car.name)
def test_shape_and_order(car: Car) -> None:
    envelope = performance_envelope(car, AIR)
    assert envelope.accelerating.shape == envelope.braking.shape == (24, 25)
    assert np.all(envelope.lateral_limit > 5.0)
    assert np.all(envelope.lateral_limit < 1.35 * GRAVITY)
    assert np.all(envelope.braking[:, 0] < 0.0)
    assert np.all(envelope.accelerating[:, :-2] > envelope.braking[:, :-2])
    # the faster, the less is left to accelerate with
    straight = envelope.accelerating[:, 0]
    assert straight[0] > 2.0 > straight[-1]
    # the more cornering, the less braking, but for the lean of the wheels and a wheel that lifts
    assert np.all(np.diff(envelope.braking, axis=1) > -0.35)
    assert np.all(envelope.braking[:, 12] < 0.7 * envelope.braking[:, 0])


@pytest.mark.parametrize("car", CARS, ids=lambda car: car.name)
@pytest.mark.parametrize("radius", [20.0, 60.0])
def test_a_circle_is_driven_at_the_lateral_limit(car: Car, radius: float) -> None:
    ring = flat_path("ring", [(2.0 * math.pi * radius, 1.0 / radius)])
    lap = flying_lap(car, ring, AIR)
    speed = float(lap.speed.mean())
    envelope = performance_envelope(car, AIR, speeds=200, shares=2)
    limit = float(np.interp(speed, envelope.speed, envelope.lateral_limit))
    assert speed**2 / radius == pytest.approx(limit, rel=2e-3)


@pytest.mark.parametrize("car", CARS, ids=lambda car: car.name)
def test_most_acceleration_on_the_straight_is_drive_less_resistance(car: Car) -> None:
    envelope = performance_envelope(car, AIR, speeds=12, shares=2)
    numbers = numbers_for(car, AIR, Conditions())
    for row in (6, 9, 11):
        speed = float(envelope.speed[row])
        force = max(float(np.interp(speed, np.arange(f.size) * 0.1, f)) for f in numbers.driveline.force)
        resisting = numbers.vehicle.drag * speed**2 + 0.015 * (
            numbers.vehicle.mass * GRAVITY
            - speed**2 * (numbers.vehicle.front.lift + numbers.vehicle.rear.lift)
        )
        gear = int(numbers.driveline.best_gear[int(speed / 0.1)])
        turning = numbers.vehicle.mass + numbers.vehicle.rolling_mass + numbers.driveline.gear_mass[gear]
        assert envelope.accelerating[row, 0] == pytest.approx((force - resisting) / turning, rel=5e-3)


def test_more_grip_widens_the_envelope_everywhere() -> None:
    poor = performance_envelope(CARS[0], AIR, Conditions(grip=(0.8,) * 4))
    good = performance_envelope(CARS[0], AIR)
    assert np.all(good.lateral_limit > poor.lateral_limit)
    assert np.all(good.braking[:, 0] < poor.braking[:, 0])
    assert np.all(good.accelerating[:, 0] >= poor.accelerating[:, 0] - 1e-6)


def test_downforce_raises_the_limit_with_speed() -> None:
    car = CARS[1]
    winged = replace(car, aero=replace(car.aero, lift_area_front=-0.6, lift_area_rear=-0.9))
    plain, downforce = performance_envelope(car, AIR), performance_envelope(winged, AIR)
    assert np.all(np.diff(downforce.lateral_limit[3:]) > 0.0)
    assert downforce.lateral_limit[-1] > 1.1 * plain.lateral_limit[-1]
