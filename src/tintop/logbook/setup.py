"""The set-up of the car on a day, and what changed between two days."""

from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner, SetupChanged


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupItem:
    """One item of the set-up as it stands, and since when; `value` in SI where the item is a number."""

    item: str
    corner: Corner
    value: float | None
    written: str
    quantity: str
    since: date
    reason: str
    entry: int
    is_by_sheet: bool = False  # from the sheet put on; nobody changed or read it since


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupDifference:
    """One item that is not what it was; None where it was not known."""

    item: str
    corner: Corner
    before: SetupItem | None
    after: SetupItem | None


def setup_on(book: Logbook, day: date) -> tuple[SetupItem, ...]:
    """The set-up at the end of a day by item and corner; one set for the whole car ends those of corners."""
    found: dict[tuple[str, str], SetupItem] = {}
    for entry, change in book.of(SetupChanged):
        if entry.day > day:
            continue
        if not change.corner:
            for key in [key for key in found if key[0] == change.item]:
                del found[key]
        found[change.item, change.corner] = SetupItem(
            item=change.item,
            corner=change.corner,
            value=change.value,
            written=change.written,
            quantity=change.quantity,
            since=entry.day,
            reason=change.reason,
            entry=entry.number,
        )
    return tuple(found[key] for key in sorted(found))


def setup_changes(book: Logbook, first: date, last: date) -> tuple[SetupDifference, ...]:
    """What is different at the end of the last day from the end of the first."""
    before = {(each.item, each.corner): each for each in setup_on(book, first)}
    after = {(each.item, each.corner): each for each in setup_on(book, last)}
    found = []
    for key in sorted(before.keys() | after.keys()):
        old, new = before.get(key), after.get(key)
        if _said(old) != _said(new):
            found.append(SetupDifference(item=key[0], corner=key[1], before=old, after=new))
    return tuple(found)


def _said(item: SetupItem | None) -> tuple[float | None, str] | None:
    if item is None:
        return None
    return item.value, "" if item.value is not None else item.written
