"""What is worked out from the book once and kept until the book or the day changes."""

from collections.abc import Callable
from datetime import date
from typing import Any, TypeVar
from weakref import WeakKeyDictionary

from tintop.garage.keeper import Garage
from tintop.logbook.book import Logbook

_Kept = TypeVar("_Kept")
_kept: WeakKeyDictionary[Garage, dict[str, tuple[int, date, Any]]] = WeakKeyDictionary()


def kept(garage: Garage, name: str, make: Callable[[Logbook, date], _Kept]) -> _Kept:
    """Give what `make` finds in the book today; found before, it is given again while nothing was written."""
    book, today = garage.book, garage.today()
    found = _kept.setdefault(garage, {})
    last = found.get(name)
    if last is None or last[:2] != (book.last_number, today):
        last = (book.last_number, today, make(book, today))
        found[name] = last
    value: _Kept = last[2]
    return value
