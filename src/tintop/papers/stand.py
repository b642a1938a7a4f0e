"""The garage as it stands on a day: the folds papers draw on, and how values are written."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from tintop.logbook.amounts import amount
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, build_on
from tintop.logbook.counters import Count, count_of
from tintop.logbook.entries import Counter, Entry, Measure, PaperAdded
from tintop.logbook.mass_ledger import MassLedger, mass_ledger
from tintop.logbook.meetings import Meeting, meetings
from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.running import Running, running_until
from tintop.logbook.setup import SetupItem, setup_on
from tintop.papers.content import plain

MINUS = "\u2212"
_QUANTITIES = {
    "tyre pressure": "pressure",
    "tread temperature": "temperature",
    "tread depth": "length",
    "pad thickness": "length",
    "disc thickness": "length",
    "corner load": "mass",
    "mass of the car": "mass",
    "fuel aboard": "volume",
    "coolant temperature": "temperature",
    "oil temperature": "temperature",
    "oil pressure": "pressure",
    "brake fluid": "temperature",
    "torque": "torque",
}


class Write(Protocol):
    """Writes an SI value in the owner's unit of a quantity."""

    def __call__(self, value: float, quantity: str, decimals: int | None = None) -> str:
        """Give the value in words."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Book, day, folds; `is_public` leaves out prices, costs and the money of support."""

    book: Logbook
    day: date
    write: Write
    currency: str
    is_public: bool
    build: Build
    running: Running
    counts: Mapping[str, Count]
    ledger: MassLedger
    setup: tuple[SetupItem, ...]
    meetings: tuple[Meeting, ...]
    papers: tuple[tuple[Entry, PaperAdded], ...]

    def name_of(self, part: str) -> str:
        """The name of a part by its short name; the short name where it is not known."""
        known = self.build.by_name.get(part)
        return plain(known.title) if known else plain(part)

    def papers_about(self, about: str) -> str:
        """The numbers of the papers about something in the index, empty without one."""
        return ", ".join(
            f"P{number}" for number, (_, paper) in enumerate(self.papers, 1) if about and paper.about == about
        )

    def who(self, number: int | None) -> str:
        """Who wrote an entry."""
        entry = self.book.entry(number) if number is not None else None
        return plain(entry.who) if entry else "–"

    def with_what(self, number: int | None) -> str:
        """The instrument an entry names, or what it says of itself; a dash for neither."""
        entry = self.book.entry(number) if number is not None else None
        return plain(entry.instrument or entry.note) or "–" if entry else "–"

    def reading(self, measure: Measure, value: float) -> str:
        """A reading in the owner's unit."""
        quantity = next((each for said, each in _QUANTITIES.items() if measure.value.startswith(said)), "")
        return self.write(value, quantity) if quantity else f"{value:g}".replace("-", MINUS)


def stand_on(
    book: Logbook,
    day: date,
    write: Write,
    currency: str,
    *,
    is_public: bool,
    setup: tuple[SetupItem, ...] | None = None,
) -> Stand:
    """Fold the book for the papers at the end of a day; without `setup` it is that of the entries alone."""
    build, running = build_on(book, day), running_until(book, day)
    return Stand(
        book=book,
        day=day,
        write=write,
        currency=currency,
        is_public=is_public,
        build=build,
        running=running,
        counts={name: count_of(part, running, day) for name, part in build.by_name.items()},
        ledger=mass_ledger(book, day),
        setup=setup_on(book, day) if setup is None else setup,
        meetings=meetings(book, day),
        papers=tuple(_papers(book, day, build, is_public)),
    )


def _papers(book: Logbook, day: date, build: Build, is_public: bool) -> Iterator[tuple[Entry, PaperAdded]]:
    """The papers kept; in public none that proves a rule and is no part's: it may be a person's licence."""
    proofs = {digest for _, proof in book.of(ProofRecorded) for digest in proof.papers if is_public}
    for entry, paper in book.of(PaperAdded):
        if entry.day <= day and (paper.digest not in proofs or paper.about in build.by_name):
            yield entry, paper


def day_words(day: date | None) -> str:
    """A day as "20 Jun 2026"; a dash for none."""
    return f"{day.day} {day:%b} {day.year}" if day else "–"


def has_run(count: Count) -> str:
    """What a part has run in hours and laps; "not run" for nothing."""
    if not count.running and not count.laps:
        return "not run"
    return f"{amount(count.running, Counter.RUNNING)}, {amount(count.laps, Counter.LAPS)}"


def lap_words(seconds: float | None) -> str:
    """A lap time as "1:43.20"; a dash for none."""
    if seconds is None:
        return "–"
    minutes, rest = divmod(round(seconds * 100.0), 6000)
    return f"{minutes}:{rest / 100.0:05.2f}"


def clock_words(seconds: float) -> str:
    """A race clock or a length of time as "1:02" hours and minutes."""
    minutes = round(seconds / 60.0)
    return f"{minutes // 60}:{minutes % 60:02d}"
