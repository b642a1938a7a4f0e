"""Texts to edit: a copy of a shipped book, and a new one."""

import pytest

from tintop.errors import BadInput
from tintop.store.rule_books import load_books, shipped_book, shipped_ids
from tintop.store.rule_books.copying import copy_text, has_changed_since, new_book_text
from tintop.store.rule_books.shipped import shipped_text


@pytest.mark.parametrize("id", shipped_ids())
def test_a_copy_reads_the_same_as_the_book_and_says_it_is_one(id):
    text = copy_text(id)
    shipped = shipped_book(id)
    copy = load_books([id], {id: text})[0][-1]
    assert copy.is_own_copy
    assert copy.facts == shipped.facts
    assert [clause.check for clause in copy.clauses] == [clause.check for clause in shipped.clauses]
    from_memory = sum(clause.read == "memory" for clause in shipped.clauses)
    assert f"{from_memory} of {len(shipped.clauses)} clauses" in text
    assert "never the regulations" in text


@pytest.mark.parametrize("id", shipped_ids())
def test_a_copy_knows_whether_the_shipped_book_is_another_since(id, monkeypatch):
    copy = copy_text(id)
    assert not has_changed_since(id, copy)
    assert not has_changed_since(id, copy.replace("severity", "# severity"))
    monkeypatch.setattr("tintop.store.rule_books.copying.shipped_text", lambda id: shipped_text(id) + "\n")
    assert has_changed_since(id, copy)
    assert has_changed_since(id, copy.replace("\n", "\r\n"))
    assert not has_changed_since(id, shipped_text(id))
    assert not has_changed_since("no_longer_shipped", copy)


def test_a_copy_of_nothing_is_refused():
    with pytest.raises(BadInput, match=f"Did you mean {shipped_ids()[0]}?"):
        copy_text(shipped_ids()[0] + "x")


def test_a_new_book_reads_as_it_stands_and_with_its_example_taken_in():
    text = new_book_text("harrow-down", "Harrow Down series", (shipped_ids()[0],))
    book = load_books(["harrow-down"], {"harrow-down": text})[0][-1]
    assert (book.id, book.title, book.clauses) == ("harrow-down", "Harrow Down series", ())
    assert book.builds_on == (shipped_ids()[0],)
    taken_in = text.replace("\n# ", "\n").replace("One requirement", "# One requirement")
    taken_in = taken_in.replace("A working aid", "# A working aid", 1)
    book = load_books(["harrow-down"], {"harrow-down": taken_in})[0][-1]
    assert [clause.id for clause in book.clauses] == ["door-number-height"]


@pytest.mark.parametrize(
    ("id", "title", "lower"),
    [
        ("Harrow", "H", ()),
        ("../x", "H", ()),
        ("h", "", ()),
        ("h", 'H"', ()),
        ("h", "H\\", ()),
        ("h", "H\nid = 1", ()),
        ("h", "H", ('"x',)),
    ],
)
def test_a_name_that_will_not_do_is_refused(id, title, lower):
    with pytest.raises(BadInput):
        new_book_text(id, title, lower)
