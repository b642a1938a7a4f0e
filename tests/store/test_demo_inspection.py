"""The demo's car inspected for its next event: what is amiss, and that nothing passes without proof."""

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.garage.inspecting import inspect_car
from tintop.garage.inspection import InspectedCar, inspected_car
from tintop.logbook.book import Logbook, logbook_of
from tintop.logbook.entries import (
    Basis,
    Entry,
    Fate,
    MeetingPlanned,
    PaperAdded,
    PartAdded,
    PartRemoved,
)
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.book import Read
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKey
from tintop.rules.findings import Finding, Ruling
from tintop.rules.inspect import inspect
from tintop.rules.stack import Stack
from tintop.store.demo import demo_path, write_demo
from tintop.store.demo_garage import DemoGarage, demo_garage, shifted_document
from tintop.store.documents import read_car
from tintop.store.exchange.text import logbook_from_text, logbook_to_text
from tintop.store.rule_books.load import load_stack

TODAY = date(2026, 6, 9)
TODAYS = (
    date(2026, 1, 1),
    TODAY,
    date(2026, 12, 18),
    date(2026, 12, 19),
    date(2027, 3, 1),
    date(2028, 2, 29),
    date(2029, 12, 31),
)
BOOK_ENDS = date(2026, 12, 31)  # the United Kingdom's edition
WRONG = {
    "harrow_down_series:ground-clearance": Ruling.FAIL,
    "international:hand-held-date": Ruling.EXPIRES,
    "international:harness-bar-tube": Ruling.NOT_PROVEN,
    "international:shoulder-strap-angle-head-device": Ruling.ADVISED,  # 3.9°, between two recommendations
    "road_drive:airbag-on-the-road": Ruling.ADVISED,
    "road_drive:belts-on-the-road": Ruling.ADVISED,
}


@cache
def garage_on(today: date) -> DemoGarage:
    return demo_garage(today)


@cache
def book_on(today: date) -> Logbook:
    return logbook_of(garage_on(today).entries)


@cache
def stack_on(today: date) -> tuple[Stack, dict[str, Fact]]:
    documents = garage_on(today).documents
    own = {Path(name).stem: text for name, text in documents.items() if name.startswith("rule_books/")}
    return load_stack(larkmoor(book_on(today)).rule_books, own)


def larkmoor(book: Logbook) -> MeetingPlanned:
    (meeting,) = [each for _, each in book.of(MeetingPlanned) if each.meeting == "larkmoor"]
    return meeting


@cache
def found_on(today: date) -> InspectedCar:
    return found_in(book_on(today), today)


def found_in(book: Logbook, today: date) -> InspectedCar:
    stack, facts = stack_on(today)
    event = larkmoor(book)
    car = read_car(demo_path("car.toml"))
    return inspected_car(book, stack, facts, car, today, event.first_day, event.last_day, today)


def by_id(found: tuple[Finding, ...]) -> dict[str, Finding]:
    return {finding.id: finding for finding in found}


def amiss(found: tuple[Finding, ...]) -> dict[str, Ruling]:
    """What is neither met, nor met and unverified, nor aside."""
    fine = (Ruling.PASS, Ruling.NOT_APPLICABLE)
    return {one.id: one.ruling for one in found if one.ruling not in fine and not one.is_unverified}


# -- what is wrong with it ----------------------------------------------------------------------------


@pytest.mark.parametrize("today", TODAYS, ids=str)
def test_on_any_day_the_same_six_things_are_amiss_and_later_the_edition_too(today: date) -> None:
    findings = found_on(today).inspection.findings
    late = larkmoor(book_on(today)).last_day > BOOK_ENDS
    edition = {"united_kingdom_club:in-force": Ruling.NOT_PROVEN} if late else {}
    assert amiss(findings) == WRONG | edition
    counts = Counter(finding.ruling for finding in findings)
    assert counts[Ruling.PASS] >= 150
    assert counts[Ruling.NOT_APPLICABLE] >= 50
    assert len(findings) == sum(counts.values()) >= 269


def test_each_thing_amiss_says_what_to_do_and_how_far_off_it_is() -> None:
    findings = by_id(found_on(TODAY).inspection.findings)
    for id in WRONG:
        assert findings[id].to_do, id
    low = findings["harrow_down_series:ground-clearance"]
    assert low.margin is not None and low.margin.amount == pytest.approx(-0.004)
    assert low.stops_racing and "platforms" in low.to_do
    (proof,) = low.evidence
    assert proof.form is Form.MEASUREMENT and proof.instrument and proof.error == 0.001
    late = findings["international:hand-held-date"]
    assert late.expires == date(2026, 6, 16)
    assert late.stops_racing
    open_ = findings["international:harness-bar-tube"]
    assert open_.missing == (FactKey("harness.bar_tube"),)
    assert open_.leaves_open and "ultrasound" in open_.to_do


@pytest.mark.parametrize("today", TODAYS, ids=str)
def test_what_expires_is_good_today_and_not_on_the_day_of_the_event(today: date) -> None:
    finding = by_id(found_on(today).inspection.findings)["international:hand-held-date"]
    assert finding.expires is not None
    assert today <= finding.expires < larkmoor(book_on(today)).first_day


def test_figures_from_memory_are_met_by_what_is_on_record_and_stay_unverified() -> None:
    findings = found_on(TODAY).inspection.findings
    unverified = [finding for finding in findings if finding.is_unverified]
    assert len(unverified) >= 40
    for finding in unverified:
        assert finding.ruling is Ruling.NOT_PROVEN and not finding.missing, finding.id
        assert finding.clause.read is Read.MEMORY and finding.clause.verified_on is None, finding.id
        assert finding.evidence, finding.id


def test_evidence_is_of_every_form_and_says_with_what_it_was_measured() -> None:
    proofs = [(entry, proof) for entry, proof in book_on(TODAY).of(ProofRecorded)]
    assert {proof.form for _, proof in proofs} == {form.value for form in Form}
    for entry, proof in proofs:
        assert entry.who
        assert proof.form != "measurement" or entry.instrument, proof
    papers = {paper.digest for _, paper in book_on(TODAY).of(PaperAdded)}
    assert {digest for _, proof in proofs for digest in proof.papers} <= papers
    kept = {fact.name for fact in stack_on(TODAY)[1].values()}
    assert {proof.fact for _, proof in proofs} <= kept


def test_parts_lives_by_rule_end_when_their_labels_do() -> None:
    """Within a month: a life is counted in days from the day made, a label in months or years."""
    findings = by_id(found_on(TODAY).inspection.findings)
    added = {part.part: part for _, part in book_on(TODAY).of(PartAdded)}
    for part, clause in (
        ("seat", "international:seat-month-label"),
        ("harness", "international:harness-date"),
        ("extinguisher", "international:system-date"),
        ("hand-extinguisher", "international:hand-held-date"),
        ("head-device", "international:tether-age"),
    ):
        (limit,) = [limit for limit in added[part].limits if limit.basis is Basis.RULE]
        made = added[part].made
        assert made is not None
        assert abs((findings[clause].expires - made).days - limit.limit) <= 1, part
        assert added[part].list_price_cents, part


# -- nothing passes without its proof -----------------------------------------------------------------


@cache
def requirements_of() -> dict[str, tuple[int, ...]]:
    """Which requirements name a fact; each is judged by itself."""
    found: dict[str, list[int]] = {}
    for place, requirement in enumerate(stack_on(TODAY)[0].requirements):
        for name in {fact for placed in requirement.placed for fact in placed.clause.facts}:
            found.setdefault(name, []).append(place)
    every = range(len(stack_on(TODAY)[0].requirements))
    return {name: tuple(places) for name, places in found.items()} | {"drivers": tuple(every)}


def proofs() -> list[tuple[Entry, ProofRecorded]]:
    return list(book_on(TODAY).of(ProofRecorded))


def without(key: FactKey) -> dict[str, Finding]:
    """The findings that speak of a fact, once its proof is gone."""
    stack, facts = stack_on(TODAY)
    evidence = found_on(TODAY).evidence
    few = replace(
        stack, requirements=tuple(stack.requirements[place] for place in requirements_of()[key.fact])
    )
    gone = replace(evidence, proven={one: proof for one, proof in evidence.proven.items() if one != key})
    event = larkmoor(book_on(TODAY))
    return by_id(inspect(few, facts, gone, event.first_day, event.last_day).findings)


def test_no_clause_passes_or_is_better_off_without_any_one_proof() -> None:
    """Exhaustive: every proof of the demo taken away once."""
    before = by_id(found_on(TODAY).inspection.findings)
    idle = []
    for _, proof in proofs():
        key = FactKey(proof.fact, proof.each)
        after = without(key)
        for id, finding in after.items():
            rested = key in {one.key for one in before[id].evidence}
            if finding.ruling is Ruling.PASS:
                assert before[id].ruling is Ruling.PASS and not rested, (key, id)
            elif rested and finding.ruling is Ruling.NOT_APPLICABLE:
                assert before[id].ruling is Ruling.NOT_APPLICABLE, (key, id)  # another condition says so too
            elif rested:
                assert finding.ruling is Ruling.NOT_PROVEN and not finding.is_unverified, (key, id)
        if not any(key in {one.key for one in finding.evidence} for finding in before.values()):
            idle.append(key)
    assert idle == []


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_without_an_entry_of_the_book_its_clauses_are_not_proven(data: st.DataObject) -> None:
    entry, proof = data.draw(st.sampled_from(proofs()))
    book = logbook_of(each for each in book_on(TODAY).entries if each.number != entry.number)
    before = by_id(found_on(TODAY).inspection.findings)
    after = by_id(found_in(book, TODAY).inspection.findings)
    key = FactKey(proof.fact, proof.each)
    for id, finding in after.items():
        if key in {one.key for one in before[id].evidence}:
            assert finding.ruling in (Ruling.NOT_PROVEN, before[id].ruling), (key, id)
            assert finding.ruling is not Ruling.PASS, (key, id)
        else:
            assert finding.ruling is before[id].ruling, (key, id)


@pytest.mark.parametrize(
    "part", ["tow-eye-front", "harness", "seat", "cage-main-hoop", "helmet", "window-net", "tyres-race-3"]
)
def test_a_part_taken_off_takes_its_proof_with_it(part: str) -> None:
    entries = book_on(TODAY).entries
    off = Entry(
        number=len(entries) + 1,
        key="off",
        day=TODAY - timedelta(days=1),
        who="owner",
        written_at=f"{TODAY - timedelta(days=1)}T21:00:00Z",
        matter=PartRemoved(part=part, fate=Fate.KEPT),
    )
    found = found_in(logbook_of((*entries, off)), TODAY)
    gone = {FactKey(proof.fact, proof.each) for _, proof in proofs() if proof.part == part}
    assert gone and not gone & found.evidence.proven.keys()
    before = by_id(found_on(TODAY).inspection.findings)
    for id, finding in by_id(found.inspection.findings).items():
        if gone & {one.key for one in before[id].evidence}:
            assert finding.ruling is not Ruling.PASS, id


# -- as files, and there and back ---------------------------------------------------------------------


def test_inspected_from_files_the_same_is_amiss(tmp_path: Path) -> None:
    write_demo(tmp_path)
    books = ("road_drive", "larkmoor_bulletin")
    evidence = tmp_path / "evidence.toml"
    found = inspect_car(tmp_path / "car.toml", books, date(2026, 6, 20), evidence=evidence, today=TODAY)
    assert found.notices == ()
    assert amiss(found.inspection.findings) == WRONG
    in_garage = by_id(found_on(TODAY).inspection.findings)
    for finding in found.inspection.findings:
        assert finding.ruling is in_garage[finding.id].ruling, finding.id


@pytest.mark.parametrize("today", [TODAY, date(2029, 12, 31)], ids=str)
def test_the_book_goes_out_and_in_and_out_again_unchanged(today: date) -> None:
    entries = garage_on(today).entries
    text = logbook_to_text(entries)
    back = logbook_from_text(text, "logbook.toml")
    assert back == entries
    assert logbook_to_text(back) == text


def test_labels_of_a_year_or_a_month_bear_the_last_day_of_it() -> None:
    for today in TODAYS:
        for _, proof in book_on(today).of(ProofRecorded):
            if proof.marked_to == "year":
                assert (proof.marked.month, proof.marked.day) == (12, 31)
            elif proof.marked_to == "month":
                assert (proof.marked + timedelta(days=1)).day == 1


def test_the_invented_books_are_in_force_at_their_event_and_no_standard_s_date_moves() -> None:
    for today in TODAYS:
        event = larkmoor(book_on(today))
        books = {book.id: book for book in stack_on(today)[0].books}
        for id in ("harrow_down_series", "larkmoor_bulletin"):
            assert books[id].valid_from <= event.first_day <= event.last_day <= books[id].valid_to
        assert books["united_kingdom_club"].valid_to == BOOK_ENDS
    text = 'valid_from = 2026-01-01\ndate = "2026-06-20"\nuntil = { "SA2015" = 2023-12-31 }\n'
    moved = shifted_document(text, timedelta(weeks=1))
    assert moved == 'valid_from = 2026-01-08\ndate = "2026-06-27"\nuntil = { "SA2015" = 2023-12-31 }\n'
