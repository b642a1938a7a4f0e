"""The verdict follows the worst clause, and nothing is legal that was not inspected."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findings_by_hand import BOOK, clause, finding, inspection, millimetres, proven
from tintop.answer import Verdict
from tintop.logbook.entries import MeetingPlanned
from tintop.questions.is_it_legal import CAUTIONS, MOST_REASONS, is_it_legal
from tintop.rules.book import Read, Severity
from tintop.rules.facts import FactKey
from tintop.rules.findings import Margin, Ruling
from tintop.store.answers import answer_from_text, answer_to_text

SUMMER = MeetingPlanned(
    meeting="summer",
    name="Midsummer Hours",
    first_day=date(2026, 6, 20),
    last_day=date(2026, 6, 21),
)
MET = finding("seat", Ruling.PASS, evidence=(proven("seat.label"),), margin=millimetres(4.0, 0.1))
MISSING = (FactKey("fire.kind"),)


def test_without_a_rule_book_nothing_is_proven():
    for answer in (is_it_legal(), is_it_legal(SUMMER)):
        assert answer.verdict is Verdict.NOT_PROVEN
        assert answer.sentence.startswith("Not proven: no rule book is named for ")
        assert answer.cautions == CAUTIONS
        assert "Name the rule books" in answer.next_thing
    assert "Midsummer Hours" in is_it_legal(SUMMER).sentence


@pytest.mark.parametrize(
    ("findings", "verdict"),
    [
        ((MET,), Verdict.YES),
        ((MET, finding("a", Ruling.FAIL)), Verdict.NO),
        ((MET, finding("a", Ruling.EXPIRES), finding("b", Ruling.NOT_PROVEN)), Verdict.NO),
        ((MET, finding("a", Ruling.NOT_PROVEN)), Verdict.NOT_PROVEN),
        ((MET, finding("a", Ruling.FAIL, Severity.MEND)), Verdict.CLOSE),
        ((MET, finding("a", Ruling.EXPIRES, Severity.MEND)), Verdict.CLOSE),
        ((MET, finding("a", Ruling.NOT_PROVEN, Severity.MEND)), Verdict.CLOSE),
        ((MET, finding("a", Ruling.ADVISED, Severity.ADVICE)), Verdict.CLOSE),
        ((MET, finding("a", Ruling.ADVISED)), Verdict.CLOSE),
        ((MET, finding("a", Ruling.NOT_PROVEN, Severity.ADVICE)), Verdict.YES),
        ((MET, finding("a", Ruling.NOT_APPLICABLE)), Verdict.YES),
        ((finding("a", Ruling.NOT_APPLICABLE),), Verdict.NOT_PROVEN),
        ((), Verdict.NOT_PROVEN),
    ],
)
def test_the_verdict_follows_the_worst_clause(findings, verdict):
    answer = is_it_legal(SUMMER, inspection(*findings))
    assert answer.verdict is verdict
    assert answer.sentence.endswith(".") and ".." not in answer.sentence
    assert answer.next_thing


@given(st.lists(st.tuples(st.sampled_from(Ruling), st.sampled_from(Severity)), max_size=30))
def test_never_yes_with_anything_that_stops_or_may_stop_the_car(kinds):
    findings = [finding(f"c{place}", ruling, severity) for place, (ruling, severity) in enumerate(kinds)]
    answer = is_it_legal(SUMMER, inspection(*findings))
    stops = [pair for pair in kinds if pair[1] is Severity.STOPS]
    is_missed = any(ruling in (Ruling.FAIL, Ruling.EXPIRES) for ruling, _ in stops)
    is_open = any(ruling is Ruling.NOT_PROVEN for ruling, _ in stops)
    assert (answer.verdict is Verdict.NO) == is_missed
    if is_open or not any(ruling is not Ruling.NOT_APPLICABLE for ruling, _ in kinds):
        assert answer.verdict in (Verdict.NO, Verdict.NOT_PROVEN)
    if answer.verdict is Verdict.YES:
        assert not is_missed and not is_open
    assert answer_from_text(answer_to_text(answer)) == answer
    counted = {figure.name: figure.value for figure in answer.figures}
    assert counted["clauses that stop you racing"] == sum(
        ruling in (Ruling.FAIL, Ruling.EXPIRES) for ruling, _ in stops
    )


def test_books_that_hold_only_some_figures_make_no_car_legal():
    partial = replace(BOOK, is_partial=True)
    found = replace(inspection(MET), books=(partial,))
    answer = is_it_legal(SUMMER, found)
    assert answer.verdict is Verdict.NOT_PROVEN
    words = f"this book holds only some figures ({len(partial.clauses)} clause"
    assert words in answer.sentence and words in answer.why[-1]
    assert "regulations themselves" in answer.next_thing
    beside = is_it_legal(SUMMER, replace(found, books=(BOOK, partial)))
    assert beside.verdict is Verdict.YES
    missed = replace(inspection(MET, finding("a", Ruling.FAIL, Severity.MEND)), books=(partial, partial))
    assert is_it_legal(SUMMER, missed).verdict is Verdict.NOT_PROVEN
    assert "these books hold only some figures" in is_it_legal(SUMMER, missed).sentence
    stopped = replace(inspection(MET, finding("a", Ruling.FAIL)), books=(partial,))
    assert is_it_legal(SUMMER, stopped).verdict is Verdict.NO


HOSE = "Brake hoses, FL: chafed, braid showing"


@pytest.mark.parametrize(
    ("findings", "verdict"),
    [
        ((MET,), Verdict.NOT_PROVEN),
        ((MET, finding("a", Ruling.ADVISED)), Verdict.NOT_PROVEN),
        ((MET, finding("a", Ruling.NOT_PROVEN)), Verdict.NOT_PROVEN),
        ((MET, finding("a", Ruling.FAIL)), Verdict.NO),
        ((), Verdict.NOT_PROVEN),
    ],
)
def test_what_is_known_broken_and_on_the_car_is_never_legal_and_told_first(findings, verdict):
    answer = is_it_legal(SUMMER, replace(inspection(*findings), broken=(HOSE,)))
    assert answer.verdict is verdict
    words = f"Known broken and still on the car: {HOSE}; a scrutineer may stop the car for it."
    assert answer.sentence.endswith(words) and answer.why[0] == words
    assert answer.working["known_broken"] == [HOSE]
    assert ("Mend or replace what is broken" in answer.next_thing) == (verdict is Verdict.NOT_PROVEN)


def test_unverified_figures_are_told_apart_from_missing_evidence():
    unverified = finding(
        "tether", Ruling.NOT_PROVEN, on=clause("tether", read=Read.MEMORY), is_unverified=True
    )
    near = finding("lap-angle", Ruling.NOT_PROVEN, reason="Lap angle: too near the limit to say")
    without = finding("extinguisher", Ruling.NOT_PROVEN, missing=MISSING, to_do="Read its label.")
    only = is_it_legal(SUMMER, inspection(MET, unverified))
    assert only.sentence.startswith("Not proven: 1 clause met only by unverified figures; first tether:")
    assert only.why == ("not proven: 1 clause met only by figures from memory: tether (art. 6)",)
    all_three = is_it_legal(SUMMER, inspection(MET, near, unverified, without))
    assert [each.split(": ")[1] for each in all_three.why[:2]] == ["extinguisher", "lap angle"]
    assert all_three.why[2:] == only.why
    assert all_three.next_thing == "Read its label."
    assert all_three.sentence == (
        "Not proven: 1 clause that may stop you racing has no evidence; "
        "1 clause met only by unverified figures; 1 clause cannot be decided by what was recorded; "
        "first extinguisher: it is not proven."
    )


def test_reasons_come_worst_first_with_number_book_and_edition():
    answer = is_it_legal(
        SUMMER,
        inspection(
            finding("decal", Ruling.FAIL, Severity.MEND, to_do="Print it."),
            finding("padding", Ruling.ADVISED, Severity.ADVICE),
            finding("belts", Ruling.EXPIRES, to_do="Fit new belts."),
            finding("net", Ruling.NOT_PROVEN, missing=MISSING),
            MET,
        ),
    )
    assert [reason.split(":")[1].strip() for reason in answer.why] == ["belts", "net", "decal", "padding"]
    assert answer.why[0].endswith(f"(art. 5, {BOOK.title}, {BOOK.edition})")
    assert answer.next_thing == "Fit new belts."
    assert answer.works == (f"{BOOK.title}, {BOOK.edition}",)
    assert answer.cautions == (*BOOK.cautions, *CAUTIONS)


def test_a_long_list_of_reasons_says_how_many_more():
    many = [finding(f"c{place}", Ruling.NOT_PROVEN) for place in range(20)]
    why = is_it_legal(SUMMER, inspection(*many)).why
    assert len(why) == MOST_REASONS + 1
    assert why[-1] == f"and {20 - MOST_REASONS} more, in the inspection"


def test_a_clause_missed_by_a_figure_from_memory_says_so():
    missed = finding("post", Ruling.FAIL, on=clause("post", read=Read.MEMORY))
    assert is_it_legal(SUMMER, inspection(missed)).why[0].endswith("figure from memory, not verified)")


def test_what_is_counted_is_never_the_nearest_margin():
    counted = finding(
        "straps", Ruling.PASS, margin=Margin(amount=0.0, quantity="number", written="0", share=0.0)
    )
    assert "nearest seat, 4 mm" in is_it_legal(SUMMER, inspection(MET, counted)).sentence


def test_nearest_margin_and_first_expiry_stand_as_figures():
    belts = finding("belts", Ruling.PASS, expires=date(2026, 12, 31))
    helmet = finding("helmet", Ruling.PASS, expires=date(2026, 8, 1))
    gone = finding("gone", Ruling.EXPIRES, Severity.ADVICE, expires=date(2026, 1, 1))
    tight = finding("wall", Ruling.PASS, margin=millimetres(0.1, 0.04))
    answer = is_it_legal(SUMMER, inspection(MET, belts, helmet, gone, tight))
    figures = {figure.name: figure for figure in answer.figures}
    assert figures["nearest margin: wall"].value == pytest.approx(1e-4)
    assert figures["nearest margin: wall"].unit == "m"
    runs_out = figures["from the event to the first date that runs out: helmet"]
    assert (runs_out.value, runs_out.unit) == (41.0, "d")
    assert answer.verdict is Verdict.CLOSE
    yes = is_it_legal(SUMMER, inspection(MET, tight))
    assert yes.sentence == (
        "Legal for Midsummer Hours by the books inspected: 2 clauses met, each with its proof; "
        "nearest wall, 0.1 mm."
    )


def test_the_working_holds_every_clause_with_what_it_rests_on():
    answer = is_it_legal(SUMMER, inspection(MET, finding("net", Ruling.NOT_PROVEN, missing=MISSING)))
    net, seat = answer.working["clauses"]
    assert net["missing"] == ["fire.kind"] and net["verdict"] == "not proven"
    assert seat["evidence"][0] == {
        "fact": "seat.label", "form": "label", "day": "2026-05-01", "who": "owner", "written": "", "entry": 7,
        "basis": "", "papers": [],
    }  # fmt: skip
    assert answer.working["books"][0]["digest"] == BOOK.digest
