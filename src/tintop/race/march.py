"""The race, lap after lap: fuel burned, tyres and brakes heated and worn, engine heated, stops made."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.tyres import Tyre
from tintop.circuit.circuit import Path
from tintop.errors import BadInput, Problem, refuse
from tintop.event import Event, Race, Stop, Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.lap.vehicle import fuel_line
from tintop.physics import heat_march as lump
from tintop.physics.tyre_pressure import pressure_gauge_at
from tintop.race.heat import (
    Lumps,
    drive_of,
    fresh_state,
    lumps_of,
    march_lap,
    steady_drive,
    surroundings,
)

FloatArray = NDArray[np.float64]

PIT_LANE_SPEED = 14.0  # [m/s], about 50 km/h, for the cooling on the way to and from the box
GRIP_LOST_WORN_DRY = 0.03  # of the grip of a tread at its minimum against a new one; an estimate
GRIP_LOST_WORN_WET = 0.25  # the same on a wet road; an estimate
_MOST_LAPS = 3000


class LapKind(IntEnum):
    """What a lap of the race was."""

    RACE = 0
    TRAFFIC = 1
    SAFETY_CAR = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class RaceTrace:
    """The race by laps: (n,) or (n, 4) in the order FL FR RL RR; SI, °C.

    Temperatures named peak include the heat soak of the stop that ended the lap; thicknesses and fuel are at
    the end of the lap, before new parts or fuel. `clock` is at the end of the lap, its stop included.
    `fuel_left` is usable fuel [kg]; it goes on below zero after the tank has run dry, so that the rest of
    the forecast stands, and `dry_at` says when. `hot_lap` is the racing lap with the hottest front disc,
    with the temperatures along it.
    """

    clock: FloatArray
    lap_time: FloatArray
    stop_time: FloatArray
    kind: FloatArray
    fuel_mass: FloatArray
    fuel_left: FloatArray
    fuel_burned: FloatArray
    tread_temp: FloatArray
    carcass_temp: FloatArray
    pressure_hot: FloatArray
    grip: FloatArray
    disc_temp_peak: FloatArray
    disc_temp_mean: FloatArray
    pad_friction: FloatArray
    pad_thickness: FloatArray
    disc_thickness: FloatArray
    fluid_temp_peak: FloatArray
    coolant_temp_peak: FloatArray
    oil_temp_peak: FloatArray
    tread_depth: FloatArray
    tread_temp_peak: FloatArray
    tread_temp_working: FloatArray
    brake_work: FloatArray
    slip_work: FloatArray
    stops_made: tuple[tuple[int, Stop], ...]  # number of the lap that ended with it, from 1
    dry_at: float | None
    hot_lap: LapTrace
    hot_lap_number: int

    @property
    def laps(self) -> int:
        """Laps completed."""
        return int(self.clock.shape[0])


def check_race(car: Car, event: Event) -> None:
    """Refuse a race that contradicts the car: more fuel than the tank holds, or none to burn."""
    race, tank = event.race, car.tank
    problems = []
    if race.start_fuel_volume > tank.volume:
        problems.append(
            Problem(
                where="race.start_fuel_volume",
                found=f"{_litres(race.start_fuel_volume)} L",
                expected=f"no more than the tank's {_litres(tank.volume)} L",
            )
        )
    if race.start_fuel_volume <= tank.unusable_volume:
        problems.append(
            Problem(
                where="race.start_fuel_volume",
                found=f"{_litres(race.start_fuel_volume)} L",
                expected=f"more than the {_litres(tank.unusable_volume)} L the pump cannot reach",
            )
        )
    for number, stop in enumerate(race.stops, 1):
        if stop.fuel_volume > tank.volume:
            problems.append(
                Problem(
                    where=f"race.stops.{number}.fuel_volume",
                    found=f"{_litres(stop.fuel_volume)} L",
                    expected=f"no more than the tank's {_litres(tank.volume)} L",
                )
            )
        if stop.at >= race.duration:
            problems.append(
                Problem(
                    where=f"race.stops.{number}.at",
                    found=f"{_clock(stop.at)} on the race clock",
                    expected=f"before the race ends at {_clock(race.duration)}",
                )
            )
    if problems:
        raise BadInput(*problems)


def march(
    car: Car,
    path: Path,
    event: Event,
    *,
    start_state: FloatArray | None = None,
    progress: Callable[[float], None] | None = None,
) -> RaceTrace:
    """March the race lap by lap until the lap in which the clock passes its duration is completed.

    `start_state` (34,) replaces a cold car; `progress` is told the share of the duration done. BadInput
    when the fuel does not reach the end and no stop puts any in, or as `check_race` does.
    """
    trace = march_regardless(car, path, event, start_state=start_state, progress=progress)
    if trace.dry_at is not None and not any(stop.fuel_volume > 0.0 for stop in event.race.stops):
        usable = event.race.start_fuel_volume - car.tank.unusable_volume
        needed = usable - float(trace.fuel_left[-1]) / car.fuel.density
        raise refuse(
            "race.start_fuel_volume",
            f"{_litres(usable)} usable litres, dry at {_clock(trace.dry_at)}, and no stop for fuel",
            f"about {_litres(needed)} usable litres for the {_clock(event.race.duration)} of the race",
            f"Plan a stop for {_litres(needed - usable)} L or more before {_clock(trace.dry_at)}.",
        )
    return trace


def march_regardless(
    car: Car,
    path: Path,
    event: Event,
    *,
    start_state: FloatArray | None = None,
    progress: Callable[[float], None] | None = None,
) -> RaceTrace:
    """March the race as `march` does, but go on after the tank has run dry, stop or no stop."""
    check_race(car, event)
    race, weather = event.race, event.weather
    lumps = lumps_of(car, weather)
    state = fresh_state(car, weather) if start_state is None else start_state.copy()
    density = car.fuel.density
    fuel = race.start_fuel_volume * density
    unusable = car.tank.unusable_volume * density
    grip, friction = _first_grip(lumps, state), None
    for _ in range(race.formation_laps):
        conditions = _conditions(race, fuel, grip, friction, LapKind.SAFETY_CAR)
        heat = march_lap(
            lumps, surroundings(car, weather), drive_of(flying_lap(car, path, weather, conditions)), state
        )
        state, fuel = heat.state, fuel - heat.engine[lump.FUEL_BURNED]
        grip, friction = _grip(car, weather, heat), _friction(heat)

    slow = neutralisations(race)
    waiting = sorted(race.stops, key=lambda stop: stop.at)
    clock, dry_at = 0.0, None
    rows: list[_Row] = []
    stops_made: list[tuple[int, Stop]] = []
    while clock < race.duration:
        number = len(rows)
        if number >= _MOST_LAPS:
            raise refuse(
                "race.duration", f"more than {_MOST_LAPS} laps", "a longer circuit or a shorter race"
            )
        kind = lap_kind(race, slow, clock, number)
        conditions = _conditions(race, fuel, grip, friction, kind)
        air = surroundings(car, weather, 1.0 if kind == LapKind.TRAFFIC else 0.0)
        lap = flying_lap(car, path, weather, conditions)
        heat = march_lap(lumps, air, drive_of(lap), state)
        row = _Row(kind, conditions, lap.lap_time, state, heat)
        rows.append(row)
        left = fuel - unusable
        burned = float(heat.engine[lump.FUEL_BURNED])
        if dry_at is None and burned > left:
            dry_at = clock + lap.lap_time * max(left, 0.0) / burned
        fuel -= burned
        clock += lap.lap_time
        row.fuel_after = fuel
        state = heat.state
        grip, friction = _grip(car, weather, heat), _friction(heat)
        while waiting and waiting[0].at <= clock < race.duration:
            stop = waiting.pop(0)
            soak = _stand(car, weather, lumps, race, stop, state)
            row.absorb(soak, race.pit_lane_loss + stop.standing)
            clock += race.pit_lane_loss + stop.standing
            state = soak.state
            fuel -= float(soak.engine[lump.FUEL_BURNED])
            fuel = min(max(fuel, 0.0) + stop.fuel_volume * density, car.tank.volume * density)
            if stop.new_pads or stop.new_tyres:
                state = _new_parts(car, weather, stop, state)
            if stop.new_tyres:
                grip = _first_grip(lumps, state)
            stops_made.append((number + 1, stop))
        row.clock = clock
        if progress is not None:
            progress(min(clock / race.duration, 1.0))
    return _trace(car, path, event, lumps, rows, tuple(stops_made), unusable, dry_at)


def neutralisations(race: Race) -> tuple[tuple[float, float], ...]:
    """Start and length [s] of the slow periods to expect: mean number, rounded up, and mean time in all."""
    expected = race.safety_cars_per_hour * race.duration / 3600.0
    number = int(np.ceil(expected - 1e-9))
    if number == 0:
        return ()
    length = expected * race.safety_car_length / number
    return tuple(((k + 0.5) / number * race.duration - 0.5 * length, length) for k in range(number))


def lap_kind(race: Race, slow: tuple[tuple[float, float], ...], clock: float, number: int) -> LapKind:
    """Kind of the lap that starts at `clock`; laps in traffic are spread evenly over the race."""
    if any(start <= clock < start + length for start, length in slow):
        return LapKind.SAFETY_CAR
    if int((number + 1) * race.traffic_share + 1e-9) > int(number * race.traffic_share + 1e-9):
        return LapKind.TRAFFIC
    return LapKind.RACE


def worn_grip(tyre: Tyre, depth: float, wetness: float) -> float:
    """Share of the grip of the tread as entered that is left at a depth [m]."""
    life = tyre.tread_depth - tyre.tread_depth_minimum
    if life <= 0.0:
        return 1.0
    lost = GRIP_LOST_WORN_DRY + wetness * (GRIP_LOST_WORN_WET - GRIP_LOST_WORN_DRY)
    return 1.0 - lost * min(max((tyre.tread_depth - depth) / life, 0.0), 1.5)


@dataclass(slots=True)
class _Row:
    kind: LapKind
    conditions: Conditions
    lap_time: float
    start: FloatArray
    heat: lump.LapHeat
    clock: float = 0.0
    stop_time: float = 0.0
    fuel_after: float = 0.0

    def absorb(self, soak: lump.LapHeat, spent: float) -> None:
        """Let the heat soak of a stop raise this lap's peaks."""
        self.stop_time += spent
        for peak in (lump.FLUID_PEAK, lump.DISC_PEAK):
            self.heat.wheels[peak] = np.maximum(self.heat.wheels[peak], soak.wheels[peak])
        for peak in (lump.COOLANT_PEAK, lump.OIL_PEAK):
            self.heat.engine[peak] = max(self.heat.engine[peak], soak.engine[peak])


def _conditions(
    race: Race,
    fuel: float,
    grip: FloatArray,
    friction: tuple[float, float] | None,
    kind: LapKind,
) -> Conditions:
    return Conditions(
        fuel_mass=max(fuel, 0.0),
        grip=(float(grip[0]), float(grip[1]), float(grip[2]), float(grip[3])),
        pad_friction=friction,
        grip_used=race.grip_used,
        pace=race.safety_car_pace if kind == LapKind.SAFETY_CAR else 1.0,
    )


def _first_grip(lumps: Lumps, state: FloatArray) -> FloatArray:
    tyres = lumps.tyres
    return np.array(
        [
            lump.tread_grip(
                state[lump.TREAD + k], tyres.temp_best[k], tyres.temp_span[k], tyres.friction_floor[k]
            )
            for k in range(4)
        ]
    )


def _grip(car: Car, weather: Weather, heat: lump.LapHeat) -> FloatArray:
    tyres = (car.tyre_front, car.tyre_front, car.tyre_rear, car.tyre_rear)
    worn = [
        worn_grip(tyre, float(heat.state[lump.TREAD_DEPTH + k]), weather.wetness)
        for k, tyre in enumerate(tyres)
    ]
    grip: FloatArray = heat.wheels[lump.GRIP] * np.array(worn)
    return grip


def _friction(heat: lump.LapHeat) -> tuple[float, float] | None:
    friction = heat.wheels[lump.FRICTION]
    if np.any(friction <= 0.0):
        return None
    return float(0.5 * (friction[0] + friction[1])), float(0.5 * (friction[2] + friction[3]))


def _stand(
    car: Car, weather: Weather, lumps: Lumps, race: Race, stop: Stop, state: FloatArray
) -> lump.LapHeat:
    fuel_per_work, friction_work = fuel_line(car.engine)
    idle = car.engine.idle_speed
    flow = fuel_per_work * friction_work * idle
    air = surroundings(car, weather)
    rolling = march_lap(
        lumps, air, steady_drive(0.5 * race.pit_lane_loss + 1e-6, PIT_LANE_SPEED, flow, idle), state
    )
    standing = march_lap(lumps, air, steady_drive(stop.standing + 1e-6, 0.0, flow, idle), rolling.state)
    leaving = march_lap(
        lumps, air, steady_drive(0.5 * race.pit_lane_loss + 1e-6, PIT_LANE_SPEED, flow, idle), standing.state
    )
    wheels = np.maximum(np.maximum(rolling.wheels, standing.wheels), leaving.wheels)
    engine = np.maximum(np.maximum(rolling.engine, standing.engine), leaving.engine)
    engine[lump.FUEL_BURNED] = sum(part.engine[lump.FUEL_BURNED] for part in (rolling, standing, leaving))
    return lump.LapHeat(leaving.state, wheels, engine)


def _new_parts(car: Car, weather: Weather, stop: Stop, state: FloatArray) -> FloatArray:
    """Pads and treads as thick as the ones the car started with; new tyres come at the air's temperature."""
    fresh, state = fresh_state(car, weather), state.copy()
    if stop.new_pads:
        pads = slice(lump.PAD_THICKNESS, lump.PAD_THICKNESS + 4)
        state[pads] = fresh[pads]
    if stop.new_tyres:
        for first in (lump.TREAD, lump.CARCASS, lump.TREAD_DEPTH):
            state[first : first + 4] = fresh[first : first + 4]
    return state


def _trace(
    car: Car,
    path: Path,
    event: Event,
    lumps: Lumps,
    rows: list[_Row],
    stops_made: tuple[tuple[int, Stop], ...],
    unusable: float,
    dry_at: float | None,
) -> RaceTrace:
    wheels = np.array([row.heat.wheels for row in rows])
    engine = np.array([row.heat.engine for row in rows])
    states = np.array([row.heat.state for row in rows])
    fuel_after = np.array([row.fuel_after for row in rows])
    carcass = wheels[:, lump.CARCASS_MEAN]
    weather = event.weather
    cold = (car.tyre_front.pressure_cold,) * 2 + (car.tyre_rear.pressure_cold,) * 2
    pressures = [
        [
            pressure_gauge_at(cold[k], weather.air_temp, float(temps[k]), weather.air_pressure)
            for k in range(4)
        ]
        for temps in carcass
    ]
    hottest = _hottest(rows, wheels)
    return RaceTrace(
        clock=np.array([row.clock for row in rows]),
        lap_time=np.array([row.lap_time for row in rows]),
        stop_time=np.array([row.stop_time for row in rows]),
        kind=np.array([float(row.kind) for row in rows]),
        fuel_mass=np.maximum(fuel_after, 0.0),
        fuel_left=fuel_after - unusable,
        fuel_burned=engine[:, lump.FUEL_BURNED],
        tread_temp=wheels[:, lump.TREAD_MEAN],
        carcass_temp=carcass,
        pressure_hot=np.array(pressures),
        grip=np.array([row.conditions.grip for row in rows]),
        disc_temp_peak=wheels[:, lump.DISC_PEAK],
        disc_temp_mean=wheels[:, lump.DISC_MEAN],
        pad_friction=wheels[:, lump.FRICTION],
        pad_thickness=states[:, lump.PAD_THICKNESS : lump.PAD_THICKNESS + 4],
        disc_thickness=states[:, lump.DISC_THICKNESS : lump.DISC_THICKNESS + 4],
        fluid_temp_peak=wheels[:, lump.FLUID_PEAK],
        coolant_temp_peak=engine[:, lump.COOLANT_PEAK],
        oil_temp_peak=engine[:, lump.OIL_PEAK],
        tread_depth=states[:, lump.TREAD_DEPTH : lump.TREAD_DEPTH + 4],
        tread_temp_peak=wheels[:, lump.TREAD_PEAK],
        tread_temp_working=wheels[:, lump.TREAD_WORKING],
        brake_work=wheels[:, lump.BRAKE_WORK],
        slip_work=wheels[:, lump.SLIP_WORK],
        stops_made=stops_made,
        dry_at=dry_at,
        hot_lap=_hot_lap(car, path, event, lumps, rows[hottest]),
        hot_lap_number=hottest + 1,
    )


def _hottest(rows: list[_Row], wheels: FloatArray) -> int:
    peaks = wheels[:, lump.DISC_PEAK, :2].max(axis=1)
    slow = np.array([row.kind == LapKind.SAFETY_CAR for row in rows])
    if not np.all(slow):
        peaks = np.where(slow, -np.inf, peaks)
    return int(np.argmax(peaks))


def _hot_lap(car: Car, path: Path, event: Event, lumps: Lumps, row: _Row) -> LapTrace:
    lap = flying_lap(car, path, event.weather, row.conditions)
    traces = np.empty((lap.distance.shape[0], lump.STATE_SIZE))
    air = surroundings(car, event.weather, 1.0 if row.kind == LapKind.TRAFFIC else 0.0)
    march_lap(lumps, air, drive_of(lap), row.start, traces)
    along = {
        "disc_temp": traces[:, lump.DISC : lump.DISC + 4],
        "pad_surface_temp": traces[:, lump.SURFACE : lump.SURFACE + 4],
        "fluid_temp": traces[:, lump.CALIPER : lump.CALIPER + 4],
        "tread_temp": traces[:, lump.TREAD : lump.TREAD + 4],
        "carcass_temp": traces[:, lump.CARCASS : lump.CARCASS + 4],
        "coolant_temp": traces[:, lump.COOLANT],
        "oil_temp": traces[:, lump.OIL],
    }
    return replace(lap, channels={**lap.channels, **along})


def _litres(volume: float) -> str:
    return f"{volume * 1e3:.1f}"


def _clock(seconds: float) -> str:
    whole = round(seconds)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"
