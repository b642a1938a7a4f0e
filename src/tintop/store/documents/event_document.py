"""The fields of event.toml, with the kind of quantity and the meaning of each."""

from pydantic import Field

from tintop.store.documents.written import Flag, Number, Table, Word, name_of, quantity


class WeatherTable(Table):
    """Air and road on the day."""

    air_temp: Number = quantity("temperature", "air in the shade")
    air_pressure: Number = quantity("pressure", "absolute pressure at the circuit, not reduced to sea level")
    humidity: Number = quantity("share", "relative humidity")
    road_temp: Number = quantity("temperature", "road surface; the default is the air's plus this rise")
    wetness: Number = quantity("share", "0 = dry road, 1 = wet all over")


class StopTable(Table):
    """One planned stop."""

    at: Number = quantity("duration", "race clock at which it is due", required=True)
    standing: Number = quantity("time", "time standing still", required=True)
    fuel_volume: Number = quantity("volume", "fuel put in")
    new_pads: Flag = Field(default=None, description="true if pads are changed")
    new_tyres: Flag = Field(default=None, description="true if tyres are changed")


class RaceTable(Table):
    """Length, fuel, stops, pace, traffic and neutralisation."""

    duration: Number = quantity("duration", "length of the race", required=True)
    start_fuel_volume: Number = quantity("volume", "fuel aboard at the start", required=True)
    pit_lane_loss: Number = quantity("time", "driving through the pit lane against racing past it")
    grip_used: Number = quantity("share", "share of the tyres' grip the driver uses in the race")
    traffic_share: Number = quantity("share", "share of laps close behind another car")
    safety_cars_per_hour: Number = quantity("rate", "mean number of safety cars an hour")
    safety_car_length: Number = quantity("time", "mean length of a safety car")
    safety_car_pace: Number = quantity("share", "speed behind the safety car over race speed")
    formation_laps: Number = quantity("number", "laps before the start, a whole number")
    stops: list[StopTable] = Field(
        default=[], description="planned stops in order, each under [[race.stops]]"
    )


class EventDocument(Table):
    """event.toml."""

    name: Word = name_of("what the meeting is called")
    date: Word = Field(default=None, description="day of the race, YYYY-MM-DD")
    weather: WeatherTable = WeatherTable()
    race: RaceTable = RaceTable()
