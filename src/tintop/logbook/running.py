"""Every drive in the order it happened, ready to be counted."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import clock_of
from tintop.logbook.entries import PartAdded, RoadDriven, SessionRun

HEAT_CYCLE_LAPS = 3  # a session of this many laps or more is one heat cycle; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """One session or road drive: what it adds to the parts that were on the car."""

    day: date
    clock: str
    session: str  # empty for a road drive
    tyres: str
    running: float  # on the circuit [s]
    laps: int
    distance: float  # [m]
    heat_cycles: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """All drives up to a day, oldest first, and the place of each session among them."""

    drives: tuple[Drive, ...]
    days: tuple[date, ...] = ()  # of the drives
    places_on_tyres: Mapping[str, tuple[int, ...]] = field(default_factory=dict)  # by the set named
    place_of_session: Mapping[str, int] = field(default_factory=dict)

    def place_of(self, day: date, clock: str = "", session: str = "") -> int:
        """Number of drives over by a moment: after the named session, or else before the day's running."""
        if session in self.place_of_session:
            return self.place_of_session[session] + 1
        return bisect_left(
            self.drives, (day, clock or "00:00"), key=lambda drive: (drive.day, drive.clock or "24:00")
        )


def running_until(book: Logbook, day: date) -> Running:
    """Every session and road drive up to the end of a day; tyres that are no part are left out."""
    parts = {part.part for _, part in book.of(PartAdded)}
    found: list[tuple[date, str, str, Drive]] = []
    for entry, run in book.of(SessionRun):
        if entry.day <= day:
            clock = clock_of(run.start_clock or entry.clock)
            drive = Drive(
                day=entry.day,
                clock=clock,
                session=run.session,
                tyres=run.tyres if run.tyres in parts else "",
                running=run.duration,
                laps=run.laps,
                distance=run.distance,
                heat_cycles=int(run.laps >= HEAT_CYCLE_LAPS),
            )
            found.append((entry.day, clock or "24:00", run.session, drive))
    for entry, road in book.of(RoadDriven):
        if entry.day <= day:
            clock = clock_of(entry.clock)
            drive = Drive(
                day=entry.day,
                clock=clock,
                session="",
                tyres="",
                running=0.0,
                laps=0,
                distance=road.distance,
                heat_cycles=0,
            )
            found.append((entry.day, clock or "24:00", "", drive))
    drives = tuple(each[3] for each in sorted(found, key=lambda each: each[:3]))
    on_tyres: dict[str, list[int]] = {}
    for place, drive in enumerate(drives):
        if drive.tyres:
            on_tyres.setdefault(drive.tyres, []).append(place)
    return Running(
        drives=drives,
        days=tuple(drive.day for drive in drives),
        places_on_tyres={tyres: tuple(places) for tyres, places in on_tyres.items()},
        place_of_session={drive.session: place for place, drive in enumerate(drives) if drive.session},
    )
