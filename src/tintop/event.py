"""The day and the race: weather, rules of stops, pace, traffic and neutralisation; SI, °C."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.checks import within
from tintop.known import Known


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """Air and road on the day; pressure is the absolute one at the circuit [Pa]."""

    air_temp: float = 20.0
    air_pressure: float = 101325.0
    humidity: float = 0.5
    road_temp: float = 28.0
    wetness: float = 0.0  # 0 dry road, 1 wet all over

    def __post_init__(self) -> None:
        within(self.air_temp, -25.0, 55.0, "weather.air_temp", "°C")
        within(self.air_pressure, 55e3, 110e3, "weather.air_pressure", "Pa")
        within(self.humidity, 0.0, 1.0, "weather.humidity", "")
        within(self.road_temp, -25.0, 80.0, "weather.road_temp", "°C")
        within(self.wetness, 0.0, 1.0, "weather.wetness", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A planned stop: race clock at which it is due [s], time standing [s], fuel put in [m³], new parts."""

    at: float
    standing: float
    fuel_volume: float = 0.0
    new_pads: bool = False
    new_tyres: bool = False

    def __post_init__(self) -> None:
        within(self.at, 0.0, 24 * 3600.0, "race.stops.at", "s")
        within(self.standing, 0.0, 7200.0, "race.stops.standing", "s")
        within(self.fuel_volume, 0.0, 0.25, "race.stops.fuel_volume", "m3")


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
        within(self.duration, 60.0, 24 * 3600.0, "race.duration", "s")
        within(self.start_fuel_volume, 0.0, 0.25, "race.start_fuel_volume", "m3")
        within(self.pit_lane_loss, 0.0, 600.0, "race.pit_lane_loss", "s")
        within(self.grip_used, 0.3, 1.0, "race.grip_used", "")
        within(self.traffic_share, 0.0, 1.0, "race.traffic_share", "")
        within(self.safety_cars_per_hour, 0.0, 10.0, "race.safety_cars_per_hour", "1/h")
        within(self.safety_car_length, 0.0, 7200.0, "race.safety_car_length", "s")
        within(self.safety_car_pace, 0.1, 1.0, "race.safety_car_pace", "")
        within(self.formation_laps, 0, 5, "race.formation_laps", "")


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
