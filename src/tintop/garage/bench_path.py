"""The line driven round a circuit of the bench: found once for a car as it stands, and kept."""

from functools import lru_cache
from pathlib import Path as FilePath

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.setup import Setup
from tintop.circuit.circuit import Circuit, Path
from tintop.event import Weather
from tintop.garage.asking import driven_path
from tintop.garage.bench import Bench
from tintop.garage.loading import load_circuit


def path_round(bench: Bench, circuit: str, setup: Setup, weather: Weather) -> tuple[Circuit, Path]:
    """The circuit by its file's stem, and the line the car drives there with a set-up as it is written.

    Changes to try are driven on this line too. BadInput as Bench.circuit and car_with_setup.
    """
    found = bench.circuit(circuit)
    car = car_with_setup(bench.described.car, bench.chassis, setup, weather)
    file = bench.circuits[circuit]
    return found, _line(file, file.stat().st_mtime_ns, car, weather)


@lru_cache(maxsize=24)
def _line(file: FilePath, _changed: int, car: Car, weather: Weather) -> Path:
    return driven_path(car, load_circuit(file), weather)
