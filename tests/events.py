"""Events for the tests of the race."""

from dataclasses import replace

from tintop.event import Event, Race, Stop, Weather


def two_hours(**changes: object) -> Event:
    race = Race(
        duration=7200.0,
        start_fuel_volume=0.055,
        stops=(Stop(at=3600.0, standing=180.0, fuel_volume=0.020),),
        grip_used=0.96,
        traffic_share=0.15,
        safety_cars_per_hour=0.5,
        safety_car_length=540.0,
        safety_car_pace=0.55,
    )
    return Event(name="two hours", date="2026-05-01", weather=Weather(), race=replace(race, **changes))


def twenty_minutes(**changes: object) -> Event:
    race = {
        "duration": 1200.0,
        "start_fuel_volume": 0.030,
        "stops": (),
        "traffic_share": 0.0,
        "safety_cars_per_hour": 0.0,
        **changes,
    }
    return two_hours(**race)
