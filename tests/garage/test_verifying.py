"""A figure read in the regulation, noted in the garage's own copy over the revision that was looked at."""

from contextlib import closing
from datetime import date

import pytest

from tintop.errors import Conflict
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import own_books
from tintop.garage.verifying import revision_of, verify
from tintop.rules.book import Read
from tintop.settings import Settings
from tintop.store.garage_store import Store
from tintop.store.rule_books import load_books, shipped_book

BOOK = "united_kingdom_club"
ONE, OTHER = [clause.id for clause in shipped_book(BOOK).clauses if clause.read is Read.MEMORY][:2]


@pytest.fixture
def garage(tmp_path):
    Store.create(tmp_path / "garage", Settings(title="Lantern", owner="Robin")).close()
    with closing(Garage.open(tmp_path / "garage")) as found:
        yield found


def note(garage: Garage, clause: str, based_on: str):
    day = date(2026, 2, 1)
    return verify(garage, BOOK, clause, day=day, by="Robin", edition="2026", who="Robin", based_on=based_on)


def test_a_copy_is_made_once_and_both_figures_count(garage):
    assert revision_of(garage, BOOK) == ""
    first = note(garage, ONE, "")
    assert revision_of(garage, BOOK) == first.digest
    assert note(garage, OTHER, first.digest).number == 2
    book = load_books([BOOK], own_books(garage))[0][-1]
    assert book.is_own_copy and book.clause(ONE).is_verified and book.clause(OTHER).is_verified


def test_over_a_revision_nobody_saw_nothing_is_written(garage):
    first = note(garage, ONE, "")
    edited = first.text.replace("severity", "severity ", 1)
    stands = garage.save_document(first.name, edited, based_on=first.digest, who="Sam", why="mended")
    for seen in ("", first.digest):
        with pytest.raises(Conflict):
            note(garage, OTHER, seen)
    assert revision_of(garage, BOOK) == stands.digest
