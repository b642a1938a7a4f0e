"""What an expression gives, and what is refused before any figure is put in."""

import pytest

from tintop.errors import BadInput
from tintop.rules.checking import check_condition, check_expression, facts_named
from tintop.rules.facts import Fact, FactKind, Station
from tintop.rules.functions import FUNCTIONS
from tintop.store.rule_books.expressions import parse_expression

SIDES = ("left", "right")
FACTS = {
    name: Fact(
        name=name, ask=name, kind=kind, station=Station.CABIN, quantity=quantity, each=each, choices=words
    )
    for name, kind, quantity, each, words in (
        ("top", FactKind.POINT, "", SIDES, ()),
        ("anchor", FactKind.POINT, "", SIDES, ()),
        ("hip", FactKind.POINT, "", (), ()),
        ("eye.bore", FactKind.NUMBER, "length", ("front", "rear"), ()),
        ("car.mass", FactKind.NUMBER, "mass", (), ()),
        ("car.power", FactKind.NUMBER, "power", (), ()),
        ("plate", FactKind.OUTLINE, "", (), ()),
        ("pull", FactKind.NUMBER, "force", (), ()),
        ("foot", FactKind.BOLTS, "", (), ()),
        ("hoop", FactKind.TUBE, "", (), ()),
        ("treads", FactKind.NUMBERS, "length", (), ()),
        ("lid.extra", FactKind.NUMBER, "number", (), ()),
        ("lid.opens", FactKind.YES_NO, "", (), ()),
        ("route", FactKind.CHOICE, "", (), ("drawings", "certificate")),
        ("maker", FactKind.TEXT, "", (), ()),
        ("drivers", FactKind.NAMES, "", (), ()),
        ("made", FactKind.MARKED, "", (), ()),
    )
}  # fmt: skip


def sense(text: str):
    return check_expression(parse_expression(text, "value"), FACTS, "value")


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("angle_below(top, anchor)", "angle"),
        ("lap_angle(hip, anchor[left])", "angle"),
        ("distance(top, anchor) + 5 mm", "length"),
        ("car.power / car.mass", "power to mass"),
        ("car.mass / car.power", "mass to power"),
        ("pull / area(plate)", "pressure"),
        ("bolt_section(foot) / bolt_section(foot)", "number"),
        ("min(treads)", "length"),
        ("max(3 mm, wall(hoop))", "length"),
        ("count(treads)", "number"),
        ("count(drivers)", "number"),
        ("if(lid.opens, eye.bore, 60 mm)", "length"),
        ("share(wall(hoop), diameter(hoop))", "number"),
        ("abs(y(top[left]) - y(top[right]))", "length"),
        ("year(made)", "number"),
        ("0.25 * diameter(hoop) * diameter(hoop)", "area"),
        ("car.mass * 25 * 9.80665 m/s2", "force"),
    ],
)
def test_numbers_have_their_quantity(text, quantity):
    assert sense(text).quantity == quantity


@pytest.mark.parametrize(
    "text",
    [
        "lid.extra >= 2 and lid.opens",
        "not lid.opens or route == 'drawings'",
        "eye.bore >= 60 mm",
        "lid.opens == yes",
        "maker != 'unknown'",
        "if(lid.opens, lid.extra > 1, no)",
    ],
)
def test_conditions_are_conditions(text):
    check_condition(parse_expression(text, "holds"), FACTS, "holds")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("angel_below(top, anchor)", ["angel_below", "Did you mean angle_below?"]),
        ("anchors + 1 mm", ["'anchors'", "Did you mean anchor?"]),
        ("anchor[lefft]", ["one of left, right", "Did you mean left?"]),
        ("hip[left]", ["there is one of it"]),
        ("angle_below(top)", ["1 arguments", "angle_below(from, to)"]),
        ("angle_below(top, eye.bore[front])", ["a length", "a point as to"]),
        ("car.mass + eye.bore", ["a mass + a length"]),
        ("treads * 2", ["several numbers", "Take min, max or mean"]),
        ("car.mass > 60 mm", ["a mass against a length"]),
        ("angle_below(top, anchor) > 45", ["an angle against a plain number"]),
        ("lid.opens > yes", ["in order", "== or !="]),
        ("route == 'drawing'", ["one of drawings, certificate", "Did you mean drawings?"]),
        ("top == anchor", ["a point against a point"]),
        ("lid.opens and lid.extra", ["a plain number", "conditions on either side"]),
        ("if(lid.extra, 1, 2)", ["a condition first"]),
        ("if(lid.opens, 1 mm, 2 kg)", ["one kind"]),
        ("if(lid.opens, 1)", ["if(condition, a, b)"]),
        ("min(1 mm, 2 kg)", ["a length beside a mass"]),
        ("area(hoop)", ["a tube", "an outline as outline"]),
        ("treads >= 2 mm", ["Take min or max"]),
        ("distance(top, hip) + eye.bore", ["left, right", "front, rear", "Name one instance"]),
    ],
)  # fmt: skip
def test_nonsense_is_refused_in_plain_words(text, words):
    with pytest.raises(BadInput) as refusal:
        sense(text)
    for word in ("value: found", *words):
        assert word in str(refusal.value)


def test_a_number_is_no_condition():
    with pytest.raises(BadInput, match="which is a mass; expected a condition"):
        check_condition(parse_expression("car.mass", "holds"), FACTS, "holds")


def test_facts_are_named_once_in_order():
    named = facts_named(parse_expression("max(wall(hoop), 3 mm) + wall(hoop) * lid.extra", "x"))
    assert [one.fact for one in named] == ["hoop", "lid.extra"]


@pytest.mark.parametrize("name", FUNCTIONS)
def test_every_function_says_what_it_means(name):
    function = FUNCTIONS[name]
    assert function.name == name
    assert function.meaning
    assert function.formula
    assert function.written.startswith(f"{name}(")
