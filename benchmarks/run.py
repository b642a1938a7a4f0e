"""Measure what the product promises, on this machine, and print it as a Markdown table.

python benchmarks/run.py [--write docs/benchmarks.md] [--without-oracle]
"""

import argparse
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from statistics import median

import numba
import numpy as np

from tintop import garage
from tintop.circuit.circuit import Path as Line
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_of
from tintop.lap.sensitivity import sensitivities
from tintop.lap.vehicle import numbers_for, road_of
from tintop.physics.fastest_lap import fastest_lap
from tintop.race.march import march

TINTOP = str(Path(sys.executable).parent / "tintop")
DEMO = {name: str(garage.demo_path(f"{name}")) for name in ("car.toml", "event.toml", "circuit.csv")}


@dataclass(frozen=True)
class Row:
    what: str
    figure: str
    limit: str
    met: bool


def timed(work: Callable[[], object], runs: int) -> tuple[float, float]:
    """Median and minimum of the wall time [s]."""
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return median(taken), min(taken)


def twisty(length: float, step: float = 1.0) -> Line:
    """A flat made-up circuit: a corner about every 350 m, radii 30 to 150 m, not closed in the plane."""
    count = int(length / step)
    distance = np.arange(count) * step
    chance = np.random.default_rng(1)
    curvature = np.zeros(count)
    for centre in np.arange(175.0, length - 100.0, 350.0):
        half = chance.uniform(40.0, 100.0)
        turn = np.sign(chance.normal()) / chance.uniform(30.0, 150.0)
        curvature += turn * np.exp(-(((distance - centre) / half) ** 4))
    nothing = np.zeros(count)
    return Line(
        name="made up",
        x=distance,
        y=nothing,
        z=nothing,
        distance=distance,
        step=np.full(count, step),
        lateral_curvature=curvature,
        normal_curvature=nothing,
        gravity_x=nothing,
        gravity_y=nothing,
        gravity_z=np.full(count, 9.80665),
        offset=nothing,
    )


def laps() -> list[Row]:
    car = garage.load_car(DEMO["car.toml"]).car
    numbers = numbers_for(car, Weather(), Conditions())
    rows, solved = [], {}
    for kilometres in (1, 5, 25):
        path = twisty(1000.0 * kilometres)
        road = road_of(path)
        lap_of(numbers, path)
        middle_solved, solved[kilometres] = timed(
            lambda road=road: fastest_lap(numbers.vehicle, numbers.driveline, road), 60
        )  # type: ignore[misc]
        if kilometres == 5:
            middle, least = timed(lambda path=path: lap_of(numbers, path), 100)  # type: ignore[misc]
            rows.append(
                Row(
                    "four-wheel lap of 5 km at 1 m, with every channel of the report",
                    f"{1e3 * middle:.2f} ms (least {1e3 * least:.2f})",
                    "3 ms",
                    middle <= 3e-3,
                )
            )
            rows.append(
                Row(
                    "the same, speeds alone",
                    f"{1e3 * middle_solved:.2f} ms (least {1e3 * solved[5]:.2f})",
                    "3 ms",
                    middle_solved <= 3e-3,
                )
            )
    growth = solved[25] / solved[1] / 25.0
    rows.append(
        Row(
            "growth from 1 to 25 km, least times per kilometre",
            f"×{growth:.2f} ({1e3 * solved[1]:.2f}, {1e3 * solved[25]:.2f} ms)",
            "linear: ×0.7 to ×1.3",
            0.7 <= growth <= 1.3,
        )
    )
    return rows


def sensitivity() -> Row:
    described = garage.load_car(DEMO["car.toml"])
    path = garage.driven_path(
        described.car, garage.load_circuit(DEMO["circuit.csv"]), Weather(), garage.Line.GIVEN
    )
    sensitivities(described.car, path, Weather())
    count = len(sensitivities(described.car, path, Weather()))
    middle, _ = timed(lambda: sensitivities(described.car, path, Weather()), 5)
    return Row(f"all sensitivities of the demo car, {count} numbers", f"{middle:.2f} s", "1 s", middle <= 1.0)


def race() -> list[Row]:
    described = garage.load_car(DEMO["car.toml"])
    event = garage.load_event(DEMO["event.toml"])
    circuit = garage.load_circuit(DEMO["circuit.csv"])
    path = garage.driven_path(described.car, circuit, event.event.weather, garage.Line.GIVEN)
    march(described.car, path, event.event)
    middle, least = timed(lambda: march(described.car, path, event.event), 7)
    code = (
        "import resource, time, sys\n"
        "from tintop import garage\n"
        "from tintop.race.odds import odds\n"
        "car, event = garage.load_car(sys.argv[1]), garage.load_event(sys.argv[2])\n"
        "circuit = garage.load_circuit(sys.argv[3])\n"
        "path = garage.driven_path(car.car, circuit, event.event.weather, garage.Line.GIVEN)\n"
        "known = {**car.known, **event.known}\n"
        "odds(car.car, path, event.event, known, races=100)\n"
        "start = time.perf_counter()\n"
        "odds(car.car, path, event.event, known, races=10_000)\n"
        "print(time.perf_counter() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)\n"
    )
    words = [sys.executable, "-c", code, DEMO["car.toml"], DEMO["event.toml"], DEMO["circuit.csv"]]
    said = subprocess.run(words, capture_output=True, text=True, check=True).stdout.split()
    seconds, kibibytes = float(said[0]), float(said[1])
    return [
        Row("two-hour race, marched in full", f"{middle:.2f} s (least {least:.2f})", "0.5 s", middle <= 0.5),
        Row("10,000 races, lap model fitted first", f"{seconds:.2f} s", "5 s", seconds <= 5.0),
        Row("peak memory of that", f"{kibibytes / 1024:.0f} MiB", "1024 MiB", kibibytes <= 1024**2),
    ]


def process(
    what: str, words: list[str], limit: float, runs: int, environment: dict[str, str] | None = None
) -> Row:
    def run() -> None:
        subprocess.run(words, capture_output=True, check=True, env={**os.environ, **(environment or {})})

    middle, least = timed(run, runs)
    return Row(what, f"{middle:.2f} s (least {least:.2f})", f"{limit:g} s", middle <= limit)


def processes() -> list[Row]:
    given = [TINTOP, "lap", DEMO["car.toml"], DEMO["circuit.csv"], "--line", "given", "--json"]
    with tempfile.TemporaryDirectory() as empty:
        first = process("first lap ever, compiling included", given, 15.0, 1, {"XDG_CACHE_HOME": empty})
    return [
        process("`tintop --help`", [TINTOP, "--help"], 0.3, 9),
        first,
        process("`tintop lap` afterwards, the line given", given, 3.0, 5),
        process("`tintop lap` afterwards, finding the quickest line", [*given[:4], "--json"], 3.0, 5),
    ]


def legal() -> list[Row]:
    """The inspection, a cage, and both as whole processes on the demo."""
    import cage
    import inspection

    from tintop.store.demo_garage import write_demo_garage

    with tempfile.TemporaryDirectory() as folder:
        place = f"{folder}/demo"
        write_demo_garage(place, datetime.now(UTC).date()).close()
        processes = [
            process(
                "`tintop inspect` of the demo",
                ["sh", "-c", f"{TINTOP} inspect {place} || test $? -eq 1"],
                3.0,
                5,
            ),
            process(
                "`tintop cage` of the demo",
                ["sh", "-c", f"{TINTOP} cage {place}/cage.toml || test $? -eq 3"],
                3.0,
                5,
            ),
        ]
    return [*(Row(*row) for row in (*inspection.rows(), *cage.rows())), *processes]


def setup_bench() -> list[Row]:
    """Weighing, jobs, pressures, brakes, springs, gearing, camber, treads, search, on the demo's folder."""
    import camber
    import changeover
    import pressures_and_brakes
    import setup_search
    import springs
    import weighing

    from tintop.store.demo import write_demo

    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder))
        found = (
            *weighing.rows(folder),
            *changeover.rows(folder),
            *pressures_and_brakes.rows(folder),
            *springs.rows(folder),
            *camber.rows(folder),
            *setup_search.rows(folder),
        )
        return [Row(*row) for row in found]


def ridden() -> list[Row]:
    """Dampers and ride on the demo's bench."""
    import ride

    return [Row(*row) for row in ride.rows()]


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--write", type=Path)
    parser.add_argument("--without-oracle", action="store_true")
    chosen = parser.parse_args()
    rows = [*laps(), sensitivity(), *race(), *processes(), *legal(), *setup_bench()]
    if not chosen.without_oracle:
        from against_oracle import against_the_oracle

        rows += [Row(*row) for row in against_the_oracle(twisty(5000.0))]
    lines = [
        "# Benchmarks",
        "",
        "Made by `.venv/bin/python benchmarks/run.py --write docs/benchmarks.md`; times are medians.",
        f"Machine: {os.cpu_count()} cores, {platform.machine()}, {platform.system()}; Python "
        f"{platform.python_version()}, numba {numba.__version__}, numpy {np.__version__}.",
        "",
        "| what | measured | limit | met |",
        "|---|---|---|---|",
        *(f"| {row.what} | {row.figure} | {row.limit} | {'yes' if row.met else '**no**'} |" for row in rows),
        "",
    ]
    text = "\n".join(lines)
    print(text)
    if chosen.write:
        chosen.write.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
