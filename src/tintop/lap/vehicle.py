"""From a car on a day to the numbers of the lap kernel."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.body_roll import body_roll
from tintop.car.car import Car, DrivenAxle
from tintop.car.powertrain import DifferentialKind, Engine
from tintop.car.tyres import Tyre
from tintop.circuit.circuit import Path
from tintop.errors import refuse
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.physics.air import density_moist_air, power_factor
from tintop.physics.four_wheels import Axle, Driveline, Road, Vehicle
from tintop.physics.load_transfer import AxleMoments

FloatArray = NDArray[np.float64]

GRAVITY = 9.80665
_SPEED_STEP = 0.1


@dataclass(frozen=True, slots=True)
class Numbers:
    """A car on a day as the kernels take it."""

    vehicle: Vehicle
    driveline: Driveline


def numbers_for(car: Car, weather: Weather, conditions: Conditions) -> Numbers:
    """Give the kernels' numbers for this car, this air and this lap; BadInput if the gearing cannot pull."""
    dimensions, suspension = car.dimensions, car.suspension
    body = body_roll(car, conditions.fuel_mass)
    air_density = density_moist_air(weather.air_temp, weather.air_pressure, weather.humidity)

    def axle(
        tyre: Tyre,
        moments: AxleMoments,
        lift_area: float,
        camber: float,
        recovery: float,
        grip: tuple[float, float],
        drive: float,
        brake: float,
    ) -> Axle:
        wet = 1.0 - weather.wetness * (1.0 - tyre.friction_wet_share)
        left, right = (wet * conditions.grip_used * g for g in grip)
        return Axle(
            track=moments.track,
            transfer=moments.transfer,
            lift=0.5 * air_density * lift_area,
            friction_x_left=tyre.friction_longitudinal * left,
            friction_x_right=tyre.friction_longitudinal * right,
            friction_y_left=tyre.friction_lateral * left,
            friction_y_right=tyre.friction_lateral * right,
            grip_offset=1.0 - tyre.load_sensitivity,
            grip_slope=tyre.load_sensitivity / tyre.reference_load,
            camber=camber,
            camber_per_acceleration=body.roll_per_acceleration * (1.0 - recovery),
            camber_best=tyre.camber_best,
            camber_loss=tyre.camber_loss,
            slide_slip=tyre.slide_slip,
            rolling_resistance=tyre.rolling_resistance,
            drive_share=drive,
            brake_share=brake,
        )

    drive_front = {
        DrivenAxle.FRONT: 1.0,
        DrivenAxle.REAR: 0.0,
        DrivenAxle.FOUR: car.gearbox.front_drive_share,
    }[car.driven_axle]
    brake_front, brake_force = brake_forces(car, conditions)
    drive_radius = drive_front * car.tyre_front.radius + (1.0 - drive_front) * car.tyre_rear.radius
    engine_ratio = np.array(car.gearbox.ratios) * car.gearbox.final_drive / drive_radius
    top_speed = car.engine.limiter_speed / float(engine_ratio[-1])
    torque_factor = conditions.power * power_factor(
        weather.air_temp, weather.air_pressure, weather.humidity, car.engine.is_charged
    )
    drive_force, best_gear = drive_table(car, engine_ratio, top_speed, torque_factor)
    lock, preload = {
        DifferentialKind.OPEN: (0.0, 0.0),
        DifferentialKind.LIMITED_SLIP: (
            car.gearbox.differential.lock_share_drive,
            car.gearbox.differential.preload,
        ),
        DifferentialKind.LOCKED: (1.0, 0.0),
    }[car.gearbox.differential.kind]
    fuel_per_work, friction_work = fuel_line(car.engine)
    front = axle(
        car.tyre_front,
        body.front,
        car.aero.lift_area_front,
        suspension.camber_front,
        suspension.camber_recovery_front,
        conditions.grip[:2],
        drive_front,
        brake_front,
    )
    rear = axle(
        car.tyre_rear,
        body.rear,
        car.aero.lift_area_rear,
        suspension.camber_rear,
        suspension.camber_recovery_rear,
        conditions.grip[2:],
        1.0 - drive_front,
        1.0 - brake_front,
    )
    vehicle = Vehicle(
        mass=body.mass,
        wheelbase=dimensions.wheelbase,
        rear_load_share=body.cg_to_front / dimensions.wheelbase,
        height_share=body.cg_height / dimensions.wheelbase,
        drag=0.5 * air_density * car.aero.drag_area,
        front=front,
        rear=rear,
        lock_share=lock,
        lock_force=preload / drive_radius,
        brake_force=brake_force,
        rolling_mass=2.0 * car.tyre_front.inertia / car.tyre_front.radius**2
        + 2.0 * car.tyre_rear.inertia / car.tyre_rear.radius**2,
        shift_time=car.gearbox.shift_time,
        lowest_friction=min(
            front.friction_y_left, front.friction_y_right, rear.friction_y_left, rear.friction_y_right
        ),
    )
    driveline = Driveline(
        speed_step=_SPEED_STEP,
        force=drive_force,
        best_gear=best_gear,
        gear_mass=car.engine.inertia * engine_ratio**2,
        engine_ratio=engine_ratio,
        top_speed=top_speed,
        efficiency=car.gearbox.efficiency,
        fuel_per_work=fuel_per_work,
        friction_work=friction_work,
        idle_speed=car.engine.idle_speed,
    )
    _require_pull(vehicle, driveline)
    return Numbers(vehicle, driveline)


def road_of(path: Path) -> Road:
    """Give the kernel's arrays of a path."""
    return Road(
        step=path.step,
        lateral_curvature=path.lateral_curvature,
        normal_curvature=path.normal_curvature,
        gravity_x=path.gravity_x,
        gravity_y=path.gravity_y,
        gravity_z=path.gravity_z,
    )


def brake_forces(car: Car, conditions: Conditions) -> tuple[float, float]:
    """Front share of the brake force and the most force [N] the driver's foot gives with these pads."""
    brakes = car.brakes
    front_friction, rear_friction = conditions.pad_friction or (
        max(brakes.front.pad.frictions),
        max(brakes.rear.pad.frictions),
    )
    front = brakes.torque_gain_front * front_friction * brakes.pedal_force / car.tyre_front.radius
    rear = brakes.torque_gain_rear * rear_friction * brakes.pedal_force / car.tyre_rear.radius
    return front / (front + rear), front + rear


def drive_table(
    car: Car, engine_ratio: FloatArray, top_speed: float, torque_factor: float
) -> tuple[FloatArray, FloatArray]:
    """Full-throttle force at the road (gears, speeds) [N] and the gear that gives most (speeds,).

    Below the first speed of the curve the clutch slips at that speed's torque; above the limiter is none.
    """
    speeds = np.arange(0.0, top_speed + 3.0 * _SPEED_STEP, _SPEED_STEP)
    engine_speed = engine_ratio[:, None] * speeds[None, :]
    torque = np.interp(engine_speed, car.engine.speeds, car.engine.torques)
    # a column more than the limiter allows keeps its torque, so that the limit itself is not blunted
    over = engine_ratio[:, None] * (speeds[None, :] - 1.5 * _SPEED_STEP) > car.engine.limiter_speed
    force = torque * torque_factor * engine_ratio[:, None] * car.gearbox.efficiency
    force = np.where(over, 0.0, force)
    # a gear is left where the next column is over its limiter, the top gear never
    is_left = engine_ratio[:, None] * (speeds[None, :] + _SPEED_STEP) > car.engine.limiter_speed
    is_left[-1] = False
    allowed = np.where(is_left, -1.0, force)
    return np.ascontiguousarray(force), np.argmax(allowed, axis=0).astype(np.float64)


def fuel_line(engine: Engine) -> tuple[float, float]:
    """Willans line: fuel per indicated work [kg/J] and friction work per radian [J/rad].

    Fuel flow = fuel_per_work × (brake power + friction_work × engine speed), set so that the specific
    consumption at peak power is the stated one. Source: J. B. Heywood, Internal Combustion Engine
    Fundamentals, 1988, ch. 13 (from memory).
    """
    friction_work = engine.friction_pressure * engine.displacement / (4.0 * math.pi)
    powers = [w * t for w, t in zip(engine.speeds, engine.torques, strict=True)]
    peak = max(powers)
    speed = engine.speeds[powers.index(peak)]
    return engine.specific_consumption * peak / (peak + friction_work * speed), friction_work


def _require_pull(vehicle: Vehicle, driveline: Driveline) -> None:
    best = float(np.max(driveline.force[:, :10]))
    resistance = (
        vehicle.mass * GRAVITY * max(vehicle.front.rolling_resistance, vehicle.rear.rolling_resistance)
    )
    if best < 1.2 * resistance:
        raise refuse(
            "gearbox",
            f"at most {best:.0f} N of pull in the lowest gear",
            f"well over the {resistance:.0f} N of rolling resistance",
            "Check the ratios, the final drive and the torque curve.",
        )
