"""The worked example of docs/theory/gearing.md, repeated by the product's own formulae."""

import math
import re
from pathlib import Path

import pytest

from tintop.physics.gearing import (
    drop,
    engine_speed_at,
    inertia_load_share,
    road_speed,
    turns_per_kilometre,
)

PAGE = Path(__file__).parents[2] / "docs" / "theory" / "gearing.md"
ROW = re.compile(r"^\| ([^|]+) \| [^|]+ \| ([\d.]+)(?: \S+)? \|$", re.MULTILINE)
RPM, RADIUS, FINAL = math.pi / 30.0, 0.298, 4.06
LIMITER = 7000.0 * RPM


def by_the_product() -> dict[str, float]:
    """Every result of the table, in the table's units."""
    fast = 188.0 / 3.6
    return {
        "turns a kilometre": turns_per_kilometre(RADIUS),
        "top gear at the limiter": 3.6 * road_speed(LIMITER, 0.90, FINAL, RADIUS),
        "first gear at the limiter": 3.6 * road_speed(LIMITER, 3.15, FINAL, RADIUS),
        "first to second falls to": 7000.0 * drop(3.15, 1.95),
        "fourth to fifth falls to": 7000.0 * drop(1.12, 0.90),
        "at 188 km/h in fifth": engine_speed_at(fast, 0.90, FINAL, RADIUS) / RPM,
        "the same with 2 % of slip": engine_speed_at(fast, 0.90, FINAL, RADIUS, 0.02) / RPM,
        "at 188 km/h with 4.25": engine_speed_at(fast, 0.90, 4.25, RADIUS) / RPM,
        "inertia loads at 6,500 rpm": 100.0 * inertia_load_share(6500.0, 7000.0),
    }


def test_the_worked_example_comes_out_as_written() -> None:
    written = dict(ROW.findall(PAGE.read_text("utf-8")))
    computed = by_the_product()
    assert set(written) == set(computed)
    for name, value in written.items():
        decimals = len(value.partition(".")[2])
        assert computed[name] == pytest.approx(float(value), abs=0.505 * 10.0**-decimals), name
