"""The day and the race: weather, rules of stops, pace, traffic and neutralisation; SI, °C."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from tintop.errors import refuse
from tintop.known import Known


def _within(value: float, low: float, high: float, where: str, unit: str) -> None:
    if not (math.isfinite(value) and low <= value <= high):
        raise refuse(where, f"{value:g} {unit}".strip(), f"{low:g} to {high:g} {unit}".strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """Air and road on the day; pressure is the absolute one at the circuit [Pa]."""

    air_temp: float = 20.0
    air_pressure: float = 101325.0
    humidity: float = 0.5
    road_temp: float = 28.0
    wetness: float = 0.0  # 0 dry road, 1 wet all over

    def __post_init__(self) -> None:
        _within(self.air_temp, -25.0, 55.0, "weather.air_temp", "°C")
        _within(self.air_pressure, 55e3, 110e3, "weather.air_pressure", "Pa")
        _within(self.humidity, 0.0, 1.0, "weather.humidity", "")
        _within(self.road_temp, -25.0, 80.0, "weather.road_temp", "°C")
        _within(self.wetness, 0.0, 1.0, "weather.wetness", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A planned stop: race clock at which it is due [s], time standing [s], fuel put in [m³], new parts."""

    at: float
    standing: float
    fuel_volume: float = 0.0
    new_pads: bool = False
    new_tyres: bool = False

    def __post_init__(self) -> None:
        _within(self.at, 0.0, 24 * 3600.0, "race.stops.at", "s")
        _within(self.standing, 0.0, 7200.0, "race.stops.standing", "s")
        _within(self.fuel_volume, 0.0, 0.25, "race.stops.fuel_volume", "m3")


@dataclass(frozen=True, slots=True, kw_only=True)
class Race:
    """Length, fuel at the start, stops, pace, traffic, and how often the race is neutralised."""

    duration: float  # [s]
    start_fuel_volume: float  # [m³]
    stops: tuple[Stop, ...] = ()
    pit_lane_loss: float = 20.0  # driving through the pit lane against racing past it [s]
    grip_used: float = 1.0  # share of the tyres' grip the driver uses in the race
    traffic_share: float = 0.0  # share of laps close behind another car
    safety_cars_per_hour: float = 0.0
    safety_car_length: float = 600.0  # mean [s]
    safety_car_pace: float = 0.6  # speed as a share of race speed
    formation_laps: int = 1

    def __post_init__(self) -> None:
        _within(self.duration, 60.0, 24 * 3600.0, "race.duration", "s")
        _within(self.start_fuel_volume, 0.0, 0.25, "race.start_fuel_volume", "m3")
        _within(self.pit_lane_loss, 0.0, 600.0, "race.pit_lane_loss", "s")
        _within(self.grip_used, 0.3, 1.0, "race.grip_used", "")
        _within(self.traffic_share, 0.0, 1.0, "race.traffic_share", "")
        _within(self.safety_cars_per_hour, 0.0, 10.0, "race.safety_cars_per_hour", "1/h")
        _within(self.safety_car_length, 0.0, 7200.0, "race.safety_car_length", "s")
        _within(self.safety_car_pace, 0.1, 1.0, "race.safety_car_pace", "")
        _within(self.formation_laps, 0, 5, "race.formation_laps", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One meeting: name, date as written (YYYY-MM-DD), weather and race."""

    name: str
    date: str
    weather: Weather
    race: Race


@dataclass(frozen=True, slots=True, kw_only=True)
class DescribedEvent:
    """The event; `known` holds every number by path, such as "weather.air_temp" or "race.stops.1.at"."""

    event: Event
    known: Mapping[str, Known]
