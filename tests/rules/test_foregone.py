"""Conditions that hold whatever is recorded are refused where the book is read."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import book_text, clause_text, fact_text, stack_of
from tintop.errors import BadInput
from tintop.rules.expression import Denied, Joined, Named, Truth
from tintop.rules.foregone import is_foregone

FACTS = [
    fact_text("a.n", "number", 'quantity = "length"\nunit = "mm"'),
    fact_text("a.yes", "yes or no"),
    fact_text("a.word", "text"),
]


def read(body: str) -> None:
    stack_of(book_text(*FACTS, clause_text("rule", body)))


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        ("a.n == a.n", "the same on both sides"),
        ("a.n >= a.n", "the same on both sides"),
        ("a.n - 1 mm <= a.n - 1 mm", "the same on both sides"),
        ("a.word == a.word", "the same on both sides"),
        ("a.yes and a.n == a.n", "the same on both sides"),
        ("not (a.n != a.n)", "the same on both sides"),
        ("1 mm < 2 mm", "no fact on either side"),
        ("a.yes or yes", "always holds"),
        ("yes", "always holds"),
        ("not no", "always holds"),
        ("a.yes or not a.yes", "always holds"),
        ("a.n >= 3 mm or a.n < 3 mm", "always holds"),
        ("a.word == 'x' or a.word != 'x'", "always holds"),
        ("not (a.yes and not a.yes)", "always holds"),
    ],
)
@pytest.mark.parametrize("field", ["holds", "recommended", "applies_if"])
def test_a_condition_that_always_holds_is_refused(condition, words, field):
    more = '\nshown = ["a.yes"]' if field == "applies_if" else ""
    with pytest.raises(BadInput) as refusal:
        read(f'{field} = "{condition}"{more}')
    assert words in str(refusal.value) and field in str(refusal.value)


@pytest.mark.parametrize("limit", ["at_least", "at_most", "recommended_at_most"])
def test_a_value_is_no_limit_of_itself(limit):
    with pytest.raises(BadInput, match="the value itself"):
        read(f'value = "a.n"\n{limit} = "a.n"')


@pytest.mark.parametrize(
    "condition", ["a.yes", "a.yes or a.n > 1 mm", "a.n >= 3 mm or a.n < 2 mm", "a.yes and yes", "no"]
)  # fmt: skip
def test_others_are_read(condition):
    read(f'holds = "{condition}"')


facts = st.sampled_from([Named(name) for name in "pqr"])
conditions = st.recursive(
    st.one_of(facts, st.builds(Truth, st.booleans())),
    lambda inner: st.one_of(
        st.builds(Denied, inner),
        st.builds(Joined, st.sampled_from(["and", "or"]), st.tuples(inner, inner)),
    ),
    max_leaves=8,
)


def outcome(part, answers):
    """Worked out apart from the code under test, as Python has it."""
    match part:
        case Named(fact=name):
            return answers[name]
        case Truth(value=value):
            return value
        case Denied(part=inner):
            return not outcome(inner, answers)
        case Joined(sign=sign, parts=(one, other)):
            left, right = outcome(one, answers), outcome(other, answers)
            return (left and right) if sign == "and" else (left or right)


@given(conditions)
def test_foregone_is_what_no_answers_keep_from_holding(condition):
    every = (dict(zip("pqr", answers, strict=True)) for answers in itertools.product((True, False), repeat=3))
    assert is_foregone(condition) == all(outcome(condition, answers) for answers in every)
