"""An expression written reads the same again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.rules.expression import (
    Amount,
    Calculation,
    Call,
    Compared,
    Denied,
    Expression,
    Joined,
    Named,
    Truth,
    Words,
)
from tintop.rules.writing_expressions import say_expression, write_expression
from tintop.store.rule_books.expressions import parse_expression

AMOUNTS = st.sampled_from(
    [Amount(0.045, "length", "45 mm"), Amount(3.0, "number", "3"), Amount(0.1, "share", "10 %")]
)
NAMES = st.sampled_from([Named("harness.anchor"), Named("harness.anchor", "left"), Named("car_mass")])
NUMBERS: st.SearchStrategy[Expression] = st.recursive(
    st.one_of(AMOUNTS, NAMES),
    lambda inner: st.one_of(
        st.builds(Calculation, st.sampled_from(["+", "-", "*", "/"]), inner, inner),
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: Call("max", tuple(parts))),
    ),
    max_leaves=6,
)
TEXTS = st.builds(Compared, st.sampled_from(["==", "!="]), NAMES, st.just(Words("8853-2016")))
SIGNS = st.sampled_from(["<", "<=", "==", "!=", ">=", ">"])
CONDITIONS: st.SearchStrategy[Expression] = st.recursive(
    st.one_of(st.builds(Compared, SIGNS, NUMBERS, NUMBERS), TEXTS, NAMES, st.builds(Truth, st.booleans())),
    lambda inner: st.one_of(
        st.builds(Denied, inner),
        st.builds(
            lambda sign, parts: Joined(sign, tuple(parts)),
            st.sampled_from(["and", "or"]),
            st.lists(inner, min_size=2, max_size=3),
        ),
    ),
    max_leaves=6,
)


def flat(expression: Expression) -> object:
    """The same with "a and (b and c)" told as "a and b and c"."""
    match expression:
        case Joined(sign, parts):
            told: list[object] = []
            for part in map(flat, parts):
                told += part[1:] if isinstance(part, list) and part[0] == sign else [part]
            return [sign, *told]
        case Denied(part):
            return ("not", flat(part))
        case Calculation(sign, left, right) | Compared(sign, left, right):
            return (sign, flat(left), flat(right))
        case Call(name, arguments):
            return (name, tuple(map(flat, arguments)))
        case Amount(value, quantity, _):
            return (pytest.approx(value), quantity)
        case _:
            return expression


@given(st.one_of(NUMBERS, CONDITIONS))
def test_what_is_written_reads_the_same(expression):
    assert flat(parse_expression(write_expression(expression), "x")) == flat(expression)


@pytest.mark.parametrize(
    "text",
    [
        "angle_below(harness.top, harness.anchor[left]) + 5 deg",
        "(a + b) * 2",
        "a - (b - c)",
        "a / (b * c)",
        "not (a and b) or c == 'x'",
        "max(3 mm, wall(cage.hoop))",
    ],
)
def test_brackets_stand_where_they_are_needed_and_nowhere_else(text):
    assert write_expression(parse_expression(text, "x")) == text


def test_figures_are_put_in_for_facts():
    written = write_expression(parse_expression("a + max(b, 3 mm)", "x"), lambda named: named.fact.upper())
    assert written == "A + max(B, 3 mm)"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("noise.distance", "Noise distance"),
        ("abs(noise.distance - 0.5 m)", "Noise distance, away from 0.5 m"),
        ("abs(noise.angle - 45 deg)", "Noise angle, away from 45°"),
        ("min(decal.width[left], decal.width[right])", "Decal width left and right, the least"),
        ("max(decal.width, decal.height)", "Decal width and decal height, the greatest"),
        ("bolt_count(seat.bolts)", "Seat bolts, how many"),
        ("cage.bars / cage.opening", "Cage bars divided by cage opening"),
        ("cage.bars - 0.10 * cage.opening", "Cage bars less 0.10 times cage opening"),
        ("(cage.bars - cage.sill) / cage.opening", "(Cage bars less cage sill) divided by cage opening"),
        ("angle_below(seat.top, belts.anchor)", "Seat top to belts anchor, fall rearwards"),
        ("share(cage.bars, cage.opening)", "Cage bars as a share of cage opening"),
        ("if(car.is_old, cage.bars, cage.opening)", "Cage bars or cage opening, whichever applies"),
    ],
)
def test_in_words_no_formula_is_left(written, said):
    def name(named: Named) -> str:
        words = " ".join(filter(None, (named.fact.replace(".", " "), named.each)))
        return words[:1].upper() + words[1:]

    assert say_expression(parse_expression(written, "a clause"), name) == said


@given(NUMBERS)
def test_every_fact_a_figure_is_made_of_is_named_in_words(expression):
    words = say_expression(expression, lambda named: named.fact.upper())
    named = {part for part in ("HARNESS.ANCHOR", "CAR_MASS") if part.lower() in write_expression(expression)}
    assert all(each in words for each in named)
