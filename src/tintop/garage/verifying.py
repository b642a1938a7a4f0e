"""A figure from memory read in the regulation: noted in the garage's own copy of the book."""

from datetime import date

from tintop.garage.keeper import RULE_BOOKS, Garage
from tintop.garage.rule_books import based_on as based_on_of
from tintop.garage.rule_books import own_books
from tintop.store.garage_store import Revision
from tintop.store.rule_books.copying import copy_text
from tintop.store.rule_books.verifying import with_verified


def revision_of(garage: Garage, book: str) -> str:
    """The digest of the garage's own copy of a book as it stands; "" while there is none."""
    name = document_of(book)
    return garage.standing([name])[name].digest if book in own_books(garage) else ""


def verify(
    garage: Garage, book: str, clause: str, *, day: date, by: str, edition: str, who: str, based_on: str
) -> Revision:
    """Note in the garage's own copy of a book who read the figure of a clause, when, and in which edition.

    A shipped book is copied first. `based_on` is the revision that was looked at, "" for the book as
    shipped. Raises Conflict when another one stands by now; BadInput for a book or clause there is not, one
    whose figure is not from memory, and words that cannot be written.
    """
    name = document_of(book)
    text = own_books(garage).get(book) or copy_text(book)
    changed = with_verified(text, clause, day, by, edition, name)
    why = f"{clause} read in {edition.strip()} by {by.strip()}"
    stands = based_on or based_on_of(garage, book)
    return garage.save_document(name, changed, based_on=stands, who=who, why=why)


def document_of(book: str) -> str:
    """The name of the document that holds the garage's own copy of a book."""
    return f"{RULE_BOOKS}/{book}.toml"
