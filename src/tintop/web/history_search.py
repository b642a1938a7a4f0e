"""The logbook looked through: by kind, day, words or number, the newest first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import get_args
from urllib.parse import quote
from weakref import WeakKeyDictionary

from tintop.garage.keeper import Garage
from tintop.logbook.book import Logbook
from tintop.logbook.entries import (
    CostPaid,
    Entry,
    Matter,
    MeetingClosed,
    MeetingPlanned,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
    Reading,
    Remark,
    RoadDriven,
    SessionRun,
    SetupChanged,
    SupportReceived,
    SupportReturned,
    Withdrawn,
)
from tintop.logbook.words import words_of
from tintop.web.kept import kept, names_today

MONEY = (CostPaid, SupportReceived, SupportReturned)
KINDS: tuple[str, ...] = tuple(matter.__dataclass_fields__["kind"].default for matter in get_args(Matter))
MONEY_KINDS = tuple(matter.__dataclass_fields__["kind"].default for matter in MONEY)
_OF_THE_CAR = (PartAdded, PartFitted, PartRemoved, PartInspected, PartFailed, SetupChanged)
_words: WeakKeyDictionary[Garage, list[str]] = WeakKeyDictionary()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is looked for; empty for all."""

    kind: str = ""
    day: date | None = None
    text: str = ""
    number: int | None = None


def corrected_by(garage: Garage) -> Mapping[int, list[int]]:
    """Numbers of the entries that correct each entry."""
    return kept(garage, "corrected by", lambda book, _day: _corrected_by(book))


def _corrected_by(book: Logbook) -> dict[int, list[int]]:
    found: dict[int, list[int]] = {}
    for entry in book.entries:
        if entry.corrects is not None:
            found.setdefault(entry.corrects, []).append(entry.number)
    return found


def look_through(garage: Garage, wanted: Wanted, *, sees_money: bool) -> list[Entry]:
    """Entries that are what is wanted, the newest first; withdrawals of money lines are money too."""
    book = garage.book
    if wanted.number is not None:
        found = [entry for number in _related(garage, wanted.number) if (entry := book.entry(number))]
    elif wanted.kind or wanted.day or wanted.text:
        found = _found(garage, wanted)
    else:
        found = list(book.entries)
    if not sees_money:
        found = [entry for entry in found if not is_money(book, entry)]
    found.reverse()
    return found


def _found(garage: Garage, wanted: Wanted) -> list[Entry]:
    """Entries of a kind, day and words, one sieve after the other."""
    found = list(garage.book.entries)
    words = wanted.text.casefold().split()
    if words:
        texts = _texts(garage)
        places: Iterable[int] = range(len(texts))
        for word in words:
            places = [place for place in places if word in texts[place]]
        found = [found[place] for place in places]
    if wanted.kind:
        found = [entry for entry in found if entry.matter.kind == wanted.kind]
    if wanted.day:
        found = [entry for entry in found if entry.day == wanted.day]
    return found


def is_money(book: Logbook, entry: Entry) -> bool:
    """Whether an entry is about money, or takes back one that is."""
    if isinstance(entry.matter, Withdrawn) and entry.corrects is not None:
        corrected = book.entry(entry.corrects)
        return corrected is not None and is_money(book, corrected)
    return isinstance(entry.matter, MONEY)


def _related(garage: Garage, number: int) -> list[int]:
    """An entry, what it corrects, and what corrects it, in order."""
    found: set[int] = set()
    waiting = [number]
    corrections = corrected_by(garage)
    while waiting:
        one = waiting.pop()
        entry = garage.book.entry(one)
        if one in found or entry is None:
            continue
        found.add(one)
        waiting += corrections.get(one, [])
        if entry.corrects is not None:
            waiting.append(entry.corrects)
    return sorted(found)


def _texts(garage: Garage) -> list[str]:
    """The words of every entry, folded for looking through; each is made once."""
    texts, names = _words.setdefault(garage, []), names_today(garage)
    for entry in garage.book.entries[len(texts) :]:
        words = f"{words_of(entry)} {words_of(entry, names)}"
        texts.append(f"{words} {entry.who} {entry.instrument} {entry.note}".casefold())
    return texts


def where_corrected(book: Logbook, entry: Entry) -> str:
    """The address where an entry is corrected; empty for a kind that has no form."""
    matter = entry.matter
    if isinstance(matter, SessionRun):
        return f"/events/{quote(matter.meeting)}/run-sheet/{quote(matter.session)}"
    if isinstance(matter, (MeetingPlanned, MeetingClosed)):
        return f"/events/{quote(matter.meeting)}"
    if isinstance(matter, _OF_THE_CAR):
        return f"/car/entries/{entry.number}"
    if isinstance(matter, (Reading, CostPaid, RoadDriven, Remark)):
        return f"/history/{entry.number}/correct"
    return ""
