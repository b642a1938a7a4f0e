"""What the page of one part shows, worked out of the book."""

from dataclasses import dataclass
from datetime import date

from tintop.garage.keeper import Garage
from tintop.logbook.build import PartEvent, PartToday, clock_of, part_history
from tintop.logbook.counters import Count, ran_of
from tintop.logbook.entries import Entry, PaperAdded, Reading, Remark
from tintop.logbook.lives import Life
from tintop.logbook.running import running_until
from tintop.web.car_view import counts_today, lives_today, seconds_per_kilogram, worth_of
from tintop.web.kept import kept
from tintop.web.typed_form import build_today


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLine:
    """One reading of a part, with what the part had run [s] when it was taken."""

    day: date
    entry: int
    reading: Reading
    running: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """One part with all that is known of it."""

    today: PartToday
    count: Count
    lives: tuple[Life, ...]
    history: tuple[PartEvent, ...]
    readings: tuple[ReadingLine, ...]
    papers: tuple[PaperAdded, ...]
    remarks: tuple[tuple[Entry, Remark], ...]
    worth: float | None
    alike: tuple[PartToday, ...]  # fitted parts of the same family


def part_page(garage: Garage, name: str) -> PartPage | None:
    """The page of a part by its short name; None when there is none of that name."""
    build = build_today(garage)
    today = build.by_name.get(name)
    if today is None:
        return None
    book = garage.book
    running = kept(garage, "running", running_until)
    ran = ran_of(today, running)
    readings = tuple(
        ReadingLine(
            day=entry.day,
            entry=entry.number,
            reading=reading,
            running=ran.before(running.place_of(entry.day, clock_of(entry.clock), reading.session)),
        )
        for entry, reading in book.of(Reading)
        if reading.part == name
    )
    return PartPage(
        today=today,
        count=counts_today(garage)[name],
        lives=tuple(life for life in lives_today(garage) if life.part == name),
        history=part_history(book, name),
        readings=readings,
        papers=today.papers,
        remarks=tuple((entry, remark) for entry, remark in book.of(Remark) if remark.about == name),
        worth=worth_of(today.part.mass, seconds_per_kilogram(garage)),
        alike=tuple(
            part for part in build.fitted if part.part.family == today.part.family and part is not today
        ),
    )
