"""How long dampers and ride take on the demo's dry set-up: medians.

python benchmarks/ride.py
"""

import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tintop.car.ride_in_time import drive_over, kerb_strike
from tintop.car.ride_quality import ride_quality
from tintop.garage.bench import load_bench
from tintop.physics.road_profile import Kerb, RoadClass
from tintop.questions.which_clicks import choices_for, which_clicks
from tintop.store.demo import write_demo


def _median(work: Callable[[], object], runs: int) -> float:
    work()
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def rows() -> list[tuple[str, str, str, bool]]:
    """What, measured, limit, met."""
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder))
        bench = load_bench(folder)
    car, chassis, setup = bench.described.car, bench.chassis, bench.setup("dry")
    choices = choices_for(car, chassis, setup)
    measured = (
        (
            "30 s of ISO road in time, four corners",
            lambda: drive_over(car, chassis, setup, RoadClass.C, 22.2),
            0.5,
        ),
        ("kerb strike", lambda: kerb_strike(car, chassis, setup, Kerb(), 36.0), 0.05),
        ("ride of one set-up by spectra", lambda: ride_quality(car, chassis, setup, RoadClass.A, 36.0), 0.02),
        ("a click turned on the page", lambda: which_clicks(car, chassis, setup, choices=choices), 0.05),
        ("every click searched, for three purposes", lambda: choices_for(car, chassis, setup), 0.15),
    )
    found = []
    for what, work, limit in measured:
        middle = _median(work, 11)
        found.append((what, f"{1e3 * middle:.1f} ms", f"{1e3 * limit:g} ms", middle <= limit))
    return found


if __name__ == "__main__":
    for row in rows():
        print(*row, sep=" | ")
