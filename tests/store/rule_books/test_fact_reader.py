"""Facts as a book or a shipped file declares them."""

import pytest

from rule_texts import FIRST_LINES
from tintop.errors import BadInput
from tintop.rules.facts import Fact, FactKind, Station
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import facts_of, rule_book_from

DRIVERS = Fact(name="drivers", ask="Drivers", kind=FactKind.NAMES, station=Station.PAPERS)


def fact(**fields):
    lines = {
        "name": '"numbers.door_height"',
        "ask": '"Height of the door numbers"',
        "kind": '"number"',
        "quantity": '"length"',
        "station": '"outside"',
    } | fields
    return "\n[[fact]]\n" + "\n".join(f"{name} = {value}" for name, value in lines.items() if value)


def read(text, facts=None):
    return facts_of(book_text(text, "facts.toml"), facts or {})


def problems(text, facts=None):
    with pytest.raises(BadInput) as refused:
        read(text, facts)
    return refused.value.problems


def test_a_fact_is_read_with_all_its_fields():
    (found,) = read(
        fact(
            unit='"mm"',
            how='"Tape along the figure."',
            each='["left", "right"]',
            error='"1 mm"',
            photograph="true",
        )
    )
    assert found == Fact(
        name="numbers.door_height",
        ask="Height of the door numbers",
        kind=FactKind.NUMBER,
        station=Station.OUTSIDE,
        quantity="length",
        unit="mm",
        how="Tape along the figure.",
        each=("left", "right"),
        error=0.001,
        wants_photograph=True,
    )


@pytest.mark.parametrize("kind", ["point", "outline", "tube"])
def test_what_is_measured_by_length_needs_no_quantity(kind):
    (found,) = read(fact(kind=f'"{kind}"', quantity=None, unit='"mm"', error='"5 mm"'))
    assert (found.quantity, found.error) == ("length", 0.005)


def test_the_error_of_a_temperature_is_a_difference():
    (found,) = read(fact(quantity='"temperature"', unit='"°C"', error='"2 K"'))
    assert found.error == 2.0


def test_instances_may_be_listed_by_a_fact_of_names():
    (found,) = read(fact(each='"drivers"'), {"drivers": DRIVERS})
    assert found.each == "drivers"


WRONG = {
    "a capital": ({"name": '"Numbers.height"'}, "small letters", "name"),
    "a word that is kept": ({"name": '"not.here"'}, "small letters", "name"),
    "two signs": ({"name": '"a__b"'}, "small letters", "name"),
    "a long name": ({"name": f'"{"a" * 81}"'}, "small letters", "name"),
    "a kind there is not": ({"kind": '"nummer"'}, "Did you mean number?", "kind"),
    "a station there is not": ({"station": '"cabine"'}, "Did you mean cabin?", "station"),
    "no quantity": ({"quantity": None}, "no quantity for kind number", None),
    "a quantity there is not": ({"quantity": '"lenght"'}, "Did you mean length?", "quantity"),
    "a quantity of a text": ({"kind": '"text"'}, "'length' for kind text", "quantity"),
    "a tube in kilograms": ({"kind": '"tube"', "quantity": '"mass"'}, "'mass' for kind tube", "quantity"),
    "a unit of another quantity": ({"unit": '"kg"'}, "a length in m, mm", "unit"),
    "a choice of nothing": ({"kind": '"choice"', "quantity": None}, "no choices for kind choice", None),
    "choices of a number": ({"choices": '["a"]'}, "choices for kind number", "choices"),
    "an error in kilograms": ({"error": '"1 kg"'}, "which is a mass", "error"),
    "an error below zero": ({"error": '"-1 mm"'}, "zero or more", "error"),
    "an error of a text": ({"kind": '"text"', "quantity": None, "error": '"1"'}, "a quantity alone", "error"),
    "no instances": ({"each": "[]"}, "a list of short names", "each"),
    "a number of instances": ({"each": "4"}, "a list of short names", "each"),
    "an instance with brackets": ({"each": '["[left]"]'}, "a list of short names", "each"),
    "an instance twice": ({"each": '["left", "left"]'}, "each name once", "each"),
    "instances by nothing": ({"each": '"driver"'}, "a fact of kind names (drivers)", "each"),
    "instances by a number": ({"each": '"numbers.door_height"'}, "a fact of kind names (drivers)", "each"),
    "no question": ({"ask": '" "'}, "the words that ask for it", "ask"),
    "a misspelt field": ({"how_to": '"Tape"'}, "Did you mean how?", "how_to"),
}  # fmt: skip


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong_in_a_fact_is_refused_with_its_line(case):
    fields, words, mark = WRONG[case]
    text = fact(name='"first.one"') + fact(**fields)
    (problem,) = problems(text, {"drivers": DRIVERS})
    assert words in str(problem)
    start = text.rindex("[[fact]]")
    place = text.index(f"{mark} =", start) if mark else start
    assert problem.where.startswith(f"facts.toml line {text[:place].count(chr(10)) + 1}, fact ")


def test_a_fact_declared_twice_is_refused_naming_the_first_line():
    (problem,) = problems(fact() + fact())
    assert "used in line 2 already" in str(problem)


def test_a_fact_that_differs_from_one_declared_elsewhere_is_refused_and_the_same_again_is_not():
    text = FIRST_LINES + fact()
    (declared,) = read(fact())
    again = rule_book_from(book_text(text, "harrow.toml"), {declared.name: declared})
    assert again.facts == (declared,)
    other = FIRST_LINES + fact(unit='"in"')
    with pytest.raises(BadInput, match="declared elsewhere, and differs"):
        rule_book_from(book_text(other, "harrow.toml"), {declared.name: declared})
