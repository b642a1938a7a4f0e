"""Due dates: against the season's events, with what replacing costs, and as a calendar file."""

from datetime import date

import pytest
from icalendar import Calendar
from own_book import name_the_book, proof
from test_car import words


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def calendar(page) -> dict[str, date]:
    answer = page.get("/legal/dates.ics")
    assert answer.headers["content-type"].startswith("text/calendar")
    events = Calendar.from_ical(answer.content).walk("VEVENT")
    return {str(one["SUMMARY"]): one.decoded("DTSTART") for one in events}


def test_what_runs_out_stands_before_its_event(page, ruled):
    proof(page, "test.label", year="2025", form="label")
    html = page.get("/legal/dates").text
    text = words(html)
    before = text[text.index("Before Midsummer Two Hours is over") :]
    assert "Belt in date" in before and "Wed 31 December 2025" in before and "4.3" in before
    assert "<svg" in html and "✗ Belt in date" in html
    assert calendar(page)["Belt in date: last good day"] == date(2025, 12, 31)


def test_what_lasts_stands_apart(page, ruled):
    proof(page, "test.label", year="2027", form="label")
    text = words(page.get("/legal/dates").text)
    assert text.index("Lasts all events planned") < text.index("Fri 31 December 2027")
    assert "Before Midsummer Two Hours is over" not in text
    assert calendar(page) == {
        "Midsummer Two Hours": date(2026, 6, 20),
        "Belt in date: last good day": date(2027, 12, 31),
    }


def test_the_price_of_replacing_is_told_to_those_who_write_alone(page, reader, ruled):
    proof(page, "test.label", year="2025", form="label", part="front-pads-1")
    assert "142.50" in page.get("/legal/dates").text
    assert "142" not in reader.get("/legal/dates").text


def test_a_label_that_cannot_be_read_is_due_at_once(page, ruled):
    proof(page, "test.label", value="unreadable", form="label")
    assert "cannot be read: counts as expired" in page.get("/legal/dates").text
    assert list(calendar(page)) == ["Midsummer Two Hours"]


def test_without_a_date_it_says_where_to_find_one(page, ruled):
    assert "/legal/walk" in page.get("/legal/dates").text
