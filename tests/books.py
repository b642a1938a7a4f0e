"""Books written quickly: days as text, hours and minutes in seconds, the rest as the entries have it."""

from datetime import date
from typing import Any

from tintop.known import Known, Origin
from tintop.logbook.book import Logbook, logbook_of
from tintop.logbook.entries import (
    Area,
    Basis,
    Counter,
    Entry,
    LifeLimit,
    Matter,
    Measure,
    MeetingPlanned,
    PartAdded,
    PartFitted,
    PlannedSession,
    Reading,
    SessionRun,
)

HOUR, MINUTE, KM, MM = 3600.0, 60.0, 1e3, 1e-3


def on(text: str) -> date:
    return date.fromisoformat(text)


class Writer:
    """Writes entries one after another and gives the book."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def write(self, day: str, matter: Matter, clock: str = "", corrects: int | None = None) -> int:
        number = len(self.entries) + 1
        self.entries.append(
            Entry(
                number=number,
                key=str(number),
                day=on(day),
                written_at=f"{day}T20:00:00Z",
                who="owner",
                matter=matter,
                clock=clock,
                corrects=corrects,
            )
        )
        return number

    @property
    def book(self) -> Logbook:
        return logbook_of(self.entries)

    def part(self, day: str, part: str, family: str = "", area: Area = Area.FRONT_AXLE, **more: Any) -> int:
        name = more.pop("name", part.capitalize())
        return self.write(day, PartAdded(part=part, name=name, family=family or part, area=area, **more))

    def fit(self, day: str, part: str, clock: str = "", **more: Any) -> int:
        return self.write(day, PartFitted(part=part, **more), clock)

    def run(
        self,
        day: str,
        session: str,
        hours: float = 1.0,
        laps: int = 30,
        km: float = 90.0,
        meeting: str = "",
        kind: Any = "race",
        clock: str = "",
        corrects: int | None = None,
        **more: Any,
    ) -> int:
        run = SessionRun(
            session=session,
            meeting=meeting,
            name=more.pop("name", session),
            session_kind=kind,
            duration=hours * HOUR,
            laps=laps,
            distance=km * KM,
            start_clock=clock,
            **more,
        )
        return self.write(day, run, corrects=corrects)

    def read(
        self, day: str, measure: Measure, value: float, part: str = "", clock: str = "", **more: Any
    ) -> int:
        return self.write(day, Reading(measure=measure, value=value, part=part, **more), clock)

    def meeting(
        self,
        day: str,
        meeting: str,
        first: str,
        last: str = "",
        sessions: tuple[PlannedSession, ...] = (),
        **more: Any,
    ) -> int:
        plan = MeetingPlanned(
            meeting=meeting,
            name=more.pop("name", meeting.capitalize()),
            first_day=on(first),
            last_day=on(last or first),
            sessions=sessions,
            **more,
        )
        return self.write(day, plan)


def planned(name: str, minutes: float, kind: Any = "race") -> PlannedSession:
    return PlannedSession(name=name, kind=kind, duration=minutes * MINUTE)


def limit(counter: Counter, amount: float, basis: Basis = Basis.MAKER, action: Any = "replace") -> LifeLimit:
    return LifeLimit(counter=counter, limit=amount, basis=basis, action=action)


def kilograms(value: float, uncertainty: float = 0.0) -> Known:
    return Known(value=value, uncertainty=uncertainty, origin=Origin.MEASURED)
