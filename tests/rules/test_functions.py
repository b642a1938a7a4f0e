"""Classes of bolts: only those of ISO 898-1 are numbers to be set against one another."""

import pytest

from inspections import EVENT, book_text, clause_text, fact_text, found, stack_of
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.facts import Bolts, FactKey
from tintop.rules.findings import Ruling
from tintop.rules.functions import FUNCTIONS
from tintop.rules.inspect import inspect

BOLTED = book_text(fact_text("a.bolts", "bolts"), clause_text("rule", 'holds = "bolt_class(a.bolts) >= 8.8"'))


@pytest.mark.parametrize(
    ("mark", "ruling"),
    [
        ("", Ruling.FAIL),
        *((mark, Ruling.FAIL) for mark in ("4.6", "4.8", "5.6", "5.8", "6.8")),
        *((mark, Ruling.PASS) for mark in ("8.8", "9.8", "10.9", "12.9")),
        *((mark, Ruling.NOT_PROVEN) for mark in ("99.9", "8.9", "1.0", "A2-70", "A4-80", "Grade 8", "x.y")),
    ],
)  # fmt: skip
def test_a_mark_that_is_no_class_says_nothing_of_strength(mark, ruling):
    stack = inspected_with(Bolts(count=2, diameter=0.01, strength_class=mark))
    assert found(stack, "rule").ruling is ruling


def inspected_with(bolts: Bolts):
    stack, facts = stack_of(BOLTED)
    key = FactKey("a.bolts")
    proof = Proven(key=key, value=bolts, form=Form.MEASUREMENT, day=EVENT, entry=1)
    return inspect(stack, facts, Evidence(proven={key: proof}, fallen={}), EVENT, EVENT)


def test_every_function_says_what_it_means_and_how():
    assert all(function.meaning and function.formula and function.written for function in FUNCTIONS.values())
