"""The demo's car and set-ups with a short circuit of their own, for tests that drive laps."""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from benches import demo_bench
from tintop.garage.bench import Bench

SHORT = "short"


def write_short_circuit(file: Path) -> None:
    """A rounded square of 760 m without widths: the line given is driven."""
    straight, radius, step = 110.0, 50.0, 2.0
    x, y, heading = 0.0, 0.0, 0.0
    rows = []
    for _ in range(4):
        for _ in range(round(straight / step)):
            rows.append((x, y))
            x, y = x + step * math.cos(heading), y + step * math.sin(heading)
        count = round(0.5 * math.pi * radius / step)
        arc = 0.5 * math.pi / count
        for _ in range(count):
            rows.append((x, y))
            heading += 0.5 * arc
            chord = 2.0 * radius * math.sin(0.5 * arc)
            x, y = x + chord * math.cos(heading), y + chord * math.sin(heading)
            heading += 0.5 * arc
    lines = ["# name: Short", "# source: invented for the tests", "x_m,y_m"]
    file.write_text("\n".join([*lines, *(f"{a:.4f},{b:.4f}" for a, b in rows)]) + "\n", "utf-8")


@cache
def short_bench() -> Bench:
    """The demo's bench with one circuit, "short"."""
    file = Path(mkdtemp(prefix="tintop-short-")) / "short.csv"
    write_short_circuit(file)
    return replace(demo_bench(), circuits={SHORT: file})
