"""A car inspected from files alone, or from a garage's folder; the entry for doors and scripts."""

from collections.abc import Iterable, Mapping, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from tintop.errors import refuse
from tintop.garage.evidence_file import evidence_from
from tintop.garage.inspection import (
    InspectedCar,
    inspected,
    inspected_by,
    inspected_car,
    places_of,
    season_of,
)
from tintop.garage.keeper import RULE_BOOKS, Garage
from tintop.garage.loading import load_car
from tintop.garage.predictions import CAR
from tintop.garage.rule_books import facts_in
from tintop.logbook.book import Logbook
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.season import Season, dates_of
from tintop.reports.calendar import CalendarDay, calendar_text, days_of
from tintop.rules.plausible import unlikely_among
from tintop.rules.verified import stack_on
from tintop.store.database import DATABASE_NAME
from tintop.store.documents.text import read_text
from tintop.store.durable import disk_in_plain_words, write_whole
from tintop.store.rule_books.load import load_stack


def inspect_car(
    car: Path | str,
    books: Sequence[str] = (),
    first_day: date | None = None,
    last_day: date | None = None,
    *,
    evidence: Path | str | None = None,
    today: date | None = None,
) -> InspectedCar:
    """Inspect a car under rule books for the days of an event.

    `car` is a garage's folder, or a car.toml; then `evidence` is a file of entries written by hand, such as
    `kind = "proof"`. `books` are ids of shipped or own books, or files; a garage's own, in its folder
    rule_books or in one beside car.toml, win over shipped ones. In a garage, books and days not given are
    those of the next event. Evidence of a file counts as it stands on `today`, this day if not given, or on
    the event's last day if that is over; its papers lie in the folder originals beside it. Raises BadInput
    for whatever is missing or does not read.
    """
    path = Path(car)
    if path.is_dir():
        _refuse_no_garage(path)
        if evidence is not None:
            raise refuse("evidence", str(evidence), "none beside a garage: its logbook holds the evidence")
        with closing(Garage.open(path, writing=False)) as garage:
            found = inspect_in_garage(garage, books, first_day, last_day)
            return replace(found, notices=garage.store.document_notices)
    if not books:
        raise refuse("rule books", "none named", "one or more, such as --book united_kingdom_club")
    if first_day is None:
        raise refuse("day of the event", "none", "a day, such as --on 2026-06-20")
    last = _last(first_day, last_day)
    ids, own = _named(books, _texts_in(path.parent / RULE_BOOKS))
    stack, facts = load_stack(ids, own)
    today = today or datetime.now().astimezone().date()
    stack = stack_on(stack, today)
    book = Logbook()
    notices: tuple[str, ...] = ()
    if evidence is not None:
        book, notices = evidence_from(Path(evidence), {**facts_in(own), **facts}, today)
    day = min(today, last)
    found = inspected_car(book, stack, facts, load_car(path), day, first_day, last, day)
    unlikely = unlikely_among(facts, found.evidence) if evidence is not None else ()
    return replace(found, notices=(*notices, *unlikely))


def inspect_in_garage(
    garage: Garage,
    books: Sequence[str] = (),
    first_day: date | None = None,
    last_day: date | None = None,
) -> InspectedCar:
    """As `inspect_car`, in an open garage."""
    meeting = garage.next_meeting()
    if not books and first_day is None and last_day is None:
        return inspected(garage, _planned(meeting))
    if not books:
        books = _planned(meeting).rule_books
    if first_day is None:
        first_day, last_day = _planned(meeting).first_day, last_day or _planned(meeting).last_day
    ids, own = _named(books, {})
    return inspected_by(garage, ids, own, first_day, _last(first_day, last_day))


def save_calendar(
    car: Path | str, found: InspectedCar, path: Path | str, written_at: datetime
) -> tuple[CalendarDay, ...]:
    """Write the coming events and dates of a garage, or the dates of one inspection, as an iCalendar file.

    Without any date nothing is written. Raises BadInput where it cannot be.
    """
    season, title, currency = Season(events=(), dates=tuple(dates_of(found.inspection))), "", "£"
    places: dict[str, str] = {}
    if Path(car).is_dir():
        with closing(Garage.open(car, writing=False)) as garage:
            season, title, currency = season_of(garage), garage.settings.title, garage.settings.currency
            places = places_of(garage, season)
    days = days_of(season, currency, places=places)
    if not days:
        return ()
    text = calendar_text(
        days, title=f"{title}: dates" if title else "Dates", owner=title, written_at=written_at
    )
    path = Path(path)
    with disk_in_plain_words(path):
        write_whole(path, text.encode("utf-8"))
    return days


def _refuse_no_garage(folder: Path) -> None:
    if (folder / DATABASE_NAME).exists():
        return
    car = folder / CAR
    cure = f"Name the car's file: tintop inspect {car} --book ID --on DAY." if car.is_file() else ""
    raise refuse(
        str(folder.absolute()), "a folder that is no garage", "a garage's folder, or a car.toml", cure
    )


def _planned(meeting: MeetingPlanned | None) -> MeetingPlanned:
    if meeting is None:
        raise refuse("event", "no event planned", "a next event, or --book and --on")
    return meeting


def _last(first_day: date, last_day: date | None) -> date:
    if last_day is not None and last_day < first_day:
        raise refuse("last day", last_day, f"{first_day} or later")
    return last_day or first_day


def _named(books: Iterable[str], own: Mapping[str, str]) -> tuple[tuple[str, ...], dict[str, str]]:
    """Ids of the books named, and texts by id: of files named, of books beside them, and those given."""
    ids: list[str] = []
    texts: dict[str, str] = dict(own)
    for book in books:
        path = Path(book)
        if path.suffix != ".toml":
            ids.append(book)
            continue
        texts |= {**_texts_in(path.parent), path.stem: read_text(path)}
        ids.append(path.stem)
    return tuple(dict.fromkeys(ids)), texts


def _texts_in(folder: Path) -> dict[str, str]:
    """Texts of the rule books lying in a folder, told from other documents by their table [book]."""
    files = sorted(folder.glob("*.toml")) if folder.is_dir() else []
    texts = {file.stem: read_text(file) for file in files}
    return {id: text for id, text in texts.items() if "[book]" in text}
