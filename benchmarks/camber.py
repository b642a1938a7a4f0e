"""How long camber, strut and treads take on the demo's dry set-up: medians, the line found before."""

import statistics
import time
from collections.abc import Callable
from itertools import count

from tintop.car.treads import Tread, TreadReading
from tintop.car.wheel_motion import bump_curve, wheel_at
from tintop.garage.bench import load_bench
from tintop.garage.camber import ask_which_camber
from tintop.garage.setup_effects import line_of
from tintop.garage.treads import ask_the_tyres


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
    line_of(bench, "larkmoor")
    strut = bench.chassis.front.wheel_path
    tops = (1e-4 * (each % 50) for each in count(1))  # another place each time, as a slider has
    edges = Tread(inner=85.0, middle=90.0, outer=80.0)
    reading = TreadReading(treads=(edges,) * 4, laps=8, is_after_cool_down=False)
    measured = (
        ("a strut's wheel at one travel", lambda: wheel_at(strut, 0.03), 50, 0.01),
        (
            "a strut's wheel at 41 travels",
            lambda: bump_curve(strut, [0.002 * each for each in range(-20, 21)]),
            20,
            0.02,
        ),
        (
            "camber, strut top moved: links, every corner, 16 laps",
            lambda: ask_which_camber(bench, "dry", "larkmoor", top_inward=next(tops)),
            20,
            0.05,
        ),
        ("treads read into one change", lambda: ask_the_tyres(bench, reading, "dry", "larkmoor"), 20, 0.05),
    )
    found = []
    for name, work, runs, allowed in measured:
        took = _median(work, runs)
        found.append((name, f"{1e3 * took:.1f} ms", f"{1e3 * allowed:.0f} ms", took <= allowed))
    return found
