"""How long springs, bars and gearing take on the demo's dry set-up: medians, the line found before."""

import statistics
import time
from collections.abc import Callable

from tintop.garage.bench import load_bench
from tintop.garage.gearing import ask_which_gearing
from tintop.garage.setup_effects import line_of
from tintop.garage.springs import ask_which_springs, map_of
from tintop.lap.balance import limit_balance
from tintop.lap.spring_map import Varied


def _median(work: Callable[[], object], runs: int) -> float:
    work()
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def rows(folder: str) -> list[tuple[str, str, str, bool]]:
    """Rows for the folder of a demo."""
    bench = load_bench(folder)
    setup = bench.setup("dry")
    day = bench.weather(setup.purpose)
    for name in bench.circuits:
        line_of(bench, name)
    car = bench.described.car
    measured = (
        ("balance at the limit at one speed", lambda: limit_balance(car, day, 30.0), 20, 0.05),
        ("springs and bars, no circuit", lambda: ask_which_springs(bench, setup, day), 20, 0.05),
        (
            "springs and bars round a circuit, every step tried",
            lambda: ask_which_springs(bench, setup, day, "larkmoor"),
            10,
            0.25,
        ),
        (
            "map of every pair of springs",
            lambda: map_of(bench, setup, day, "larkmoor", Varied.SPRINGS, 28.0),
            5,
            1.0,
        ),
        (
            "gearings round three circuits",
            lambda: ask_which_gearing(bench, setup, day, more=(3.8, 4.4)),
            5,
            1.0,
        ),
    )
    found = []
    for what, work, runs, limit in measured:
        taken = _median(work, runs)
        found.append((what, f"{1e3 * taken:.0f} ms", f"{1e3 * limit:.0f} ms", taken <= limit))
    return found
