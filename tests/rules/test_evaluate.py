"""Expressions with figures put in: published cases, ± against closed forms, three-valued logic."""

import itertools
import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.rules.evaluate import Given, NotKnownError, decide, figure, needed, number, spread
from tintop.rules.exact import are_equal, compares, excess
from tintop.rules.facts import Bolts, Fact, FactKey, FactKind, Marked, Station, Tube
from tintop.store.rule_books.expressions import parse_expression


def fact(name: str, kind: FactKind, quantity: str = "", each: tuple[str, ...] = ()) -> Fact:
    return Fact(name=name, ask=name, kind=kind, station=Station.CABIN, quantity=quantity, each=each)


KINDS = {
    "a": FactKind.POINT, "b": FactKind.POINT, "length": FactKind.NUMBER, "width": FactKind.NUMBER,
    "treads": FactKind.NUMBERS, "plate": FactKind.OUTLINE, "hoop": FactKind.TUBE, "foot": FactKind.BOLTS,
    "stay": FactKind.BOLTS, "made": FactKind.MARKED, "p": FactKind.YES_NO, "q": FactKind.YES_NO,
    "route": FactKind.TEXT, "drivers": FactKind.NAMES, "pull": FactKind.NUMBER,
}  # fmt: skip
QUANTITIES = {"length": "length", "width": "length", "treads": "length", "pull": "force"}
FACTS = {name: fact(name, kind, QUANTITIES.get(name, "")) for name, kind in KINDS.items()}


def known(errors: dict[str, float] | None = None, **values: object) -> Given:
    return Given(
        values={FactKey(name): value for name, value in values.items()},
        errors={FactKey(name): error for name, error in (errors or {}).items()},
        facts=FACTS,
    )


def value(text: str, given: Given) -> object:
    return figure(parse_expression(text, "value"), given)


def truth(text: str, given: Given, wanted: bool | None = True) -> bool | None:
    return decide(parse_expression(text, "holds"), given, wanted).truth


# Regulations reference, section 3, "Test values": strap runs in mm and their angles in degrees
@pytest.mark.parametrize(
    ("run", "drop", "degrees"),
    [(300, 50, 9.46), (300, 52.9, 10.0004), (250, 250, 45.0), (300, 350, 49.40)],
)
def test_strap_angles(run, drop, degrees):
    points = known(a=(-0.25, 0.35, 0.9), b=(-0.25 - run / 1e3, 0.35, 0.9 - drop / 1e3))
    assert math.degrees(number(parse_expression("angle_below(a, b)", "v"), points)) == pytest.approx(
        degrees, abs=0.005
    )


def test_an_angle_of_points_within_5_mm_is_within_1_35_degrees():
    """Reference, section 3: 7.1/L rad, L = 300 mm."""
    points = known({"a": 0.005, "b": 0.005}, a=(-0.25, 0.35, 0.9), b=(-0.55, 0.35, 0.9))
    assert math.degrees(spread(parse_expression("angle_below(a, b)", "v"), points)) == pytest.approx(
        1.35, abs=0.005
    )


@given(st.floats(0.01, 1.0), st.floats(0.01, 1.0), st.floats(0.0, 0.005), st.floats(0.0, 0.005))
def test_the_spread_of_a_sum_and_a_product_is_the_closed_form(one, other, error, other_error):
    sizes = known({"length": error, "width": other_error}, length=one, width=other)
    total = spread(parse_expression("length + width", "v"), sizes)
    assert total == pytest.approx(math.hypot(error, other_error), rel=1e-6, abs=1e-12)
    area = spread(parse_expression("length * width", "v"), sizes)
    assert area == pytest.approx(math.hypot(error * other, other_error * one), rel=1e-6, abs=1e-12)


def test_errors_of_one_figure_cancel_where_it_stands_on_both_sides():
    sizes = known({"length": 0.001}, length=0.5)
    assert spread(parse_expression("length - length", "v"), sizes) == 0.0


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("area(plate)", 0.012),
        ("bolt_section(stay) / bolt_section(foot)", 2.0 / 3.0),
        ("share(bolt_section(stay), bolt_section(foot))", 2.0 / 3.0),
        ("bolt_count(foot)", 3.0),
        ("bolt_class(foot)", 8.8),
        ("bolt_class(stay)", 0.0),
        ("bolt_diameter(foot)", 0.008),
        ("min(treads)", 0.0049),
        ("max(treads, 6 mm)", 0.006),
        ("mean(treads)", 0.005),
        ("count(treads)", 3.0),
        ("count(drivers)", 2.0),
        ("diameter(hoop)", 0.045),
        ("max(3 mm, wall(hoop))", 0.003),
        ("year(made)", 2014.0),
        ("if(p, 1 mm, 2 mm)", 0.001),
        ("abs(z(b) - z(a))", 0.05),
        ("distance(a, b)", math.hypot(0.3, 0.05)),
        ("angle_from_vertical(a, b)", math.atan2(0.3, 0.05)),
        ("stay_angle(a, b)", math.atan2(0.3, 0.05)),
        ("5 kg * 25 * 9.80665 m/s2", 1225.83125),  # reference T12: 5 kg bottle at 25 g, 1,225.8 N
        ("17 kg * 5 gn", 833.56525),  # reference T12: 17 kg at 5 g, 833.6 N
    ],
)
def test_figures(text, expected):
    given = known(
        a=(-0.25, 0.35, 0.9), b=(-0.55, 0.35, 0.85), plate=((0, 0), (0.12, 0), (0.12, 0.1), (0, 0.1)),
        foot=Bolts(count=3, diameter=0.008, strength_class="8.8"), stay=Bolts(count=2, diameter=0.008),
        treads=(0.0051, 0.0049, 0.005), hoop=Tube(diameter=0.045, wall=0.0025), p=True,
        made=Marked(day=date(2014, 12, 31), precision="year"), drivers=("Robin", "Sam"),
    )  # fmt: skip
    assert value(text, given) == pytest.approx(expected, rel=1e-9)


def test_three_bolts_carry_as_en_1993_says():
    """EN 1993-1-8 table 3.4 with the stress area of M8, 36.6 mm² (ISO 898-1): 0.9 · 800 · 36.6 / 1.25."""
    three = known(foot=Bolts(count=3, diameter=0.008, strength_class="8.8"))
    assert value("bolt_tension(foot)", three) == pytest.approx(3 * 0.9 * 800 * 36.6 / 1.25, rel=1e-3)
    assert value("bolt_shear(foot)", three) == pytest.approx(3 * 0.6 * 800 * 36.6 / 1.25, rel=1e-3)


def test_a_bolt_without_a_mark_has_no_strength():
    with pytest.raises(BadInput, match="without a mark"):
        value("bolt_tension(foot)", known(foot=Bolts(count=3, diameter=0.008)))
    with pytest.raises(BadInput, match="class of ISO 898-1"):
        value("bolt_class(foot)", known(foot=Bolts(count=3, diameter=0.008, strength_class="A2-70")))


def test_only_the_thread_that_is_known_carries():
    """ASME B1.1: 0.1187 in2 of 7/16-20 UNF (from memory); a coarse or unnamed one is not taken for it."""

    def of(thread):
        return known(foot=Bolts(count=1, diameter=0.0111125, strength_class="8.8", thread=thread))

    area = 0.1187 * 0.0254**2
    assert value("bolt_tension(foot)", of("7/16-20 UNF")) == pytest.approx(
        0.9 * 800e6 * area / 1.25, rel=1e-3
    )
    for thread, words in (("7/16-14 UNC", "7/16-14 UNC"), ("", "without pitch or series")):
        with pytest.raises(BadInput, match=words):
            value("bolt_shear(foot)", of(thread))
    fine = known(foot=Bolts(count=1, diameter=0.01, strength_class="8.8", thread="M10x1.25"))
    coarse = known(foot=Bolts(count=1, diameter=0.01, strength_class="8.8"))
    assert value("bolt_tension(foot)", fine) > value("bolt_tension(foot)", coarse)


def test_all_that_is_missing_is_named_at_once():
    with pytest.raises(NotKnownError) as unknown:
        value("area(plate) + length * width", known(length=1.0))
    assert unknown.value.missing == (FactKey("plate"), FactKey("width"))


def test_of_an_if_only_the_chosen_side_is_needed():
    text = parse_expression("if(p, length, width)", "v")
    assert number(text, known(p=True, length=1.0)) == 1.0
    assert needed(text, known(p=True, length=1.0)) == (FactKey("p"), FactKey("length"))
    with pytest.raises(NotKnownError) as unknown:
        number(text, known(length=1.0))
    assert unknown.value.missing == (FactKey("p"),)


@pytest.mark.parametrize("text", ["length / (width - width)", "share(length, 0 m) * 1 m"])
def test_nothing_divides_by_nothing(text):
    with pytest.raises((NotKnownError, BadInput)):
        value(text, known(length=1.0, width=1.0))


STATES = (True, False, None)
AND = {
    (one, other): False if False in (one, other) else None if None in (one, other) else True
    for one, other in itertools.product(STATES, STATES)
}


@pytest.mark.parametrize(("one", "other"), list(AND))
def test_logic_with_an_open_third_value_is_kleenes(one, other):
    """S. C. Kleene, Introduction to Metamathematics, 1952: strong three-valued tables (from memory)."""
    state = known(**{name: state for name, state in (("p", one), ("q", other)) if state is not None})
    assert truth("p and q", state) is AND[one, other]
    either = AND[None if one is None else not one, None if other is None else not other]
    assert truth("p or q", state) is (None if either is None else not either)
    assert truth("not p", state) is (None if one is None else not one)


def test_a_settled_side_needs_no_other():
    assert truth("p or q", known(p=True)) is True
    assert truth("p and q", known(q=False)) is False
    assert decide(parse_expression("p and q", "h"), known(p=True)).missing == (FactKey("q"),)


@pytest.mark.parametrize(
    ("text", "length", "wanted", "expected"),
    [
        ("length >= 60 mm", 0.0605, True, None),  # good, but by less than its ± of 1 mm
        ("length >= 60 mm", 0.0615, True, True),
        ("length >= 60 mm", 0.0595, True, False),  # a miss stays a miss
        ("not length < 60 mm", 0.0605, True, None),
        ("not length < 60 mm", 0.0595, True, False),
        ("length >= 60 mm", 0.0595, None, None),  # whether a clause applies is open either way
        ("length >= 60 mm", 0.0605, None, None),
        ("length >= 60 mm", 0.0585, None, False),
        ("length >= 60 mm", 0.060, True, None),
    ],
)
def test_within_its_error_a_comparison_is_open(text, length, wanted, expected):
    assert truth(text, known({"length": 0.001}, length=length), wanted) is expected


def test_texts_are_compared_as_read():
    assert truth("route == 'Built to  drawings'", known(route="built to drawings")) is True
    assert truth("route != 'drawings'", known(route="drawings")) is False


def test_equal_figures_are_equal():
    assert excess(2 * 0.008**2 / (3 * 0.008**2), 2 / 3) == 0.0
    assert excess(0.1 + 0.2, 0.3) == 0.0
    assert excess(0.05 - 0.02 - 0.03, 0.0) == 0.0
    assert compares(">=", 0.1 + 0.2 - 1e-16, 0.3)
    assert not compares(">", 0.1 + 0.2, 0.3)
    assert compares("==", 0.1 + 0.2, 0.3)


@given(st.floats(1e-6, 1e6), st.floats(1e-8, 1e-2))
def test_what_differs_is_not_equal(limit, by):
    assert not are_equal(limit * (1.0 + by), limit)
    assert excess(limit * (1.0 - by), limit) < 0.0


@given(st.integers(1, 12), st.sampled_from([0.005, 0.006, 0.008, 0.010, 0.012, 0.0111125]))
def test_bolts_against_half_as_many_again_are_exactly_two_thirds(pairs, diameter):
    given = known(
        stay=Bolts(count=2 * pairs, diameter=diameter), foot=Bolts(count=3 * pairs, diameter=diameter)
    )
    assert truth("bolt_section(stay) / bolt_section(foot) == 2 / 3", given) is True
