"""Two invented cars with plausible numbers for the tests."""

import math
from dataclasses import replace

from tintop.car.brakes import AxleBrake, Brakes, Pad
from tintop.car.car import Aero, Car, Dimensions, DrivenAxle, Masses, Suspension, Tank
from tintop.car.cooling import Cooling
from tintop.car.powertrain import Differential, DifferentialKind, Engine, Fuel, Gearbox
from tintop.car.tyres import Tyre, TyreKind

_RPM = math.pi / 30.0
_DEGREE = math.pi / 180.0


def endurance_pad(area: float) -> Pad:
    return Pad(
        temps=(20.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 650.0, 700.0, 800.0),
        frictions=(0.30, 0.37, 0.42, 0.43, 0.43, 0.42, 0.41, 0.37, 0.32, 0.23),
        area=area,
        thickness=0.012,
        thickness_minimum=0.002,
        wear_rate=0.33e-12,
        wear_temp=450.0,
        wear_doubling=130.0,
    )


def semi_slick() -> Tyre:
    return Tyre(
        kind=TyreKind.SEMI_SLICK,
        friction_lateral=1.20,
        friction_longitudinal=1.23,
        friction_wet_share=0.48,
        reference_load=3000.0,
        load_sensitivity=-0.10,
        camber_best=-1.5 * _DEGREE,
        camber_loss=9.0,
        temp_best=82.0,
        temp_span=150.0,
        friction_floor=0.70,
        slide_slip=0.16,
        rolling_resistance=0.015,
        radius=0.300,
        inertia=1.0,
        tread_depth=0.006,
        tread_depth_minimum=0.0016,
        wear_rate=45e-12,
        wear_doubling=25.0,
        tread_heat_capacity=4200.0,
        carcass_heat_capacity=11000.0,
        tread_to_road=30.0,
        tread_to_air=16.0,
        tread_to_carcass=35.0,
        carcass_to_air=18.0,
        slip_heat_share=0.55,
        pressure_cold=1.6e5,
        pressure_hot=2.1e5,
    )


def front_driven_hatchback() -> Car:
    """A two-litre five-door hatchback with its interior out: 1,080 kg, 125 kW, front-driven."""
    rpm = (1500, 2500, 3500, 4500, 5500, 6000, 6500, 7000)
    torque = (150.0, 172.0, 190.0, 203.0, 204.0, 199.0, 180.0, 158.0)
    front = AxleBrake(
        disc_diameter=0.280,
        disc_mass=7.2,
        disc_thickness=0.025,
        disc_thickness_minimum=0.0232,
        disc_wear_rate=1.6e-12,
        disc_temp_limit=650.0,
        effective_radius=0.115,
        piston_area=22.9e-4,
        master_cylinder_area=3.88e-4,
        air_cooling=28.0,
        heat_to_disc_share=0.94,
        caliper_heat_capacity=2200.0,
        pad_to_caliper=1.6,
        caliper_to_air=14.0,
        pad=endurance_pad(50e-4),
    )
    rear = AxleBrake(
        disc_diameter=0.245,
        disc_mass=3.4,
        disc_thickness=0.010,
        disc_thickness_minimum=0.0084,
        disc_wear_rate=1.6e-12,
        disc_temp_limit=650.0,
        effective_radius=0.103,
        piston_area=10.2e-4,
        master_cylinder_area=3.88e-4,
        air_cooling=10.0,
        heat_to_disc_share=0.94,
        caliper_heat_capacity=1500.0,
        pad_to_caliper=1.2,
        caliper_to_air=9.0,
        pad=endurance_pad(27e-4),
    )
    return Car(
        name="front-driven hatchback of the tests",
        driven_axle=DrivenAxle.FRONT,
        masses=Masses(
            car=1080.0,
            driver=85.0,
            ballast=0.0,
            unsprung_front=80.0,
            unsprung_rear=66.0,
            front_share=0.62,
            cg_height=0.50,
            tank_behind_front_axle=2.15,
            tank_height=0.36,
        ),
        dimensions=Dimensions(wheelbase=2.55, track_front=1.48, track_rear=1.47, width=1.74),
        aero=Aero(drag_area=0.68, lift_area_front=0.06, lift_area_rear=0.10),
        engine=Engine(
            speeds=tuple(n * _RPM for n in rpm),
            torques=torque,
            idle_speed=850.0 * _RPM,
            limiter_speed=7000.0 * _RPM,
            displacement=2.0e-3,
            inertia=0.14,
            specific_consumption=300e-3 / 3.6e6,
            friction_pressure=1.5e5,
        ),
        fuel=Fuel(density=745.0, heating_value=42.7e6),
        gearbox=Gearbox(
            ratios=(3.31, 2.05, 1.48, 1.16, 0.95),
            final_drive=4.06,
            shift_time=0.35,
            efficiency=0.92,
            front_drive_share=1.0,
            differential=Differential(
                kind=DifferentialKind.LIMITED_SLIP, preload=60.0, lock_share_drive=0.35
            ),
        ),
        suspension=Suspension(
            roll_stiffness_front=38e3,
            roll_stiffness_rear=46e3,
            roll_centre_height_front=0.05,
            roll_centre_height_rear=0.11,
            camber_front=-2.8 * _DEGREE,
            camber_rear=-1.7 * _DEGREE,
            camber_recovery_front=0.25,
            camber_recovery_rear=0.40,
        ),
        tyre_front=semi_slick(),
        tyre_rear=semi_slick(),
        brakes=Brakes(
            pedal_ratio=4.0,
            boost=4.0,
            pedal_force=300.0,
            bar_front_share=0.5,
            is_tandem_cylinder=True,
            rear_valve_share=0.95,
            fluid_boiling_dry=280.0,
            fluid_boiling_wet=180.0,
            fluid_wetness=0.2,
            front=front,
            rear=rear,
        ),
        cooling=Cooling(
            coolant_heat_capacity=62e3,
            coolant_flow=1.8,
            coolant_specific_heat=4000.0,
            heat_to_coolant_share=0.21,
            radiator_face_area=0.21,
            radiator_conductance=1350.0,
            air_speed_share=0.16,
            core_reference_speed=5.0,
            fan_air_speed=2.5,
            thermostat_temp=86.0,
            coolant_limit=116.0,
            oil_heat_capacity=24e3,
            oil_flow=0.25,
            oil_specific_heat=2200.0,
            heat_to_oil_share=0.04,
            oil_core_face_area=0.03,
            oil_core_conductance=90.0,
            sump_conductance=32.0,
            oil_to_coolant=260.0,
            oil_limit=135.0,
            traffic_air_share=0.6,
            traffic_air_warmer=5.0,
        ),
        tank=Tank(volume=0.075, unusable_volume=0.003),
    )


def rear_driven_coupe() -> Car:
    """A 1.8-litre coupé, lighter and lower: 960 kg, 105 kW, rear-driven."""
    car = front_driven_hatchback()
    return replace(
        car,
        name="rear-driven coupé of the tests",
        driven_axle=DrivenAxle.REAR,
        masses=replace(car.masses, car=960.0, front_share=0.52, cg_height=0.46, tank_behind_front_axle=1.9),
        dimensions=replace(car.dimensions, wheelbase=2.30, track_front=1.43, track_rear=1.44, width=1.69),
        aero=replace(car.aero, drag_area=0.62),
        engine=replace(
            car.engine,
            torques=tuple(0.85 * torque for torque in car.engine.torques),
            displacement=1.8e-3,
        ),
        gearbox=replace(car.gearbox, front_drive_share=0.0),
        suspension=replace(car.suspension, roll_stiffness_front=46e3, roll_stiffness_rear=26e3),
        tank=replace(car.tank, volume=0.060),
    )


def endurance_saloon(mass: float, power: float) -> Car:
    """A saloon of given mass without driver [kg] and power [W] with brakes prepared for endurance.

    Common practice, no source: ducted 300 mm front discs of 9 kg, race pads of 62 cm² and 16 mm.
    """
    car = front_driven_hatchback()
    front = replace(
        car.brakes.front,
        disc_diameter=0.300,
        disc_mass=9.0,
        effective_radius=0.124,
        air_cooling=42.0,
        caliper_to_air=20.0,
        pad=replace(endurance_pad(62e-4), thickness=0.016),
    )
    factor = power / car.engine.peak_power
    return replace(
        car,
        name="endurance saloon of the tests",
        masses=replace(car.masses, car=mass),
        engine=replace(car.engine, torques=tuple(factor * torque for torque in car.engine.torques)),
        brakes=replace(car.brakes, front=front),
    )
