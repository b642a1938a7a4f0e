"""How warm each tyre's air gets, lap after lap from cold, by the loads and slip of a predicted lap."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.tyres import Tyre
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.physics import heat_march as lump
from tintop.race.heat import drive_of, fresh_state, lumps_of, march_lap, surroundings

FloatArray = NDArray[np.float64]

USUAL_LAPS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class HotAir:
    """Mean temperature of each tyre's air by lap [°C] (laps, 4), and what a lap does to it; FL FR RL RR.

    `slip_work` [J] is done by each tyre on a lap, `load` [N] its mean load, `lap_time` [s].
    """

    temps: FloatArray
    slip_work: FloatArray
    load: FloatArray
    lap_time: float
    air_temp: float

    @property
    def rise(self) -> FloatArray:
        """Rise above the day's air on the last lap [K], each tyre."""
        rise: FloatArray = self.temps[-1] - self.air_temp
        return rise

    def share_after(self, laps: int) -> float:
        """Share of that rise, mean of the four, reached on a lap counted from 1."""
        at = min(max(laps, 1), self.temps.shape[0]) - 1
        return float(np.mean(self.temps[at] - self.air_temp) / np.mean(self.rise))


def hot_air(
    car: Car,
    path: Path,
    weather: Weather,
    *,
    laps: int = USUAL_LAPS,
    grip_used: float = 1.0,
    fuel_mass: float = 0.0,
) -> HotAir:
    """March the heat of one lap over and over, from tyres at the air's temperature.

    The air in a tyre is taken as warm as its carcass. Left out: brake heat through the rim, which warms the
    air further, and the change of the lap itself as the tyres warm. BadInput as the lap's.
    """
    lap = flying_lap(car, path, weather, Conditions(grip_used=grip_used, fuel_mass=fuel_mass))
    lumps, air, drive = lumps_of(car, weather), surroundings(car, weather), drive_of(lap)
    state = fresh_state(car, weather)
    temps = []
    for _ in range(laps):
        heat = march_lap(lumps, air, drive, state)
        state = heat.state
        temps.append(heat.wheels[lump.CARCASS_MEAN])
    time = lap.segment_time
    return HotAir(
        temps=np.array(temps),
        slip_work=heat.wheels[lump.SLIP_WORK],
        load=time @ lap.channel("wheel_load") / time.sum(),
        lap_time=lap.lap_time,
        air_temp=weather.air_temp,
    )


def standing_time_constant(tyre: Tyre) -> float:
    """Time in which a standing tyre loses all but 1/e of its warmth [s], tread and carcass as one lump."""
    to_air = float(lump.air_cooling(0.0)) * (tyre.carcass_to_air + tyre.tread_to_air)
    return (tyre.tread_heat_capacity + tyre.carcass_heat_capacity) / to_air
