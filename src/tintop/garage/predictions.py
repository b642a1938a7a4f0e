"""The lap and the race predicted for an event, with the revision of every document they stand on."""

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from tintop.car.described import DescribedCar
from tintop.errors import refuse
from tintop.garage.loading import load_car, load_circuit, load_event
from tintop.logbook.book import Logbook
from tintop.logbook.car_today import car_today
from tintop.logbook.entries import MeetingPlanned, PartAdded, PartFitted, PartRemoved, Reading

if TYPE_CHECKING:
    from tintop.garage.asking import Lasting, Quickness

Progress = Callable[[float], None]
CAR = "car.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What a prediction stands on: texts by document, their digests, the book, and the day of the event."""

    meeting: MeetingPlanned
    texts: Mapping[str, str]
    digests: Mapping[str, str]
    book: Logbook
    day: date

    @property
    def key(self) -> str:
        """The same for predictions that would come out the same."""
        digests = [self.digests[name] for name in sorted(self.digests)]
        return " ".join([self.meeting.meeting, *digests, self.day.isoformat(), *self._entries_on_car()])

    def _entries_on_car(self) -> list[str]:
        """How many entries of each kind that may change the car stand, and the number of the last."""
        found = (self.book.standing.get(kind, ()) for kind in (PartAdded, PartFitted, PartRemoved, Reading))
        return [f"{len(entries)}/{max((entry.number for entry in entries), default=0)}" for entries in found]


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """A lap and a race for one event."""

    basis: Basis
    quick: "Quickness"
    lasting: "Lasting"


def needed(meeting: MeetingPlanned) -> tuple[str, ...]:
    """Names of the documents a prediction needs; BadInput when the event names no circuit or no race."""
    if not meeting.circuit:
        raise refuse(meeting.name, "no circuit named", "the circuit's document, such as circuits/home.csv")
    if not meeting.document:
        raise refuse(
            meeting.name, "no document of weather and race named", "a document such as events/spring.toml"
        )
    return (CAR, meeting.circuit, meeting.document)


def predict(basis: Basis, progress: Progress) -> Prediction:
    """Predict lap and race from the texts of a basis; the same basis gives the same numbers."""
    from tintop.garage.asking import ask_how_quick, ask_will_it_last  # fetch the lap model

    with tempfile.TemporaryDirectory(prefix="tintop-") as folder:
        paths = {}
        for name, text in basis.texts.items():
            paths[name] = Path(folder) / name
            paths[name].parent.mkdir(parents=True, exist_ok=True)
            paths[name].write_text(text, encoding="utf-8", newline="")
        described: DescribedCar = car_today(load_car(paths[CAR]), basis.book, basis.day)
        circuit = load_circuit(paths[basis.meeting.circuit])
        event = load_event(paths[basis.meeting.document])
    quick = ask_how_quick(
        described, circuit, event.event.weather, progress=lambda share: progress(0.4 * share)
    )
    lasting = ask_will_it_last(
        described, circuit, event, path=quick.path, progress=lambda share: progress(0.4 + 0.6 * share)
    )
    return Prediction(basis=basis, quick=quick, lasting=lasting)
