"""A figure from memory, read: the text of the book says so, and nothing else in it changes."""

import difflib
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.rules.book import Read
from tintop.store.rule_books import load_books, shipped_book, shipped_ids
from tintop.store.rule_books.copying import copy_text
from tintop.store.rule_books.verifying import edition_read, with_verified

DAY = date(2026, 6, 1)
MEMORY = [
    (id, clause.id)
    for id in shipped_ids()
    for clause in shipped_book(id).clauses
    if clause.read is Read.MEMORY
]
BOOK = """\
# The club's book.
[book]
id = "harrow"
title = "Harrow"
edition = "1"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
cautions = ["A working aid."]

[[fact]]
name = "test.opens"
ask = "Opens"
kind = "yes or no"
station = "outside"

[[clause]]
id = "bonnet"
group = "body"
title = "Bonnet"
requirement = "It opens."
reference = "1"
severity = "advice"
known = "memory"  # from an old yearbook
source = "the old hand"  # who is right as a rule
holds = "test.opens"

[[clause]]
id = "read"
group = "body"
title = "Read"
requirement = "It opens."
reference = "2"
severity = "advice"
known = "own"
holds = "test.opens"
"""


def clause_of(text: str, id: str):
    return load_books(["harrow"], {"harrow": text})[0][-1].clause(id)


def changed_lines(old: str, new: str) -> list[str]:
    lines = difflib.ndiff(old.split("\n"), new.split("\n"))
    return [line for line in lines if line[:2] in ("+ ", "- ")]


@pytest.mark.parametrize(("id", "clause"), MEMORY)
def test_every_shipped_clause_from_memory_can_be_verified_and_nothing_else_changes(id, clause):
    text = copy_text(id)
    found = with_verified(text, clause, DAY, "Robin", "Yearbook 2026")
    before, after = (load_books([id], {id: one})[0][-1] for one in (text, found))
    assert after.clause(clause).is_verified and not before.clause(clause).is_verified
    assert [one.check for one in after.clauses] == [one.check for one in before.clauses]
    assert sum(one.is_verified for one in after.clauses) == sum(one.is_verified for one in before.clauses) + 1
    assert len(changed_lines(text, found)) <= 4
    assert edition_read(after.clause(clause).source) == "Yearbook 2026"


def test_comments_and_what_the_source_said_stay():
    found = with_verified(BOOK, "bonnet", DAY, "Robin", "Yearbook 2026, K 1.2")
    assert changed_lines(BOOK, found) == [
        '- source = "the old hand"  # who is right as a rule',
        "+ verified_on = 2026-06-01",
        '+ verified_by = "Robin"',
        '+ source = "the old hand; read and verified in Yearbook 2026, K 1.2"  # who is right as a rule',
    ]


def test_verified_again_the_later_reading_takes_the_place_of_the_earlier():
    once = with_verified(BOOK, "bonnet", DAY, "Robin", "Yearbook 2026")
    again = with_verified(once, "bonnet", date(2027, 2, 1), "Sam", "Yearbook 2027")
    clause = clause_of(again, "bonnet")
    assert (clause.verified_on, clause.verified_by) == (date(2027, 2, 1), "Sam")
    assert clause.source == "the old hand; read and verified in Yearbook 2027"
    assert len(again.split("\n")) == len(once.split("\n"))


def test_the_line_ends_of_the_text_are_kept():
    found = with_verified(BOOK.replace("\n", "\r\n"), "bonnet", DAY, "Robin", "Yearbook")
    assert found.count("\n") == found.count("\r\n") == BOOK.count("\n") + 2


@given(st.text(min_size=1, max_size=60), st.text(min_size=1, max_size=60))
def test_whatever_is_typed_is_read_back_or_refused(by, edition):
    try:
        found = with_verified(BOOK, "bonnet", DAY, by, edition)
    except BadInput:
        return
    clause = clause_of(found, "bonnet")
    assert clause.verified_by == by.strip()
    assert edition_read(clause.source) == edition.strip()


@pytest.mark.parametrize(
    ("clause", "day", "by", "edition", "said"),
    [
        ("bonet", DAY, "Robin", "2026", "Did you mean bonnet"),
        ("read", DAY, "Robin", "2026", "line 34.*no other has to be verified"),
        ("bonnet", DAY, " ", "2026", "one line of text"),
        ("bonnet", DAY, "Robin", "", "one line of text"),
        ("bonnet", DAY, "Robin\nvalue = 3", "2026", "one line of text"),
        ("bonnet", DAY, "Robin", "2026; and more", "without ;"),
        ("bonnet", date(1, 1, 1), "Robin", "2026", "the day on which it was read"),
    ],
)
def test_what_cannot_be_meant_is_refused(clause, day, by, edition, said):
    with pytest.raises(BadInput, match=said):
        with_verified(BOOK, clause, day, by, edition)


@pytest.mark.parametrize(
    "source", ['"""the old hand\nand another"""', "'''the old hand'''"], ids=["two lines", "three quotes"]
)
def test_a_clause_that_cannot_be_added_to_is_refused_with_its_line(source):
    text = BOOK.replace('"the old hand"', source)
    with pytest.raises(BadInput, match=r"line 16.*bonnet.*cannot be added to.*by hand"):
        with_verified(text, "bonnet", DAY, "Robin", "2026")
