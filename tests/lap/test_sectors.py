from dataclasses import replace

import numpy as np
import pytest

from demo_cars import CARS, demo_car, demo_circuit, demo_lane, demo_weather
from tintop.errors import BadInput
from tintop.lap.flying_lap import flying_lap
from tintop.lap.sectors import corner_summaries, sector_times
from tintop.lap.trace import Limit


@pytest.mark.parametrize("name", CARS)
def test_sectors_sum_to_the_lap(name: str) -> None:
    lap = flying_lap(demo_car(name), demo_lane(), demo_weather())
    sectors = sector_times(lap, demo_circuit(), demo_lane())
    assert len(sectors) == len(demo_circuit().sectors)
    assert all(time > 0.0 for time in sectors)
    assert sum(sectors) == pytest.approx(lap.lap_time, abs=1e-9)


def test_a_sector_is_the_time_between_its_ends() -> None:
    lap = flying_lap(demo_car(), demo_lane(), demo_weather())
    circuit = demo_circuit()
    ends = [0.0, *circuit.sectors]
    spent = lap.segment_time
    for first, last, time in zip(ends[:-1], ends[1:], sector_times(lap, circuit, demo_lane()), strict=True):
        inside = slice(round(first / circuit.step), round(last / circuit.step))
        assert time == pytest.approx(float(spent[inside].sum()), abs=0.05)


@pytest.mark.parametrize("name", CARS)
def test_each_corner_is_told_at_its_slowest_point(name: str) -> None:
    circuit = demo_circuit()
    lap = flying_lap(demo_car(name), demo_lane(), demo_weather())
    rows = corner_summaries(lap, circuit, demo_lane())
    assert [row["number"] for row in rows] == [corner.number for corner in circuit.corners]
    for row, corner in zip(rows, circuit.corners, strict=True):
        at = int(np.argmin(np.abs(lap.distance - row["distance"])))
        assert row["speed"] == pytest.approx(float(lap.speed[at]))
        assert row["direction"] == ("left" if corner.is_left else "right")
        assert row["limit"] in {limit.name.lower() for limit in Limit}
        assert 1 <= row["gear"] <= 5
    assert min(row["speed"] for row in rows) == pytest.approx(float(lap.speed.min()))


def test_a_lap_of_another_mesh_is_refused() -> None:
    lap = flying_lap(demo_car(), demo_lane(2.0), demo_weather())
    with pytest.raises(BadInput, match="points"):
        sector_times(lap, demo_circuit(), demo_lane())
    with pytest.raises(BadInput, match="points"):
        corner_summaries(replace(lap), demo_circuit(), demo_lane())
