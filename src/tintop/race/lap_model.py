"""A lap model for thousands of races: a surface fitted to real laps, and what lap-long means leave out."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.circuit.circuit import Path
from tintop.event import Event, Race, Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.lap.vehicle import fuel_line
from tintop.physics import heat_march as lump
from tintop.physics import race_numbers as layout
from tintop.race.heat import (
    Lumps,
    drive_of,
    fresh_state,
    lumps_of,
    march_lap,
    surroundings,
)
from tintop.race.march import GRIP_LOST_WORN_DRY, GRIP_LOST_WORN_WET, PIT_LANE_SPEED

FloatArray = NDArray[np.float64]

OUTPUT_NAMES = (
    "lap_time",
    "fuel",
    *(f"brake_work_{corner}" for corner in ("FL", "FR", "RL", "RR")),
    *(f"slip_work_{corner}" for corner in ("FL", "FR", "RL", "RR")),
    *(f"rolling_work_{corner}" for corner in ("FL", "FR", "RL", "RR")),
)
_FITTED_LAPS = 90
_HELD_OUT_LAPS = 20
_DESIGN_SEED = 20_011  # the laps the surface is fitted on are the same for every question
_SETTLING_LAPS = 12
_LEAST_WORK = 1.0  # below this [J, kg, s] an output has no logarithm worth fitting


@dataclass(frozen=True, slots=True, kw_only=True)
class LapModel:
    """Surface and shape for the kernel; `fit_error` is the relative rms error on laps held out."""

    surface: layout.LapSurface
    shape: layout.LapShape
    start_state: FloatArray
    racing: Conditions  # the settled racing lap about which the model was built
    fit_error: Mapping[str, float]
    laps_fitted: int


def fit_lap_model(car: Car, path: Path, event: Event) -> LapModel:
    """Fit the lap model of a car on a path: about 120 real laps over fuel, grip by axle, pad friction."""
    race, weather = event.race, event.weather
    lumps = lumps_of(car, weather)
    racing, lap, heat, start = _settled_lap(car, path, event, lumps)
    slow_conditions = replace(racing, pace=race.safety_car_pace)
    slow = flying_lap(car, path, weather, slow_conditions)
    slow_factor = outputs_of(slow, lumps) / outputs_of(lap, lumps)
    lowest, highest = _box(car, event)
    design = _design(_FITTED_LAPS + _HELD_OUT_LAPS, lowest, highest)
    outputs = np.array(
        [outputs_of(flying_lap(car, path, weather, _at(racing, point)), lumps) for point in design]
    )
    centre, scale = 0.5 * (lowest + highest), 0.5 * (highest - lowest)
    terms = _terms((design - centre) / scale)
    logs = np.log(np.maximum(outputs, 1e-12))
    fitted = slice(0, _FITTED_LAPS)
    coefficients, *_ = np.linalg.lstsq(terms[fitted], logs[fitted], rcond=None)
    held = slice(_FITTED_LAPS, None)
    misses = np.exp(terms[held] @ coefficients - logs[held]) - 1.0
    errors = np.sqrt(np.mean(misses**2, axis=0))
    surface = layout.LapSurface(
        centre=centre,
        scale=scale,
        coefficients=np.ascontiguousarray(coefficients),
        lowest=lowest,
        highest=highest,
        slow=np.where(np.isfinite(slow_factor), slow_factor, 1.0),
    )
    return LapModel(
        surface=surface,
        shape=_shape(car, weather, lumps, lap, slow, start, heat),
        start_state=fresh_state(car, weather),
        racing=racing,
        fit_error={name: float(error) for name, error in zip(OUTPUT_NAMES, errors, strict=True)},
        laps_fitted=_FITTED_LAPS,
    )


def outputs_of(lap: LapTrace, lumps: Lumps) -> FloatArray:
    """Give the surface's outputs (14,) of a real lap: time [s], fuel [kg], work per wheel [J]."""
    spent = lap.segment_time
    rolling = lumps.tyres.rolling_resistance * ((spent * lap.speed) @ lap.channel("wheel_load"))
    return np.maximum(
        np.concatenate(
            (
                [lap.lap_time, float(spent @ lap.channel("fuel_flow"))],
                spent @ lap.channel("brake_power"),
                spent @ lap.channel("tyre_slip_power"),
                rolling,
            )
        ),
        1e-12,
    )


def race_numbers(car: Car, weather: Weather, race: Race) -> FloatArray:
    """Give the numbers of one race (94,) in the kernel's order."""
    lumps, air = lumps_of(car, weather), surroundings(car, weather)
    values: list[float] = []
    for wheel in (0, 2):
        axle, tyre = (car.brakes.front, car.tyre_front) if wheel == 0 else (car.brakes.rear, car.tyre_rear)
        brakes, tyres = lumps.brakes, lumps.tyres
        own = {
            **{
                name: float(values_of[wheel])
                for name, values_of in brakes._asdict().items()
                if np.ndim(values_of) == 1
            },
            "friction": math.fsum(axle.pad.frictions) / len(axle.pad.frictions),
            "pad_minimum": axle.pad.thickness_minimum,
            "disc_thickness": axle.disc_thickness,
            "disc_minimum": axle.disc_thickness_minimum,
            "disc_limit": axle.disc_temp_limit,
            **{name: float(values_of[wheel]) for name, values_of in tyres._asdict().items()},
            "tread_wear": tyre.wear_rate,
            "tread_wear_doubling": tyre.wear_doubling,
            "tread_depth": tyre.tread_depth,
            "tread_minimum": tyre.tread_depth_minimum,
        }
        values += [own[name] for name in layout.AXLE_NUMBERS]
    density = car.fuel.density
    whole = {
        **lumps.engine._asdict(),
        "coolant_limit": car.cooling.coolant_limit,
        "oil_limit": car.cooling.oil_limit,
        "fluid_boiling": car.brakes.fluid_boiling,
        "air_temp": weather.air_temp,
        "air_density": air.air_density,
        "road_temp": weather.road_temp,
        "traffic_air_share": car.cooling.traffic_air_share,
        "traffic_air_warmer": car.cooling.traffic_air_warmer,
        "fuel_start": race.start_fuel_volume * density,
        "fuel_unusable": car.tank.unusable_volume * density,
        "fuel_tank": car.tank.volume * density,
        "fuel_density": density,
        "traffic_share": race.traffic_share,
        "traffic_phase": 0.0,
    }
    return np.array(values + [float(whole[name]) for name in layout.OTHER_NUMBERS])


def stops_of(car: Car, race: Race) -> layout.Stops:
    """Give the kernel's planned stops."""
    fuel_per_work, friction_work = fuel_line(car.engine)
    ordered = sorted(race.stops, key=lambda stop: stop.at)
    return layout.Stops(
        at=np.array([stop.at for stop in ordered], dtype=float),
        standing=np.array([stop.standing for stop in ordered], dtype=float),
        fuel_volume=np.array([stop.fuel_volume for stop in ordered], dtype=float),
        new_pads=np.array([float(stop.new_pads) for stop in ordered], dtype=float),
        new_tyres=np.array([float(stop.new_tyres) for stop in ordered], dtype=float),
        pit_lane_loss=race.pit_lane_loss,
        pit_lane_speed=PIT_LANE_SPEED,
        idle_flow=fuel_per_work * friction_work * car.engine.idle_speed,
        idle_speed=car.engine.idle_speed,
    )


def plan_of(event: Event) -> layout.Plan:
    """Give the kernel's plan of the race."""
    lost = GRIP_LOST_WORN_DRY + event.weather.wetness * (GRIP_LOST_WORN_WET - GRIP_LOST_WORN_DRY)
    return layout.Plan(
        duration=event.race.duration, formation_laps=float(event.race.formation_laps), worn_grip_loss=lost
    )


def _settled_lap(
    car: Car, path: Path, event: Event, lumps: Lumps
) -> tuple[Conditions, LapTrace, lump.LapHeat, FloatArray]:
    """Repeat a racing lap with half the starting fuel until its heat has settled."""
    weather, air = event.weather, surroundings(car, event.weather)
    state = fresh_state(car, weather)
    conditions = Conditions(
        fuel_mass=0.5 * event.race.start_fuel_volume * car.fuel.density, grip_used=event.race.grip_used
    )
    for _ in range(_SETTLING_LAPS):
        lap = flying_lap(car, path, weather, conditions)
        start = state
        heat = march_lap(lumps, air, drive_of(lap), start)
        state = heat.state
        grip, friction = heat.wheels[lump.GRIP], heat.wheels[lump.FRICTION]
        last = conditions
        conditions = replace(
            conditions,
            grip=(float(grip[0]), float(grip[1]), float(grip[2]), float(grip[3])),
            pad_friction=None
            if np.any(friction <= 0.0)
            else (float(friction[:2].mean()), float(friction[2:].mean())),
        )
    return last, lap, heat, start


def _at(racing: Conditions, point: FloatArray) -> Conditions:
    """Conditions of a design lap: the settled lap's, left and right of an axle in proportion."""
    fuel, front, rear, friction = (float(value) for value in point)
    fl, fr, rl, rr = racing.grip
    mean_front, mean_rear = 0.5 * (fl + fr), 0.5 * (rl + rr)
    pads = racing.pad_friction
    rear_friction = friction if pads is None else friction * pads[1] / pads[0]
    return replace(
        racing,
        fuel_mass=fuel,
        grip=(front * fl / mean_front, front * fr / mean_front, rear * rl / mean_rear, rear * rr / mean_rear),
        pad_friction=(friction, rear_friction),
    )


def _box(car: Car, event: Event) -> tuple[FloatArray, FloatArray]:
    """Where the laps of the race can lie: empty tank, cold tyres and faded pads to the best of each."""
    race, frictions = event.race, car.brakes.front.pad.frictions
    most_fuel = max([race.start_fuel_volume, *(stop.fuel_volume for stop in race.stops)])
    cold = [
        lump.tread_grip(event.weather.air_temp, tyre.temp_best, tyre.temp_span, tyre.friction_floor) - 0.04
        for tyre in (car.tyre_front, car.tyre_rear)
    ]
    lowest = np.array([0.0, *cold, max(0.75 * min(frictions), 0.55 * max(frictions))])
    highest = np.array(
        [min(1.1 * most_fuel, car.tank.volume) * car.fuel.density, 1.01, 1.01, 1.2 * max(frictions)]
    )
    return lowest, highest


def _design(laps: int, lowest: FloatArray, highest: FloatArray) -> FloatArray:
    """Latin hypercube over the box."""
    dice = np.random.default_rng(_DESIGN_SEED)
    count = lowest.shape[0]
    strata = np.stack([dice.permutation(laps) for _ in range(count)], axis=1)
    places = (strata + dice.random((laps, count))) / laps
    return lowest + places * (highest - lowest)


def _terms(places: FloatArray) -> FloatArray:
    count = places.shape[1]
    columns = [np.ones(places.shape[0])] + [places[:, i] for i in range(count)]
    columns += [places[:, i] * places[:, j] for i in range(count) for j in range(i, count)]
    columns += [
        places[:, i] * places[:, j] * places[:, k]
        for i in range(count)
        for j in range(i, count)
        for k in range(j, count)
    ]
    return np.stack(columns, axis=1)


def _shape(
    car: Car,
    weather: Weather,
    lumps: Lumps,
    lap: LapTrace,
    slow: LapTrace,
    start: FloatArray,
    heat: lump.LapHeat,
) -> layout.LapShape:
    air = surroundings(car, weather)
    wheels = heat.wheels
    brake, slip = (
        np.maximum(wheels[lump.BRAKE_WORK], _LEAST_WORK),
        np.maximum(wheels[lump.SLIP_WORK], _LEAST_WORK),
    )
    brakes, tyres = lumps.brakes, lumps.tyres
    pad_worn = (start - heat.state)[lump.PAD_THICKNESS : lump.PAD_THICKNESS + 4]
    tread_worn = (start - heat.state)[lump.TREAD_DEPTH : lump.TREAD_DEPTH + 4]
    pad_formula = (
        brakes.pad_wear
        * wheels[lump.BRAKE_WORK]
        * _doublings(wheels[lump.SURFACE_WORKING] - brakes.pad_wear_temp, brakes.pad_wear_doubling)
    )
    tread_formula = (
        tyres.wear
        * wheels[lump.SLIP_WORK]
        * _doublings(wheels[lump.TREAD_WORKING] - tyres.temp_best, tyres.wear_doubling)
    )
    cooling, speed, engine_speed, radiator, oil_core = (
        np.array(pair) for pair in zip(*(_flow(lumps, air, each) for each in (lap, slow)), strict=True)
    )
    return layout.LapShape(
        cooling=cooling,
        speed=speed,
        engine_speed=engine_speed,
        radiator=radiator,
        oil_core=oil_core,
        disc_swing=(wheels[lump.DISC_PEAK] - wheels[lump.DISC_MEAN]) / brake,
        surface_rise=(wheels[lump.SURFACE_WORKING] - wheels[lump.DISC_MEAN]) / brake,
        fluid_swing=(wheels[lump.FLUID_PEAK] - wheels[lump.FLUID_MEAN]) / brake,
        tread_swing=(wheels[lump.TREAD_WORKING] - wheels[lump.TREAD_MEAN]) / slip,
        pad_wear=_ratio(pad_worn, pad_formula),
        tread_wear=_ratio(tread_worn, tread_formula),
        coolant_swing=float(heat.engine[lump.COOLANT_PEAK] - heat.engine[lump.COOLANT_MEAN]),
        oil_swing=float(heat.engine[lump.OIL_PEAK] - heat.engine[lump.OIL_MEAN]),
        friction=np.stack([_normal_friction(car, brakes, 0), _normal_friction(car, brakes, 2)]),
        friction_step=brakes.friction_step,
    )


def _normal_friction(car: Car, brakes: lump.BrakeLumps, wheel: int) -> FloatArray:
    frictions = (car.brakes.front if wheel == 0 else car.brakes.rear).pad.frictions
    table: FloatArray = brakes.friction[wheel] / (math.fsum(frictions) / len(frictions))
    return table


def _doublings(excess: FloatArray, per: FloatArray) -> FloatArray:
    return np.array([lump.doubling(float(e), float(p)) for e, p in zip(excess, per, strict=True)])


def _ratio(worn: FloatArray, formula: FloatArray) -> FloatArray:
    return np.divide(worn, formula, out=np.ones_like(worn), where=formula > 0.0)


def _flow(lumps: Lumps, air: lump.Surroundings, lap: LapTrace) -> tuple[float, float, float, float, float]:
    """Means of air cooling, speed, engine speed; radiator and oil core against those at the means."""
    spent = lap.segment_time / lap.lap_time
    engine = lumps.engine
    open_temp = engine.thermostat_temp + 50.0
    speed = float(spent @ lap.speed)
    engine_speed = float(spent @ lap.channel("engine_speed"))
    cooling = float(spent @ np.array([lump.air_cooling(float(v)) for v in lap.speed]))
    some = slice(None, None, 4)
    weights = spent[some] / np.sum(spent[some])
    turning = lap.channel("engine_speed")
    radiator = sum(
        float(w) * lump.radiator_conductance(engine, air, float(v), float(n), open_temp)
        for w, v, n in zip(weights, lap.speed[some], turning[some], strict=True)
    )
    core = sum(
        float(w) * lump.oil_core_heat(engine, air, float(v))
        for w, v in zip(weights, lap.speed[some], strict=True)
    )
    radiator_mean = lump.radiator_conductance(engine, air, speed, engine_speed, open_temp)
    core_mean = lump.oil_core_heat(engine, air, speed)
    return (
        cooling,
        speed,
        engine_speed,
        radiator / radiator_mean if radiator_mean > 0.0 else 1.0,
        core / core_mean if core_mean > 0.0 else 1.0,
    )
