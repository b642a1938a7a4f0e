"""What is worked out from the book once and kept until the book or the day changes."""

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from tintop.garage.keeper import Garage
from tintop.garage.rule_books import facts_of
from tintop.logbook.book import Logbook
from tintop.logbook.words import fact_names, names_in

_Kept = TypeVar("_Kept")


def kept(garage: Garage, name: str, make: Callable[[Logbook, date], _Kept]) -> _Kept:
    """Give what `make` finds in the book today; found before, it is given again while nothing was written."""
    book, today = garage.book, garage.today()
    return garage.remember(f"kept {name}", (book.last_number, today), lambda: make(book, today))


def names_today(garage: Garage) -> dict[tuple[str, str], str]:
    """The names that stand for short names in the words of an entry."""
    facts = facts_of(garage)
    stands_on = (garage.book.last_number, facts)
    return garage.remember("names", stands_on, lambda: {**names_in(garage.book), **fact_names(facts)})
