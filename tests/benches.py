"""The demo's bench for the tests: car, chassis, six set-ups, three circuits and the next event."""

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from tintop.garage.bench import Bench, load_bench
from tintop.store.demo import CIRCUITS, demo_path


def write_bench(folder: Path) -> Path:
    """Lay what the bench reads of the demo into a folder."""
    demo = demo_path("car.toml").parent
    for name in ("car.toml", "chassis.toml"):
        shutil.copy(demo / name, folder / name)
    shutil.copytree(demo / "setups", folder / "setups")
    for inner in ("circuits", "events"):
        (folder / inner).mkdir()
    for name, file in CIRCUITS.items():
        shutil.copy(demo / file, folder / "circuits" / f"{name}.csv")
    shutil.copy(demo / "event.toml", folder / "events" / "larkmoor.toml")
    return folder


@cache
def demo_bench() -> Bench:
    """The bench of the demo as a plain folder, "dry" on the car."""
    return replace(load_bench(write_bench(Path(mkdtemp(prefix="tintop-bench-")))), fitted="dry")
