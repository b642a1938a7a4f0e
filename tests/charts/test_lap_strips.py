import re
from dataclasses import replace

import numpy as np
import pytest
from drawn import STEP, SVG, lap, read

from demo_cars import demo_car, demo_circuit, demo_lane, demo_weather
from tintop.car.numbers import with_number
from tintop.charts.ink import LIMIT_STYLES
from tintop.charts.lap_strips import changed_paths, lap_axis, lap_readings, lap_strips, strips_of
from tintop.charts.strips import ACROSS, on_page
from tintop.errors import BadInput
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace, Limit


def _speed_svg(of: LapTrace) -> str:
    return on_page(lap_strips(of, demo_circuit(STEP))[0])


def _words(svg: str) -> list[str]:
    return ["".join(each.itertext()) for each in read(svg).iter(f"{SVG}text")]


def test_there_is_a_strip_for_each_thing_a_driver_asks() -> None:
    drawn = lap_strips(lap(), demo_circuit(STEP))
    assert [each.name for each in drawn] == ["speed", "pedals", "gear", "accelerations", "grip", "balance"]
    for each in drawn:
        said = _words(on_page(each))
        assert {str(corner.number) for corner in demo_circuit(STEP).corners} <= set(said)


def test_every_limit_has_pattern_letter_and_word() -> None:
    n = len(lap().speed)
    all_six = replace(
        lap(), channels={**lap().channels, "limit": (np.arange(n) * len(Limit) // n).astype(float)}
    )
    svg = _speed_svg(all_six)
    said = _words(svg)
    fills = {each.get("fill") for each in read(svg).iter(f"{SVG}rect")}
    for style in LIMIT_STYLES.values():
        assert said.count(style.letter) >= 2  # in the key and on the band
        assert style.word in said
        assert (f"url(#limit-{style.letter})" if style.hatch else style.colour) in fills
        assert bool(style.hatch) == (f'id="limit-{style.letter}"' in svg)


def test_a_limit_that_is_not_in_the_lap_is_not_in_the_key() -> None:
    said = _words(_speed_svg(lap()))
    shares = lap().limit_share()
    for limit in Limit:
        assert (LIMIT_STYLES[limit].word in said) == (shares[limit.name.lower()] > 0.0)


def test_the_band_covers_the_lap_once() -> None:
    rects = [
        each
        for each in read(_speed_svg(lap())).iter(f"{SVG}rect")
        if each.get("height") == "14" and (each.get("width") or "").endswith("%")
    ]
    widths = [float((each.get("width") or "").rstrip("%")) for each in rects]
    assert sum(widths) == pytest.approx(100.0, abs=0.01 * len(widths))


def test_the_speed_drawn_is_the_speed_of_the_trace() -> None:
    speed = strips_of(lap())[0]
    svg = _speed_svg(lap())
    drawn = re.search(r'<path d="M([^"]+)"[^>]*data-curve="speed"', svg)
    assert drawn
    points = np.array([[float(part) for part in pair.split(",")] for pair in drawn[1].split()])
    kmh = speed.low + (speed.height - points[:, 1]) / speed.height * (speed.high - speed.low)
    at = points[:, 0] / ACROSS * lap().length
    assert kmh[0] == pytest.approx(3.6 * lap().speed[0], abs=0.1)
    assert kmh[-1] == pytest.approx(3.6 * lap().speed[-1], abs=0.1)
    assert kmh.min() == pytest.approx(3.6 * lap().speed.min(), abs=0.1)
    assert kmh == pytest.approx(np.interp(at, lap().distance, 3.6 * lap().speed), abs=0.4)


def test_readings_are_those_of_the_trace() -> None:
    found = lap_readings(lap())
    columns = {column["name"]: column for column in found["columns"]}
    chosen = np.array(found["chosen"])
    assert found["places"] == pytest.approx(lap().distance[chosen], abs=0.06)
    assert columns["speed"]["values"] == pytest.approx(3.6 * lap().speed[chosen], abs=0.06)
    assert columns["gear"]["values"] == list(lap().channel("gear")[chosen])
    assert columns["RR"]["values"] == pytest.approx(100.0 * lap().channel("grip_used")[chosen, 3], abs=0.51)
    assert found["words"][0] == LIMIT_STYLES[Limit(int(lap().channel("limit")[0]))].word
    assert all(len(column["values"]) == len(found["places"]) for column in found["columns"])


def test_a_changed_lap_is_drawn_to_the_scale_of_the_first() -> None:
    same = changed_paths(lap(), demo_circuit(STEP), lap())
    assert f'd="{same["speed"]}"' in _speed_svg(lap())
    lighter = with_number(demo_car(), "masses.car", demo_car().masses.car - 100.0)
    other = flying_lap(lighter, demo_lane(STEP), demo_weather())
    changed = changed_paths(lap(), demo_circuit(STEP), other)
    assert changed["speed"] != same["speed"]
    assert set(changed) == {"speed", "throttle", "brake", "gear", "forward", "to the left", "balance"}


def test_a_lap_of_another_circuit_is_refused() -> None:
    with pytest.raises(BadInput, match="points"):
        lap_axis(lap(), demo_circuit(1.0))
