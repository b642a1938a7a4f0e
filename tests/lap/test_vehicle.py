"""From a described car on a day to the kernel's numbers."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cars import front_driven_hatchback, rear_driven_coupe
from tintop.car.car import Car, DrivenAxle
from tintop.car.powertrain import DifferentialKind
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import brake_forces, fuel_line, numbers_for
from tintop.physics.air import density_moist_air

AIR = Weather()
DRY = Conditions()


def test_fuel_moves_the_centre_of_gravity_as_statics_say() -> None:
    car = front_driven_hatchback()
    vehicle = numbers_for(car, AIR, Conditions(fuel_mass=40.0)).vehicle
    empty = 1165.0
    behind = (empty * 0.38 * 2.55 + 40.0 * 2.15) / 1205.0
    height = (empty * 0.50 + 40.0 * 0.36) / 1205.0
    assert vehicle.mass == pytest.approx(1205.0)
    assert vehicle.rear_load_share == pytest.approx(behind / 2.55)
    assert vehicle.height_share == pytest.approx(height / 2.55)


@pytest.mark.parametrize("car", [front_driven_hatchback(), rear_driven_coupe()], ids=lambda car: car.name)
def test_all_transfer_together_is_mass_times_height(car: Car) -> None:
    """The moments about the ground: transfer × track of both axles = m h, but for the body's own lean."""
    stiff = replace(
        car,
        suspension=replace(car.suspension, roll_stiffness_front=0.9e6, roll_stiffness_rear=0.9e6),
    )
    vehicle = numbers_for(stiff, AIR, DRY).vehicle
    moment = vehicle.front.transfer * vehicle.front.track + vehicle.rear.transfer * vehicle.rear.track
    assert moment == pytest.approx(car.masses.without_fuel * car.masses.cg_height, rel=4e-3)
    soft = numbers_for(car, AIR, DRY).vehicle
    assert soft.front.transfer * soft.front.track + soft.rear.transfer * soft.rear.track > moment


def test_drag_and_lift_are_half_the_density_times_the_areas() -> None:
    car = front_driven_hatchback()
    hot = Weather(air_temp=32.0, air_pressure=95e3, humidity=0.8)
    vehicle = numbers_for(car, hot, DRY).vehicle
    density = density_moist_air(32.0, 95e3, 0.8)
    assert vehicle.drag == pytest.approx(0.5 * density * 0.68)
    assert vehicle.front.lift == pytest.approx(0.5 * density * 0.06)
    assert vehicle.rear.lift == pytest.approx(0.5 * density * 0.10)


def test_drive_is_torque_through_the_gears() -> None:
    car = front_driven_hatchback()
    standard = Weather(air_temp=25.0, air_pressure=99e3, humidity=0.0)
    driveline = numbers_for(car, standard, DRY).driveline
    ratio = 1.48 * 4.06 / 0.300
    speed = 4500.0 * math.pi / 30.0 / ratio
    place = int(speed / driveline.speed_step)
    assert driveline.engine_ratio[2] == pytest.approx(ratio)
    assert driveline.force[2, place] == pytest.approx(203.0 * ratio * 0.92, rel=5e-3)
    assert driveline.top_speed == pytest.approx(7000.0 * math.pi / 30.0 * 0.300 / (0.95 * 4.06))
    assert driveline.gear_mass[2] == pytest.approx(0.14 * ratio**2)


def test_the_best_gear_never_falls_as_speed_rises() -> None:
    driveline = numbers_for(front_driven_hatchback(), AIR, DRY).driveline
    below = int(driveline.top_speed / driveline.speed_step)
    assert np.all(np.diff(driveline.best_gear[:below]) >= 0)
    assert driveline.best_gear[0] == 0
    assert driveline.best_gear[below] == 4


@pytest.mark.parametrize(
    ("axle", "front"), [(DrivenAxle.FRONT, 1.0), (DrivenAxle.REAR, 0.0), (DrivenAxle.FOUR, 0.4)]
)
def test_the_driven_axles_take_the_drive(axle: DrivenAxle, front: float) -> None:
    car = front_driven_hatchback()
    car = replace(car, driven_axle=axle, gearbox=replace(car.gearbox, front_drive_share=0.4))
    vehicle = numbers_for(car, AIR, DRY).vehicle
    assert vehicle.front.drive_share == pytest.approx(front)
    assert vehicle.front.drive_share + vehicle.rear.drive_share == pytest.approx(1.0)
    assert vehicle.front.brake_share + vehicle.rear.brake_share == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("kind", "lock", "preload"),
    [
        (DifferentialKind.OPEN, 0.0, 0.0),
        (DifferentialKind.LIMITED_SLIP, 0.35, 60.0 / 0.300),
        (DifferentialKind.LOCKED, 1.0, 0.0),
    ],
)
def test_differentials(kind: DifferentialKind, lock: float, preload: float) -> None:
    car = front_driven_hatchback()
    differential = replace(car.gearbox.differential, kind=kind)
    vehicle = numbers_for(
        replace(car, gearbox=replace(car.gearbox, differential=differential)), AIR, DRY
    ).vehicle
    assert (vehicle.lock_share, vehicle.lock_force) == pytest.approx((lock, preload))


def test_pads_set_the_brake_force_and_its_split() -> None:
    car = front_driven_hatchback()
    share, force = brake_forces(car, DRY)
    faded_share, faded = brake_forces(car, Conditions(pad_friction=(0.215, 0.215)))
    assert faded == pytest.approx(0.5 * force)
    assert faded_share == pytest.approx(share)
    front_only, _ = brake_forces(car, Conditions(pad_friction=(0.43, 0.2)))
    assert front_only > share > 0.5


def test_specific_consumption_is_the_stated_one_at_peak_power() -> None:
    engine = front_driven_hatchback().engine
    per_work, friction = fuel_line(engine)
    powers = [w * t for w, t in zip(engine.speeds, engine.torques, strict=True)]
    at = engine.speeds[powers.index(max(powers))]
    flow = per_work * (max(powers) + friction * at)
    assert flow / max(powers) == pytest.approx(engine.specific_consumption)
    # part load costs more for each joule
    assert per_work * (0.3 * max(powers) + friction * at) / (0.3 * max(powers)) > flow / max(powers)
    # the mean pressure of friction over four-stroke displacement: p V / 4 pi a radian
    assert friction == pytest.approx(1.5e5 * 2.0e-3 / (4.0 * math.pi))


def test_grip_of_the_day_multiplies() -> None:
    car = front_driven_hatchback()
    wet = Weather(wetness=0.5)
    vehicle = numbers_for(car, wet, Conditions(grip=(0.9, 1.0, 1.0, 0.8), grip_used=0.95)).vehicle
    share = (1.0 - 0.5 * (1.0 - 0.48)) * 0.95
    assert vehicle.front.friction_y_left == pytest.approx(1.20 * share * 0.9)
    assert vehicle.front.friction_x_right == pytest.approx(1.23 * share)
    assert vehicle.rear.friction_y_right == pytest.approx(1.20 * share * 0.8)
    assert vehicle.lowest_friction == pytest.approx(1.20 * share * 0.8)


def test_a_car_that_would_fall_over_is_refused() -> None:
    car = front_driven_hatchback()
    soft = replace(
        car, suspension=replace(car.suspension, roll_stiffness_front=1.5e3, roll_stiffness_rear=1.5e3)
    )
    with pytest.raises(BadInput, match="falls over"):
        numbers_for(soft, AIR, DRY)


def test_gearing_that_cannot_pull_is_refused() -> None:
    car = front_driven_hatchback()
    tall = replace(car, gearbox=replace(car.gearbox, ratios=(0.06, 0.05), final_drive=0.6))
    with pytest.raises(BadInput, match=r"pull|gear"):
        numbers_for(tall, AIR, DRY)
