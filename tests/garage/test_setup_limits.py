"""What a rule book's ground clearance leaves of the ride heights."""

from dataclasses import replace
from datetime import date

import pytest

from short_benches import short_bench
from tintop.car.chassis import End, Item
from tintop.garage.setup_limits import CLEARANCE, legality, limits_of
from tintop.questions.best_setup import NOT_CHECKED
from tintop.rules.book import Clause, Limits, Read, RuleBook, Severity
from tintop.rules.evidence import Form, Proven
from tintop.rules.expression import Amount, Named
from tintop.rules.facts import FactKey
from tintop.rules.findings import Finding, Margin, Ruling

BENCH = short_bench()
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


def test_a_car_too_low_comes_up_by_what_it_lacks_and_the_measurements_error():
    found = legality([finding(-0.004)], "Two Hours", BENCH.chassis, DRY)
    assert least(found, End.FRONT) == pytest.approx(0.128 + 0.004 + 0.001)
    assert least(found, End.REAR) == pytest.approx(0.142 + 0.005)
    assert found.is_checked
    assert "not legal: both ends come up by 5 mm" in found.sentences[0]


def test_a_car_with_room_may_come_down_by_that_less_the_error():
    found = legality([finding(0.010, ruling=Ruling.PASS)], "Two Hours", BENCH.chassis, DRY)
    assert least(found, End.FRONT) == pytest.approx(0.128 - 0.009)
    assert "down by 9 mm at most" in found.sentences[0]


def test_the_lower_wheel_of_an_end_counts_and_the_tighter_of_two_clauses():
    left = replace(DRY.corners[0], ride_height=0.125)
    uneven = replace(DRY, corners=(left, *DRY.corners[1:]))
    found = legality([finding(-0.004), finding(-0.001)], "Two Hours", BENCH.chassis, uneven)
    assert least(found, End.FRONT) == pytest.approx(0.125 + 0.005)


def test_a_clearance_that_is_not_proven_bounds_nothing_and_is_told():
    found = legality([finding(None, ruling=Ruling.NOT_PROVEN)], "Two Hours", BENCH.chassis, DRY)
    assert not found.bounds
    assert "not proven" in found.sentences[0]


def test_books_that_ask_nothing_of_it_and_no_books_at_all():
    asked = legality([finding(-0.004, fact="body.windscreen_film")], "Two Hours", BENCH.chassis, DRY)
    assert asked.is_checked
    assert not asked.bounds
    assert limits_of(None, None, BENCH.chassis, DRY) == NOT_CHECKED
