"""What an expression is read as, and what is refused: nothing of it can run, whatever is written."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.rules.expression import (
    Amount,
    Calculation,
    Call,
    Compared,
    Denied,
    Joined,
    Named,
    Truth,
    Words,
)
from tintop.rules.writing_expressions import write_expression
from tintop.store.rule_books.expressions import DEEPEST, LONGEST, depth, parse_expression
from tintop.units import UNITS, parse_quantity

WHERE = "harrow.toml line 3, value"


def read(text):
    return parse_expression(text, WHERE)


def refusal(text):
    with pytest.raises(BadInput) as refused:
        read(text)
    (problem,) = refused.value.problems
    return problem


def mm(number):
    return Amount(pytest.approx(number / 1000.0, rel=1e-15), "length", f"{number} mm")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("45 mm", mm(45)),
        ("45mm", mm(45)),
        ("-5 mm", mm(-5)),
        ("− 5 mm", mm(-5)),
        ("3", Amount(3.0, "number", "3")),
        ("yes", Truth(True)),
        ("no", Truth(False)),
        ("'seamless steel'", Words("seamless steel")),
        ("cage.main_hoop.tube", Named("cage.main_hoop.tube")),
        ("harness.anchor[left]", Named("harness.anchor", "left")),
        ("tyre.tread[FL]", Named("tyre.tread", "FL")),
        ("order", Named("order")),
        ("notes.all", Named("notes.all")),
        ("max(a, 3 mm, b)", Call("max", (Named("a"), mm(3), Named("b")))),
        ("if(a, 1, 2)", Call("if", (Named("a"), Amount(1.0, "number", "1"), Amount(2.0, "number", "2")))),
        ("a >= b", Compared(">=", Named("a"), Named("b"))),
        ("a ≤ b", Compared("<=", Named("a"), Named("b"))),
        ("a ≠ b", Compared("!=", Named("a"), Named("b"))),
        ("not a", Denied(Named("a"))),
        ("not a == b", Denied(Compared("==", Named("a"), Named("b")))),
        ("a and b and c", Joined("and", (Named("a"), Named("b"), Named("c")))),
        ("a or b and c", Joined("or", (Named("a"), Joined("and", (Named("b"), Named("c")))))),
        ("(a or b) and c", Joined("and", (Joined("or", (Named("a"), Named("b"))), Named("c")))),
        ("a - b - c", Calculation("-", Calculation("-", Named("a"), Named("b")), Named("c"))),
        ("a + b * c", Calculation("+", Named("a"), Calculation("*", Named("b"), Named("c")))),
        ("-a", Calculation("*", Amount(-1.0, "number", "-1"), Named("a"))),
        ("a\n  and b", Joined("and", (Named("a"), Named("b")))),
        ("100 kW/m", Calculation("/", Amount(100e3, "power", "100 kW"), Named("m"))),
    ],
)
def test_expressions_read_as_they_are_meant(text, expected):
    assert read(text) == expected


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [
        ("-40 °F", "temperature", -40.0),
        ("105 dB(A)", "sound level", 105.0),
        ("350 N/mm2", "pressure", 350e6),
        ("350 N/mm²", "pressure", 350e6),
        ("14.7 kN", "force", 14700.0),
        ("60 cm2", "area", 60e-4),
        ("10 %", "share", 0.1),
        ("45 °", "angle", math.pi / 4.0),
        ("5 lb-ft", "torque", 5 * 0.45359237 * 9.80665 * 0.3048),
        ("2000 cm3", "volume", 2e-3),
    ],
)
def test_figures_are_in_si(text, quantity, value):
    amount = read(text)
    assert amount.quantity == quantity
    assert amount.value == pytest.approx(value, rel=1e-12)
    assert amount.written == text


@pytest.mark.parametrize("quantity", UNITS)
def test_every_unit_with_a_name_of_letters_reads_as_the_edge_reads_it(quantity):
    for unit in UNITS[quantity]:
        if unit.name[:1].isalpha():
            amount = read(f"7 {unit.name}")
            assert amount.value == pytest.approx(parse_quantity(f"7 {unit.name}", amount.quantity), rel=1e-15)


ATTACKS = [
    "__import__('os').system('rm -rf /')",
    "__import__('os')",
    "().__class__",
    "().__class__.__bases__[0].__subclasses__()",
    "''.__class__",
    "'x'.format(a)",
    "car.__class__",
    "car.__class__.__init__.__globals__",
    "lambda: 0",
    "lambda x: x",
    "(lambda: 0)()",
    "f'{car}'",
    "f'{__import__(1)}'",
    '"{0.__class__}".format(a)',
    "[x for x in y]",
    "{1: 2}",
    "{1, 2}",
    "a[0]['b']",
    "a := 3",
    "a = 3",
    "a; b",
    "import os",
    "a if b else c",
    "open('/etc/passwd').read()",
    "a.b()()",
    "a.b().c",
    "x**9**9**9",
    "1 << 99",
    "a @ b",
    "a % b",
    "`ls`",
    "$(ls)",
    "${HOME}",
    "{{ 7 * 7 }}",
    "%(a)s",
    "a\\nb",
    "a # b",
    "yield a",
    "await a",
    "print a",
    "*a",
    "f(*a)",
    "f(a=1)",
    "1e999",
    "0x10",
    "1_000",
    "1j",
    "b'x'",
    "...",
    "a..b",
    ".a",
    "a.",
    "a b",
    "\x00",
    "a\x00",
    "аngle",  # a Cyrillic first letter
    "１ mm",  # a digit of another script
    "'open",
    "a[left",
    "f()",
    "f(,)",
    "f(a,)",
    "A.b",
    "_a",
    "a__b",
    "a_",
]


@pytest.mark.parametrize("text", ATTACKS)
def test_what_tries_to_run_code_or_is_no_expression_is_refused_plainly(text):
    problem = refusal(text)
    assert problem.where.startswith(f"{WHERE}, character ")
    assert problem.found
    assert problem.expected


@pytest.mark.parametrize("name", ["eval", "exec", "open", "getattr", "print"])
def test_names_of_python_are_names_like_any_other_and_no_fact_or_function(name):
    from tintop.rules.checking import check_expression

    with pytest.raises(BadInput, match=f"the function '{name}'"):
        check_expression(read(f"{name}('1')"), {}, WHERE)


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("45 mms", 4, "'mms' is no unit tintop knows. Did you mean mm?"),
        ("45 degres", 4, "Did you mean deg?"),
        ("a = 3", 3, "Write == to compare."),
        ("a && b", 3, "Write and, or, not."),
        ("a > 0,5", 6, "Write a decimal sign as a point"),
        ("1 < a < 3", 7, "join comparisons with and"),
        ("a ** 2", 4, "There are no powers"),
        ('"steel"', 1, "between single quotes"),
        (".5 mm", 1, "such as 0.5"),
        ("a and", 6, "the end of the expression"),
        ("max(a", 6, "a closing bracket )"),
        ("a[left", 7, "a closing bracket ]"),
        ("a[]", 3, "such as [left]"),
        ("__import__('os')", 1, "nothing in it is ever run"),
        ("9" * 400, 1, "a finite figure"),
        ("  a  b", 6, "found 'b'"),
    ],
)
def test_a_refusal_names_the_character_and_the_cure(text, place, words):
    problem = refusal(text)
    assert problem.where == f"{WHERE}, character {place}"
    assert words in str(problem)


@pytest.mark.parametrize(
    "text",
    [
        "not " * 60 + "a",
        "-" * 200 + "a",
        "f(" * 60 + "a" + ")" * 60,
        "+".join(["a"] * 60),
        "/".join(["a"] * 450),
    ],
)
def test_deep_nesting_is_refused(text):
    assert f"{DEEPEST} at most" in refusal(text).expected


@pytest.mark.parametrize("text", ["(" * 499 + "a" + ")" * 499, "a and " * 150 + "a", "- " * 498 + "3 mm"])
def test_brackets_and_long_lists_alone_do_not_nest(text):
    assert depth(read(text)) <= 2


@pytest.mark.parametrize("text", ["(" * 999, ")" * 999, "[" * 999, "f(" * 499, "not " * 249, "'" * 999])
def test_unfinished_repetitions_are_refused(text):
    refusal(text)


def test_what_is_too_long_or_empty_is_refused():
    assert f"{LONGEST:,} at most" in refusal("a" * (LONGEST + 1)).expected
    assert refusal("").found == refusal(" \n ").found == "nothing"


_SIGNS = "()[],+-*/<>=._'§°%\n"
PIECES = st.one_of(
    st.sampled_from(list(_SIGNS)),
    st.sampled_from(
        ["a", "a.b", "x[left]", "45 mm", "'open'", "yes", "and", "or", "not", ">=", "max(", "9e9"]
    ),
)


@given(st.one_of(st.text(max_size=80), st.lists(PIECES, max_size=25).map(" ".join), st.binary().map(repr)))
@example("a[left].b")
@example("9" * 999)
def test_any_text_is_read_or_refused(text):
    try:
        expression = read(text)
    except BadInput as refused:
        assert str(refused)
    else:
        assert depth(expression) <= DEEPEST


_NAMES = st.sampled_from([Named("a.b"), Named("tyre.tread", "FL"), Named("test.is_armed")])
_AMOUNTS = st.builds(
    lambda number, unit: read(f"{number} {unit}"),
    st.integers(-50, 5000),
    st.sampled_from(["mm", "kN", "deg"]),
)
_EXPRESSIONS = st.recursive(
    st.one_of(_NAMES, _AMOUNTS, st.just(Words("seamless")), st.just(Truth(True))),
    lambda inner: st.one_of(
        st.builds(Calculation, st.sampled_from(["+", "-", "*", "/"]), inner, inner),
        st.builds(Compared, st.sampled_from(["<", "<=", "==", "!=", ">=", ">"]), inner, inner),
        st.builds(Denied, inner),
        st.builds(Joined, st.sampled_from(["and", "or"]), st.lists(inner, min_size=2, max_size=3).map(tuple)),
        st.builds(Call, st.sampled_from(["max", "if"]), st.lists(inner, min_size=1, max_size=3).map(tuple)),
    ),
    max_leaves=12,
)


@given(_EXPRESSIONS)
def test_an_expression_written_out_reads_back_as_the_same(expression):
    assert read(write_expression(expression)) == expression


@pytest.mark.parametrize(
    ("text", "cure"),
    [
        ("1,020 kg", "Write 1020 kg, without a comma in it."),
        ("1,020.5 kg", "Write 1020.5 kg, without a comma in it."),
        ("12,345,678", "Write 12345678, without a comma in it."),
        ("1,5 mm", "Write a decimal sign as a point, such as 0.5."),
        ("a AND b", "Write and in small letters."),
        ("NOT a", "Write not in small letters."),
        ("YES", "Write yes in small letters."),
        ("a == ‘steel’", "Write a text between straight single quotes, such as 'steel'."),
        ("8 secs", "'secs' is no unit tintop knows. Did you mean s?"),
    ],
)
def test_what_people_write_is_refused_with_what_to_write_instead(text, cure):
    assert refusal(text).cure == cure


def test_a_sound_level_is_shown_with_its_weighting_however_it_is_written():
    assert {read(text).written for text in ("98 dB", "98 dBA", "98 dB(A)")} == {"98 dB(A)"}
