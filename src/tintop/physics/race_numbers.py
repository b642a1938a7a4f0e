"""How a race is laid out for the kernels that run many: its numbers, lap outputs and items."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.heat_march import EngineLumps

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
    DISC_CAPACITY,
    DISC_TO_AIR,
    DISC_RADIATION,
    HEAT_TO_DISC,
    CALIPER_CAPACITY,
    PAD_TO_CALIPER,
    PAD_STATED,
    CALIPER_TO_AIR,
    PAD_WEAR,
    PAD_WEAR_TEMP,
    PAD_WEAR_DOUBLING,
    DISC_WEAR,
    FRICTION,
    PAD_MINIMUM,
    DISC_STATED,
    DISC_MINIMUM,
    DISC_LIMIT,
    SLIP_HEAT,
    TREAD_CAPACITY,
    CARCASS_CAPACITY,
    TREAD_TO_ROAD,
    TREAD_TO_AIR,
    TREAD_TO_CARCASS,
    CARCASS_TO_AIR,
    TREAD_WEAR,
    TREAD_WEAR_DOUBLING,
    TEMP_BEST,
    TEMP_SPAN,
    FLOOR,
    TREAD_STATED,
    TREAD_MINIMUM,
) = range(31)
AXLE = 31
ENGINE = 62
(
    COOLANT_LIMIT,
    OIL_LIMIT,
    BOILING,
    AIR_TEMP,
    AIR_DENSITY,
    ROAD_TEMP,
    TRAFFIC_AIR,
    TRAFFIC_WARMER,
    FUEL_START,
    FUEL_UNUSABLE,
    FUEL_TANK,
    FUEL_DENSITY,
    TRAFFIC_SHARE,
    TRAFFIC_PHASE,
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
