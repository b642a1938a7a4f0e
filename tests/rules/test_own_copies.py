"""A garage's own copy of a shipped book: what of it differs, what of that is milder, and that it is said."""

from dataclasses import replace

import pytest

from inspections import EVENT, book_text, clause_text, fact_text, stack_of
from tintop.questions.is_it_legal import is_it_legal
from tintop.rules.evidence import Evidence
from tintop.rules.inspect import inspect
from tintop.rules.own_copies import departure_in_words, departure_of, own_copies_in_words
from tintop.store.rule_books.load import load_stack
from tintop.store.rule_books.shipped import shipped_ids, shipped_text

FACTS = [
    fact_text("a.n", "number", 'quantity = "length"\nunit = "mm"'),
    fact_text("a.is_so", "yes or no"),
    fact_text("a.label", "marked date"),
    fact_text("a.word", "text"),
]
LIMIT = 'value = "a.n"\nat_least = "60 mm"\nrecommended_at_least = "70 mm"'
LIFE = '[clause.expires]\nkind = "end of the year made"\nmarked = "a.label"\nyears = {}'
WORDS = 'value = "a.word"\none_of = [{}]'


def book(*clauses: str):
    stack, _ = stack_of(book_text(*FACTS, *clauses))
    return stack.books[0]


def departure(was: tuple[str, ...], now: tuple[str, ...]):
    """Of two clauses, given as what `clause_text` takes after the id."""
    return departure_of(book(clause_text("rule", *now)), book(clause_text("rule", *was)))


@pytest.mark.parametrize(
    ("was", "now", "milder"),
    [
        ((LIMIT,), (LIMIT.replace("60", "55"),), 1),
        ((LIMIT,), (LIMIT.replace("60", "65"),), 0),
        ((LIMIT,), (LIMIT.replace("70", "65"),), 1),
        ((LIMIT,), ('value = "a.n"\nrecommended_at_least = "70 mm"',), 1),
        ((LIMIT,), (f'{LIMIT}\nat_most = "90 mm"',), 0),
        ((LIMIT,), (LIMIT.replace("a.n", "a.n + 5 mm"),), 1),
        (('value = "a.n"\nat_most = "60 mm"',), ('value = "a.n"\nat_most = "65 mm"',), 1),
        (('value = "a.n"\nat_most = "60 mm"',), ('value = "a.n"\nat_most = "6 cm"',), 0),
        ((LIMIT,), (LIMIT, "must be mended"), 1),
        ((LIMIT, "advice"), (LIMIT, "stops you racing"), 0),
        ((LIMIT, "stops you racing", "memory"), (LIMIT,), 1),
        ((LIMIT,), (LIMIT, "stops you racing", "own", "Another title"), None),
        ((LIMIT,), (f'applies_if = "a.is_so"\n{LIMIT}',), 1),
        ((f'applies_if = "a.is_so"\n{LIMIT}',), (LIMIT,), 0),
        ((f'proof = ["measurement"]\n{LIMIT}',), (LIMIT,), 1),
        ((f'proof = ["measurement"]\n{LIMIT}',), (f'proof = ["measurement", "witness"]\n{LIMIT}',), 1),
        ((LIMIT,), (f'proof = ["measurement"]\n{LIMIT}',), 0),
        ((f"photograph = true\n{LIMIT}",), (LIMIT,), 1),
        ((f"renewed_after_accident = true\n{LIMIT}",), (LIMIT,), 1),
        ((LIFE.format(5),), (LIFE.format(6),), 1),
        ((LIFE.format(5),), (LIFE.format(4),), 0),
        ((WORDS.format('"x"'),), (WORDS.format('"x", "y"'),), 1),
        ((WORDS.format('"x", "y"'),), (WORDS.format('"x"'),), 0),
        ((LIMIT,), ('holds = "a.is_so"',), 1),
    ],
)
def test_what_asks_for_less_is_milder(was, now, milder):
    found = departure(was, now)
    assert (found.differing, found.milder) == ((0, 0) if milder is None else (1, milder))


def test_a_clause_that_is_gone_is_milder_and_one_more_is_not():
    one, other = clause_text("rule", LIMIT), clause_text("other", LIMIT)
    gone, more = departure_of(book(one), book(one, other)), departure_of(book(one, other), book(one))
    assert (gone.differing, gone.milder) == (1, 1) and (more.differing, more.milder) == (1, 0)
    longer = departure_of(replace(book(one), valid_to=None), book(one))
    assert longer.has_other_days and departure_in_words(longer) == "other days in force"


@pytest.mark.parametrize("id", shipped_ids())
def test_a_copy_as_shipped_differs_in_nothing_and_says_so(id):
    own, _ = load_stack([id], {id: shipped_text(id)})
    shipped, _ = load_stack([id])
    assert [one.departure for one in shipped.books] == [None] * len(shipped.books)
    copies = [one for one in own.books if one.departure is not None]
    assert [one.id for one in copies] == [id]
    assert "no clause differs from the book as shipped" in own_copies_in_words(own.books)


def test_the_verdict_says_by_whose_copy_it_is_and_how_that_differs():
    id = "road_drive"
    text = shipped_text(id)
    assert 'severity = "must be mended"' in text
    text = text.replace('severity = "must be mended"', 'severity = "advice"', 1)
    stack, facts = load_stack([id], {id: text})
    answer = is_it_legal(None, inspect(stack, facts, Evidence(proven={}, fallen={}), EVENT, EVENT))
    said = "(1 clause differs from the book as shipped, and is milder)"
    assert "By your own copy of " in answer.sentence and said in answer.sentence
    assert said in answer.why[0]
    (listed,) = [one for one in answer.working["books"] if one["id"] == id]
    assert listed["departure"] == said.strip("()")


def test_an_own_book_that_is_no_copy_is_no_departure():
    stack, facts = stack_of(book_text(*FACTS, clause_text("rule", LIMIT)))
    assert stack.books[0].is_own_copy and own_copies_in_words(stack.books) == ""
    answer = is_it_legal(None, inspect(stack, facts, Evidence(proven={}, fallen={}), EVENT, EVENT))
    assert "own cop" not in answer.sentence
