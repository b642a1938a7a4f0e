"""Slips of the finger: what cannot be, what is asked, and what is let pass."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import book_text, clause_text, fact_text, found, inspected
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.facts import Fact, FactKey, FactKind, Station
from tintop.rules.findings import Ruling
from tintop.rules.plausible import MANY_TIMES, impossible, unlikely, unlikely_among, usual_range
from tintop.rules.writing_facts import read_fact
from tintop.store.rule_books.shipped import shipped_facts

FACTS = shipped_facts()
TODAY = date(2026, 6, 9)
CLEARANCE = FACTS["body.ground_clearance"]


def read(name: str, text: str):
    return read_fact(FACTS[name], text)[0]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("body.ground_clearance", "630 mm"),
        ("harness.bar_tube", "380 x 25 mm"),
        ("cage.main_hoop_tube", "45 x 0.25 mm"),
        ("cage.main_foot_plate", "1280 x 104 mm"),
        ("harness.lap_bolts", "1 x M1.2 8.8"),
        ("tyres.tread_depths", "5.8 59 6.0 mm"),
        ("harness.shoulder_anchor", "-5 -31500 565 mm"),
        ("mass.with_driver", "11040 kg"),
        ("seat.support_thickness", "31 mm"),
    ],
)
def test_a_slip_of_the_finger_is_asked_and_never_refused(name, text):
    value = read(name, text)
    assert "Usual is" in unlikely(FACTS[name], value)
    assert impossible(FACTS[name], value, TODAY) == ""


def test_the_question_names_the_last_and_the_usual():
    said = unlikely(
        CLEARANCE, read("body.ground_clearance", "630 mm"), read("body.ground_clearance", "56 mm")
    )
    assert said == "630 mm? The last was 56 mm; usual is 40 mm to 200 mm."


def test_ten_times_the_last_is_asked_within_what_is_usual_too():
    height = Fact(
        name="a.b", ask="Height", kind=FactKind.NUMBER, station=Station.CABIN, quantity="length", unit="mm"
    )
    assert unlikely(height, 0.63, 0.063) == "630 mm? The last was 63 mm."
    assert unlikely(height, 0.0063, 0.063) == "6.3 mm? The last was 63 mm."
    assert unlikely(height, 0.063) == unlikely(height, 0.063, 0.0) == unlikely(height, 0.07, 0.063) == ""


@given(value=st.floats(0.001, 1e3), share=st.floats(1.01 / MANY_TIMES, MANY_TIMES / 1.01))
def test_a_change_short_of_many_times_is_no_question(value, share):
    plain = Fact(name="a.b", ask="A", kind=FactKind.NUMBER, station=Station.CABIN, quantity="length")
    assert unlikely(plain, value * share, value) == ""
    assert unlikely(plain, value * MANY_TIMES * 1.01, value) and unlikely(plain, value, value * 7.1)


def test_nothing_is_less_than_nothing_but_what_may_be():
    assert impossible(CLEARANCE, read("body.ground_clearance", "-63 mm")) == "-63 mm is less than nothing"
    assert impossible(CLEARANCE, read("body.ground_clearance", "0 mm")) == ""
    assert impossible(FACTS["harness.chest_lean"], read("harness.chest_lean", "-3 deg")) == ""
    assert impossible(FACTS["towing.beyond_outline"], read("towing.beyond_outline", "-30 mm")) == ""
    assert impossible(FACTS["harness.crotch_anchor"], read("harness.crotch_anchor", "-10 -20 -30 mm")) == ""


@pytest.mark.parametrize(("text", "is_to_come"), [("2062-11-25", True), ("2027", True), ("2026", False)])
def test_a_check_is_not_in_the_future_and_an_end_may_be(text, is_to_come):
    checked, end = FACTS["fire.hand_checked"], FACTS["fire.hand_end"]
    value = read("fire.hand_checked", text)
    assert bool(impossible(checked, value, TODAY)) is is_to_come
    assert impossible(end, value, TODAY) == ""
    assert impossible(checked, value) == ""


def test_every_date_that_says_until_when_may_be_to_come_and_no_other():
    ends = {name for name, fact in FACTS.items() if fact.in_future}
    assert all(FACTS[name].kind is FactKind.MARKED for name in ends)
    until = {
        name
        for name, fact in FACTS.items()
        if fact.kind is FactKind.MARKED and name.endswith(("_until", "_end", "not_after", "label"))
    }
    assert ends == until


def test_bounds_stand_on_what_a_slip_could_hurt():
    bounded = [name for name, fact in FACTS.items() if fact.least is not None and fact.most is not None]
    assert len(bounded) >= 60
    for room in ("cage.", "harness.", "seat.", "mass.", "tyres."):
        assert sum(name.startswith(room) for name in bounded) >= 5, room
    assert all(usual_range(FACTS[name]) for name in bounded)


def test_what_is_unlikely_among_evidence_is_told_with_what_was_asked():
    proven = Proven(
        key=FactKey("body.ground_clearance"), value=0.63, form=Form.MEASUREMENT, day=TODAY, written="630 mm"
    )
    told = unlikely_among(FACTS, Evidence(proven={proven.key: proven}, fallen={}))
    assert told == (f"{CLEARANCE.ask}: 630 mm? Usual is 40 mm to 200 mm.",)


WALL = fact_text("a.n", "number", 'quantity = "length"\nunit = "mm"\nforms = ["measurement", "certificate"]')
RULE = 'value = "a.n"\nat_least = "3 mm"'


@pytest.mark.parametrize(
    ("form", "ruling"),
    [
        (Form.MEASUREMENT, Ruling.PASS),
        (Form.CERTIFICATE, Ruling.PASS),
        (Form.WITNESS, Ruling.NOT_PROVEN),
        (Form.RECEIPT, Ruling.NOT_PROVEN),
    ],
)
def test_a_thickness_is_not_proven_by_word_or_receipt(form, ruling):
    text = book_text(WALL, clause_text("rule", RULE))
    one = found(inspected(text, {"a.n": "4 mm"}, form=form), "rule")
    assert one.ruling is ruling
    if ruling is Ruling.NOT_PROVEN:
        assert "measurement or certificate is asked for" in one.reason
        assert "by measurement or certificate" in one.to_do


def test_a_clause_that_names_its_own_forms_overrides_those_of_the_fact():
    text = book_text(WALL, clause_text("rule", f'proof = ["witness"]\n{RULE}'))
    assert found(inspected(text, {"a.n": "4 mm"}, form=Form.WITNESS), "rule").ruling is Ruling.PASS
    assert found(inspected(text, {"a.n": "4 mm"}, form=Form.MEASUREMENT), "rule").ruling is Ruling.NOT_PROVEN
