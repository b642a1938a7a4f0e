from dataclasses import replace

import numpy as np
import pytest
from drawn import SVG, race, read

from demo_cars import demo_car
from tintop.charts.race_strips import race_axis, race_readings, race_strips, race_strips_of
from tintop.charts.strips import on_page
from tintop.race.lasting import left_over_race
from tintop.race.march import LapKind


def _said() -> dict[str, list[str]]:
    return {
        each.name: ["".join(word.itertext()) for word in read(on_page(each)).iter(f"{SVG}text")]
        for each in race_strips(demo_car(), race())
    }


def test_every_strip_marks_the_stops_with_their_laps() -> None:
    for name, words in _said().items():
        for lap, _ in race().stops_made:
            assert f"stop, lap {lap}" in words, name


def test_every_temperature_has_its_limit_written() -> None:
    car, said = demo_car(), _said()
    assert f"limit {car.brakes.front.disc_temp_limit:.0f}" in said["discs"]
    assert f"boils at {car.brakes.fluid_boiling:.0f}" in said["fluid"]
    assert any(words.startswith("greasy above") for words in said["treads"])
    assert {
        f"coolant limit {car.cooling.coolant_limit:.0f}",
        f"oil limit {car.cooling.oil_limit:.0f}",
    } <= set(said["engine"])
    assert "dry" in said["fuel"]
    assert all("minimum" in said[name] for name in ("pads", "disc-wear", "tread-depth"))


def test_axles_with_limits_of_their_own_are_both_named() -> None:
    car = demo_car()
    rear = replace(car.brakes.rear, disc_temp_limit=car.brakes.front.disc_temp_limit - 100.0)
    car = replace(car, brakes=replace(car.brakes, rear=rear))
    discs = next(strip for strip in race_strips_of(car, race()) if strip.name == "discs")
    assert [bound.words for bound in discs.bounds] == [
        f"front limit {car.brakes.front.disc_temp_limit:.0f}",
        f"rear limit {rear.disc_temp_limit:.0f}",
    ]


def test_what_is_left_is_what_the_judgement_counts() -> None:
    left = left_over_race(demo_car(), race())
    strips = {strip.name: strip for strip in race_strips_of(demo_car(), race())}
    assert strips["fuel"].curves[0].values == pytest.approx(1e3 * left[:, 0])
    for name, first in (("pads", 1), ("disc-wear", 3), ("tread-depth", 8)):
        for axle, curve in enumerate(strips[name].curves):
            assert curve.values == pytest.approx(1e3 * left[:, first + axle])


def test_laps_behind_a_safety_car_are_shaded_and_nothing_else() -> None:
    slow = np.flatnonzero(race().kind == float(LapKind.SAFETY_CAR)) + 1
    assert slow.size
    shades = race_axis(race()).shades
    for lap in range(1, race().laps + 1):
        is_shaded = any(first <= lap <= last for first, last in shades)
        assert is_shaded == (lap in slow)


def test_readings_give_each_lap_its_time_and_kind() -> None:
    found = race_readings(demo_car(), race())
    assert found["places"] == [float(lap) for lap in range(1, race().laps + 1)]
    times = next(column for column in found["columns"] if column["name"] == "lap time")
    assert times["values"] == pytest.approx(race().lap_time, abs=0.006)
    stop = race().stops_made[0][0]
    assert found["words"][stop - 1].endswith("then a stop")
    assert len(found["words"]) == race().laps


def test_a_race_of_one_lap_is_drawn() -> None:
    one = replace(
        race(),
        **{
            name: getattr(race(), name)[:1]
            for name in race().__dataclass_fields__
            if isinstance(getattr(race(), name), np.ndarray)
        },
        stops_made=(),
    )
    for each in race_strips(demo_car(), one):
        assert "nan" not in on_page(each).lower()
