"""Rule books as the page shows them: those shipped and the garage's own."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from tintop.errors import TintopError
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import own_books
from tintop.logbook.entries import MeetingPlanned
from tintop.rules.book import RuleBook
from tintop.store.rule_books.load import load_books
from tintop.store.rule_books.shipped import shipped_ids
from tintop.web.typed_form import TypedForm


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedBook:
    """One book on the list; `problem` says why it cannot be read."""

    id: str
    book: RuleBook | None
    is_own: bool
    is_shipped: bool
    problem: str = ""

    @property
    def title(self) -> str:
        """Its title, or its name where it cannot be read."""
        return self.book.title if self.book is not None else self.id

    @property
    def words(self) -> str:
        """Title, edition, and whether it is the garage's own."""
        edition = self.book.edition if self.book is not None else "cannot be read"
        return f"{self.title}, {edition}{', your copy' if self.is_own else ''}"


def listed_books(garage: Garage) -> tuple[ListedBook, ...]:
    """Every book there is, the garage's own in place of the shipped of the same id."""
    own = own_books(garage)
    return tuple(one_book(id, own) for id in sorted({*own, *shipped_ids()}))


def book_choices(garage: Garage) -> list[tuple[str, str]]:
    """The ids and names of the books an event can name, those named before included."""
    named = [id for _entry, planned in garage.book.of(MeetingPlanned) for id in planned.rule_books]
    listed = {each.id: each for each in listed_books(garage)}
    return [
        (id, listed[id].words if id in listed else f"{id}, which is not there any more")
        for id in dict.fromkeys((*named, *listed))
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class TickedBook:
    """A book that may be ticked for an event; `place` from 1 where it is, `hint` what to see to."""

    id: str
    words: str
    place: int | None = None
    hint: str = ""


def in_order(garage: Garage, form: TypedForm) -> tuple[str, ...]:
    """The books ticked in a form in the order of their places; those without one last, one's own after all.

    The later decides where two speak of the same. A place that is no number is refused in the form.
    """
    own = own_books(garage)
    places: dict[str, tuple[float, bool]] = {}
    for id, _words in book_choices(garage):
        if form.ticked(f"book_{id}"):
            place = form.text(f"place_{id}")
            if place and not (place.isascii() and place.isdecimal() and len(place) < 4):
                form.refuse(f"place_{id}", f"Found {place[:20]!r}; expected a number, such as 2.")
            places[id] = (float(place) if place[:4].isdecimal() else 1e6, id in own)
    return tuple(sorted(places, key=lambda id: places[id]))


def ticked_books(garage: Garage, form: TypedForm) -> tuple[tuple[TickedBook, ...], str]:
    """Every book to tick, those ticked first in their order, and what to know of those ticked together."""
    words, listed = dict(book_choices(garage)), {each.id: each for each in listed_books(garage)}
    ticked = in_order(garage, form)
    shown = []
    for place, id in enumerate(ticked, start=1):
        book = listed[id].book if id in listed else None
        stands_alone = (
            book is not None and not listed[id].is_shipped and not book.builds_on and len(ticked) > 1
        )
        hint = (
            "Builds on no book: write into it what it builds on, or it cannot waive." if stands_alone else ""
        )
        shown.append(TickedBook(id=id, words=words[id], place=place, hint=hint))
    shown += [TickedBook(id=id, words=said) for id, said in words.items() if id not in ticked]
    bases = {base for each in listed.values() if each.book is not None for base in each.book.builds_on}
    countries = dict.fromkeys(
        re.split("[,;(]", book.jurisdiction)[0].strip()
        for id in ticked
        if id in listed
        and listed[id].is_shipped
        and (book := listed[id].book) is not None
        and id not in bases
    )
    if len(countries) < 2:
        return tuple(shown), ""
    said = f"Books of {' and '.join(countries)} are ticked together: all of each then has to be met."
    return tuple(shown), said


def one_book(id: str, own: Mapping[str, str]) -> ListedBook:
    """One book by its id, or why it cannot be read."""
    book, problem = None, ""
    try:
        book = load_books([id], own)[0][-1]
    except TintopError as error:
        problem = str(error)
    return ListedBook(id=id, book=book, is_own=id in own, is_shipped=id in shipped_ids(), problem=problem)
