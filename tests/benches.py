"""The demo's bench for the tests: car, chassis, six set-ups and three circuits."""

from functools import cache
from pathlib import Path

from tintop.garage.bench import Bench, load_bench
from tintop.store.demo import write_demo


@cache
def demo_bench() -> Bench:
    """The bench of the demo's plain folder, "dry" on the car."""
    from dataclasses import replace
    from tempfile import mkdtemp

    folder = Path(mkdtemp(prefix="tintop-bench-"))
    write_demo(folder)
    return replace(load_bench(folder), fitted="dry")
