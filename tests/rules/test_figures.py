"""Figures as a mechanic reads them."""

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.rules.exact import are_equal
from tintop.rules.facts import Bolts, Fact, FactKind, Marked, Station, Tube, Unreadable
from tintop.rules.figures import write_day, write_difference, write_figure, write_value

DEGREE = math.pi / 180.0


@pytest.mark.parametrize(
    ("value", "quantity", "unit", "error", "text"),
    [
        (12.4123 * DEGREE, "angle", "deg", 1.3 * DEGREE, "12.4° ± 1.3°"),
        (45.0 * DEGREE, "angle", "deg", 0.0, "45°"),
        (-3.81 * DEGREE, "angle", "deg", 1.35 * DEGREE, "-3.8° ± 1.4°"),
        (0.012, "area", "cm2", 0.0, "120 cm²"),
        (1796e-6, "volume", "cm3", 0.0, "1796 cm³"),
        (14700.0, "force", "kN", 0.0, "14.7 kN"),
        (22241.11, "force", "N", 0.0, "22241 N"),
        (350e6, "pressure", "N/mm2", 0.0, "350 N/mm²"),
        (0.6, "share", "%", 0.0, "60 %"),
        (98.5, "sound level", "dB(A)", 1.0, "98.5 dB(A) ± 1.0 dB(A)"),
        (0.0016, "length", "mm", 0.0001, "1.60 mm ± 0.10 mm"),
        (1105.0, "mass", "kg", 5.0, "1105 kg ± 5 kg"),
        (0.4, "electrical resistance", "ohm", 0.0, "0.4 Ω"),
        (25.0, "temperature", "°F", 0.0, "77 °F"),
        (2.0 / 3.0, "number", "", 0.0, "0.6667"),
        (6.0, "number", "", 0.0, "6"),
        (0.0, "length", "mm", 0.0, "0 mm"),
        (-1e-18, "length", "mm", 0.001, "0.0 mm ± 1.0 mm"),
        (0.1, "length", "mm", math.inf, "100 mm (± not known)"),
    ],
)
def test_numbers(value, quantity, unit, error, text):
    assert write_figure(value, quantity, unit, error) == text


def test_a_value_is_never_rounded_onto_a_limit_it_misses():
    assert write_figure(45.0004 * DEGREE, "angle", "deg", 0.0, [45.0 * DEGREE]) == "45.0004°"
    assert write_figure(0.05999, "length", "mm", 0.0, (one for one in [0.06])) == "59.99 mm"
    assert write_figure(0.060, "length", "mm", 0.0, [0.06]) == "60 mm"
    assert write_figure(2685.04999, "number", "", 0.0, [2685.125]) == "2685.05"  # the limit reads 2685


@given(st.floats(1.0, 1e4), st.floats(-1e-3, 1e-3))
def test_two_figures_that_differ_read_differently(limit, by):
    value = limit * (1.0 + by)
    if not math.isclose(value, limit, rel_tol=1e-7):
        assert write_figure(value, "number", "", 0.0, [limit]) != write_figure(limit, "number", "")
    elif are_equal(value, limit):
        assert write_figure(value, "number", "", 0.0, [limit]) == write_figure(value, "number", "")


def test_differences_have_no_offset():
    assert write_difference(5.0, "temperature", "°F") == "9 °F"
    assert write_difference(0.00094, "length", "mm") == "0.94 mm"


def fact(kind: FactKind, quantity: str = "", unit: str = "") -> Fact:
    return Fact(name="a", ask="A", kind=kind, station=Station.CABIN, quantity=quantity, unit=unit)


@pytest.mark.parametrize(
    ("kind", "value", "error", "text"),
    [
        (FactKind.POINT, (-0.25, 0.35, 0.9), 0.005, "-250 350 900 ± 5 mm"),
        (FactKind.TUBE, Tube(diameter=0.04445, wall=0.002413), 0.0, "44.45 x 2.413 mm"),
        (FactKind.BOLTS, Bolts(count=3, diameter=0.008, strength_class="8.8"), 0.0, "3 x M8 8.8"),
        (FactKind.OUTLINE, ((0.0, 0.0), (0.1, 0.0), (0.1, 0.1)), 0.0, "outline of 3 corners"),
        (FactKind.NAMES, ("Robin", "Sam"), 0.0, "Robin, Sam"),
        (FactKind.YES_NO, False, 0.0, "no"),
        (FactKind.MARKED, Marked(day=date(2024, 12, 31), precision="year"), 0.0, "2024"),
        (FactKind.MARKED, Marked(day=date(2024, 3, 31), precision="month"), 0.0, "March 2024"),
        (FactKind.MARKED, Marked(day=date(2024, 3, 5)), 0.0, "5 March 2024"),
        (FactKind.MARKED, Unreadable(), 0.0, "missing or unreadable"),
    ],
)
def test_values_of_every_kind(kind, value, error, text):
    assert write_value(fact(kind), value, error) == text


def test_several_numbers_share_their_unit():
    treads = fact(FactKind.NUMBERS, "length", "mm")
    assert write_value(treads, (0.0051, 0.0049), 0.0002) == "5.1 4.9 ± 0.2 mm"


def test_a_day_is_written_out():
    assert write_day(date(2026, 3, 5)) == "5 March 2026"
