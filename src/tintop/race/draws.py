"""What the stated uncertainties do to a race: the step of every number of it per standard deviation."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.numbers import numbers_of, with_number
from tintop.circuit.circuit import Path
from tintop.errors import TintopError
from tintop.event import Event, Race, Weather
from tintop.known import Known
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_of
from tintop.lap.vehicle import Numbers, numbers_for
from tintop.physics import race_numbers as layout
from tintop.race.heat import lumps_of
from tintop.race.lap_model import outputs_of, race_numbers

FloatArray = NDArray[np.float64]

# numbers whose draws are added; all others are positive and are multiplied
_ADDED = {
    "pad_wear_temp",
    "pad_minimum",
    "disc_limit",
    "disc_minimum",
    "temp_best",
    "tread_minimum",
    "thermostat_temp",
    "coolant_limit",
    "oil_limit",
    "fluid_boiling",
    "air_temp",
    "road_temp",
    "traffic_air_warmer",
    "traffic_share",
    "traffic_phase",
    "fuel_unusable",
}
_SHARES = {
    "heat_to_disc_share",
    "slip_heat_share",
    "traffic_air_share",
    "heat_to_coolant_share",
    "heat_to_oil_share",
}
_NAMES = (*layout.AXLE_NUMBERS, *layout.AXLE_NUMBERS, *layout.OTHER_NUMBERS)
IS_ADDED = np.array([name in _ADDED for name in _NAMES])
IS_SHARE = np.array([name in _SHARES for name in _NAMES])
_LARGEST_RELATIVE_STEP = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Uncertain paths (k,), the step of each race number (k, 94) and of the log of each lap output (k, 14).

    `left_out` are paths with an uncertainty that no value within the allowed range could express.
    """

    paths: tuple[str, ...]
    number_steps: FloatArray
    output_steps: FloatArray
    left_out: tuple[str, ...]


def spread_of(car: Car, path: Path, event: Event, known: Mapping[str, Known], racing: Conditions) -> Spread:
    """Move every uncertain number of the car, the weather and the race by its standard uncertainty.

    Lap outputs are compared by real laps at the `racing` conditions, for numbers that move the lap at all.
    """
    base_numbers = race_numbers(car, event.weather, event.race)
    base_lap_numbers = numbers_for(car, event.weather, racing)
    base_outputs = outputs_of(lap_of(base_lap_numbers, path), lumps_of(car, event.weather))
    own = numbers_of(car)
    paths, number_steps, output_steps, left_out = [], [], [], []
    for name in sorted(known):
        step = known[name].uncertainty
        if step <= 0.0 or not _belongs(name, own):
            continue
        moved, sign = _moved(car, event, name, own, step)
        if moved is None:
            left_out.append(name)
            continue
        new_car, new_event = moved
        numbers = _number_step(base_numbers, race_numbers(new_car, new_event.weather, new_event.race))
        conditions = replace(racing, grip_used=new_event.race.grip_used)
        try:
            lap_numbers = numbers_for(new_car, new_event.weather, conditions)
            if _same(lap_numbers, base_lap_numbers):
                outputs = np.zeros(layout.OUTPUTS)
            else:
                new_lumps = lumps_of(new_car, new_event.weather)
                outputs = np.log(outputs_of(lap_of(lap_numbers, path), new_lumps) / base_outputs)
        except TintopError:
            left_out.append(name)
            continue
        if np.any(numbers != 0.0) or np.any(outputs != 0.0):
            paths.append(name)
            number_steps.append(sign * numbers)
            output_steps.append(sign * outputs)
    count = len(paths)
    return Spread(
        paths=tuple(paths),
        number_steps=np.array(number_steps).reshape(count, layout.NUMBERS),
        output_steps=np.array(output_steps).reshape(count, layout.OUTPUTS),
        left_out=tuple(left_out),
    )


def drawn_numbers(base: FloatArray, spread: Spread, normals: FloatArray) -> FloatArray:
    """Numbers (races, 94) of races drawn with standard normals (races, k); zeros give the stated race."""
    steps = normals @ spread.number_steps
    multiplied = base * np.exp(np.where(IS_ADDED, 0.0, steps))
    numbers = np.where(IS_ADDED, base + steps, multiplied)
    numbers = np.where(IS_SHARE, np.minimum(numbers, 1.0), numbers)
    places = {
        name: len(layout.AXLE_NUMBERS) * 2 + layout.OTHER_NUMBERS.index(name) for name in layout.OTHER_NUMBERS
    }
    for name, low, high in (
        ("traffic_share", 0.0, 1.0),
        ("traffic_air_warmer", 0.0, 40.0),
        ("fuel_unusable", 0.0, 1e3),
    ):
        numbers[:, places[name]] = np.clip(numbers[:, places[name]], low, high)
    numbers[:, places["fuel_start"]] = np.minimum(
        numbers[:, places["fuel_start"]], numbers[:, places["fuel_tank"]]
    )
    return np.ascontiguousarray(numbers)


def _belongs(name: str, own: Mapping[str, float]) -> bool:
    part, _, field = name.partition(".")
    if part == "weather":
        return field in {each.name for each in fields(Weather)}
    if part == "race":
        return field in _RACE_NUMBERS
    return name in own


# the number of safety cars and their length are drawn race by race in `odds`
_RACE_NUMBERS = {"grip_used", "traffic_share", "start_fuel_volume"}


def _moved(
    car: Car, event: Event, name: str, own: Mapping[str, float], step: float
) -> tuple[tuple[Car, Event] | None, float]:
    """Car and event with one number a step higher, or lower where that is refused; and which it was."""
    for sign in (1.0, -1.0):
        try:
            return _with(car, event, name, own, sign * step), sign
        except TintopError:
            continue
    return None, 1.0


def _with(car: Car, event: Event, name: str, own: Mapping[str, float], step: float) -> tuple[Car, Event]:
    part, _, field = name.partition(".")
    if part == "weather":
        weather: Weather = event.weather
        changed = {field: getattr(weather, field) + step}
        return car, replace(event, weather=replace(weather, **changed))
    if part == "race":
        race: Race = event.race
        changed = {field: getattr(race, field) + step}
        return car, replace(event, race=replace(race, **changed))
    return with_number(car, name, own[name] + step), event


def _number_step(base: FloatArray, moved: FloatArray) -> FloatArray:
    added = moved - base
    positive = (base > 0.0) & (moved > 0.0)
    ratio = np.divide(moved, base, out=np.ones_like(base), where=positive)
    multiplied = np.clip(np.log(ratio), -_LARGEST_RELATIVE_STEP, _LARGEST_RELATIVE_STEP)
    return np.where(IS_ADDED, added, multiplied)


def _same(one: Numbers, other: Numbers) -> bool:
    return _alike(one.vehicle, other.vehicle) and _alike(one.driveline, other.driveline)


def _alike(one: object, other: object) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(_alike(a, b) for a, b in zip(one, other, strict=True))
    return bool(np.array_equal(np.asarray(one), np.asarray(other)))
