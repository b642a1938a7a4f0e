"""event.toml: the least that is enough, the demo's event, refusals, and a car that does not go with it."""

import dataclasses
from pathlib import Path

import pytest

from tintop.errors import BadInput
from tintop.event import DescribedEvent, Stop
from tintop.known import Origin
from tintop.store.demo import demo_path
from tintop.store.documents import read_car, read_event, refuse_contradictions

LEAST = 'race.duration = "2 h"\nrace.start_fuel_volume = "45 L"\n'


def event_of(folder: Path, text: str) -> DescribedEvent:
    path = folder / "event.toml"
    path.write_text(text, "utf-8")
    return read_event(path)


def test_two_lines_are_enough(tmp_path: Path) -> None:
    described = event_of(tmp_path, LEAST)
    event = described.event
    assert event.race.duration == 7200.0
    assert event.race.start_fuel_volume == pytest.approx(0.045)
    assert event.race.stops == ()
    assert event.weather.road_temp == pytest.approx(event.weather.air_temp + 8.0)
    assert described.known["race.duration"].origin is Origin.ESTIMATED
    assert described.known["weather.air_temp"].origin is Origin.ASSUMED


def test_the_road_follows_a_stated_air(tmp_path: Path) -> None:
    described = event_of(tmp_path, LEAST + 'weather.air_temp = "86 F"\n')
    assert described.event.weather.road_temp == pytest.approx(38.0)


@pytest.mark.parametrize("source", ["least", "demo"])
def test_every_number_of_the_event_says_how_it_is_known(tmp_path: Path, source: str) -> None:
    described = event_of(tmp_path, LEAST) if source == "least" else read_event(demo_path("event.toml"))
    numbers: dict[str, float] = {}
    for prefix, part in (("weather.", described.event.weather), ("race.", described.event.race)):
        for field in dataclasses.fields(part):  # type: ignore[arg-type]
            value = getattr(part, field.name)
            if field.name == "stops":
                for place, stop in enumerate(value, 1):
                    for name in ("at", "standing", "fuel_volume"):
                        numbers[f"race.stops.{place}.{name}"] = getattr(stop, name)
            else:
                numbers[prefix + field.name] = value
    assert set(described.known) == set(numbers)
    for path, value in numbers.items():
        assert described.known[path].value == pytest.approx(value), path
        if described.known[path].origin is Origin.ASSUMED:
            assert described.known[path].source, path
            assert described.known[path].uncertainty > 0.0, path


def test_the_demo_is_a_two_hour_race_with_one_stop() -> None:
    event = read_event(demo_path("event.toml")).event
    assert event.race.duration == 7200.0
    assert event.race.stops == (Stop(at=3720.0, standing=120.0, fuel_volume=0.02),)
    assert event.race.safety_cars_per_hour == 0.6
    for name in ("car.toml", "second_car.toml"):
        refuse_contradictions(read_car(demo_path(name)), read_event(demo_path("event.toml")))


def test_changes_at_a_stop_are_read(tmp_path: Path) -> None:
    stop = '[[race.stops]]\nat = "1 h"\nstanding = "3:30.0"\nnew_pads = true\n'
    stops = event_of(tmp_path, LEAST + stop).event.race.stops
    assert stops == (Stop(at=3600.0, standing=210.0, new_pads=True),)


STOP = '[[race.stops]]\nat = "60 min"\nstanding = "2 min"\n'
REFUSED = {
    "no duration": ('race.start_fuel_volume = "45 L"\n', ["event.toml, race.duration", "nothing"]),
    "no fuel": ('race.duration = "2 h"\n', ["race.start_fuel_volume"]),
    "two readings of a duration": (
        'race.duration = "2:00"\nrace.start_fuel_volume = "45 L"\n',
        ["line 1, race.duration", "2:00:00"],
    ),
    "bare duration": (
        'race.duration = 120\nrace.start_fuel_volume = "45 L"\n',
        ['"120 min"'],
    ),
    "absurd weather": (
        LEAST + 'weather.air_temp = "95 °C"\n',
        ["line 3, weather.air_temp", "-25 °C to 55 °C"],
    ),
    "gauge pressure": (
        LEAST + 'weather.air_pressure = "0 bar"\n',
        ["weather.air_pressure", "0.55 bar to 1.1 bar"],
    ),
    "half a lap": (LEAST + "race.formation_laps = 1.5\n", ["race.formation_laps", "whole number"]),
    "many laps": (LEAST + "race.formation_laps = 1e12\n", ["race.formation_laps", "whole number"]),
    "a day the wrong way": ('date = "20/06/2026"\n' + LEAST, ["line 1, date", "YYYY-MM-DD"]),
    "a day that is no day": ('date = "2026-02-30"\n' + LEAST, ["date", "YYYY-MM-DD"]),
    "stop without clock": (LEAST + '[[race.stops]]\nstanding = "2 min"\n', ["race.stops.1.at", "nothing"]),
    "stop after the flag": (LEAST + STOP.replace("60", "130"), ["line 4, race.stops.1.at", "120 min"]),
    "stops out of order": (LEAST + STOP + STOP.replace("60", "30"), ["race.stops", "order"]),
    "unknown field of a stop": (
        LEAST + STOP + 'fuel = "20 L"\n',
        ["line 6, race.stops.1.fuel", "fuel_volume"],
    ),
    "absurd fuel": (
        LEAST + STOP + 'fuel_volume = "900 L"\n',
        ["line 6, race.stops.1.fuel_volume", "0 L to 250 L"],
    ),
    "stops in one table": (LEAST + 'race.stops = "none"\n', ["race.stops", "[[...]]"]),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_is_refused(tmp_path: Path, case: str) -> None:
    text, words = REFUSED[case]
    with pytest.raises(BadInput) as refusal:
        event_of(tmp_path, text)
    for word in words:
        assert word in str(refusal.value)


def test_more_fuel_than_the_tank_is_refused(tmp_path: Path) -> None:
    car = read_car(demo_path("car.toml"))
    with pytest.raises(BadInput) as refusal:
        refuse_contradictions(
            car, event_of(tmp_path, LEAST.replace("45", "60") + STOP + 'fuel_volume = "70 L"\n')
        )
    sentence = str(refusal.value)
    assert "race.start_fuel_volume: found 60 L; expected at most the 53 L" in sentence
    assert "race.stops.1.fuel_volume: found 70 L" in sentence
    refuse_contradictions(car, event_of(tmp_path, LEAST.replace("45", "53")))
