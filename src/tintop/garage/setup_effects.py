"""The bench's set-ups driven round its circuits: lines found once, and what each set-up does."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence

from tintop.car.car import Car
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.garage.asking import driven_path
from tintop.garage.bench import Bench
from tintop.lap.setup_effect import Place, SetupEffect, place_for, remembering, setup_effect

Progress = Callable[[float], None]
_MOST_LINES = 12
_Key = tuple[Car, str, int]  # the car, the circuit's file and when it was changed
_lines: OrderedDict[_Key, Path] = OrderedDict()
_finding: dict[_Key, threading.Lock] = {}
_lock = threading.Lock()


def line_of(bench: Bench, circuit: str, progress: Progress | None = None) -> Path:
    """The line that the car of the document drives in the dry, found once; BadInput for no such circuit.

    Every set-up is judged on it, which costs a large change a little of its worth.
    """
    read = bench.circuit(circuit)
    file = bench.circuits[circuit]
    key = (bench.described.car, str(file), file.stat().st_mtime_ns)
    with _lock:
        one_at_a_time = _finding.setdefault(key, threading.Lock())
    with one_at_a_time:  # those who ask meanwhile wait for it
        found = _lines.get(key)
        if found is None:
            found = driven_path(bench.described.car, read, Weather(), progress=progress)
            with _lock:
                _lines[key] = found
                while len(_lines) > _MOST_LINES:
                    gone, _ = _lines.popitem(last=False)
                    _finding.pop(gone, None)
    return found


def effects_of(
    bench: Bench, names: Sequence[str], circuit: str, progress: Progress | None = None
) -> dict[str, SetupEffect]:
    """What each set-up does on a circuit in the weather it is for; BadInput for a name that is not there."""
    tell = progress or (lambda _share: None)
    setups = {name: bench.setup(name) for name in names}
    path = line_of(bench, circuit, lambda share: tell(0.7 * share))
    places: dict[Weather, Place] = {}
    found: dict[str, SetupEffect] = {}
    ride = remembering()
    for count, (name, setup) in enumerate(setups.items(), 1):
        weather = bench.weather(setup.purpose)
        if weather not in places:
            places[weather] = place_for(bench.described.car, path, weather)
        found[name] = setup_effect(
            bench.described.car, bench.chassis, setup, path, weather,
            place=places[weather], ride=ride, known={**bench.described.known, **bench.chassis_known},
        )  # fmt: skip
        tell(0.7 + 0.3 * count / len(setups))
    return found
