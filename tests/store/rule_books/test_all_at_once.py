"""A book is mended once: every mistake is told, those of form beside those of meaning, and no false ones."""

import pytest

from rule_texts import FACTS, FIRST_LINES, book, clause
from tintop.errors import BadInput
from tintop.rules.book import Read, Severity
from tintop.store.rule_books import load_books
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import rule_book_from

GOOD = 'value = "test.height"\nat_least = "230 mm"'


def read(text):
    return rule_book_from(book_text(text, "harrow.toml"), {})


def told(text):
    with pytest.raises(BadInput) as refused:
        read(text)
    return [str(problem) for problem in refused.value.problems]


def test_fields_words_expressions_and_facts_are_told_together():
    found = told(
        book(
            clause('value = "test.heigt"\nat_laest = "230 mm"', id="a"),
            clause('value = "test.height"\nat_least = "230 kg"', id="b"),
            clause('holds = "test.is_armed"\nphotograph = "yes"\nproof = "label"', id="c"),
            clause('shown = ["test.hop"]\nseverty = "advice"', id="d"),
            head=FIRST_LINES.replace('edition = "2026"', "edition = 2026"),
        )
    )
    assert [problem.partition(": found")[0].partition(", ")[2] for problem in found] == [
        "book.edition",
        "clause 'a', at_laest",
        "clause 'c', proof",
        "clause 'c', photograph",
        "clause 'd', severty",
        "clause 'a', value, character 1",
        "clause 'b', at_least",
        "clause 'd', shown, character 1",
    ]


def test_what_does_not_read_makes_no_second_mistake():
    """No "no check", no "value without a limit", no "fact that is not declared" after the first cause."""
    (one,) = told(book(clause('value = "test.height"\nat_laest = "230 mm"')))
    assert "Did you mean at_least?" in one
    (one,) = told(book(clause(GOOD), facts=FACTS.replace('station = "outside"', 'station = "trunk"', 1)))
    assert "'trunk'" in one
    (one,) = told(book(clause(GOOD), facts=FACTS.replace('unit = "mm"', 'unit = "millis"', 1)))
    assert "'millis'" in one
    (one,) = told(book(clause(GOOD), head=FIRST_LINES.replace('"2026"', "2026")))
    assert "edition" in one


def test_entries_that_are_no_tables_and_a_word_among_a_list_are_told_with_the_rest():
    found = told("clause = [3, {}]\n" + FIRST_LINES + FACTS)
    assert "harrow.toml line 1, clause 1: found 3; expected a table of fields." in found
    found = told(book(clause('value = "test.standard"\none_of = ["A-2015", 3]')))
    assert len(found) == 1 and "one_of.2" in found[0]


def test_the_books_above_a_damaged_one_still_know_its_facts():
    lower = book(clause(GOOD + "\nx = 1"))
    upper = book(clause(GOOD), facts="").replace('"harrow"', '"upper"', 1)
    upper = upper.replace("[[clause]]", 'builds_on = ["harrow"]\n[[clause]]', 1)
    with pytest.raises(BadInput) as refused:
        load_books(["upper"], {"harrow": lower, "upper": upper})
    assert len(refused.value.problems) == 1


def test_a_text_for_a_list_a_day_in_another_order_and_curly_quotes_have_their_own_sentences():
    assert told(book(clause(GOOD)).replace("valid_to", 'builds_on = "road"\nvalid_to')) == [
        "harrow.toml line 7, book.builds_on: found 'road'; expected a list in square brackets. "
        'Write builds_on = ["road"].'
    ]
    assert told(book(clause(GOOD)).replace("2026-12-31", "31/12/2026")) == [
        "harrow.toml line 7: found the day 31/12/2026; expected a day as year-month-day without quotes, "
        "such as 2026-12-31."
    ]
    (curly,) = told(book(clause(GOOD)).replace('"Height"', "“Height”"))
    assert "expected straight quotes" in curly and "plain text editor" in curly
    (other,) = told(book(clause(GOOD)).replace('title = "Height"', "title = Height"))
    assert 'lines like: title = "Noise"' in other


def test_curly_quotes_and_strokes_within_a_text_are_a_texts_own():
    text = book(clause(GOOD)).replace('"Height"', '"The “height” on 31/12/2026"')
    assert read(text).clauses[0].title == "The “height” on 31/12/2026"


@pytest.mark.parametrize("least", ["230 mm", "0.23 m", "230.0 mm"])
def test_exactly_one_figure_of_what_is_measured_can_never_be_proven(least):
    (one,) = told(book(clause(f'value = "test.height"\nat_least = "{least}"\nat_most = "230 mm"')))
    assert "it can never be proven" in one
    assert f'Write value = "abs(test.height - {least})" with at_most = the tolerance.' in one
    cured = f'value = "abs(test.height - {least})"\nat_most = "5 mm"'
    assert read(book(clause(cured))).clauses


def test_a_count_may_be_asked_for_exactly():
    counted = '[[fact]]\nname = "a"\nask = "a"\nkind = "number"\nquantity = "number"\nstation = "cabin"\n'
    assert read(book(clause('value = "a"\nat_least = 2\nat_most = 2'), facts=counted)).clauses


def test_a_limit_without_its_unit_is_told_with_the_unit_it_lacks():
    (one,) = told(book(clause('value = "test.height"\nat_least = "230"')))
    assert one.endswith('Write "230 mm".')


def test_a_clause_that_waives_needs_neither_severity_nor_known():
    text = book(clause('waives = "national:height"'), facts="")
    text = text.replace('severity = "must be mended"\n', "").replace('known = "own"\n', "")
    (found,) = read(text).clauses
    assert (found.act, found.severity, found.read) == ("waives", Severity.ADVICE, Read.OWN)
    found = told(text.replace('waives = "national:height"', 'shown = ["a"]'))
    assert sum("severity: found nothing" in one or "known: found nothing" in one for one in found) == 2
