"""Help in kind by supporter: what it is worth, what is owed in return, and what the parts have run."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.logbook.book import Logbook
from tintop.logbook.counters import Count, counts_on
from tintop.logbook.entries import SupportReceived, SupportReturned


class SupportState(StrEnum):
    """Where what is owed in return stands."""

    OVERDUE = "overdue"
    OWED = "owed"
    SETTLED = "settled"
    NOTHING_OWED = "nothing owed"


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportItem:
    """One help received, what was done for it so far, and what the supported part has run."""

    received: SupportReceived
    entry: int
    day: date
    state: SupportState
    returned: tuple[SupportReturned, ...]
    count: Count | None  # None when it names no known part

    @property
    def in_kind_cents(self) -> int:
        """List price less what was paid."""
        return self.received.list_price_cents - self.received.paid_cents


@dataclass(frozen=True, slots=True, kw_only=True)
class Supporter:
    """One supporter with all its help; sums in cents."""

    name: str
    items: tuple[SupportItem, ...]
    list_cents: int
    paid_cents: int
    in_kind_cents: int
    owed: int  # how many returns are owed, overdue ones included
    overdue: int


def supporters(book: Logbook, day: date) -> tuple[Supporter, ...]:
    """Every supporter by the end of a day, overdue first, then by value in kind."""
    counts = counts_on(book, day)
    returned: dict[str, list[SupportReturned]] = {}
    for entry, given in book.of(SupportReturned):
        if entry.day <= day:
            returned.setdefault(given.support, []).append(given)
    items: dict[str, list[SupportItem]] = {}
    for entry, received in book.of(SupportReceived):
        if entry.day <= day:
            done = tuple(returned.get(received.support, ()))
            items.setdefault(received.supporter, []).append(
                SupportItem(
                    received=received,
                    entry=entry.number,
                    day=entry.day,
                    state=_state(received, done, day),
                    returned=done,
                    count=counts.get(received.part),
                )
            )
    found = [_supporter(name, tuple(helps)) for name, helps in items.items()]
    return tuple(sorted(found, key=lambda each: (-each.overdue, -each.in_kind_cents, each.name)))


def _supporter(name: str, items: tuple[SupportItem, ...]) -> Supporter:
    return Supporter(
        name=name,
        items=items,
        list_cents=sum(item.received.list_price_cents for item in items),
        paid_cents=sum(item.received.paid_cents for item in items),
        in_kind_cents=sum(item.in_kind_cents for item in items),
        owed=sum(item.state in (SupportState.OWED, SupportState.OVERDUE) for item in items),
        overdue=sum(item.state is SupportState.OVERDUE for item in items),
    )


def _state(received: SupportReceived, returned: tuple[SupportReturned, ...], day: date) -> SupportState:
    if any(given.is_settled for given in returned):
        return SupportState.SETTLED
    if not received.owed:
        return SupportState.NOTHING_OWED
    if received.owed_by is not None and received.owed_by < day:
        return SupportState.OVERDUE
    return SupportState.OWED
