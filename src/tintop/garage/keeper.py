"""One open garage: its book and documents, what may be done to it, and who is told of changes."""

import threading
import uuid
from collections import OrderedDict, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Literal, TypeVar

from tintop.car.described import DescribedCar
from tintop.circuit.circuit import Circuit
from tintop.errors import refuse
from tintop.event import DescribedEvent
from tintop.garage.loading import load_car, load_circuit, load_event
from tintop.garage.predictions import CAR, Basis, Prediction, needed, predict
from tintop.garage.work import Progress, Work, Workshop
from tintop.logbook.book import Logbook, logbook_of, with_entry
from tintop.logbook.car_today import car_today
from tintop.logbook.entries import Draft, Entry, MeetingPlanned, Withdrawn
from tintop.logbook.meetings import next_meeting
from tintop.settings import Settings
from tintop.store.documents.cage_reader import read_cage
from tintop.store.documents.chassis_reader import DescribedChassis, read_chassis
from tintop.store.documents.setup_reader import read_setup
from tintop.store.garage_store import Device, Original, Revision, Store

CAGE, CAGES = "cage.toml", "cages"  # the car's cage, and the folder of others
CHASSIS, SETUPS = "chassis.toml", "setups"  # what carries the car, and the folder of its set-ups
RULE_BOOKS = "rule_books"  # folder of the garage's own
_MOST_PREDICTIONS = 4
_Kept = TypeVar("_Kept")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Something that happened: an entry, a document, or work under way."""

    topic: str  # "entry", "document", "work", "answers"
    number: int


class Garage:
    """An open garage; safe to use from several threads."""

    def __init__(self, store: Store, today: Callable[[], date] = date.today) -> None:
        self.store = store
        self.today = today
        self._lock = threading.RLock()
        self._book = logbook_of(store.entries())
        self._listeners: list[Callable[[Change], None]] = []
        self._predictions: OrderedDict[str, Prediction] = OrderedDict()
        self._circuits: dict[str, Circuit] = {}
        self._standing: dict[str, Revision] = {}
        self._remembered: dict[str, tuple[object, Any]] = {}
        self._making: defaultdict[str, threading.RLock] = defaultdict(threading.RLock)
        self._changes = 0
        self.is_closing = False
        self.workshop = Workshop(lambda _work: self._tell("work"))

    @classmethod
    def open(cls, folder: Path | str, *, writing: bool = True) -> "Garage":
        """Open a garage's folder; BadInput with the way back when it cannot be."""
        return cls(Store.open(Path(folder), writing=writing))

    def close(self) -> None:
        """Stop the work under way and let go of the folder."""
        self.workshop.close()
        self.store.close()

    def say_goodbye(self) -> None:
        """Tell those who listen that this is about to close."""
        self.is_closing = True
        self._tell("closing")

    # -- what it holds --------------------------------------------------------------------------------

    @property
    def settings(self) -> Settings:
        """Title, owner, currency and units."""
        return self.store.settings

    @property
    def folder(self) -> Path:
        """Where it lives."""
        return self.store.folder

    @property
    def book(self) -> Logbook:
        """The logbook as it stands."""
        return self._book

    @property
    def changes(self) -> int:
        """How many changes were told since it was opened."""
        return self._changes

    def next_meeting(self) -> MeetingPlanned | None:
        """The next event, today's included."""
        found = next_meeting(self.book, self.today())
        return found.planned if found else None

    # -- entries --------------------------------------------------------------------------------------

    def record(self, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        """Write entries, all or none, safe on the disk on return; BadInput or Conflict as the store says."""
        with self._lock:
            written = self.store.append(drafts)
            for entry in written:
                if entry.number > self._book.last_number:
                    self._book = with_entry(self._book, entry)
        self._tell("entry")
        return written

    def withdraw(self, number: int, who: str, key: str = "", reason: str = "") -> Entry:
        """Take an entry back; Conflict when it was corrected meanwhile."""
        entry = self.book.entry(number)
        if entry is None:
            raise refuse("entry", number, "the number of an entry in the logbook")
        draft = Draft(
            key=key or uuid.uuid4().hex,
            day=self.today(),
            who=who,
            matter=Withdrawn(reason=reason),
            corrects=number,
        )
        return self.record([draft])[0]

    def remember(self, name: str, stands_on: object, make: Callable[[], _Kept]) -> _Kept:
        """What `make` gives; found before, it is given again while what it stands on is equal."""
        with self._making[name]:  # one makes it, those who ask meanwhile wait for it
            found = self._remembered.get(name)
            if found is None or found[0] != stands_on:
                found = self._remembered[name] = (stands_on, make())
        value: _Kept = found[1]
        return value

    # -- documents ------------------------------------------------------------------------------------

    def document_names(self, folder: str = "") -> tuple[str, ...]:
        """Names of the documents, of one folder such as "circuits" if named."""
        names = self.store.document_names()
        return tuple(name for name in names if name.startswith(f"{folder}/")) if folder else names

    def document(self, name: str) -> Revision:
        """The revision of a document that stands; what was edited outside is taken in first."""
        self.look_outside()
        return self._stands(name)

    def look_outside(self) -> None:
        """Take in what was edited outside since, and tell of it."""
        if self.store.take_in_outside_edits():
            self._documents_changed()

    def save_document(self, name: str, text: str, *, based_on: str | None, who: str, why: str) -> Revision:
        """Save a document over the revision it was based on, if it reads well; BadInput or Conflict."""
        self._check_document(name, text)
        try:
            return self.store.save_document(name, text, based_on=based_on, who=who, why=why)
        finally:
            self._documents_changed()

    def standing(self, names: Iterable[str]) -> dict[str, Revision]:
        """The revisions of documents that stand, without looking whether one was edited outside since."""
        return {name: self._stands(name) for name in names}

    def _documents_changed(self) -> None:
        with self._lock:
            self._standing.clear()
        self._tell("document")

    def _stands(self, name: str) -> Revision:
        found = self._standing.get(name)
        if found is None:
            found = self._standing[name] = self.store.document(name)
        return found

    def car(self, day: date | None = None) -> DescribedCar:
        """The car on a day, from its document and what the logbook knows better."""
        described = load_car(self._path(CAR))
        return car_today(described, self.book, day or self.today())

    def circuit(self, name: str) -> Circuit:
        """A circuit by the name of its document."""
        digest = self.document(name).digest
        if digest not in self._circuits:
            self._circuits[digest] = load_circuit(self._path(name))
        return self._circuits[digest]

    def event(self, name: str) -> DescribedEvent:
        """Weather and race by the name of their document."""
        return load_event(self._path(name))

    def keep_original(self, name: str, media_type: str, content: bytes) -> Original:
        """Keep a photograph, log or paper by the digest of its content."""
        return self.store.keep_original(name, media_type, content)

    def _path(self, name: str) -> Path:
        if name not in self.store.document_names():
            raise refuse(name, "no such document in this garage", f"the file {name} in {self.folder}")
        return self.folder / name

    def _check_document(self, name: str, text: str) -> None:
        import tempfile

        from tintop.garage.rule_books import check_rule_book

        folder = name.split("/")[0]
        if folder == RULE_BOOKS:
            check_rule_book(self, name, text)
            return
        kinds: dict[str, Callable[[Path], object]] = {
            "car.toml": load_car,
            CAGE: read_cage,
            CAGES: read_cage,
            "circuits": load_circuit,
            "events": load_event,
            CHASSIS: self._read_chassis,
            SETUPS: lambda path: read_setup(path, self._read_chassis(self._path(CHASSIS)).chassis),
        }
        load = kinds.get(folder)
        if load is None:
            return
        with tempfile.TemporaryDirectory(prefix="tintop-") as beside:
            path = Path(beside) / Path(name).name
            path.write_text(text, encoding="utf-8", newline="")
            load(path)

    def _read_chassis(self, path: Path) -> DescribedChassis:
        return read_chassis(path, load_car(self._path(CAR)))

    # -- predictions ----------------------------------------------------------------------------------

    def basis(self, meeting: MeetingPlanned) -> Basis:
        """What a prediction for an event would stand on now; BadInput when a document is missing."""
        names = needed(meeting)
        missing = [name for name in names if name not in self._standing]
        missing = [name for name in missing if name not in self.store.document_names()] if missing else []
        if missing:
            raise refuse(meeting.name, f"no document {missing[0]}", f"the file {missing[0]} in {self.folder}")
        revisions = self.standing(names)
        return Basis(
            meeting=meeting,
            texts={name: revision.text for name, revision in revisions.items()},
            digests={name: revision.digest for name, revision in revisions.items()},
            book=self.book,
            day=meeting.first_day,
        )

    def prediction(self, meeting: MeetingPlanned) -> Prediction | None:
        """The prediction for an event as everything stands now, if it was made already."""
        return self._predictions.get(self.basis(meeting).key)

    def predict(self, meeting: MeetingPlanned, progress: Progress = lambda _share: None) -> Prediction:
        """Predict lap and race for an event, or give the prediction made already."""
        basis = self.basis(meeting)
        found = self._predictions.get(basis.key)
        if found is None:
            found = predict(basis, progress)
            with self._lock:
                self._predictions[basis.key] = found
                while len(self._predictions) > _MOST_PREDICTIONS:
                    self._predictions.popitem(last=False)
            self._tell("answers")
        return found

    def start_predicting(self, meeting: MeetingPlanned) -> Work:
        """Predict in the background; the same event as things stand is worked on once."""
        key = f"predict {self.basis(meeting).key}"
        return self.workshop.start(
            key, f"Lap and race: {meeting.name}", lambda progress: self._predict_and_answer(meeting, progress)
        )

    def _predict_and_answer(self, meeting: MeetingPlanned, progress: Progress) -> None:
        from tintop.garage.answers import keep_answers

        self.predict(meeting, progress)
        keep_answers(self, meeting)

    # -- devices --------------------------------------------------------------------------------------

    @property
    def secret(self) -> str:
        """What device cookies are signed with."""
        return self.store.secret()

    def device(self, identifier: str) -> Device | None:
        """A paired device that was not revoked."""
        found = next((one for one in self.store.devices() if one.identifier == identifier), None)
        return found if found is not None and found.revoked_at is None else None

    def pair(self, name: str, role: Literal["crew", "reader"]) -> Device:
        """Take in a device that knew the code."""
        device = self.store.add_device(name, role)
        self._tell("devices")
        return device

    def revoke(self, identifier: str) -> None:
        """Turn a device away from now on."""
        self.store.revoke_device(identifier)
        self._tell("devices")

    # -- telling --------------------------------------------------------------------------------------

    def subscribe(self, listener: Callable[[Change], None]) -> Callable[[], None]:
        """Tell a listener of every change, from whatever thread; gives the function that ends it."""
        with self._lock:
            self._listeners.append(listener)

        def end() -> None:
            with self._lock:
                if listener in self._listeners:
                    self._listeners.remove(listener)

        return end

    def _tell(self, topic: str) -> None:
        with self._lock:
            self._changes += 1
            change = Change(topic=topic, number=self._changes)
            listeners = tuple(self._listeners)
        for listener in listeners:
            listener(change)
