"""The first questions: what says which clauses apply, lists of names before all, then most clauses first."""

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from inspections import EVENT, book_text, clause_text, fact_text, proven, stack_of
from tintop.rules.facts import FactKey, FactKind
from tintop.rules.findings import Ruling
from tintop.rules.first_questions import Applying, applying, first_questions
from tintop.rules.inspect import inspect
from tintop.store.rule_books.load import load_stack

BOOK = book_text(
    fact_text("own.is_electric", "yes or no"),
    fact_text("own.seat", "choice", 'choices = ["shell", "road"]'),
    fact_text("own.drivers", "names"),
    fact_text("own.label", "yes or no", 'each = "own.drivers"'),
    fact_text("own.n", "number", 'quantity = "number"'),
    clause_text("always", 'value = "own.n"\nat_least = "1"'),
    clause_text("one", 'applies_if = "own.seat == \'shell\'"\nvalue = "own.n"\nat_least = "1"'),
    clause_text("two", 'applies_if = "own.seat == \'road\'"\nvalue = "own.n"\nat_least = "1"'),
    clause_text(
        "three", 'applies_if = "own.is_electric and own.seat == \'road\'"\nvalue = "own.n"\nat_least = "1"'
    ),
    clause_text("each", 'holds = "own.label"'),
)


def asked(written: dict[str, str]) -> dict[str, list[str]]:
    stack, facts = stack_of(BOOK)
    found = first_questions(stack, facts, proven(facts, written))
    return {str(key): [placed.clause.id for placed in clauses] for key, clauses in found}


def counts(written: dict[str, str]) -> Applying:
    stack, facts = stack_of(BOOK)
    return applying(stack, facts, proven(facts, written))


def test_the_drivers_come_first_then_what_most_clauses_wait_for():
    found = asked({})
    assert list(found.items()) == [
        ("own.drivers", ["each"]),
        ("own.seat", ["one", "two", "three"]),
        ("own.is_electric", ["three"]),
    ]


def test_an_answer_settles_what_hangs_on_it_and_what_another_made_needless_is_not_asked():
    assert list(asked({"own.seat": "shell"})) == ["own.drivers"]
    assert list(asked({"own.seat": "road"})) == ["own.drivers", "own.is_electric"]
    assert list(asked({"own.is_electric": "no"})) == ["own.drivers", "own.seat"]
    assert asked({"own.seat": "shell", "own.drivers": "Robin, Sam"}) == {}


def test_what_only_a_check_needs_is_no_first_question():
    assert "own.n" not in asked({}) and "own.label[Robin]" not in asked({"own.drivers": "Robin"})


def test_clauses_that_apply_are_counted():
    assert counts({}) == Applying(applies=1, not_applicable=0, unknown=4)
    assert counts({"own.seat": "shell"}) == Applying(applies=2, not_applicable=2, unknown=1)
    done = counts({"own.seat": "road", "own.is_electric": "yes", "own.drivers": "Robin"})
    assert done == Applying(applies=4, not_applicable=1, unknown=0) and done.clauses == 5


@cache
def shipped():
    return load_stack(["united_kingdom_club"], {})


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_answering_every_question_of_a_shipped_book_leaves_no_condition_open(data):
    """In whatever way yes or no and choices are answered; figures and names are given one value."""
    stack, facts = shipped()
    plain = {
        FactKind.NAMES: "Robin",
        FactKind.TEXT: "as it says",
        FactKind.MARKED: "2024",
        FactKind.BOLTS: "2 x M8 8.8",
        FactKind.TUBE: "45 x 2.5 mm",
        FactKind.POINT: "0 0 0 mm",
        FactKind.OUTLINE: "100 x 100 mm",
    }
    written: dict[str, str] = {}
    for _round in range(12):
        questions = first_questions(stack, facts, proven(facts, written))
        if not questions:
            break
        for key, _clauses in questions:
            fact = facts[key.fact]
            if fact.kind is FactKind.YES_NO:
                text = data.draw(st.sampled_from(["yes", "no"]), label=str(key))
            elif fact.kind is FactKind.CHOICE:
                text = data.draw(st.sampled_from(fact.choices), label=str(key))
            else:
                text = plain.get(fact.kind) or f"1234.5 {fact.unit}"
            written[str(key)] = text
    evidence = proven(facts, written)
    assert first_questions(stack, facts, evidence) == ()
    assert applying(stack, facts, evidence).unknown == 0
    inspection = inspect(stack, facts, evidence, EVENT, EVENT)
    assert not any(heard.is_open for finding in inspection.findings for heard in finding.heard)


def test_those_that_do_not_apply_are_those_the_inspection_says_do_not():
    stack, facts = stack_of(BOOK)
    evidence = proven(facts, {"own.seat": "shell", "own.drivers": "Robin", "own.n": "2"})
    inspection = inspect(stack, facts, evidence, EVENT, EVENT)
    aside = [one for one in inspection.findings if one.ruling is Ruling.NOT_APPLICABLE]
    assert len(aside) == applying(stack, facts, evidence).not_applicable == 2
    assert FactKey("own.drivers") in evidence.proven
