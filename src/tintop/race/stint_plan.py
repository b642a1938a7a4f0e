"""The race as planned stint by stint: fuel, what each stop does, and between which laps it may be made."""

from dataclasses import dataclass

import numpy as np

from tintop.car.car import Car
from tintop.event import Stop
from tintop.race.march import RaceTrace


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """From the start or a stop to the next stop or the flag: laps, clock [s], usable fuel [m³], and the stop.

    `clock` is when the stint ends, its stop not counted; `stops` are those that ended it, none at the flag.
    """

    last_lap: int
    clock: float
    fuel_at_start: float
    burned: float
    left: float
    stops: tuple[Stop, ...]

    @property
    def standing(self) -> float | None:
        """How long the car stands [s]; None at the flag."""
        return sum(stop.standing for stop in self.stops) if self.stops else None

    @property
    def put_in(self) -> float:
        """Fuel put in [m³]."""
        return sum(stop.fuel_volume for stop in self.stops)

    @property
    def parts(self) -> str:
        """What is changed at the stop, in words; empty for nothing."""
        pads, tyres = (
            any(stop.new_pads for stop in self.stops),
            any(stop.new_tyres for stop in self.stops),
        )
        return " and ".join(word for word, is_new in (("new pads", pads), ("new tyres", tyres)) if is_new)


@dataclass(frozen=True, slots=True, kw_only=True)
class StopWindow:
    """Between which laps a stop may be made for its fuel, with the race clocks [s]; None where nothing says.

    Not before `first_lap`, when what is put in has room in the tank; not after `last_lap`, the last that the
    tank still ends. What the regulations allow is not known here.
    """

    first_lap: int
    first_clock: float
    last_lap: int | None
    last_clock: float | None


def stints_of(trace: RaceTrace, density: float) -> tuple[Stint, ...]:
    """The marched race by stints; `density` of the fuel [kg/m³]. A stop itself burns a little, idling."""
    made: dict[int, list[Stop]] = {}
    for lap, stop in trace.stops_made:
        made.setdefault(lap, []).append(stop)
    found, first = [], 0
    for last in (*made, trace.laps) if trace.laps not in made else made:
        found.append(
            Stint(
                last_lap=last,
                clock=float(trace.clock[last - 1] - trace.stop_time[last - 1]),
                fuel_at_start=float(trace.fuel_left[first] + trace.fuel_burned[first]) / density,
                burned=float(np.sum(trace.fuel_burned[first:last])) / density,
                left=float(trace.fuel_left[last - 1]) / density,
                stops=tuple(made.get(last, ())),
            )
        )
        first = last
    return tuple(found)


def stop_windows(car: Car, trace: RaceTrace) -> tuple[StopWindow | None, ...]:
    """The window of every stint's stop by its fuel, None for the last stint; other stops stay as planned."""
    density = car.fuel.density
    room = (car.tank.volume - car.tank.unusable_volume) * density
    found: list[StopWindow | None] = []
    first = 0
    for stint in stints_of(trace, density):
        if not stint.stops:
            found.append(None)
            continue
        left = stint.fuel_at_start * density - np.cumsum(trace.fuel_burned[first:])
        fits = np.flatnonzero(left + stint.put_in * density <= room)
        ends = np.flatnonzero(left >= 0.0)
        earliest = first + (int(fits[0]) if fits.size else stint.last_lap - 1 - first)
        is_reached = ends.size < left.size
        latest = first + int(ends[-1]) if is_reached and ends.size else None
        before = float(trace.stop_time[stint.last_lap - 1])
        found.append(
            StopWindow(
                first_lap=earliest + 1,
                first_clock=_clock(trace, earliest, stint.last_lap, before),
                last_lap=None if latest is None else latest + 1,
                last_clock=None if latest is None else _clock(trace, latest, stint.last_lap, before),
            )
        )
        first = stint.last_lap
    return tuple(found)


def _clock(trace: RaceTrace, lap: int, stop_lap: int, stop_time: float) -> float:
    """The race clock at the end of a lap (from 0) had this stint's stop not been made yet."""
    return float(trace.clock[lap]) - (stop_time if lap >= stop_lap - 1 else 0.0)
