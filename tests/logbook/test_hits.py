"""What counts after a hard hit: what came after it, what no hit changes, what was inspected since."""

from dataclasses import replace

import pytest

from books import Writer, on
from tintop.logbook.book import logbook_of
from tintop.logbook.entries import Area, PartInspected, Withdrawn
from tintop.logbook.proof_entries import AccidentHappened
from tintop.logbook.proof_values import proof_entry
from tintop.logbook.proofs import evidence_of
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import Fact, FactKey, FactKind, Station
from tintop.rules.findings import Finding, Ruling
from tintop.rules.inspect import inspect
from tintop.store.rule_books import load_stack

HIT, EVE, NEXT, TODAY = "2026-06-06", "2026-06-05", "2026-06-07", on("2026-06-09")
KEY = FactKey("hit.height")
HARD = AccidentHappened(what="barrier")


def height(**more) -> Fact:
    return Fact(
        name="hit.height",
        ask="Height",
        kind=FactKind.NUMBER,
        station=Station.CABIN,
        quantity="length",
        **more,
    )


def measured(part: str = ""):
    return proof_entry(height(), "", 0.1, Form.MEASUREMENT, part=part)


def counts(writer: Writer, **more) -> bool:
    evidence = evidence_of(writer.book, {KEY.fact: height(**more)}, TODAY)
    return evidence.proven[KEY].counts_after(evidence.accident)


@pytest.mark.parametrize(
    ("day", "clock", "hit_clock", "is_written_first", "does"),
    [
        (HIT, "", "", False, True),  # looked at before the race, and said after the hit
        (HIT, "", "", True, False),
        (HIT, "15:00", "14:00", True, True),
        (HIT, "13:00", "14:00", False, False),
        (HIT, "14:00", "14:00", False, True),
        (HIT, "15:00", "", True, False),
        (EVE, "", "", False, False),  # written later, and told of the day before
        (EVE, "18:00", "14:00", False, False),
        (NEXT, "", "", True, True),
        (NEXT, "08:00", "14:00", True, True),
    ],
)
def test_of_the_day_of_the_hit_what_came_after_it_counts(day, clock, hit_clock, is_written_first, does):
    writer = Writer()
    writes = [(day, measured(), clock), (HIT, HARD, hit_clock)]
    for each in writes if is_written_first else reversed(writes):
        writer.write(*each)
    assert counts(writer) is does


def test_of_two_hits_on_a_day_the_last_has_to_have_come_before():
    writer = Writer()
    writer.write(HIT, HARD)
    writer.write(HIT, measured())
    assert counts(writer)
    again = writer.write(HIT, HARD)
    assert not counts(writer)
    writer.write(HIT, replace(HARD, is_hard=False), corrects=again)
    assert counts(writer)


def test_a_correction_stands_where_the_entry_stood_whatever_its_clock():
    writer = Writer()
    before = writer.write(HIT, measured())
    hit = writer.write(HIT, HARD)
    writer.write(HIT, measured(), corrects=before)
    assert not counts(writer)
    writer.write(HIT, replace(HARD, what="tyre wall"), "14:00", corrects=hit)
    writer.write(HIT, measured(), "20:00", corrects=3)
    assert not counts(writer)


def test_a_hit_taken_back_leaves_all_as_it_was():
    writer = Writer()
    writer.write(EVE, measured())
    hit = writer.write(HIT, HARD)
    assert not counts(writer)
    writer.write(NEXT, Withdrawn(), corrects=hit)
    assert counts(writer)


def test_what_no_hit_changes_counts_on():
    writer = Writer()
    writer.write(EVE, measured())
    writer.write(HIT, HARD)
    assert counts(writer, lasts_through_accident=True)
    known = Proven(key=KEY, value=0.1, form=Form.CERTIFICATE, day=on(EVE), basis="car.toml")
    for lasts in (True, False):
        facts = {KEY.fact: height(lasts_through_accident=lasts)}
        found = evidence_of(logbook_of(writer.entries[1:]), facts, TODAY, [known])
        assert found.proven[KEY].counts_after(found.accident) is lasts


@pytest.mark.parametrize(
    ("day", "part", "seen", "who", "does"),
    [
        (NEXT, "cage", "no bend, no crack", "Robin", True),
        (HIT, "cage", "no bend, no crack", "Robin", True),
        (EVE, "cage", "no bend, no crack", "Robin", False),
        (NEXT, "cage", " ", "Robin", False),
        (NEXT, "cage", "no bend, no crack", "", False),
        (NEXT, "seat", "no bend, no crack", "Robin", False),
    ],
)
def test_an_inspection_of_its_part_since_the_hit_renews_what_it_will_do_for(day, part, seen, who, does):
    writer = Writer()
    for name in ("cage", "seat"):
        writer.part("2026-01-01", name, area=Area.CABIN)
        writer.fit("2026-01-01", name)
    writer.write(EVE, measured("cage"))
    writer.write(HIT, HARD)
    writer.write(day, PartInspected(part=part, found=seen))
    writer.entries[-1] = replace(writer.entries[-1], who=who)
    assert counts(writer, renewed_by_inspection=True) is does
    assert not counts(writer)


def test_an_inspection_renews_nothing_that_is_recorded_of_no_part():
    writer = Writer()
    writer.part("2026-01-01", "cage", area=Area.CABIN)
    writer.fit("2026-01-01", "cage")
    writer.write(EVE, measured())
    writer.write(HIT, HARD)
    writer.write(NEXT, PartInspected(part="cage", found="no bend"))
    assert not counts(writer, renewed_by_inspection=True)


BOOK = """
[book]
id = "club"
title = "Club"
edition = "2026"
jurisdiction = "invented"
valid_from = 2026-01-01
cautions = ["A working aid."]

[[fact]]
name = "hit.height"
ask = "Height"
kind = "number"
quantity = "length"
unit = "mm"
station = "cabin"
{flag}

[[clause]]
id = "rule"
group = "cage"
title = "Rule"
requirement = "As it says."
reference = "1"
severity = "stops you racing"
known = "own"
renewed_after_accident = true
value = "hit.height"
at_least = "50 mm"
"""


def judged(writer: Writer, flag: str = "") -> Finding:
    stack, facts = load_stack(["club"], {"club": BOOK.format(flag=flag)})
    (finding,) = inspect(stack, facts, evidence_of(writer.book, facts, TODAY), TODAY, TODAY).findings
    return finding


def test_the_inspection_of_the_car_says_what_will_do():
    writer = Writer()
    writer.part("2026-01-01", "cage", area=Area.CABIN)
    writer.fit("2026-01-01", "cage")
    writer.write(EVE, measured("cage"))
    assert judged(writer).ruling is Ruling.PASS
    writer.write(HIT, HARD)
    flag = "renewed_by_inspection = true"
    assert "record it anew: an older record does not count" in judged(writer).to_do
    assert "note the inspection of its part with what was found and by whom" in judged(writer, flag).to_do
    assert judged(writer, "lasts_through_accident = true").ruling is Ruling.PASS
    writer.write(NEXT, PartInspected(part="cage", found="no bend, no crack"))
    assert judged(writer, flag).ruling is Ruling.PASS
    assert judged(writer).ruling is Ruling.NOT_PROVEN
    writer.write(NEXT, measured("cage"))
    assert judged(writer).ruling is Ruling.PASS


def test_what_was_recorded_and_does_not_count_is_not_called_unrecorded():
    writer = Writer()
    assert judged(writer).reason == "Rule: not recorded: Height"
    writer.write(EVE, measured("cage"))
    why = "recorded on Fri 5 June 2026, entry 1, but no part 'cage' is in the logbook"
    assert judged(writer).reason == f"Rule: does not count: Height ({why})"
