"""Documents fetched; what nothing long is computed with."""

from collections.abc import Mapping
from pathlib import Path

from tintop.car.described import DescribedCar
from tintop.circuit.circuit import Circuit
from tintop.event import DescribedEvent, Weather
from tintop.store.demo import demo_path as demo_path
from tintop.store.demo import write_demo as write_demo
from tintop.store.documents.cage_reader import DescribedCage, read_cage
from tintop.store.documents.car_reader import read_car
from tintop.store.documents.event_reader import read_event
from tintop.store.documents.schema import Row, describe
from tintop.store.rule_books.schema import rule_book_rows


def load_car(path: Path | str) -> DescribedCar:
    """Read a car document; BadInput with every problem in it."""
    return read_car(path)


def load_circuit(path: Path | str, columns: Mapping[str, str] | None = None) -> Circuit:
    """Read a circuit from CSV, GeoJSON or GPX; BadInput with the reason it is none."""
    from tintop.store.circuits import read_circuit  # fetches scipy

    return read_circuit(Path(path), columns=columns)


def load_cage(path: Path | str) -> DescribedCage:
    """Read a cage document; BadInput with every problem in it."""
    return read_cage(path)


def load_weather(path: Path | str | None) -> Weather:
    """The weather of an event document; without one, 20 °C and standard pressure."""
    return read_event(path).event.weather if path else Weather()


def load_event(path: Path | str) -> DescribedEvent:
    """Read an event document; BadInput with every problem in it."""
    return read_event(path)


def schema() -> list[Row]:
    """Every field of the documents."""
    return [*describe(), *rule_book_rows()]
