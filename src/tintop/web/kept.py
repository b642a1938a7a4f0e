"""What is worked out from the book once and kept until the book or the day changes."""

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from tintop.garage.keeper import Garage
from tintop.logbook.book import Logbook

_Kept = TypeVar("_Kept")


def kept(garage: Garage, name: str, make: Callable[[Logbook, date], _Kept]) -> _Kept:
    """Give what `make` finds in the book today; found before, it is given again while nothing was written."""
    book, today = garage.book, garage.today()
    return garage.remember(f"kept {name}", (book.last_number, today), lambda: make(book, today))
