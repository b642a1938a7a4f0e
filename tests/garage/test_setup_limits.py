"""What a rule book's ground clearance leaves of the ride heights."""

from dataclasses import replace
from datetime import date

import pytest

from short_benches import short_bench
from tintop.car.chassis import End, Item
from tintop.garage.setup_limits import CLEARANCE, legality, limits_of, not_legal_words, too_low
from tintop.questions.best_setup import NOT_CHECKED
from tintop.rules.book import Clause, Limits, Read, RuleBook, Severity
from tintop.rules.evidence import Form, Proven
from tintop.rules.expression import Amount, Named
from tintop.rules.facts import FactKey
from tintop.rules.findings import Finding, Margin, Ruling

BENCH = short_bench()
MM = {"length": "mm"}
DRY = BENCH.setup("dry")  # 128 mm in front, 142 mm behind
_BOOK = RuleBook(id="series", title="S", edition="1", jurisdiction="X", valid_from=date(2026, 1, 1))


def finding(margin, fact=CLEARANCE, error=0.001, ruling=Ruling.FAIL):
    clause = Clause(
        id="clearance",
        group="body",
        title="Ground clearance",
        requirement="60 mm",
        reference="4.6",
        severity=Severity.STOPS,
        read=Read.OWN,
        check=Limits(value=Named(fact), at_least=Amount(0.06, "length", "60 mm")),
    )
    proven = Proven(
        key=FactKey(fact=fact), value=0.056, form=Form.MEASUREMENT, day=date(2026, 6, 1), error=error
    )
    return Finding(
        id="series:clearance",
        clause=clause,
        book=_BOOK,
        ruling=ruling,
        reason="56 mm, limit 60 mm",
        decided_by="series:clearance",
        margin=None if margin is None else Margin(amount=margin, quantity="length", written=""),
        evidence=(proven,),
    )


def least(found, end):
    return found.bounds[Item.RIDE_HEIGHT, end][0]


def asked(*findings, setup=DRY, then=DRY):
    return legality(findings, "Two Hours", BENCH.chassis, lambda _day: then, setup, MM)


def test_a_car_too_low_comes_up_by_what_it_lacks_and_the_measurements_error():
    found = asked(finding(-0.004))
    assert least(found, End.FRONT) == pytest.approx(0.128 + 0.004 + 0.001)
    assert least(found, End.REAR) == pytest.approx(0.142 + 0.005)
    assert found.is_checked
    assert "read on 1 Jun 2026 at 128 mm in front and 142 mm behind (Dry circuit)" in found.sentences[0]
    assert "lacks 5 mm: raise both ends" in found.sentences[-1]


def test_a_car_with_room_may_come_down_by_that_less_the_error():
    found = asked(finding(0.010, ruling=Ruling.PASS))
    assert least(found, End.FRONT) == pytest.approx(0.128 - 0.009)
    assert "may go down by 9 mm at most" in found.sentences[-1]
    assert not_legal_words(found, DRY, BENCH.chassis, MM) == ""


def test_the_reading_belongs_to_the_heights_of_its_day_whichever_set_up_is_asked_about():
    higher = raised(DRY, 0.004)
    found = asked(finding(-0.004), setup=higher)
    assert found.bounds == asked(finding(-0.004)).bounds, "the same heights, whatever stands on the car now"
    assert "lacks 1 mm" in found.sentences[-1]
    (front, rear) = too_low(found, higher, BENCH.chassis)
    assert (front.lift, rear.lift) == (pytest.approx(0.001), pytest.approx(0.001))
    read_higher = asked(finding(-0.004), then=higher)
    assert least(read_higher, End.FRONT) == pytest.approx(0.132 + 0.005)


def test_a_set_up_too_low_is_told_with_both_ends_in_one_job():
    said = not_legal_words(asked(finding(-0.004)), DRY, BENCH.chassis, MM)
    assert said.startswith("Not proven legal: Dry circuit stands too low. Both ends come up as one job, ")
    assert "front 128 mm to 133 mm or more and rear 142 mm to 147 mm or more" in said
    assert not_legal_words(asked(finding(-0.004)), raised(DRY, 0.005), BENCH.chassis, MM) == ""


def test_before_anybody_wrote_a_set_up_down_it_was_read_at_the_heights_of_the_chassis():
    found = asked(finding(-0.004), then=None)
    assert least(found, End.FRONT) == pytest.approx(BENCH.chassis.front.ride_height + 0.005)
    assert "the heights of the chassis document" in found.sentences[0]


def test_the_lower_wheel_of_an_end_counts_and_the_tighter_of_two_clauses():
    left = replace(DRY.corners[0], ride_height=0.125)
    uneven = replace(DRY, corners=(left, *DRY.corners[1:]))
    found = asked(finding(-0.004), finding(-0.001), then=uneven)
    assert least(found, End.FRONT) == pytest.approx(0.125 + 0.005)


def test_a_clearance_that_is_not_proven_bounds_nothing_and_is_told():
    found = asked(finding(None, ruling=Ruling.NOT_PROVEN))
    assert not found.bounds and not found.is_checked
    assert "not proven" in found.sentences[0]


def test_books_that_ask_nothing_of_it_and_no_books_at_all():
    found = asked(finding(-0.004, fact="body.windscreen_film"))
    assert found.is_checked
    assert not found.bounds
    assert not_legal_words(found, DRY, BENCH.chassis, MM) == ""
    assert limits_of(None, None, BENCH) == NOT_CHECKED


def raised(setup, much):
    corners = tuple(replace(one, ride_height=one.ride_height + much) for one in setup.corners)
    return replace(setup, corners=corners)
