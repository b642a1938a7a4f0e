"""What a lap at given speeds takes: forces, energy, fuel and grip, by inverse dynamics."""

import math

import numpy as np
import pytest

from cars import front_driven_hatchback
from paths import flat_path
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for, road_of
from tintop.physics.fastest_lap import fastest_lap
from tintop.physics.lap_report import report
from tintop.proof.lap_cases import circle, oval, point_mass, segment_times

G = 9.80665


def test_steady_circle_takes_drag_and_rolling_and_nothing_else() -> None:
    vehicle, driveline = point_mass(mass=1000.0, friction=1.0, drag=0.4, rolling_resistance=0.012)
    road = circle(50.0, G, 1.0)
    speed = np.full(road.step.size, 15.0)
    found = report(vehicle, driveline, road, speed, np.zeros_like(speed), 1.0)
    force = 0.4 * 225.0 + 0.012 * 1000.0 * G
    assert found.drive_force == pytest.approx(np.full_like(speed, force))
    assert found.engine_power == pytest.approx(np.full_like(speed, force * 15.0))
    assert found.fuel_flow == pytest.approx(np.full_like(speed, 1e-7 * force * 15.0))
    assert found.lateral == pytest.approx(np.full_like(speed, 4.5))
    assert np.all(found.brake_power == 0.0)
    used = math.hypot(4.5 / G, force / (1000.0 * G))
    assert found.grip_used == pytest.approx(np.full((speed.size, 4), used), rel=1e-6)


def test_wheel_loads_on_a_circle_are_the_weight() -> None:
    numbers = numbers_for(front_driven_hatchback(), Weather(), Conditions())
    road = road_of(flat_path("ring", [(2.0 * math.pi * 40.0, 1.0 / 40.0)]))
    speed, limit = fastest_lap(numbers.vehicle, numbers.driveline, road)
    found = report(numbers.vehicle, numbers.driveline, road, speed, limit, 1.0)
    lift = (numbers.vehicle.front.lift + numbers.vehicle.rear.lift) * speed**2
    weight = numbers.vehicle.mass * G - lift
    assert found.wheel_load.sum(axis=1) == pytest.approx(weight, rel=1e-6)
    # a left turn loads the right wheels
    assert np.all(found.wheel_load[:, 1] > found.wheel_load[:, 0])
    assert np.all(found.wheel_load[:, 3] >= found.wheel_load[:, 2])


def test_cornering_costs_power_through_side_slip() -> None:
    """P = F_y tan(slip): the front and rear axle's side forces times the slip the brush model gives."""
    numbers = numbers_for(front_driven_hatchback(), Weather(), Conditions())
    road = road_of(flat_path("ring", [(2.0 * math.pi * 60.0, 1.0 / 60.0)]))
    straight = road._replace(lateral_curvature=np.zeros_like(road.step))
    speed = np.full(road.step.size, 22.0)
    still = np.full_like(speed, 2.0)
    turning = report(numbers.vehicle, numbers.driveline, road, speed, still, 1.0)
    ahead = report(numbers.vehicle, numbers.driveline, straight, speed, still, 1.0)
    extra = float((turning.drive_force - ahead.drive_force)[0])
    side = numbers.vehicle.mass * 22.0**2 / 60.0
    assert 0.01 < extra / side < 0.10
    assert float(turning.tyre_slip_power[0].sum()) == pytest.approx(
        extra * 22.0 + float(ahead.tyre_slip_power[0].sum()), rel=0.1
    )


def test_forces_and_inertia_balance_at_every_metre() -> None:
    vehicle, driveline = point_mass(
        mass=1100.0, friction=1.1, power=110e3, drag=0.42, rolling_resistance=0.012
    )
    road = oval(300.0, 50.0, G, 1.0)
    speed, limit = fastest_lap(vehicle, driveline, road)
    found = report(vehicle, driveline, road, speed, limit, 1.0)
    net = found.drive_force - found.brake_force - found.drag_force - found.rolling_force
    assert net == pytest.approx(found.inertia_force, abs=1e-6 * 1100.0 * G)
    assert float(np.sum(found.inertia_force * road.step)) == pytest.approx(0.0, abs=1e-3)
    spent = segment_times(road, speed)
    braked = float(np.sum(found.brake_power.sum(axis=1) * spent))
    driven = float(np.sum(found.engine_power * spent))
    resisted = float(np.sum((found.drag_force + found.rolling_force) * road.step))
    assert driven == pytest.approx(braked + resisted, rel=1e-3)


def test_throttle_and_brake_shares() -> None:
    vehicle, driveline = point_mass(mass=1000.0, friction=1.2, pull=5000.0, brake_force=6000.0)
    road = oval(300.0, 40.0, G, 1.0)
    speed, limit = fastest_lap(vehicle, driveline, road)
    found = report(vehicle, driveline, road, speed, limit, 1.0)
    assert found.throttle.max() == pytest.approx(1.0)
    assert found.brake_share.max() == pytest.approx(1.0, abs=1e-6)
    assert np.all((found.throttle == 0.0) | (found.brake_share == 0.0))


def test_no_fuel_is_burned_on_the_overrun() -> None:
    numbers = numbers_for(front_driven_hatchback(), Weather(), Conditions())
    road = road_of(flat_path("oval", [(300.0, 0.0), (80.0, 0.04), (300.0, 0.0), (80.0, 0.04)]))
    speed, limit = fastest_lap(numbers.vehicle, numbers.driveline, road)
    found = report(numbers.vehicle, numbers.driveline, road, speed, limit, 1.0)
    braking = found.brake_force > 0.0
    assert np.any(braking)
    assert np.all(found.fuel_flow[braking] == 0.0)
    assert np.all(found.fuel_flow[~braking & (found.drive_force > 0.0)] > 0.0)
