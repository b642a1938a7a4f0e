"""From a car, a lap and a day to the lumps of the heat march, and back."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.brakes import AxleBrake
from tintop.car.car import Car
from tintop.event import Weather
from tintop.lap.trace import LapTrace
from tintop.physics import heat_march as lump
from tintop.physics.air import density_moist_air

FloatArray = NDArray[np.float64]

# grey cast iron: the specific heat of validation cases V4-06 and V4-07; density and conductivity from memory
IRON_SPECIFIC_HEAT = 500.0
_IRON_DENSITY = 7150.0
_IRON_CONDUCTIVITY = 50.0
_EMISSIVITY = 0.5  # oxidised iron 0.6 to 0.8, part of its view being the hot wheel; an estimate
_STEFAN_BOLTZMANN = 5.670374419e-8  # CODATA 2018
_WET_ROAD_COOLING = 4.0  # how much better a wet road cools the tread; an estimate
_FRICTION_STEP = 20.0
_FRICTION_POINTS = 56
_SHARE_OF_QUICKEST = 0.2
_FASTEST_CAR = 90.0
_NO_TRACES = np.empty((0, lump.STATE_SIZE))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumps:
    """The car's lumps, and the longest step [s] that follows the quickest of them."""

    brakes: lump.BrakeLumps
    tyres: lump.TyreLumps
    engine: lump.EngineLumps
    longest_step: float


def lumps_of(car: Car, weather: Weather) -> Lumps:
    """Give the lumps of a car; a wet road cools the treads more."""
    brakes, tyres, engine = _brakes(car), _tyres(car, weather), _engine(car)
    return Lumps(brakes=brakes, tyres=tyres, engine=engine, longest_step=_longest_step(brakes, tyres, engine))


def surroundings(car: Car, weather: Weather, traffic: float = 0.0) -> lump.Surroundings:
    """Air and road; `traffic` 1 = close behind another car all lap, 0 = clear air."""
    return lump.Surroundings(
        air_temp=weather.air_temp + traffic * car.cooling.traffic_air_warmer,
        air_density=density_moist_air(weather.air_temp, weather.air_pressure, weather.humidity),
        road_temp=weather.road_temp,
        air_share=1.0 - traffic * (1.0 - car.cooling.traffic_air_share),
    )


def fresh_state(car: Car, weather: Weather) -> FloatArray:
    """State (34,) of a car at the air's temperature with its engine warmed up."""
    state = np.full(lump.STATE_SIZE, weather.air_temp, dtype=np.float64)
    for wheel in range(4):
        axle, tyre = axle_brake(car, wheel), car.tyre_front if wheel < 2 else car.tyre_rear
        state[lump.PAD_THICKNESS + wheel] = axle.pad.thickness
        state[lump.DISC_THICKNESS + wheel] = axle.disc_thickness
        state[lump.TREAD_DEPTH + wheel] = tyre.tread_depth
    state[lump.COOLANT] = max(weather.air_temp, car.cooling.thermostat_temp - 6.0)
    state[lump.OIL] = max(weather.air_temp, car.cooling.thermostat_temp - 16.0)
    return state


def drive_of(lap: LapTrace) -> lump.Drive:
    """Give the kernel's arrays of a lap."""
    return lump.Drive(
        time_step=lap.segment_time,
        speed=lap.speed,
        fuel_flow=lap.channel("fuel_flow"),
        engine_speed=lap.channel("engine_speed"),
        brake_power=np.ascontiguousarray(lap.channel("brake_power")),
        slip_power=np.ascontiguousarray(lap.channel("tyre_slip_power")),
        wheel_load=np.ascontiguousarray(lap.channel("wheel_load")),
    )


def steady_drive(seconds: float, speed: float, fuel_flow: float, engine_speed: float) -> lump.Drive:
    """Standing, or rolling through the pit lane: no brakes, no slip, engine idling."""
    n = max(math.ceil(seconds), 1)
    return lump.Drive(
        time_step=np.full(n, seconds / n),
        speed=np.full(n, speed),
        fuel_flow=np.full(n, fuel_flow),
        engine_speed=np.full(n, engine_speed),
        brake_power=np.zeros((n, 4)),
        slip_power=np.zeros((n, 4)),
        wheel_load=np.zeros((n, 4)),
    )


def march_lap(
    lumps: Lumps,
    air: lump.Surroundings,
    drive: lump.Drive,
    start: FloatArray,
    traces: FloatArray | None = None,
) -> lump.LapHeat:
    """March the heat of one lap from a state; `traces` (n, 34) is filled when given."""
    return lump.march_heat(
        lumps.brakes,
        lumps.tyres,
        lumps.engine,
        air,
        drive,
        start,
        lumps.longest_step,
        _NO_TRACES if traces is None else traces,
    )


def axle_brake(car: Car, wheel: int) -> AxleBrake:
    """Brake of a wheel, 0 to 3 = FL FR RL RR."""
    return car.brakes.front if wheel < 2 else car.brakes.rear


def swept_area(axle: AxleBrake) -> float:
    """Area of one disc face that the pads sweep [m²], taken evenly about the effective radius."""
    outer = 0.5 * axle.disc_diameter
    inner = max(2.0 * axle.effective_radius - outer, 0.3 * outer)
    return math.pi * (outer * outer - inner * inner)


def _brakes(car: Car) -> lump.BrakeLumps:
    axles = [axle_brake(car, wheel) for wheel in range(4)]
    swept = np.array([swept_area(axle) for axle in axles])
    capacity = np.array([axle.disc_mass for axle in axles]) * IRON_SPECIFIC_HEAT
    # iron behind each face; a face heated by q stands q × depth ÷ (3 × conductivity) above the mean, in the
    # time depth² ÷ (3 × diffusivity): one-dimensional slab insulated at its back
    depth = np.array([axle.disc_mass for axle in axles]) / (2.0 * _IRON_DENSITY * swept)
    diffusivity = _IRON_CONDUCTIVITY / (_IRON_DENSITY * IRON_SPECIFIC_HEAT)
    temps = np.arange(_FRICTION_POINTS) * _FRICTION_STEP
    return lump.BrakeLumps(
        disc_capacity=capacity,
        disc_to_air=np.array([axle.air_cooling for axle in axles]),
        disc_radiation=_EMISSIVITY * _STEFAN_BOLTZMANN * 2.0 * swept,
        surface_rise=depth / (3.0 * _IRON_CONDUCTIVITY * 2.0 * swept),
        surface_lag=depth**2 / (3.0 * diffusivity),
        heat_to_disc_share=np.array([axle.heat_to_disc_share for axle in axles]),
        caliper_capacity=np.array([axle.caliper_heat_capacity for axle in axles]),
        pad_to_caliper=np.array([axle.pad_to_caliper for axle in axles]),
        pad_thickness=np.array([axle.pad.thickness for axle in axles]),
        caliper_to_air=np.array([axle.caliper_to_air for axle in axles]),
        pad_wear=np.array([0.5 * axle.pad.wear_rate / axle.pad.area for axle in axles]),
        pad_wear_temp=np.array([axle.pad.wear_temp for axle in axles]),
        pad_wear_doubling=np.array([axle.pad.wear_doubling for axle in axles]),
        disc_wear=np.array([axle.disc_wear_rate for axle in axles]),
        friction=np.array([np.interp(temps, axle.pad.temps, axle.pad.frictions) for axle in axles]),
        friction_low=0.0,
        friction_step=_FRICTION_STEP,
    )


def _tyres(car: Car, weather: Weather) -> lump.TyreLumps:
    tyres = (car.tyre_front, car.tyre_front, car.tyre_rear, car.tyre_rear)
    wet = 1.0 + (_WET_ROAD_COOLING - 1.0) * weather.wetness
    return lump.TyreLumps(
        slip_heat_share=np.array([tyre.slip_heat_share for tyre in tyres]),
        rolling_resistance=np.array([tyre.rolling_resistance for tyre in tyres]),
        tread_capacity=np.array([tyre.tread_heat_capacity for tyre in tyres]),
        carcass_capacity=np.array([tyre.carcass_heat_capacity for tyre in tyres]),
        tread_to_road=np.array([tyre.tread_to_road * wet for tyre in tyres]),
        tread_to_air=np.array([tyre.tread_to_air for tyre in tyres]),
        tread_to_carcass=np.array([tyre.tread_to_carcass for tyre in tyres]),
        carcass_to_air=np.array([tyre.carcass_to_air for tyre in tyres]),
        wear=np.array([tyre.wear_rate for tyre in tyres]),
        wear_doubling=np.array([tyre.wear_doubling for tyre in tyres]),
        temp_best=np.array([tyre.temp_best for tyre in tyres]),
        temp_span=np.array([tyre.temp_span for tyre in tyres]),
        friction_floor=np.array([tyre.friction_floor for tyre in tyres]),
    )


def _engine(car: Car) -> lump.EngineLumps:
    engine, cooling = car.engine, car.cooling
    powers = [w * t for w, t in zip(engine.speeds, engine.torques, strict=True)]
    return lump.EngineLumps(
        fuel_heat=car.fuel.heating_value,
        coolant_capacity=cooling.coolant_heat_capacity,
        coolant_stream=cooling.coolant_flow * cooling.coolant_specific_heat,
        peak_power_speed=engine.speeds[powers.index(max(powers))],
        heat_to_coolant_share=cooling.heat_to_coolant_share,
        radiator_face=cooling.radiator_face_area,
        radiator_conductance=cooling.radiator_conductance,
        core_speed=cooling.core_reference_speed,
        air_speed_share=cooling.air_speed_share,
        fan_speed=cooling.fan_air_speed,
        thermostat_temp=cooling.thermostat_temp,
        oil_capacity=cooling.oil_heat_capacity,
        oil_stream=cooling.oil_flow * cooling.oil_specific_heat,
        heat_to_oil_share=cooling.heat_to_oil_share,
        oil_core_face=cooling.oil_core_face_area,
        oil_core_conductance=cooling.oil_core_conductance,
        sump_to_air=cooling.sump_conductance,
        oil_to_coolant=cooling.oil_to_coolant,
    )


def _longest_step(brakes: lump.BrakeLumps, tyres: lump.TyreLumps, engine: lump.EngineLumps) -> float:
    """Share of the quickest time constant of any lump with every path of heat open at 90 m/s [s]."""
    cooling = lump.air_cooling(_FASTEST_CAR)
    thin_pad = lump.pad_conductance(1.0, float(np.max(brakes.pad_thickness)), 0.0) * brakes.pad_to_caliper
    radiation = 4.0 * brakes.disc_radiation * 1300.0**3
    rates = [
        np.max((brakes.disc_to_air * cooling + radiation + thin_pad) / brakes.disc_capacity),
        np.max((brakes.caliper_to_air * cooling + thin_pad) / brakes.caliper_capacity),
        np.max(
            (tyres.tread_to_road + tyres.tread_to_air * cooling + tyres.tread_to_carcass)
            / tyres.tread_capacity
        ),
        np.max((tyres.carcass_to_air * cooling + tyres.tread_to_carcass) / tyres.carcass_capacity),
        (engine.coolant_stream + engine.oil_to_coolant) / engine.coolant_capacity,
        (engine.oil_stream + engine.sump_to_air * cooling + engine.oil_to_coolant) / engine.oil_capacity,
    ]
    return min(_SHARE_OF_QUICKEST / float(max(rates)), 0.5)
