"""Cold pressures and the brakes' balance of the demo's car, each as the page asks for them."""

import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median

from tintop.garage.bench import load_bench
from tintop.garage.brakes import BrakesAsked, brakes_for, heat_of_each
from tintop.garage.pressures import PressuresAsked, pressures_for
from tintop.store.demo import write_demo

_LIVE = 0.05  # [s]


def rows(folder: str) -> list[tuple[str, str, str, bool]]:
    """What, figure, limit, met."""
    bench = replace(load_bench(folder), fitted="dry")
    pressures, brakes = PressuresAsked(circuit="larkmoor", air=14.0), BrakesAsked()
    return [
        _row(
            "cold pressures of a day, tyres warmed by the model over 12 laps",
            lambda: pressures_for(bench, pressures),
            30,
            _LIVE,
        ),
        _row("brakes' balance on both roads with its tables", lambda: brakes_for(bench, brakes), 30, _LIVE),
        _row(
            "two sets of pads marched through a two-hour race",
            lambda: heat_of_each(bench, brakes, "event", "larkmoor"),
            3,
            2.0,
        ),
    ]


def _row(what: str, work: Callable[[], object], runs: int, limit: float) -> tuple[str, str, str, bool]:
    work()
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    middle = median(taken)
    return (
        what,
        f"{1e3 * middle:.1f} ms (least {1e3 * min(taken):.1f})",
        f"{1e3 * limit:.0f} ms",
        middle <= limit,
    )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        write_demo(Path(place))
        for row in rows(place):
            print(*row, sep=" | ")
