"""Rule books as the page shows them: those shipped and the garage's own."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.errors import TintopError
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import own_books
from tintop.logbook.entries import MeetingPlanned
from tintop.rules.book import RuleBook
from tintop.store.rule_books.load import load_books
from tintop.store.rule_books.shipped import shipped_ids


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


def one_book(id: str, own: Mapping[str, str]) -> ListedBook:
    """One book by its id, or why it cannot be read."""
    book, problem = None, ""
    try:
        book = load_books([id], own)[0][-1]
    except TintopError as error:
        problem = str(error)
    return ListedBook(id=id, book=book, is_own=id in own, is_shipped=id in shipped_ids(), problem=problem)
