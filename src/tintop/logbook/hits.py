"""The last hard hit, and which records count after it all the same."""

from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Entry, PartInspected
from tintop.logbook.proof_entries import AccidentHappened
from tintop.rules.evidence import Proven
from tintop.rules.facts import Fact
from tintop.rules.placeholders import is_visible


@dataclass(frozen=True, slots=True, kw_only=True)
class LastHit:
    """The hard hits of the last day that had one, and the parts inspected since, by short name."""

    book: Logbook
    hits: tuple[Entry, ...]
    inspected: frozenset[str]

    @property
    def day(self) -> date | None:
        """The day of the last hard hit; None without any."""
        return self.hits[0].day if self.hits else None

    def is_outlasted_by(self, fact: Fact, proven: Proven) -> bool:
        """Whether what may be from before the hit counts all the same.

        It does if it was recorded after it on that day, if a hit cannot change it, or if its part was
        inspected since and an inspection will do for it.
        """
        if fact.lasts_through_accident:
            return True
        if fact.renewed_by_inspection and proven.part in self.inspected:
            return True
        entry = self.book.entry(proven.entry) if proven.entry else None
        return entry is not None and all(is_after(self.book, entry, hit) for hit in self.hits)


def last_hit(book: Logbook, day: date) -> LastHit:
    """The last hard hit by the end of a day.

    An inspection counts if it came after the hit and says who looked and what was found.
    """
    hard = [entry for entry, hit in book.of(AccidentHappened) if hit.is_hard and entry.day <= day]
    last = max((entry.day for entry in hard), default=None)
    hits = tuple(entry for entry in hard if entry.day == last)
    inspected = frozenset(
        seen.part
        for entry, seen in book.of(PartInspected)
        if entry.day <= day
        and is_visible(seen.found)
        and is_visible(entry.who)
        and all(is_after(book, entry, hit) for hit in hits)
    )
    return LastHit(book=book, hits=hits, inspected=inspected)


def is_after(book: Logbook, entry: Entry, hit: Entry) -> bool:
    """Whether an entry tells of a time after a hit: by day, then clock, then the order of writing.

    A correction stands where the entry stood that it corrects: its own clock alone brings it no later.
    """
    if entry.day != hit.day:
        return entry.day > hit.day
    is_written_after = first_number(book, entry) > first_number(book, hit)
    if not entry.clock or not hit.clock or entry.clock == hit.clock:
        return is_written_after
    return entry.clock > hit.clock and (entry.corrects is None or is_written_after)


def first_number(book: Logbook, entry: Entry) -> int:
    """The number of the entry that this one corrects in the end, or its own."""
    seen = {entry.number}
    while entry.corrects is not None and entry.corrects not in seen:
        before = book.entry(entry.corrects)
        if before is None:
            break
        entry = before
        seen.add(entry.number)
    return entry.number
