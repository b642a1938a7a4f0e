"""Many races at once on a lap model, lap by lap.

One race is a row of `numbers` (what the car and the day are in this race) and of `factors` (what that does
to each output of the lap). Wheels FL FR RL RR; °C, SI.
"""

import math

import numpy as np
from numpy.typing import NDArray

from tintop.physics import race_numbers as n
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
    Surroundings,
    air_cooling,
    doubling,
    tread_grip,
)
from tintop.physics.lap_pieces import OPENINGS, heat_piece, lap_outputs, radiator_by_opening

FloatArray = NDArray[np.float64]

GREASY_SHARE = 0.05  # grip lost by heat at which a tread counts as too hot
_PIECES = 6
_STAND_PIECE = 15.0
_MOST_LAPS = 3000
_CLEAR, _TRAFFIC, _SLOW, _PIT_LANE, _STANDING = 0, 1, 2, 3, 4  # kinds of driving


@kernel
def _note(
    margin: FloatArray, out_at: FloatArray, item: int, left: float, before: float, clock: float, lap: float
) -> None:
    """Keep the least margin; on the first lap below zero, the clock at which it went."""
    if left < 0.0 and math.isnan(out_at[item]):
        share = before / (before - left) if 0.0 < before < np.inf else 0.0
        out_at[item] = clock - lap * (1.0 - share)
    if left < margin[item]:
        margin[item] = left


@kernel
def run_races(
    surface: n.LapSurface,
    shape: n.LapShape,
    stops: n.Stops,
    plan: n.Plan,
    start_state: FloatArray,
    numbers: FloatArray,
    factors: FloatArray,
    slow: FloatArray,
) -> n.Races:
    """Run one race per row of `numbers` (races, NUMBERS) and `factors` (races, OUTPUTS).

    `slow` (races, periods, 2) holds the start and length of safety cars on the race clock; a length of 0 is
    none. `start_state` (34,) gives coolant and oil; the rest starts at the race's air and thicknesses.
    """
    races = numbers.shape[0]
    result = n.Races(
        np.full((races, n.ITEMS), np.inf),
        np.full((races, n.ITEMS), np.nan),
        np.zeros(races),
        np.zeros(races),
        np.zeros(races),
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
            race,
            result,
        )
    return result


@kernel
def _fresh(
    numbers: FloatArray, start_state: FloatArray, state: FloatArray, grip: FloatArray, left: FloatArray
) -> None:
    """A car at the air's temperature with everything as thick as stated, into `state`, `grip` and `left`."""
    state[:] = numbers[n.AIR_TEMP]
    state[COOLANT] = start_state[COOLANT]
    state[OIL] = start_state[OIL]
    left[:] = np.inf
    left[n.ITEM_FUEL] = numbers[n.FUEL_START] - numbers[n.FUEL_UNUSABLE]
    for k in range(4):
        a, end = (0, 0) if k < 2 else (n.AXLE, 1)
        state[PAD_THICKNESS + k] = numbers[a + n.PAD_STATED]
        state[DISC_THICKNESS + k] = numbers[a + n.DISC_STATED]
        state[TREAD_DEPTH + k] = numbers[a + n.TREAD_STATED]
        grip[k] = tread_grip(
            state[TREAD + k], numbers[a + n.TEMP_BEST], numbers[a + n.TEMP_SPAN], numbers[a + n.FLOOR]
        )
        left[n.ITEM_PAD_FRONT + end] = numbers[a + n.PAD_STATED] - numbers[a + n.PAD_MINIMUM]
        left[n.ITEM_DISC_FRONT + end] = numbers[a + n.DISC_STATED] - numbers[a + n.DISC_MINIMUM]
        left[n.ITEM_TREAD_FRONT + end] = numbers[a + n.TREAD_STATED] - numbers[a + n.TREAD_MINIMUM]


@kernel
def _cores(numbers: FloatArray, shape: n.LapShape, stops: n.Stops) -> FloatArray:
    """Radiator by thermostat opening, oil core last, for each kind of driving (5, OPENINGS + 1)."""
    cores = np.empty((5, OPENINGS + 1))
    for kind in range(5):
        behind = kind == _TRAFFIC
        air = Surroundings(
            numbers[n.AIR_TEMP] + (numbers[n.TRAFFIC_WARMER] if behind else 0.0),
            numbers[n.AIR_DENSITY],
            numbers[n.ROAD_TEMP],
            numbers[n.TRAFFIC_AIR] if behind else 1.0,
        )
        if kind <= _SLOW:
            pace = 1 if kind == _SLOW else 0
            radiator_by_opening(
                numbers, air, shape.speed[pace], shape.engine_speed[pace], shape.radiator[pace], cores[kind]
            )
            cores[kind, OPENINGS] *= shape.oil_core[pace]
        else:
            speed = stops.pit_lane_speed if kind == _PIT_LANE else 0.0
            radiator_by_opening(numbers, air, speed, stops.idle_speed, 1.0, cores[kind])
    return cores


@kernel
def _kind(numbers: FloatArray, slow: FloatArray, clock: float, lap: int) -> int:
    """Kind of the lap that starts at `clock`; formation laps count below zero."""
    if lap < 0:
        return _SLOW
    for period in range(slow.shape[0]):
        if slow[period, 1] > 0.0 and slow[period, 0] <= clock < slow[period, 0] + slow[period, 1]:
            return _SLOW
    share, phase = numbers[n.TRAFFIC_SHARE], numbers[n.TRAFFIC_PHASE]
    if int((lap + 1) * share + phase + 1e-9) > int(lap * share + phase + 1e-9):
        return _TRAFFIC
    return _CLEAR


@kernel
def _wear(
    numbers: FloatArray,
    shape: n.LapShape,
    worn_grip_loss: float,
    work: FloatArray,
    means: FloatArray,
    tops: FloatArray,
    state: FloatArray,
    grip: FloatArray,
    left: FloatArray,
) -> None:
    """Wear of one lap off the `state`, grip for the next, and what is `left` of brakes and tyres."""
    left[:] = np.inf
    for k in range(4):
        a, end = (0, 0) if k < 2 else (n.AXLE, 1)
        brake, slip = work[n.BRAKE_WORK + k], work[n.SLIP_WORK + k]
        surface = means[DISC + k] + shape.surface_rise[k] * brake
        state[SURFACE + k] = surface
        state[PAD_THICKNESS + k] -= (
            numbers[a + n.PAD_WEAR]
            * brake
            * shape.pad_wear[k]
            * doubling(surface - numbers[a + n.PAD_WEAR_TEMP], numbers[a + n.PAD_WEAR_DOUBLING])
        )
        state[DISC_THICKNESS + k] -= numbers[a + n.DISC_WEAR] * brake
        best, span = numbers[a + n.TEMP_BEST], numbers[a + n.TEMP_SPAN]
        tread = means[TREAD + k] + shape.tread_swing[k] * slip
        state[TREAD_DEPTH + k] -= (
            numbers[a + n.TREAD_WEAR]
            * slip
            * shape.tread_wear[k]
            * doubling(tread - best, numbers[a + n.TREAD_WEAR_DOUBLING])
        )
        life = numbers[a + n.TREAD_STATED] - numbers[a + n.TREAD_MINIMUM]
        worn = 0.0
        if life > 0.0:
            worn = min(max((numbers[a + n.TREAD_STATED] - state[TREAD_DEPTH + k]) / life, 0.0), 1.5)
        grip[k] = tread_grip(tread, best, span, numbers[a + n.FLOOR]) * (1.0 - worn_grip_loss * worn)
        _least(left, n.ITEM_PAD_FRONT + end, state[PAD_THICKNESS + k] - numbers[a + n.PAD_MINIMUM])
        _least(left, n.ITEM_DISC_FRONT + end, state[DISC_THICKNESS + k] - numbers[a + n.DISC_MINIMUM])
        peak = tops[DISC + k] + shape.disc_swing[k] * brake
        _least(left, n.ITEM_DISC_HEAT_FRONT + end, numbers[a + n.DISC_LIMIT] - peak)
        _least(left, n.ITEM_TREAD_FRONT + end, state[TREAD_DEPTH + k] - numbers[a + n.TREAD_MINIMUM])
        _least(left, n.ITEM_TYRE_HEAT_FRONT + end, best + span * math.sqrt(GREASY_SHARE) - tread)
        fluid = tops[CALIPER + k] + shape.fluid_swing[k] * brake
        _least(left, n.ITEM_FLUID, numbers[n.BOILING] - fluid)
    _least(left, n.ITEM_COOLANT, numbers[n.COOLANT_LIMIT] - tops[COOLANT] - shape.coolant_swing)
    _least(left, n.ITEM_OIL, numbers[n.OIL_LIMIT] - tops[OIL] - shape.oil_swing)


@kernel
def _least(left: FloatArray, item: int, value: float) -> None:
    left[item] = min(left[item], value)


@kernel
def _stop(
    numbers: FloatArray,
    stops: n.Stops,
    number: int,
    cores: FloatArray,
    work: FloatArray,
    means: FloatArray,
    tops: FloatArray,
    state: FloatArray,
    grip: FloatArray,
    left: FloatArray,
) -> None:
    """Pit lane, standing, pit lane: heat soaks; then new parts as planned."""
    for phase in range(3):
        kind = _STANDING if phase == 1 else _PIT_LANE
        seconds = stops.standing[number] if phase == 1 else 0.5 * stops.pit_lane_loss
        parts = math.ceil(seconds / _STAND_PIECE)
        cooling = air_cooling(0.0 if phase == 1 else stops.pit_lane_speed)
        work[:] = 0.0
        work[n.FUEL] = stops.idle_flow * seconds
        for _ in range(parts):
            heat_piece(
                numbers,
                state,
                means,
                tops,
                work,
                1.0 / parts,
                seconds / parts,
                cooling,
                numbers[n.AIR_TEMP],
                cores[kind],
                cores[kind, OPENINGS],
                0.0,
            )
            for k in range(4):
                _least(left, n.ITEM_FLUID, numbers[n.BOILING] - state[CALIPER + k])
            _least(left, n.ITEM_COOLANT, numbers[n.COOLANT_LIMIT] - state[COOLANT])
            _least(left, n.ITEM_OIL, numbers[n.OIL_LIMIT] - state[OIL])
    for k in range(4):
        a = 0 if k < 2 else n.AXLE
        if stops.new_pads[number] > 0.0:
            state[PAD_THICKNESS + k] = numbers[a + n.PAD_STATED]
        if stops.new_tyres[number] > 0.0:
            cold = numbers[n.AIR_TEMP]
            state[TREAD + k] = cold
            state[CARCASS + k] = cold
            state[TREAD_DEPTH + k] = numbers[a + n.TREAD_STATED]
            grip[k] = tread_grip(
                cold, numbers[a + n.TEMP_BEST], numbers[a + n.TEMP_SPAN], numbers[a + n.FLOOR]
            )


@kernel
def _friction(numbers: FloatArray, shape: n.LapShape, state: FloatArray) -> float:
    """Friction of the front pads at their working surface."""
    place = 0.5 * (state[SURFACE] + state[SURFACE + 1]) / shape.friction_step
    low = min(max(int(place), 0), shape.friction.shape[1] - 2)
    share = min(max(place - low, 0.0), 1.0)
    normal = shape.friction[0, low] + share * (shape.friction[0, low + 1] - shape.friction[0, low])
    return float(numbers[n.FRICTION] * normal)


@kernel
def _one_race(
    surface: n.LapSurface,
    shape: n.LapShape,
    stops: n.Stops,
    plan: n.Plan,
    start_state: FloatArray,
    numbers: FloatArray,
    factors: FloatArray,
    slow: FloatArray,
    race: int,
    result: n.Races,
) -> None:
    state, means, tops = np.empty(STATE_SIZE), np.empty(STATE_SIZE), np.empty(STATE_SIZE)
    grip, inputs, work = np.empty(4), np.empty(n.INPUTS), np.empty(n.OUTPUTS)
    before, left = np.empty(n.ITEMS), np.empty(n.ITEMS)
    _fresh(numbers, start_state, state, grip, before)
    cores = _cores(numbers, shape, stops)
    behind_cooling = shape.cooling[0] * math.pow(numbers[n.TRAFFIC_AIR], 0.8)
    fuel = numbers[n.FUEL_START]
    friction = shape.friction[0, :].max() * numbers[n.FRICTION]
    clock = 0.0
    next_stop = 0
    lap = -int(plan.formation_laps)
    while clock < plan.duration and lap < _MOST_LAPS:
        kind = _kind(numbers, slow, clock, lap)
        inputs[n.FUEL_MASS] = max(fuel, 0.0)
        inputs[n.GRIP_FRONT] = 0.5 * (grip[0] + grip[1])
        inputs[n.GRIP_REAR] = 0.5 * (grip[2] + grip[3])
        inputs[n.PAD_FRICTION] = friction
        lap_outputs(surface, inputs, factors, work)
        if kind == _SLOW:
            for o in range(n.OUTPUTS):
                work[o] *= surface.slow[o]
        time = work[n.TIME]
        means[:] = 0.0
        tops[:] = -300.0
        for _ in range(_PIECES):
            heat_piece(
                numbers,
                state,
                means,
                tops,
                work,
                1.0 / _PIECES,
                time / _PIECES,
                behind_cooling if kind == _TRAFFIC else shape.cooling[1 if kind == _SLOW else 0],
                numbers[n.AIR_TEMP] + (numbers[n.TRAFFIC_WARMER] if kind == _TRAFFIC else 0.0),
                cores[kind],
                cores[kind, OPENINGS],
                1.0 / _PIECES,
            )
        _wear(numbers, shape, plan.worn_grip_loss, work, means, tops, state, grip, left)
        friction = _friction(numbers, shape, state)
        fuel -= work[n.FUEL]
        left[n.ITEM_FUEL] = fuel - numbers[n.FUEL_UNUSABLE]
        if lap >= 0:
            clock += time
            result.fuel_burned[race] += work[n.FUEL]
            ended = clock
            while next_stop < stops.at.shape[0] and stops.at[next_stop] <= clock < plan.duration:
                spent = stops.pit_lane_loss + stops.standing[next_stop]
                _stop(numbers, stops, next_stop, cores, work, means, tops, state, grip, left)
                fuel = min(
                    max(fuel - stops.idle_flow * spent, 0.0)
                    + stops.fuel_volume[next_stop] * numbers[n.FUEL_DENSITY],
                    numbers[n.FUEL_TANK],
                )
                clock += spent
                next_stop += 1
            for item in range(n.ITEMS):
                _note(result.margin[race], result.out_at[race], item, left[item], before[item], ended, time)
                before[item] = left[item]
            before[n.ITEM_FUEL] = fuel - numbers[n.FUEL_UNUSABLE]
        lap += 1
    result.laps[race] = lap
    result.clock[race] = clock
