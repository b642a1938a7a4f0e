"""What runs out before which event of a season."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import book_text, clause_text, fact_text, inspected
from tintop.rules.time_line import EventDays, due_dates, missed

BOOK = book_text(
    fact_text("belt.label", "marked date"),
    fact_text("bottle.check", "marked date"),
    fact_text("bottle.end", "marked date"),
    fact_text("helmet.made", "marked date", 'each = ["Robin", "Sam"]'),
    clause_text(
        "belt", '[clause.expires]\nkind = "end of the label\'s year"\nmarked = "belt.label"', title="Harness"
    ),
    clause_text(
        "bottle",
        '[clause.expires]\nkind = "to the day"\nmarked = "bottle.check"\nmonths = 24\n'
        'earliest_of = ["bottle.end"]',
        title="Extinguisher",
    ),
    clause_text(
        "helmet",
        '[clause.expires]\nkind = "end of the year made"\nmarked = "helmet.made"\nyears = 10',
        title="Helmet",
    ),
)
WRITTEN = {
    "belt.label": "2026", "bottle.check": "2024-11-25", "bottle.end": "2026-08-31",
    "helmet.made[Robin]": "2015", "helmet.made[Sam]": "2020",
}  # fmt: skip


def event(name: str, first: date, last: date | None = None) -> EventDays:
    return EventDays(name=name, first_day=first, last_day=last or first)


SEASON = (
    event("Autumn", date(2026, 10, 3), date(2026, 10, 4)),
    event("Spring", date(2026, 4, 11)),
    event("Summer", date(2026, 8, 30), date(2026, 9, 1)),
    event("Next spring", date(2027, 4, 10)),
)


def test_each_item_says_its_last_good_day_and_the_event_it_misses():
    due = due_dates(inspected(BOOK, WRITTEN), SEASON)
    told = [(one.title, one.each, one.last_good_day, one.before and one.before.name) for one in due]
    assert told == [
        ("Helmet", "Robin", date(2025, 12, 31), "Spring"),
        ("Extinguisher", "", date(2026, 8, 31), "Summer"),  # the event's last day is past it
        ("Harness", "", date(2026, 12, 31), "Next spring"),
        ("Helmet", "Sam", date(2030, 12, 31), None),
    ]
    assert due[1].days_short == 1
    assert due[1].clause == "club:bottle"


@pytest.mark.parametrize(("name", "count"), [("Spring", 1), ("Summer", 2), ("Next spring", 3)])
def test_what_an_event_misses(name, count):
    due = due_dates(inspected(BOOK, WRITTEN), SEASON)
    assert len(missed(due, next(one for one in SEASON if one.name == name))) == count


def test_what_is_not_proven_has_no_date():
    assert due_dates(inspected(BOOK, {}), SEASON) == ()


@given(st.permutations(SEASON))
def test_the_order_of_the_events_changes_nothing(season):
    inspection = inspected(BOOK, WRITTEN)
    assert due_dates(inspection, season) == due_dates(inspection, SEASON)
