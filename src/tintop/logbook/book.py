"""The logbook as a value: every entry in order, and those that stand."""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from tintop.logbook.corrections import Correction, fallen_to
from tintop.logbook.entries import Draft, Entry, Matter, Withdrawn

_Kind = TypeVar("_Kind", bound=Matter)


@dataclass(frozen=True, slots=True, kw_only=True)
class Logbook:
    """All entries by number; `standing` holds, by type of matter, those nothing standing corrects.

    Standing entries are in the order things happened: day, clock, number.
    """

    entries: tuple[Entry, ...] = ()
    standing: Mapping[type, tuple[Entry, ...]] = field(default_factory=dict)

    @property
    def last_number(self) -> int:
        """Number of the last entry, 0 in an empty book."""
        return self.entries[-1].number if self.entries else 0

    def of(self, kind: type[_Kind]) -> Iterator[tuple[Entry, _Kind]]:
        """Every standing entry of one kind with its matter, in the order it happened."""
        for entry in self.standing.get(kind, ()):
            assert isinstance(entry.matter, kind)
            yield entry, entry.matter

    def entry(self, number: int) -> Entry | None:
        """The entry of a number, standing or not."""
        place = number - 1
        if 0 <= place < len(self.entries) and self.entries[place].number == number:
            return self.entries[place]
        return next((entry for entry in self.entries if entry.number == number), None)

    def stands(self, number: int) -> bool:
        """Whether the entry of a number is there and nothing standing corrects it."""
        entry = self.entry(number)
        if entry is None:
            return False
        standing = self.standing.get(type(entry.matter), ())
        place = bisect_left(standing, _when(entry), key=_when)
        return place < len(standing) and standing[place].number == number

    def until(self, day: date) -> "Logbook":
        """The book with only what had happened by the end of a day, corrections made later included."""
        return Logbook(
            entries=self.entries,
            standing={
                kind: tuple(entry for entry in entries if entry.day <= day)
                for kind, entries in self.standing.items()
            },
        )

    def up_to(self, number: int) -> "Logbook":
        """The book as it was when its last entry was the one of this number."""
        return logbook_of(entry for entry in self.entries if entry.number <= number)


def entry_of(draft: Draft, number: int, written_at: str = "") -> Entry:
    """The entry a draft becomes when it is written."""
    return Entry(
        number=number,
        key=draft.key,
        day=draft.day,
        written_at=written_at,
        who=draft.who,
        matter=draft.matter,
        clock=draft.clock,
        instrument=draft.instrument,
        note=draft.note,
        corrects=draft.corrects,
    )


def logbook_of(entries: Iterable[Entry]) -> Logbook:
    """Fold entries into a book; a standing correction takes the place of the entry it names."""
    ordered = tuple(sorted(entries, key=lambda entry: entry.number))
    fallen = fallen_to(corrections_in(ordered))
    standing = [entry for entry in ordered if entry.number not in fallen]
    by_kind: dict[type, list[Entry]] = {}
    for entry in sorted(standing, key=_when):
        by_kind.setdefault(type(entry.matter), []).append(entry)
    return Logbook(entries=ordered, standing={kind: tuple(found) for kind, found in by_kind.items()})


def corrections_in(entries: Iterable[Entry]) -> Iterator[Correction]:
    """The entries that correct another."""
    for entry in entries:
        if entry.corrects is not None:
            is_withdrawal = isinstance(entry.matter, Withdrawn)
            yield Correction(number=entry.number, corrects=entry.corrects, is_withdrawal=is_withdrawal)


def with_entry(book: Logbook, entry: Entry) -> Logbook:
    """The book with one more entry; only the kinds it touches are folded anew."""
    if entry.corrects is not None or isinstance(entry.matter, Withdrawn):
        return logbook_of((*book.entries, entry))
    kind = type(entry.matter)
    found = sorted((*book.standing.get(kind, ()), entry), key=_when)
    return Logbook(entries=(*book.entries, entry), standing={**book.standing, kind: tuple(found)})


def _when(entry: Entry) -> tuple[date, str, int]:
    return entry.day, entry.clock, entry.number
