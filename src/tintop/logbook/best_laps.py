"""The best lap this car has done at a circuit, to hold against a predicted one."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from tintop.logbook.book import Logbook
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.sessions import sessions


@dataclass(frozen=True, slots=True, kw_only=True)
class BestLap:
    """A lap time [s], on which day and in what kind of session it was driven, and the entry that tells it."""

    time: float
    day: date
    session_kind: Literal["test", "practice", "qualifying", "race"]
    entry: int


def best_lap_at(book: Logbook, circuit: str, day: date) -> BestLap | None:
    """The best lap of the dry sessions at a circuit's events up to a day; None where none was timed.

    A circuit is told by the name of its document, as the events name it.
    """
    here = {plan.meeting for _, plan in book.of(MeetingPlanned) if circuit and plan.circuit == circuit}
    found = [
        BestLap(time=each.best_lap, day=each.day, session_kind=each.run.session_kind, entry=each.entry)
        for each in sessions(book, day)
        if each.run.meeting in here and not each.run.is_wet and each.best_lap is not None
    ]
    return min(found, key=lambda each: (each.time, each.day), default=None)
