"""How long a weighing takes: a raised axle, four perches and ballast worked out on the demo's bench.

python benchmarks/weighing.py
"""

import tempfile
import time
from dataclasses import replace
from pathlib import Path
from statistics import median

from tintop.car.chassis import End
from tintop.car.on_scales import Lifted, OnScales
from tintop.garage.bench import load_bench
from tintop.questions.what_does_it_weigh import Weighed, what_does_it_weigh
from tintop.store.demo import write_demo

ROUNDS, LIMIT = 30, 0.05


def rows(folder: str) -> list[tuple[str, str, str, bool]]:
    """What was measured, as the benchmark's table has it."""
    bench = load_bench(folder)
    chassis = replace(bench.chassis, least_mass=1140.0)
    scales = OnScales(loads=(361.0, 335.5, 203.0, 246.5), is_driver_aboard=True, fuel_volume=0.032)
    lifted = Lifted(raised=End.REAR, down=(352.0, 363.0), lift=0.4)

    def once() -> Weighed:
        return what_does_it_weigh(
            scales, bench.described, chassis=chassis, setup=bench.setup("dry"), lifted=lifted, target=0.505
        )

    once()
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        once()
        taken.append(time.perf_counter() - start)
    middle = median(taken)
    return [
        (
            "weighing with a raised axle, perch turns and ballast",
            f"{1e3 * middle:.1f} ms",
            f"{1e3 * LIMIT:.0f} ms",
            middle <= LIMIT,
        )
    ]


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        write_demo(Path(place))
        for row in rows(place):
            print(row)
