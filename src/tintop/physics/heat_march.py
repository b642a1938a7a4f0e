"""The heat of brakes, tyres, coolant and oil, marched metre by metre along a lap, with what it wears away.

Each part is a lump of one temperature: disc, caliper with its fluid, tread, carcass, coolant, oil. Lumps take
explicit steps no longer than a share of the quickest lump's time constant. Heat given to the air grows with
speed^0.8 and never falls below a share left at standstill. Wheels in the order FL FR RL RR; °C, SI.

Sources: lumped brake disc, R. Limpert, Brake Design and Safety, ch. 3; effectiveness by number of transfer
units, W. M. Kays and A. L. London, Compact Heat Exchangers; cross-flow with both streams unmixed as in
F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 11 (all from memory).
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel

FloatArray = NDArray[np.float64]

# where each lump stands in the state (34,); four wheels each, then the two of the engine
DISC, SURFACE, CALIPER, TREAD, CARCASS = 0, 4, 8, 12, 16
PAD_THICKNESS, DISC_THICKNESS, TREAD_DEPTH = 20, 24, 28
COOLANT, OIL = 32, 33
STATE_SIZE = 34

# rows of what a lap reports per wheel (15, 4)
(
    DISC_PEAK,
    DISC_MEAN,
    SURFACE_PEAK,
    SURFACE_WORKING,
    FRICTION,
    FLUID_PEAK,
    FLUID_MEAN,
    TREAD_PEAK,
    TREAD_MEAN,
    TREAD_WORKING,
    CARCASS_MEAN,
    GRIP,
    BRAKE_WORK,
    SLIP_WORK,
    ROLLING_WORK,
) = range(15)
WHEEL_ROWS = 15

# what a lap reports of the engine and of the whole (9,)
(
    COOLANT_PEAK,
    COOLANT_MEAN,
    OIL_PEAK,
    OIL_MEAN,
    FUEL_BURNED,
    HEAT_IN,
    HEAT_OUT,
    RADIATOR_HEAT,
    OIL_COOLER_HEAT,
) = range(9)
ENGINE_ROWS = 9

_KELVIN = 273.15
THERMOSTAT_RAMP = 10.0  # from first opening to fully open [K], common practice, no source
_COOLING_SPEED = 30.0  # the speed at which air cooling is stated [m/s]
_STANDSTILL_SHARE = 0.08  # of the cooling at that speed, by natural convection; an estimate
_MOST_DOUBLINGS = 8.0
_PAD_BACKING = (
    0.005  # friction material whose resistance equals that of backing plate and piston [m]; an estimate
)


class BrakeLumps(NamedTuple):
    """Brakes, each (4,) but the friction table (4, points) on even temperatures."""

    disc_capacity: FloatArray
    disc_to_air: FloatArray  # at 30 m/s [W/K]
    disc_radiation: FloatArray  # emissivity × constant × area [W/K⁴]
    surface_rise: FloatArray  # steady rise of the surface over the bulk per watt [K/W]
    surface_lag: FloatArray  # [s]
    heat_to_disc_share: FloatArray
    caliper_capacity: FloatArray
    pad_to_caliper: FloatArray
    pad_thickness: FloatArray  # at which pad_to_caliper is stated
    caliper_to_air: FloatArray
    pad_wear: FloatArray  # depth of each pad per joule of the wheel's brake work [m/J]
    pad_wear_temp: FloatArray
    pad_wear_doubling: FloatArray
    disc_wear: FloatArray  # [m/J]
    friction: FloatArray
    friction_low: float  # first temperature of the table
    friction_step: float


class TyreLumps(NamedTuple):
    """Tyres, each (4,)."""

    slip_heat_share: FloatArray
    rolling_resistance: FloatArray
    tread_capacity: FloatArray
    carcass_capacity: FloatArray
    tread_to_road: FloatArray
    tread_to_air: FloatArray
    tread_to_carcass: FloatArray
    carcass_to_air: FloatArray
    wear: FloatArray  # [m/J]
    wear_doubling: FloatArray
    temp_best: FloatArray
    temp_span: FloatArray
    friction_floor: FloatArray


class EngineLumps(NamedTuple):
    """Coolant and oil; see car.Cooling for the meaning of each number."""

    fuel_heat: float  # lower heating value [J/kg]
    coolant_capacity: float
    coolant_stream: float  # flow × specific heat at peak power [W/K]
    peak_power_speed: float  # engine speed at which that flow is stated [rad/s]
    heat_to_coolant_share: float
    radiator_face: float
    radiator_conductance: float
    core_speed: float
    air_speed_share: float
    fan_speed: float
    thermostat_temp: float
    oil_capacity: float
    oil_stream: float
    heat_to_oil_share: float
    oil_core_face: float
    oil_core_conductance: float
    sump_to_air: float
    oil_to_coolant: float


class Surroundings(NamedTuple):
    """Air and road on this lap; `air_share` is the air speed left by a car in front."""

    air_temp: float
    air_density: float
    road_temp: float
    air_share: float


class Drive(NamedTuple):
    """What the lap does over each of n steps: (n,) or (n, 4)."""

    time_step: FloatArray
    speed: FloatArray
    fuel_flow: FloatArray
    engine_speed: FloatArray
    brake_power: FloatArray
    slip_power: FloatArray
    wheel_load: FloatArray


class LapHeat(NamedTuple):
    """What one lap leaves: the state at its end (34,), peaks and means per wheel and of the engine."""

    state: FloatArray
    wheels: FloatArray
    engine: FloatArray


@kernel
def crossflow_effectiveness(units: float, ratio: float) -> float:
    """Effectiveness of a cross-flow core, both streams unmixed, by transfer units and capacity ratio."""
    if units <= 0.0:
        return 0.0
    if ratio < 1e-9:
        return 1.0 - math.exp(-units)
    return 1.0 - math.exp(units**0.22 / ratio * (math.exp(-ratio * units**0.78) - 1.0))


@kernel
def core_conductance(
    conductance: float, core_speed: float, air_speed: float, air_stream: float, stream: float
) -> float:
    """Heat a core passes per kelvin between the two inlets [W/K]; streams are flow × specific heat [W/K]."""
    smaller = min(air_stream, stream)
    if smaller <= 0.0:
        return 0.0
    units = conductance * math.sqrt(air_speed / core_speed) / smaller
    return smaller * crossflow_effectiveness(units, smaller / max(air_stream, stream))


@kernel
def air_cooling(speed: float) -> float:
    """Share of the cooling stated at 30 m/s that is left at this speed of the air."""
    return max(math.pow(speed / _COOLING_SPEED, 0.8), _STANDSTILL_SHARE)


@kernel
def doubling(excess: float, per: float) -> float:
    """Factor on wear that doubles every `per` kelvin above its reference and is 1 below it."""
    if excess <= 0.0:
        return 1.0
    return math.exp2(min(excess / per, _MOST_DOUBLINGS))


@kernel
def pad_conductance(stated: float, thickness_stated: float, thickness: float) -> float:
    """Heat through a pad into its caliper per kelvin [W/K]: a thin pad insulates less."""
    return stated * (thickness_stated + _PAD_BACKING) / (max(thickness, 0.0) + _PAD_BACKING)


@kernel
def tread_grip(temp: float, best: float, span: float, floor: float) -> float:
    """Share of the tyre's best grip at a tread temperature."""
    miss = (temp - best) / span
    return max(1.0 - miss * miss, floor)


@kernel
def radiator_conductance(
    engine: EngineLumps, air: Surroundings, speed: float, engine_speed: float, coolant: float
) -> float:
    """Heat the radiator gives off per kelvin between coolant and air [W/K], thermostat and fan included."""
    opening = min(max((coolant - engine.thermostat_temp) / THERMOSTAT_RAMP, 0.0), 1.0)
    if opening == 0.0:
        return 0.0
    air_speed = max(engine.air_speed_share * speed * air.air_share, engine.fan_speed)
    air_stream = air.air_density * engine.radiator_face * air_speed * 1006.0
    flow = opening * engine.coolant_stream * engine_speed / engine.peak_power_speed
    return core_conductance(engine.radiator_conductance, engine.core_speed, air_speed, air_stream, flow)


@kernel
def oil_core_heat(engine: EngineLumps, air: Surroundings, speed: float) -> float:
    """Heat the oil cooler gives off per kelvin between oil and air [W/K]; 0 without one."""
    air_speed = engine.air_speed_share * speed * air.air_share
    air_stream = air.air_density * engine.oil_core_face * air_speed * 1006.0
    return core_conductance(
        engine.oil_core_conductance, engine.core_speed, air_speed, air_stream, engine.oil_stream
    )


@kernel
def march_heat(
    brakes: BrakeLumps,
    tyres: TyreLumps,
    engine: EngineLumps,
    air: Surroundings,
    drive: Drive,
    start: FloatArray,
    longest_step: float,
    traces: FloatArray,
) -> LapHeat:
    """March the heat over the steps of a lap from the state (34,) at its start.

    `traces` (n, 34) is filled with the state after each step, or left alone when it has no rows.
    Means of temperature are over time; friction and grip are weighted by the work they do.
    """
    n = drive.time_step.shape[0]
    state = start.copy()
    wheels = np.zeros((WHEEL_ROWS, 4))
    whole = np.zeros(ENGINE_ROWS)
    for peak in (DISC_PEAK, SURFACE_PEAK, FLUID_PEAK, TREAD_PEAK):
        wheels[peak, :] = -300.0
    whole[COOLANT_PEAK] = whole[OIL_PEAK] = -300.0
    warm = air.air_temp
    warm_fourth = (warm + _KELVIN) ** 4
    last_point = brakes.friction.shape[1] - 1
    total = 0.0
    heat_in = 0.0
    heat_out = 0.0
    for at in range(n):
        parts = max(math.ceil(drive.time_step[at] / longest_step), 1)
        spent = drive.time_step[at] / parts
        speed = drive.speed[at]
        cooling = air_cooling(speed * air.air_share)
        fuel_power = drive.fuel_flow[at] * engine.fuel_heat
        oil_core = oil_core_heat(engine, air, speed)
        for _ in range(parts):
            total += spent
            for k in range(4):
                disc = state[DISC + k]
                surface = state[SURFACE + k]
                caliper = state[CALIPER + k]
                power = drive.brake_power[at, k]
                work = power * spent
                hot = disc + _KELVIN
                lost = brakes.disc_to_air[k] * cooling * (disc - warm) + brakes.disc_radiation[k] * (
                    hot * hot * hot * hot - warm_fourth
                )
                through = pad_conductance(
                    brakes.pad_to_caliper[k], brakes.pad_thickness[k], state[PAD_THICKNESS + k]
                ) * (disc - caliper)
                caliper_lost = brakes.caliper_to_air[k] * cooling * (caliper - warm)
                disc_heat = brakes.heat_to_disc_share[k] * power
                state[DISC + k] = disc + spent * (disc_heat - lost - through) / brakes.disc_capacity[k]
                state[CALIPER + k] = (
                    caliper
                    + spent * (power - disc_heat + through - caliper_lost) / brakes.caliper_capacity[k]
                )
                rise = surface - disc
                rise += (brakes.surface_rise[k] * disc_heat - rise) * (
                    1.0 - math.exp(-spent / brakes.surface_lag[k])
                )
                surface = state[DISC + k] + rise
                state[SURFACE + k] = surface
                heat_in += work
                heat_out += spent * (lost + caliper_lost)
                if power > 0.0:
                    place = (surface - brakes.friction_low) / brakes.friction_step
                    low = min(max(int(place), 0), last_point - 1)
                    share = min(max(place - low, 0.0), 1.0)
                    friction = brakes.friction[k, low] + share * (
                        brakes.friction[k, low + 1] - brakes.friction[k, low]
                    )
                    wheels[FRICTION, k] += friction * work
                    wheels[SURFACE_WORKING, k] += surface * work
                    wheels[BRAKE_WORK, k] += work
                    state[PAD_THICKNESS + k] -= (
                        brakes.pad_wear[k]
                        * work
                        * doubling(surface - brakes.pad_wear_temp[k], brakes.pad_wear_doubling[k])
                    )
                    state[DISC_THICKNESS + k] -= brakes.disc_wear[k] * work

                tread = state[TREAD + k]
                carcass = state[CARCASS + k]
                slip_work = drive.slip_power[at, k] * spent
                rolling = tyres.rolling_resistance[k] * drive.wheel_load[at, k] * speed
                tread_lost = tyres.tread_to_road[k] * (tread - air.road_temp) + tyres.tread_to_air[
                    k
                ] * cooling * (tread - warm)
                inwards = tyres.tread_to_carcass[k] * (tread - carcass)
                carcass_lost = tyres.carcass_to_air[k] * cooling * (carcass - warm)
                kept = tyres.slip_heat_share[k] * slip_work
                state[TREAD + k] = tread + (kept - spent * (tread_lost + inwards)) / tyres.tread_capacity[k]
                state[CARCASS + k] = (
                    carcass + spent * (rolling + inwards - carcass_lost) / tyres.carcass_capacity[k]
                )
                state[TREAD_DEPTH + k] -= (
                    tyres.wear[k] * slip_work * doubling(tread - tyres.temp_best[k], tyres.wear_doubling[k])
                )
                heat_in += kept + rolling * spent
                heat_out += spent * (tread_lost + carcass_lost)
                wheels[GRIP, k] += slip_work * tread_grip(
                    tread, tyres.temp_best[k], tyres.temp_span[k], tyres.friction_floor[k]
                )
                wheels[TREAD_WORKING, k] += slip_work * tread
                wheels[SLIP_WORK, k] += slip_work
                wheels[ROLLING_WORK, k] += rolling * spent

                wheels[DISC_PEAK, k] = max(wheels[DISC_PEAK, k], state[DISC + k])
                wheels[SURFACE_PEAK, k] = max(wheels[SURFACE_PEAK, k], surface)
                wheels[FLUID_PEAK, k] = max(wheels[FLUID_PEAK, k], state[CALIPER + k])
                wheels[TREAD_PEAK, k] = max(wheels[TREAD_PEAK, k], state[TREAD + k])
                wheels[DISC_MEAN, k] += spent * disc
                wheels[FLUID_MEAN, k] += spent * caliper
                wheels[TREAD_MEAN, k] += spent * tread
                wheels[CARCASS_MEAN, k] += spent * carcass

            coolant = state[COOLANT]
            oil = state[OIL]
            radiator = radiator_conductance(engine, air, speed, drive.engine_speed[at], coolant) * (
                coolant - warm
            )
            exchange = engine.oil_to_coolant * (oil - coolant)
            sump = engine.sump_to_air * cooling * (oil - warm)
            cooler = oil_core * (oil - warm)
            to_coolant = engine.heat_to_coolant_share * fuel_power
            to_oil = engine.heat_to_oil_share * fuel_power
            state[COOLANT] = coolant + spent * (to_coolant + exchange - radiator) / engine.coolant_capacity
            state[OIL] = oil + spent * (to_oil - exchange - sump - cooler) / engine.oil_capacity
            heat_in += spent * (to_coolant + to_oil)
            heat_out += spent * (radiator + sump + cooler)
            whole[RADIATOR_HEAT] += spent * radiator
            whole[OIL_COOLER_HEAT] += spent * cooler
            whole[FUEL_BURNED] += spent * drive.fuel_flow[at]
            whole[COOLANT_MEAN] += spent * coolant
            whole[OIL_MEAN] += spent * oil
            whole[COOLANT_PEAK] = max(whole[COOLANT_PEAK], state[COOLANT])
            whole[OIL_PEAK] = max(whole[OIL_PEAK], state[OIL])
        if traces.shape[0] > 0:
            traces[at, :] = state
    whole[HEAT_IN] = heat_in
    whole[HEAT_OUT] = heat_out
    whole[COOLANT_MEAN] /= total
    whole[OIL_MEAN] /= total
    for k in range(4):
        for mean in (DISC_MEAN, FLUID_MEAN, TREAD_MEAN, CARCASS_MEAN):
            wheels[mean, k] /= total
        if wheels[BRAKE_WORK, k] > 0.0:
            wheels[FRICTION, k] /= wheels[BRAKE_WORK, k]
            wheels[SURFACE_WORKING, k] /= wheels[BRAKE_WORK, k]
        if wheels[SLIP_WORK, k] > 0.0:
            wheels[GRIP, k] /= wheels[SLIP_WORK, k]
            wheels[TREAD_WORKING, k] /= wheels[SLIP_WORK, k]
    return LapHeat(state, wheels, whole)
