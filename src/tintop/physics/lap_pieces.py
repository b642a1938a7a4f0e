"""One lap of a lap model: its outputs from a fitted surface, and its heat in a few pieces.

Lumps as in the heat march, each with the exact answer of a first-order lump over a piece of the lap.
Wheels FL FR RL RR; °C, SI.
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
    OIL,
    PAD_THICKNESS,
    THERMOSTAT_RAMP,
    TREAD,
    EngineLumps,
    Surroundings,
    oil_core_heat,
    pad_conductance,
    radiator_conductance,
)

FloatArray = NDArray[np.float64]

OPENINGS = 5  # of the thermostat, at which the radiator is known
_KELVIN = 273.15
_COOLANT_PARTS = 3


@kernel
def lap_outputs(surface: n.LapSurface, inputs: FloatArray, factors: FloatArray, out: FloatArray) -> None:
    """Outputs (OUTPUTS,) of a racing lap from its inputs (INPUTS,), times this race's factors."""
    places = np.empty(n.INPUTS)
    for i in range(n.INPUTS):
        value = min(max(inputs[i], surface.lowest[i]), surface.highest[i])
        places[i] = (value - surface.centre[i]) / surface.scale[i]
    out[:] = surface.coefficients[0, :]
    term = 1
    for i in range(n.INPUTS):
        for o in range(n.OUTPUTS):
            out[o] += surface.coefficients[term, o] * places[i]
        term += 1
    for i in range(n.INPUTS):
        for j in range(i, n.INPUTS):
            product = places[i] * places[j]
            for o in range(n.OUTPUTS):
                out[o] += surface.coefficients[term, o] * product
            term += 1
    for i in range(n.INPUTS):
        for j in range(i, n.INPUTS):
            for k in range(j, n.INPUTS):
                product = places[i] * places[j] * places[k]
                for o in range(n.OUTPUTS):
                    out[o] += surface.coefficients[term, o] * product
                term += 1
    for o in range(n.OUTPUTS):
        out[o] = math.exp(out[o]) * factors[o]


@kernel
def settle(old: float, target: float, rate: float, spent: float) -> tuple[float, float]:
    """First-order lump after `spent` seconds, and its mean meanwhile."""
    x = rate * spent
    if x < 1e-9:
        return old, old
    left = math.exp(-x)
    return target + (old - target) * left, target + (old - target) * (1.0 - left) / x


@kernel
def heat_piece(
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
        a = 0 if k < 2 else n.AXLE
        brake = work[n.BRAKE_WORK + k] * share / spent
        to_disc = numbers[a + n.HEAT_TO_DISC] * brake
        disc, caliper = state[DISC + k], state[CALIPER + k]
        hot, cold = disc + _KELVIN, warm + _KELVIN
        to_air = numbers[a + n.DISC_TO_AIR] * cooling + numbers[a + n.DISC_RADIATION] * (
            (hot * hot + cold * cold) * (hot + cold)
        )
        through = pad_conductance(
            numbers[a + n.PAD_TO_CALIPER], numbers[a + n.PAD_STATED], state[PAD_THICKNESS + k]
        )
        total = to_air + through
        state[DISC + k], disc_mean = settle(
            disc,
            (to_disc + to_air * warm + through * caliper) / total,
            total / numbers[a + n.DISC_CAPACITY],
            spent,
        )
        out = numbers[a + n.CALIPER_TO_AIR] * cooling
        total = out + through
        state[CALIPER + k], caliper_mean = settle(
            caliper,
            (brake - to_disc + out * warm + through * disc_mean) / total,
            total / numbers[a + n.CALIPER_CAPACITY],
            spent,
        )
        tread, carcass = state[TREAD + k], state[CARCASS + k]
        kept = numbers[a + n.SLIP_HEAT] * work[n.SLIP_WORK + k] * share / spent
        road = numbers[a + n.TREAD_TO_ROAD]
        air = numbers[a + n.TREAD_TO_AIR] * cooling
        inwards = numbers[a + n.TREAD_TO_CARCASS]
        total = road + air + inwards
        state[TREAD + k], tread_mean = settle(
            tread,
            (kept + road * numbers[n.ROAD_TEMP] + air * warm + inwards * carcass) / total,
            total / numbers[a + n.TREAD_CAPACITY],
            spent,
        )
        air = numbers[a + n.CARCASS_TO_AIR] * cooling
        total = air + inwards
        rolling = work[n.ROLLING_WORK + k] * share / spent
        state[CARCASS + k], _carcass_mean = settle(
            carcass,
            (rolling + air * warm + inwards * tread_mean) / total,
            total / numbers[a + n.CARCASS_CAPACITY],
            spent,
        )
        means[DISC + k] += weight * disc_mean
        means[TREAD + k] += weight * tread_mean
        tops[DISC + k] = max(tops[DISC + k], disc_mean)
        tops[CALIPER + k] = max(tops[CALIPER + k], caliper_mean)
    fuel_power = work[n.FUEL] * share / spent * numbers[n.ENGINE]
    to_coolant = fuel_power * numbers[n.ENGINE + 4]
    to_oil = fuel_power * numbers[n.ENGINE + 13]
    thermostat = numbers[n.ENGINE + 10]
    sump = numbers[n.ENGINE + 16] * cooling
    exchange = numbers[n.ENGINE + 17]
    part = spent / _COOLANT_PARTS
    for _ in range(_COOLANT_PARTS):
        coolant, oil = state[COOLANT], state[OIL]
        opening = min(max((coolant - thermostat) / THERMOSTAT_RAMP, 0.0), 1.0) * (OPENINGS - 1)
        low = min(int(opening), OPENINGS - 2)
        given = radiator[low] + (opening - low) * (radiator[low + 1] - radiator[low])
        total = given + exchange
        if total > 0.0:
            state[COOLANT], coolant_mean = settle(
                coolant,
                (to_coolant + given * warm + exchange * oil) / total,
                total / numbers[n.ENGINE + 1],
                part,
            )
        else:
            state[COOLANT] = coolant + to_coolant * part / numbers[n.ENGINE + 1]
            coolant_mean = coolant
        air = sump + oil_core
        total = air + exchange
        if total > 0.0:
            state[OIL], oil_mean = settle(
                oil,
                (to_oil + air * warm + exchange * coolant_mean) / total,
                total / numbers[n.ENGINE + 11],
                part,
            )
        else:
            state[OIL] = oil + to_oil * part / numbers[n.ENGINE + 11]
            oil_mean = oil
        tops[COOLANT] = max(tops[COOLANT], coolant_mean)
        tops[OIL] = max(tops[OIL], oil_mean)


@kernel
def radiator_by_opening(
    numbers: FloatArray, air: Surroundings, speed: float, engine_speed: float, share: float, out: FloatArray
) -> None:
    """Heat per kelvin of the radiator at each thermostat opening, and of the oil core last, into `out`."""
    e = numbers[n.ENGINE : n.ENGINE + 18]
    # fmt: off
    engine = EngineLumps(
        e[0], e[1], e[2], e[3], e[4], e[5], e[6], e[7], e[8],
        e[9], e[10], e[11], e[12], e[13], e[14], e[15], e[16], e[17],
    )
    # fmt: on
    for step in range(OPENINGS):
        coolant = engine.thermostat_temp + THERMOSTAT_RAMP * step / (OPENINGS - 1)
        out[step] = share * radiator_conductance(engine, air, speed, engine_speed, coolant)
    out[OPENINGS] = oil_core_heat(engine, air, speed)
