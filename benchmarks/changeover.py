"""How long the jobs from one set-up to another take to work out on the demo's bench.

python benchmarks/changeover.py
"""

import tempfile
import time
from pathlib import Path
from statistics import median

from tintop.garage.bench import load_bench
from tintop.garage.setups import compare_setups
from tintop.store.demo import write_demo

ROUNDS, LIMIT = 30, 0.05


def rows(folder: str) -> list[tuple[str, str, str, bool]]:
    """What was measured, as the benchmark's table has it."""
    bench = load_bench(folder)
    names = list(bench.setups)
    pairs = [(one, other) for one in names for other in names if one != other]
    taken = []
    for number in range(ROUNDS):
        start = time.perf_counter()
        compare_setups(bench, *pairs[number % len(pairs)])
        taken.append(time.perf_counter() - start)
    middle = median(taken)
    return [
        (
            "jobs from one set-up to another, strut and perches solved",
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
