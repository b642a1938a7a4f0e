"""The books and facts that come with tintop can be read, and keep to what every book has to keep."""

import pytest

from tintop.errors import BadInput
from tintop.rules.book import Read
from tintop.rules.facts import FactKind
from tintop.store.rule_books import load_books, shipped_book, shipped_facts, shipped_ids
from tintop.units import unit_named


@pytest.mark.parametrize("id", shipped_ids())
def test_every_shipped_book_reads_and_says_it_is_a_working_aid(id):
    found = shipped_book(id)
    assert found.id == id
    assert found.clauses
    assert not found.is_own_copy
    assert any("working aid" in caution.casefold() for caution in found.cautions)


@pytest.mark.parametrize("id", shipped_ids())
def test_no_shipped_figure_from_memory_is_marked_verified(id):
    for clause in shipped_book(id).clauses:
        assert clause.verified_on is None
        assert clause.is_verified is (clause.read is not Read.MEMORY)


def test_all_shipped_books_can_stand_together():
    books, facts = load_books(shipped_ids())
    assert {book.id for book in books} == set(shipped_ids())
    assert set(facts) >= set(shipped_facts())


def test_shipped_facts_are_asked_in_units_that_fit():
    for fact in shipped_facts().values():
        if fact.unit:
            assert unit_named(fact.unit, fact.quantity)
        if isinstance(fact.each, str):
            assert shipped_facts()[fact.each].kind is FactKind.NAMES


def test_a_book_that_is_not_shipped_is_refused_with_those_that_are():
    with pytest.raises(BadInput, match=shipped_ids()[0]):
        shipped_book("nowhere")
