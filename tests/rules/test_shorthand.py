"""What a shed writes in short is spelled out one way; what can be read two ways is left as it is."""

from datetime import date

import pytest

from tintop.rules.facts import FactKind
from tintop.rules.shorthand import month_number, spelled_out, year_in_full


@pytest.mark.parametrize(
    "text",
    ["38", "38 x 2.5 x 3 mm", "38 2.5 3 mm", "O38x2.5", "good", "45 x 2.5 mm", "1/3 x 2 mm"],
)
def test_what_is_no_shorthand_stays(text):
    assert spelled_out(FactKind.TUBE, text) == text
    assert spelled_out(FactKind.TEXT, "1 1/2 x 3") == "1 1/2 x 3"


def test_a_stroke_parts_two_figures_unless_it_makes_a_fraction_of_an_inch():
    assert spelled_out(FactKind.TUBE, "38/2 mm") == "38 x 2 mm"
    assert spelled_out(FactKind.TUBE, "7/8 x 1/16 in") == "0.875 x 0.0625 in"


@pytest.mark.parametrize(
    ("text", "number"),
    [("nov", "11"), ("Nov.", "11"), ("november", "11"), ("may", "05"), ("no", ""), ("novel", ""), ("11", "")],
)
def test_a_month_is_known_by_its_name(text, number):
    assert month_number(text) == number


def test_a_month_that_is_none_is_left():
    assert spelled_out(FactKind.MARKED, "2024-novel") == "2024-novel"
    assert spelled_out(FactKind.MARKED, "nov 26") == "nov 26"  # a day, or a year


@pytest.mark.parametrize(
    ("text", "year"),
    [
        ("26", "2026"),
        ("'26", "2026"),
        ("98", "1998"),
        ("34", "2034"),
        ("76", "1976"),
        ("6", "6"),
        ("2026", "2026"),
    ],
)
def test_two_digits_are_the_year_nearest_to_today(text, year):
    assert year_in_full(text, date(2026, 6, 15)) == year
