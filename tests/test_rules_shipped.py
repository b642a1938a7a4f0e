"""docs/rules_shipped.md counts what is shipped, and every clause it names is there."""

import re

from shipped_rules import DOCUMENT, TABLES, books, renewed


def test_the_tables_are_those_of_the_books():
    text = DOCUMENT.read_text("utf-8")
    assert all(f"<!-- {name} -->" in text for name in TABLES)
    assert renewed(text) == text, "run python tests/shipped_rules.py"


def test_every_clause_named_is_there():
    named = re.findall(r"`([a-z0-9_]+):([a-z0-9-]+)`", DOCUMENT.read_text("utf-8"))
    assert len(named) > 60
    known = {(book.id, clause.id) for book in books()[0].values() for clause in book.clauses}
    assert set(named) <= known


def test_every_book_is_told_of():
    text = DOCUMENT.read_text("utf-8")
    assert all(f"- `{id}`" in text for id in books()[0])
