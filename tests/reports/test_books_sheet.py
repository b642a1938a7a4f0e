"""How a rule book reads as a sheet."""

import pytest

from rule_texts import book, clause
from tintop.reports.books_sheet import book_content, book_sheet, books_sheet, clause_check
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import rule_book_from

EXPIRES = '\n[clause.expires]\nkind = "{}"\n'
SAID = {
    'value = "test.height"\nat_least = "230 mm"\nrecommended_at_most = "2 * 150 mm"': (
        "value: test.height; at least: 230 mm; recommended at most: 2 * 150 mm"
    ),
    'holds = "not test.is_armed"\nrecommended = "test.is_armed"': (
        "has to hold: not test.is_armed; recommended: test.is_armed"
    ),
    'shown = ["test.strap[left]", "test.hoop"]': "on record: test.strap[left], test.hoop",
    'value = "test.standard"\none_of = ["A-2015", "A-2020"]': "value: test.standard; one of: A-2015, A-2020",
    'tube = "test.hoop"\ntubes = ["45 x 2.5 mm", "50 x 2 mm"]': (
        "tube: test.hoop; tubes: 45 x 2.5 mm or 50 x 2 mm"
    ),
    'tube = "test.hoop"\nby = "test.mass"\nrows = [{ up_to = "900 kg", tubes = ["38 x 2.5 mm"] }, '
    '{ tubes = ["45 x 2.5 mm"] }]': (
        "tube: test.hoop; by: test.mass; tubes: up to 900 kg: 38 x 2.5 mm, above: 45 x 2.5 mm"
    ),
    EXPIRES.format("to the day") + 'marked = "test.label"\nmonths = 24\nearliest_of = ["test.label"]': (
        "expires: to the day; marked: test.label; months: 24; earliest of: test.label"
    ),
    EXPIRES.format("standard withdrawn")
    + 'standard = "test.standard"\nuntil = { "A-2015" = 2023-12-31, "A-2020" = "no end" }': (
        "expires: standard withdrawn; standard: test.standard; until: A-2015 31 December 2023, A-2020 no end"
    ),
    'waives = "base:height"': "waives base:height",
    'replaces = "base:height"\napplies_if = "test.is_armed"\nshown = ["test.hoop"]': (
        "on record: test.hoop; if test.is_armed; in place of base:height"
    ),
}


def read(*clauses):
    return rule_book_from(book_text(book(*clauses), "harrow.toml"), {})


@pytest.mark.parametrize("fields", SAID)
def test_a_check_is_said_in_words(fields):
    assert clause_check(read(clause(fields)).clauses[0]) == SAID[fields]


def test_a_figure_from_memory_is_marked():
    harrow = read(clause('shown = ["test.hoop"]', known="memory"))
    (table,) = book_sheet(harrow).tables
    assert "not verified" in table.rows[0][-1]
    (table,) = books_sheet([harrow]).tables
    assert table.rows[0][5] == "1"
    assert book_content(harrow)["clauses"][0]["is_verified"] is False
