"""A figure verified on a day to come is not verified yet."""

from datetime import date, timedelta

import pytest

from inspections import book_text, clause_text, fact_text
from tintop.rules.verified import book_on, stack_on
from tintop.store.rule_books import load_stack

DAY = date(2026, 3, 1)
VERIFIED = f'verified_on = {DAY}\nverified_by = "Robin"'
TEXT = book_text(
    fact_text("lamp.height", "number", 'quantity = "length"'),
    clause_text("lamp", f'value = "lamp.height"\nat_least = "1 m"\n{VERIFIED}', known="memory"),
    clause_text("own", 'value = "lamp.height"\nat_least = "1 m"'),
)


@pytest.mark.parametrize(("later", "verified"), [(-1, False), (0, True), (1, True)])
def test_a_figure_counts_as_verified_from_its_day_on(later, verified):
    stack, _ = load_stack(["club"], {"club": TEXT})
    found = stack_on(stack, DAY + timedelta(days=later))
    assert [one.placed[0].clause.is_verified for one in found.requirements] == [verified, True]
    assert [clause.is_verified for clause in found.books[0].clauses] == [verified, True]
    assert found.requirements[0].placed[0].book is found.books[0]
    assert (found is stack) is verified
    assert (book_on(stack.books[0], DAY) is stack.books[0]) and found.books[0].digest == stack.books[0].digest
