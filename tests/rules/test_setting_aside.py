"""What proof it takes to set a clause aside: by its condition, by a waiver, by another in its place."""

import pytest

from inspections import EVENT, PHOTOGRAPH, book_text, clause_text, fact_text, found, proven, stack_of
from tintop.rules.evidence import Evidence, Form, Paper
from tintop.rules.findings import Finding, Ruling
from tintop.rules.inspect import inspect

NA, OPEN, PASS, FAIL = Ruling.NOT_APPLICABLE, Ruling.NOT_PROVEN, Ruling.PASS, Ruling.FAIL
PLAIN = fact_text("a.is_plain", "yes or no")
SEEN = fact_text("a.is_seen", "yes or no", "photograph = true")
HEIGHT = fact_text("a.height", "number", 'quantity = "length"\nunit = "mm"')
CERTIFICATE = Paper(digest="1" * 64, name="certificate.pdf", media_type="application/pdf")


def decided(texts: list[str], written: dict[str, tuple[str, Form, tuple[Paper, ...]]]) -> Finding:
    stack, facts = stack_of(*texts)
    one = {
        key: value
        for name, (text, form, papers) in written.items()
        for key, value in proven(facts, {name: text}, form=form, papers=papers).proven.items()
    }
    return found(inspect(stack, facts, Evidence(proven=one, fallen={}), EVENT, EVENT), "rule")


def base(body: str, severity: str = "stops you racing") -> str:
    return book_text(PLAIN, SEEN, HEIGHT, clause_text("rule", body, severity), id="base")


LIMIT = 'value = "a.height"\nat_least = "60 mm"'


@pytest.mark.parametrize(
    ("fact", "form", "papers", "more", "severity", "ruling"),
    [
        ("a.is_seen", Form.WITNESS, (), "", "stops you racing", OPEN),
        ("a.is_seen", Form.RECEIPT, (), "", "stops you racing", OPEN),
        ("a.is_seen", Form.WITNESS, (CERTIFICATE,), "", "stops you racing", OPEN),
        ("a.is_seen", Form.WITNESS, (PHOTOGRAPH,), "", "stops you racing", NA),
        ("a.is_seen", Form.WITNESS, (), "", "must be mended", NA),
        ("a.is_seen", Form.WITNESS, (), 'proof = ["witness"]', "stops you racing", NA),
        ("a.is_plain", Form.WITNESS, (), "", "stops you racing", NA),
        *(
            ("a.is_seen", form, (), "", "stops you racing", NA)
            for form in (Form.MEASUREMENT, Form.PHOTOGRAPH, Form.CERTIFICATE, Form.LABEL, Form.TRIAL)
        ),
    ],
)
def test_a_clause_that_stops_the_car_is_not_set_aside_by_word_alone(
    fact, form, papers, more, severity, ruling
):
    text = base(f'applies_if = "{fact}"\n{more}\n{LIMIT}', severity)
    finding = decided([text], {fact: ("no", form, papers)})
    assert finding.ruling is ruling
    assert finding.leaves_open == (ruling is OPEN)
    if ruling is OPEN:
        assert f"said by {form} only: is_seen" in finding.reason and "photograph" in finding.to_do
        assert [proof.key.fact for proof in finding.evidence] == [fact]


def test_where_a_clause_applies_nobody_asks_how_its_condition_is_known():
    text = base(f'applies_if = "a.is_seen"\n{LIMIT}')
    written = {"a.is_seen": ("yes", Form.WITNESS, ()), "a.height": ("70 mm", Form.MEASUREMENT, ())}
    assert decided([text], written).ruling is PASS


def above(body: str) -> str:
    return book_text(clause_text("more", body), id="top", builds_on=("base",))


@pytest.mark.parametrize(
    ("more", "form", "papers", "is_waived"),
    [
        ("", Form.WITNESS, (), False),
        ("", Form.WITNESS, (PHOTOGRAPH,), True),
        ("", Form.CERTIFICATE, (), True),
        ('proof = ["certificate"]', Form.WITNESS, (), False),
        ('proof = ["certificate"]', Form.PHOTOGRAPH, (PHOTOGRAPH,), False),
        ('proof = ["certificate"]', Form.CERTIFICATE, (), True),
        ('proof = ["witness"]', Form.WITNESS, (), True),
        ("photograph = true", Form.CERTIFICATE, (), False),
        ("photograph = true", Form.CERTIFICATE, (CERTIFICATE,), False),
        ("photograph = true", Form.CERTIFICATE, (PHOTOGRAPH,), True),
    ],
)
@pytest.mark.parametrize("height", ["70 mm", "50 mm", ""])
def test_a_waiver_asks_its_own_proof_of_its_condition(more, form, papers, is_waived, height):
    waiver = above(f'applies_if = "a.is_plain"\n{more}\nwaives = "base:rule"')
    written = {"a.is_plain": ("yes", form, papers)}
    written |= {"a.height": (height, Form.MEASUREMENT, ())} if height else {}
    finding = decided([base(LIMIT), waiver], written)
    stands = {"70 mm": PASS, "50 mm": FAIL, "": OPEN}[height]
    assert finding.ruling is (NA if is_waived else stands)
    if not is_waived and stands is not PASS:
        assert "more: only where is_plain; " in finding.reason  # why the waiver did not help


@pytest.mark.parametrize(
    ("form", "papers", "ruling"),
    [
        (Form.WITNESS, (), FAIL),
        (Form.WITNESS, (PHOTOGRAPH,), PASS),
        (Form.CERTIFICATE, (), PASS),
        (Form.MEASUREMENT, (), PASS),
    ],
)
def test_a_clause_in_another_s_place_needs_more_than_word_of_why(form, papers, ruling):
    milder = above(
        'applies_if = "a.is_plain"\nvalue = "a.height"\nat_least = "40 mm"\nreplaces = "base:rule"'
    )
    written = {"a.is_plain": ("yes", form, papers), "a.height": ("50 mm", Form.MEASUREMENT, ())}
    assert decided([base(LIMIT), milder], written).ruling is ruling


# -- every fact that is judged, by the proof and the photograph asked for --------------------------------

TWO = [fact_text("a.one", "yes or no"), fact_text("a.two", "yes or no")]


@pytest.mark.parametrize(
    ("one", "two", "ruling"),
    [
        ((PHOTOGRAPH,), (PHOTOGRAPH,), PASS),
        ((PHOTOGRAPH,), (), OPEN),
        ((), (PHOTOGRAPH,), OPEN),
        ((PHOTOGRAPH,), (CERTIFICATE,), OPEN),
    ],
)
@pytest.mark.parametrize("check", ['shown = ["a.one", "a.two"]', 'holds = "a.one and a.two"'])
def test_each_fact_judged_has_a_photograph_of_its_own(one, two, ruling, check):
    text = book_text(*TWO, clause_text("rule", f"photograph = true\n{check}"))
    finding = decided(
        [text], {"a.one": ("yes", Form.WITNESS, one), "a.two": ("yes", Form.WITNESS, two)}
    )  # fmt: skip
    assert finding.ruling is ruling
    if ruling is OPEN:
        assert f"no photograph of {'two' if one else 'one'} is kept with it" in finding.reason


MARKED = [fact_text(f"a.{name}", "marked date") for name in ("made", "again", "end")]
LIFE = """
photograph = true
proof = ["certificate"]
[clause.expires]
kind = "extendable once"
marked = "a.made"
years = 5
extended_from = "a.again"
extension_years = 2
"""
SOONER = """
photograph = true
proof = ["certificate"]
[clause.expires]
kind = "end of the year made"
marked = "a.made"
years = 8
earliest_of = ["a.end"]
"""


@pytest.mark.parametrize(
    ("body", "other", "day"), [(LIFE, "a.again", "2025-06-01"), (SOONER, "a.end", "2030-01-01")]
)
@pytest.mark.parametrize(
    ("form", "papers", "ruling"),
    [
        (Form.CERTIFICATE, (PHOTOGRAPH,), PASS),
        (Form.WITNESS, (PHOTOGRAPH,), OPEN),
        (Form.CERTIFICATE, (), OPEN),
    ],
)
def test_what_lengthens_or_shortens_a_life_is_held_to_the_clause_s_proof(
    body, other, day, form, papers, ruling
):
    text = book_text(*MARKED, clause_text("rule", body))
    written = {"a.made": ("2020-06-30", Form.CERTIFICATE, (PHOTOGRAPH,)), other: (day, form, papers)}
    assert decided([text], written).ruling is ruling
