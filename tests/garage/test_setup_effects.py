"""Lines found once, and set-ups driven in the weather they are for."""

import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from short_benches import SHORT, short_bench
from tintop.errors import BadInput
from tintop.garage import setup_effects
from tintop.garage.setup_effects import effects_of, line_of

BENCH = short_bench()


def test_a_line_is_found_once():
    assert line_of(BENCH, SHORT) is line_of(BENCH, SHORT)


def test_those_who_ask_at_once_wait_for_one_line(monkeypatch):
    asked = []

    def found_slowly(car, circuit, weather, progress=None):
        asked.append(car)
        time.sleep(0.05)
        return "a line"

    monkeypatch.setattr(setup_effects, "driven_path", found_slowly)
    masses = replace(BENCH.described.car.masses, car=BENCH.described.car.masses.car + 1.0)
    car = replace(BENCH.described.car, masses=masses)
    bench = replace(BENCH, described=replace(BENCH.described, car=car))
    with ThreadPoolExecutor(6) as six:
        lines = list(six.map(lambda _: line_of(bench, SHORT), range(6)))
    assert lines == ["a line"] * 6 and len(asked) == 1


def test_each_set_up_in_its_weather_with_progress():
    shares = []
    found = effects_of(BENCH, ("dry", "wet"), SHORT, shares.append)
    assert list(found) == ["dry", "wet"]
    assert found["wet"].limit.limit < found["dry"].limit.limit
    assert shares == sorted(shares)
    assert shares[-1] == pytest.approx(1.0)


def test_a_name_that_is_not_there_is_told_before_a_line_is_looked_for():
    with pytest.raises(BadInput, match="wet"):
        effects_of(BENCH, ("dry", "wett"), SHORT)
    with pytest.raises(BadInput, match="short"):
        line_of(BENCH, "shrot")
