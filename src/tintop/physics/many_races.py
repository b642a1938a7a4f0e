"""Many races at once on a lap model: each lap's time, fuel and work from a fitted surface, its heat in a few pieces.

One race is a row of `numbers` (what the car and the day are in this race) and of `factors` (what that does
to each output of the lap). Lumps as in the heat march, each with the exact answer of a first-order lump
over a piece of the lap. Wheels FL FR RL RR; °C, SI.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel
from tintop.physics.heat_march import (
    CALIPER,
    CARCASS,
    COOLANT,
    DISC,
    DISC_THICKNESS,
    OIL,
    PAD_THICKNESS,
    STATE_SIZE,
    SURFACE,
    TREAD,
    TREAD_DEPTH,
    EngineLumps,
    Surroundings,
    air_cooling,
    doubling,
    oil_core_heat,
    pad_conductance,
    radiator_conductance,
    tread_grip,
)

FloatArray = NDArray[np.float64]

# outputs of the lap surface
TIME, FUEL, BRAKE_WORK, SLIP_WORK, ROLLING_WORK = 0, 1, 2, 6, 10
OUTPUTS = 14
# inputs of the lap surface
FUEL_MASS, GRIP_FRONT, GRIP_REAR, PAD_FRICTION = 0, 1, 2, 3
INPUTS = 4

# numbers of one race: those of the front axle, of the rear axle, then the rest
AXLE_NUMBERS = (
    "disc_capacity",
    "disc_to_air",
    "disc_radiation",
    "heat_to_disc_share",
    "caliper_capacity",
    "pad_to_caliper",
    "pad_thickness",
    "caliper_to_air",
    "pad_wear",
    "pad_wear_temp",
    "pad_wear_doubling",
    "disc_wear",
    "friction",
    "pad_minimum",
    "disc_thickness",
    "disc_minimum",
    "disc_limit",
    "slip_heat_share",
    "tread_capacity",
    "carcass_capacity",
    "tread_to_road",
    "tread_to_air",
    "tread_to_carcass",
    "carcass_to_air",
    "tread_wear",
    "tread_wear_doubling",
    "temp_best",
    "temp_span",
    "friction_floor",
    "tread_depth",
    "tread_minimum",
)
OTHER_NUMBERS = (
    *EngineLumps._fields,
    "coolant_limit",
    "oil_limit",
    "fluid_boiling",
    "air_temp",
    "air_density",
    "road_temp",
    "traffic_air_share",
    "traffic_air_warmer",
    "fuel_start",
    "fuel_unusable",
    "fuel_tank",
    "fuel_density",
    "traffic_share",
    "traffic_phase",
)
(
    _DISC_CAPACITY,
    _DISC_TO_AIR,
    _DISC_RADIATION,
    _HEAT_TO_DISC,
    _CALIPER_CAPACITY,
    _PAD_TO_CALIPER,
    _PAD_STATED,
    _CALIPER_TO_AIR,
    _PAD_WEAR,
    _PAD_WEAR_TEMP,
    _PAD_WEAR_DOUBLING,
    _DISC_WEAR,
    _FRICTION,
    _PAD_MINIMUM,
    _DISC_STATED,
    _DISC_MINIMUM,
    _DISC_LIMIT,
    _SLIP_HEAT,
    _TREAD_CAPACITY,
    _CARCASS_CAPACITY,
    _TREAD_TO_ROAD,
    _TREAD_TO_AIR,
    _TREAD_TO_CARCASS,
    _CARCASS_TO_AIR,
    _TREAD_WEAR,
    _TREAD_WEAR_DOUBLING,
    _TEMP_BEST,
    _TEMP_SPAN,
    _FLOOR,
    _TREAD_STATED,
    _TREAD_MINIMUM,
) = range(31)
_AXLE = 31
_ENGINE = 62
(
    _COOLANT_LIMIT,
    _OIL_LIMIT,
    _BOILING,
    _AIR_TEMP,
    _AIR_DENSITY,
    _ROAD_TEMP,
    _TRAFFIC_AIR,
    _TRAFFIC_WARMER,
    _FUEL_START,
    _FUEL_UNUSABLE,
    _FUEL_TANK,
    _FUEL_DENSITY,
    _TRAFFIC_SHARE,
    _TRAFFIC_PHASE,
) = range(80, 94)
NUMBERS = 94

# items whose margin is kept: (races, ITEMS)
(
    ITEM_FUEL,
    ITEM_PAD_FRONT,
    ITEM_PAD_REAR,
    ITEM_DISC_FRONT,
    ITEM_DISC_REAR,
    ITEM_DISC_HEAT_FRONT,
    ITEM_DISC_HEAT_REAR,
    ITEM_FLUID,
    ITEM_TREAD_FRONT,
    ITEM_TREAD_REAR,
    ITEM_TYRE_HEAT_FRONT,
    ITEM_TYRE_HEAT_REAR,
    ITEM_COOLANT,
    ITEM_OIL,
) = range(14)
ITEMS = 14

GREASY_SHARE = 0.05  # grip lost by heat at which a tread counts as too hot
_KELVIN = 273.15
_PIECES = 6
_COOLANT_PARTS = 3
_STAND_PIECE = 15.0
_MOST_LAPS = 3000
_OPENINGS = 5  # of the thermostat, at which the radiator is known
_THERMOSTAT_RAMP = 10.0


class LapSurface(NamedTuple):
    """Cubic surface of the logarithms of a lap's outputs, and what a slow lap is to a racing one."""

    centre: FloatArray  # (INPUTS,)
    scale: FloatArray  # (INPUTS,)
    coefficients: FloatArray  # (terms, OUTPUTS)
    lowest: FloatArray  # (INPUTS,): the surface is not asked beyond what it was fitted on
    highest: FloatArray
    slow: FloatArray  # (OUTPUTS,): factor of a safety-car lap


class LapShape(NamedTuple):
    """What the lap-long means leave out, learned from metre-by-metre laps; [kind] 0 = racing, 1 = slow."""

    cooling: FloatArray  # (2,): mean of the air cooling share
    speed: FloatArray  # (2,)
    engine_speed: FloatArray  # (2,)
    radiator: FloatArray  # (2,): radiator over the lap ÷ radiator at the mean speed
    oil_core: FloatArray  # (2,)
    disc_swing: FloatArray  # (4,): peak less mean, per joule of brake work [K/J]
    surface_rise: FloatArray  # (4,): working surface less mean disc, per joule of brake work [K/J]
    fluid_swing: FloatArray  # (4,)
    tread_swing: FloatArray  # (4,): working less mean tread, per joule of slip work [K/J]
    pad_wear: FloatArray  # (4,): wear over the lap ÷ wear at the working surface
    tread_wear: FloatArray  # (4,)
    coolant_swing: float  # peak less mean [K]
    oil_swing: float
    friction: FloatArray  # (2, points): of the front and rear pad, ÷ its mean
    friction_step: float


class Stops(NamedTuple):
    """Planned stops, (stops,), with the idling engine's fuel flow."""

    at: FloatArray
    standing: FloatArray
    fuel_volume: FloatArray
    new_pads: FloatArray
    new_tyres: FloatArray
    pit_lane_loss: float
    pit_lane_speed: float
    idle_flow: float
    idle_speed: float


class Plan(NamedTuple):
    """The race as planned; the loss of grip of a worn-out tread goes with the road's wetness."""

    duration: float
    formation_laps: float
    worn_grip_loss: float


class Races(NamedTuple):
    """What came of the races: (races, ITEMS) or (races,); `out_at` is NaN where the item lasts."""

    margin: FloatArray
    out_at: FloatArray
    laps: FloatArray
    clock: FloatArray
    fuel_burned: FloatArray


@kernel
def lap_outputs(surface: LapSurface, inputs: FloatArray, factors: FloatArray, out: FloatArray) -> None:
    """Outputs (OUTPUTS,) of a racing lap from its inputs (INPUTS,), times this race's factors."""
    places = np.empty(INPUTS)
    for i in range(INPUTS):
        value = min(max(inputs[i], surface.lowest[i]), surface.highest[i])
        places[i] = (value - surface.centre[i]) / surface.scale[i]
    out[:] = surface.coefficients[0, :]
    term = 1
    for i in range(INPUTS):
        for o in range(OUTPUTS):
            out[o] += surface.coefficients[term, o] * places[i]
        term += 1
    for i in range(INPUTS):
        for j in range(i, INPUTS):
            product = places[i] * places[j]
            for o in range(OUTPUTS):
                out[o] += surface.coefficients[term, o] * product
            term += 1
    for i in range(INPUTS):
        for j in range(i, INPUTS):
            for k in range(j, INPUTS):
                product = places[i] * places[j] * places[k]
                for o in range(OUTPUTS):
                    out[o] += surface.coefficients[term, o] * product
                term += 1
    for o in range(OUTPUTS):
        out[o] = math.exp(out[o]) * factors[o]


@kernel
def _settle(old: float, target: float, rate: float, spent: float) -> tuple[float, float]:
    """First-order lump after `spent` seconds, and its mean meanwhile."""
    x = rate * spent
    if x < 1e-9:
        return old, old
    left = math.exp(-x)
    return target + (old - target) * left, target + (old - target) * (1.0 - left) / x


@kernel
def _heat_piece(
    numbers: FloatArray,
    state: FloatArray,
    means: FloatArray,
    tops: FloatArray,
    work: FloatArray,
    share: float,
    spent: float,
    cooling: float,
    warm: float,
    radiator: FloatArray,
    oil_core: float,
    weight: float,
) -> None:
    """Heat of one piece of a lap: `work` is the lap's outputs, of which `share` falls in this piece.

    `means` (34,) gathers the temperatures by `weight`, `tops` (34,) keeps the highest of the pieces' means.
    """
    for k in range(4):
        a = 0 if k < 2 else _AXLE
        brake = work[BRAKE_WORK + k] * share / spent
        to_disc = numbers[a + _HEAT_TO_DISC] * brake
        disc, caliper = state[DISC + k], state[CALIPER + k]
        hot, cold = disc + _KELVIN, warm + _KELVIN
        to_air = numbers[a + _DISC_TO_AIR] * cooling + numbers[a + _DISC_RADIATION] * (
            (hot * hot + cold * cold) * (hot + cold)
        )
        through = pad_conductance(
            numbers[a + _PAD_TO_CALIPER], numbers[a + _PAD_STATED], state[PAD_THICKNESS + k]
        )
        total = to_air + through
        state[DISC + k], disc_mean = _settle(
            disc, (to_disc + to_air * warm + through * caliper) / total, total / numbers[a + _DISC_CAPACITY], spent
        )
        out = numbers[a + _CALIPER_TO_AIR] * cooling
        total = out + through
        state[CALIPER + k], caliper_mean = _settle(
            caliper,
            (brake - to_disc + out * warm + through * disc_mean) / total,
            total / numbers[a + _CALIPER_CAPACITY],
            spent,
        )
        tread, carcass = state[TREAD + k], state[CARCASS + k]
        kept = numbers[a + _SLIP_HEAT] * work[SLIP_WORK + k] * share / spent
        road = numbers[a + _TREAD_TO_ROAD]
        air = numbers[a + _TREAD_TO_AIR] * cooling
        inwards = numbers[a + _TREAD_TO_CARCASS]
        total = road + air + inwards
        state[TREAD + k], tread_mean = _settle(
            tread,
            (kept + road * numbers[_ROAD_TEMP] + air * warm + inwards * carcass) / total,
            total / numbers[a + _TREAD_CAPACITY],
            spent,
        )
        air = numbers[a + _CARCASS_TO_AIR] * cooling
        total = air + inwards
        rolling = work[ROLLING_WORK + k] * share / spent
        state[CARCASS + k], _carcass_mean = _settle(
            carcass,
            (rolling + air * warm + inwards * tread_mean) / total,
            total / numbers[a + _CARCASS_CAPACITY],
            spent,
        )
        means[DISC + k] += weight * disc_mean
        means[TREAD + k] += weight * tread_mean
        tops[DISC + k] = max(tops[DISC + k], disc_mean)
        tops[CALIPER + k] = max(tops[CALIPER + k], caliper_mean)
    fuel_power = work[FUEL] * share / spent * numbers[_ENGINE]
    to_coolant = fuel_power * numbers[_ENGINE + 4]
    to_oil = fuel_power * numbers[_ENGINE + 13]
    thermostat = numbers[_ENGINE + 10]
    sump = numbers[_ENGINE + 16] * cooling
    exchange = numbers[_ENGINE + 17]
    part = spent / _COOLANT_PARTS
    for _ in range(_COOLANT_PARTS):
        coolant, oil = state[COOLANT], state[OIL]
        opening = min(max((coolant - thermostat) / _THERMOSTAT_RAMP, 0.0), 1.0) * (_OPENINGS - 1)
        low = min(int(opening), _OPENINGS - 2)
        given = radiator[low] + (opening - low) * (radiator[low + 1] - radiator[low])
        total = given + exchange
        if total > 0.0:
            state[COOLANT], coolant_mean = _settle(
                coolant,
                (to_coolant + given * warm + exchange * oil) / total,
                total / numbers[_ENGINE + 1],
                part,
            )
        else:
            state[COOLANT] = coolant + to_coolant * part / numbers[_ENGINE + 1]
            coolant_mean = coolant
        air = sump + oil_core
        total = air + exchange
        if total > 0.0:
            state[OIL], oil_mean = _settle(
                oil, (to_oil + air * warm + exchange * coolant_mean) / total, total / numbers[_ENGINE + 11], part
            )
        else:
            state[OIL] = oil + to_oil * part / numbers[_ENGINE + 11]
            oil_mean = oil
        tops[COOLANT] = max(tops[COOLANT], coolant_mean)
        tops[OIL] = max(tops[OIL], oil_mean)


@kernel
def _note(margin: FloatArray, out_at: FloatArray, item: int, left: float, before: float, clock: float, lap: float) -> None:
    """Keep the least margin; on the first lap below zero, the clock at which it went."""
    if left < 0.0 and math.isnan(out_at[item]):
        share = before / (before - left) if before > 0.0 else 0.0
        out_at[item] = clock - lap * (1.0 - share)
    if left < margin[item]:
        margin[item] = left


@kernel
def _radiator(numbers: FloatArray, air: Surroundings, speed: float, engine_speed: float, share: float, out: FloatArray) -> None:
    e = numbers[_ENGINE : _ENGINE + 18]
    engine = EngineLumps(
        e[0], e[1], e[2], e[3], e[4], e[5], e[6], e[7], e[8], e[9], e[10], e[11], e[12], e[13], e[14], e[15], e[16], e[17]
    )  # fmt: skip
    for step in range(_OPENINGS):
        coolant = engine.thermostat_temp + _THERMOSTAT_RAMP * step / (_OPENINGS - 1)
        out[step] = share * radiator_conductance(engine, air, speed, engine_speed, coolant)
    out[_OPENINGS] = oil_core_heat(engine, air, speed)


@kernel
def run_races(
    surface: LapSurface,
    shape: LapShape,
    stops: Stops,
    plan: Plan,
    start_state: FloatArray,
    numbers: FloatArray,
    factors: FloatArray,
    slow: FloatArray,
) -> Races:
    """Run one race per row of `numbers` (races, NUMBERS) and `factors` (races, OUTPUTS).

    `slow` (races, periods, 2) holds the start and length of safety cars on the race clock; a length of 0 is
    none. `start_state` (34,) gives coolant and oil; the rest starts at the race's air and thicknesses.
    """
    races = numbers.shape[0]
    result = Races(
        np.full((races, ITEMS), np.inf), np.full((races, ITEMS), np.nan), np.zeros(races), np.zeros(races), np.zeros(races)
    )
    for race in range(races):
        _one_race(
            surface,
            shape,
            stops,
            plan,
            start_state,
            numbers[race],
            factors[race],
            slow[race],
            result.margin[race],
            result.out_at[race],
            race,
            result,
        )
    return result


@kernel
def _one_race(
    surface: LapSurface,
    shape: LapShape,
    stops: Stops,
    plan: Plan,
    start_state: FloatArray,
    numbers: FloatArray,
    factors: FloatArray,
    slow: FloatArray,
    margin: FloatArray,
    out_at: FloatArray,
    race: int,
    result: Races,
) -> None:
    state = np.empty(STATE_SIZE)
    state[:] = numbers[_AIR_TEMP]
    state[COOLANT] = start_state[COOLANT]
    state[OIL] = start_state[OIL]
    grip = np.empty(4)
    for k in range(4):
        a = 0 if k < 2 else _AXLE
        state[PAD_THICKNESS + k] = numbers[a + _PAD_STATED]
        state[DISC_THICKNESS + k] = numbers[a + _DISC_STATED]
        state[TREAD_DEPTH + k] = numbers[a + _TREAD_STATED]
        grip[k] = tread_grip(
            state[TREAD + k], numbers[a + _TEMP_BEST], numbers[a + _TEMP_SPAN], numbers[a + _FLOOR]
        )
    warm_clear = numbers[_AIR_TEMP]
    warm_behind = warm_clear + numbers[_TRAFFIC_WARMER]
    # radiator by opening and oil core: clear, in traffic, slow, pit lane, standing
    cores = np.empty((5, _OPENINGS + 1))
    for kind in range(5):
        share = numbers[_TRAFFIC_AIR] if kind == 1 else 1.0
        warm = warm_behind if kind == 1 else warm_clear
        air = Surroundings(warm, numbers[_AIR_DENSITY], numbers[_ROAD_TEMP], share)
        pace = 1 if kind == 2 else 0
        if kind < 3:
            _radiator(numbers, air, shape.speed[pace], shape.engine_speed[pace], shape.radiator[pace], cores[kind])
            cores[kind, _OPENINGS] *= shape.oil_core[pace]
        else:
            speed = stops.pit_lane_speed if kind == 3 else 0.0
            _radiator(numbers, air, speed, stops.idle_speed, 1.0, cores[kind])
    behind_cooling = shape.cooling[0] * numbers[_TRAFFIC_AIR] ** 0.8

    fuel = numbers[_FUEL_START]
    friction = shape.friction[0, :].max() * numbers[_FRICTION]
    inputs = np.empty(INPUTS)
    work = np.empty(OUTPUTS)
    means, tops = np.empty(STATE_SIZE), np.empty(STATE_SIZE)
    clock = 0.0
    next_stop = 0
    formation = int(plan.formation_laps)
    before = np.full(ITEMS, np.inf)
    lap = -formation
    while clock < plan.duration and lap < _MOST_LAPS:
        kind = 0
        if lap < 0:
            kind = 2
        else:
            for period in range(slow.shape[0]):
                if slow[period, 1] > 0.0 and slow[period, 0] <= clock < slow[period, 0] + slow[period, 1]:
                    kind = 2
            if kind == 0:
                share, phase = numbers[_TRAFFIC_SHARE], numbers[_TRAFFIC_PHASE]
                if int((lap + 1) * share + phase + 1e-9) > int(lap * share + phase + 1e-9):
                    kind = 1
        inputs[FUEL_MASS] = max(fuel, 0.0)
        inputs[GRIP_FRONT] = 0.5 * (grip[0] + grip[1])
        inputs[GRIP_REAR] = 0.5 * (grip[2] + grip[3])
        inputs[PAD_FRICTION] = friction
        lap_outputs(surface, inputs, factors, work)
        if kind == 2:
            for o in range(OUTPUTS):
                work[o] *= surface.slow[o]
        time = work[TIME]
        warm = warm_behind if kind == 1 else warm_clear
        cooling = behind_cooling if kind == 1 else shape.cooling[1 if kind == 2 else 0]
        means[:] = 0.0
        tops[:] = -300.0
        for _ in range(_PIECES):
            _heat_piece(
                numbers,
                state,
                means,
                tops,
                work,
                1.0 / _PIECES,
                time / _PIECES,
                cooling,
                warm,
                cores[kind],
                cores[kind, _OPENINGS],
                1.0 / _PIECES,
            )
        fuel -= work[FUEL]
        result.fuel_burned[race] += work[FUEL]
        if lap >= 0:
            clock += time
        fluid = -300.0
        left = np.full(ITEMS, np.inf)
        left[ITEM_FUEL] = fuel - numbers[_FUEL_UNUSABLE]
        for k in range(4):
            a = 0 if k < 2 else _AXLE
            end = 0 if k < 2 else 1
            brake, slip = work[BRAKE_WORK + k], work[SLIP_WORK + k]
            surface_temp = means[DISC + k] + shape.surface_rise[k] * brake
            state[SURFACE + k] = surface_temp
            state[PAD_THICKNESS + k] -= (
                numbers[a + _PAD_WEAR]
                * brake
                * shape.pad_wear[k]
                * doubling(surface_temp - numbers[a + _PAD_WEAR_TEMP], numbers[a + _PAD_WEAR_DOUBLING])
            )
            state[DISC_THICKNESS + k] -= numbers[a + _DISC_WEAR] * brake
            tread = means[TREAD + k] + shape.tread_swing[k] * slip
            state[TREAD_DEPTH + k] -= (
                numbers[a + _TREAD_WEAR]
                * slip
                * shape.tread_wear[k]
                * doubling(tread - numbers[a + _TEMP_BEST], numbers[a + _TREAD_WEAR_DOUBLING])
            )
            life = numbers[a + _TREAD_STATED] - numbers[a + _TREAD_MINIMUM]
            worn = 0.0
            if life > 0.0:
                worn = min(max((numbers[a + _TREAD_STATED] - state[TREAD_DEPTH + k]) / life, 0.0), 1.5)
            grip[k] = tread_grip(tread, numbers[a + _TEMP_BEST], numbers[a + _TEMP_SPAN], numbers[a + _FLOOR]) * (
                1.0 - plan.worn_grip_loss * worn
            )
            greasy = numbers[a + _TEMP_BEST] + numbers[a + _TEMP_SPAN] * math.sqrt(GREASY_SHARE)
            fluid = max(fluid, tops[CALIPER + k] + shape.fluid_swing[k] * brake)
            left[ITEM_PAD_FRONT + end] = min(
                left[ITEM_PAD_FRONT + end], state[PAD_THICKNESS + k] - numbers[a + _PAD_MINIMUM]
            )
            left[ITEM_DISC_FRONT + end] = min(
                left[ITEM_DISC_FRONT + end], state[DISC_THICKNESS + k] - numbers[a + _DISC_MINIMUM]
            )
            left[ITEM_DISC_HEAT_FRONT + end] = min(
                left[ITEM_DISC_HEAT_FRONT + end],
                numbers[a + _DISC_LIMIT] - tops[DISC + k] - shape.disc_swing[k] * brake,
            )
            left[ITEM_TREAD_FRONT + end] = min(
                left[ITEM_TREAD_FRONT + end], state[TREAD_DEPTH + k] - numbers[a + _TREAD_MINIMUM]
            )
            left[ITEM_TYRE_HEAT_FRONT + end] = min(left[ITEM_TYRE_HEAT_FRONT + end], greasy - tread)
        place = 0.5 * (state[SURFACE] + state[SURFACE + 1]) / shape.friction_step
        low = min(max(int(place), 0), shape.friction.shape[1] - 2)
        share = min(max(place - low, 0.0), 1.0)
        friction = numbers[_FRICTION] * (
            shape.friction[0, low] + share * (shape.friction[0, low + 1] - shape.friction[0, low])
        )
        coolant = tops[COOLANT] + shape.coolant_swing
        oil = tops[OIL] + shape.oil_swing
        stopped = 0.0
        refuelled = fuel
        while lap >= 0 and next_stop < stops.at.shape[0] and stops.at[next_stop] <= clock and clock < plan.duration:
            spent = stops.pit_lane_loss + stops.standing[next_stop]
            burned = stops.idle_flow * spent
            for phase in range(3):
                seconds = stops.standing[next_stop] if phase == 1 else 0.5 * stops.pit_lane_loss
                if seconds <= 0.0:
                    continue
                work[:] = 0.0
                work[FUEL] = stops.idle_flow * seconds
                parts = int(math.ceil(seconds / _STAND_PIECE))
                still = 4 if phase == 1 else 3
                still_cooling = air_cooling(0.0 if phase == 1 else stops.pit_lane_speed)
                for _ in range(parts):
                    _heat_piece(
                        numbers,
                        state,
                        means,
                        tops,
                        work,
                        1.0 / parts,
                        seconds / parts,
                        still_cooling,
                        warm_clear,
                        cores[still],
                        cores[still, _OPENINGS],
                        0.0,
                    )
                    for k in range(4):
                        fluid = max(fluid, state[CALIPER + k])
                    coolant = max(coolant, state[COOLANT])
                    oil = max(oil, state[OIL])
            stopped += spent
            result.fuel_burned[race] += burned
            refuelled = min(
                max(refuelled - burned, 0.0) + stops.fuel_volume[next_stop] * numbers[_FUEL_DENSITY],
                numbers[_FUEL_TANK],
            )
            clock += spent
            for k in range(4):
                a = 0 if k < 2 else _AXLE
                if stops.new_pads[next_stop] > 0.0:
                    state[PAD_THICKNESS + k] = numbers[a + _PAD_STATED]
                if stops.new_tyres[next_stop] > 0.0:
                    state[TREAD + k] = state[CARCASS + k] = warm_clear
                    state[TREAD_DEPTH + k] = numbers[a + _TREAD_STATED]
                    grip[k] = tread_grip(
                        warm_clear, numbers[a + _TEMP_BEST], numbers[a + _TEMP_SPAN], numbers[a + _FLOOR]
                    )
            next_stop += 1
        if lap >= 0:
            left[ITEM_FLUID] = numbers[_BOILING] - fluid
            left[ITEM_COOLANT] = numbers[_COOLANT_LIMIT] - coolant
            left[ITEM_OIL] = numbers[_OIL_LIMIT] - oil
            for item in range(ITEMS):
                _note(margin, out_at, item, left[item], before[item], clock - stopped, time)
                before[item] = left[item]
            if stopped > 0.0:
                before[ITEM_FUEL] = refuelled - numbers[_FUEL_UNUSABLE]
        fuel = refuelled
        lap += 1
    result.laps[race] = lap
    result.clock[race] = clock
