"""The calendar file read back by two readers, one of them independent of the writer."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from tintop.errors import BadInput
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.season import DueDate, Season
from tintop.reports.calendar import CAUTION, CalendarDay, calendar_text, days_of

WRITTEN = datetime(2026, 6, 9, 18, 30, tzinfo=UTC)
BELTS = CalendarDay(
    key="expiry international:harness-label",
    title="Belts run out",
    first=date(2026, 12, 31),
    last=date(2026, 12, 31),
    words="International 2026, art. 1-2; “label, 2026”\nNew belts, or the maker's work.",
)
EVENT = CalendarDay(
    key="event summer",
    title="Midsummer Hours",
    first=date(2026, 6, 20),
    last=date(2026, 6, 21),
    place="Larkmoor",
)


def written(*days: CalendarDay, owner: str = "Lantern") -> str:
    return calendar_text(days, title="Lantern: dates", owner=owner, written_at=WRITTEN)


def test_an_independent_reader_finds_whole_days_words_and_alarms():
    read = vobject.readOne(written(BELTS, EVENT))
    event, belts = read.vevent_list
    assert (event.summary.value, event.location.value) == ("Midsummer Hours", "Larkmoor")
    assert (event.dtstart.value, event.dtend.value) == (date(2026, 6, 20), date(2026, 6, 22))
    assert belts.dtstart.value == date(2026, 12, 31)
    assert belts.description.value == BELTS.words
    assert belts.dtstamp.value == WRITTEN
    assert [alarm.trigger.value for alarm in belts.valarm_list] == [timedelta(days=-60), timedelta(days=-14)]
    assert {alarm.action.value for alarm in belts.valarm_list} == {"DISPLAY"}


def test_lines_end_and_fold_as_the_standard_has_it():
    text = written(BELTS)
    assert text.startswith("BEGIN:VCALENDAR\r\n") and text.endswith("END:VCALENDAR\r\n")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))  # RFC 5545, 3.1
    assert "DTSTART;VALUE=DATE:20261231" in text


def test_the_same_days_give_the_same_file_and_a_key_keeps_its_name_when_the_date_moves():
    def uid(text: str) -> str:
        return str(Calendar.from_ical(text).walk("VEVENT")[0]["UID"])

    later = CalendarDay(
        key=BELTS.key, title="New belts run out", first=date(2031, 12, 31), last=date(2031, 12, 31)
    )
    assert written(BELTS) == written(BELTS)
    assert uid(written(BELTS)) == uid(written(later))
    assert uid(written(BELTS)) != uid(written(BELTS, owner="Other"))
    assert uid(written(BELTS)) != uid(written(EVENT))


def _day(first: date, last: date) -> CalendarDay:
    return CalendarDay(key="a", title="a", first=first, last=last)


@pytest.mark.parametrize(
    ("days", "says"),
    [
        ((BELTS, BELTS), "a second time"),
        ((_day(date(2026, 2, 2), date(2026, 2, 1)),), "before the first"),
        ((_day(date(9999, 12, 31), date(9999, 12, 31)),), "before the year 9999"),
    ],
)
def test_what_makes_no_calendar_is_refused(days, says):
    with pytest.raises(BadInput, match=says):
        written(*days)


def test_a_moment_without_its_zone_is_refused():
    with pytest.raises(BadInput, match="time zone"):
        calendar_text((BELTS,), title="", owner="", written_at=datetime(2026, 6, 9))  # noqa: DTZ001


texts = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=90)


@given(
    title=texts,
    words=texts,
    first=st.dates(date(1950, 1, 1), date(2100, 1, 1)),
    length=st.integers(0, 9),
    alarms=st.lists(st.integers(0, 400), max_size=3, unique=True).map(tuple),
)
def test_any_text_and_date_reads_back_equal(title, words, first, length, alarms):
    day = CalendarDay(
        key="k", title=title, words=words, first=first, last=first + timedelta(days=length), alarms=alarms
    )
    text = calendar_text((day,), title=title, owner="", written_at=WRITTEN)
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    assert event["SUMMARY"] == title
    assert event.get("DESCRIPTION", "") == words
    assert event["DTSTART"].dt == first
    assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(days=length + 1)
    assert [alarm["TRIGGER"].dt for alarm in event.walk("VALARM")] == [
        timedelta(days=-each) for each in alarms
    ]


def _season() -> Season:
    event = MeetingPlanned(
        meeting="summer",
        name="Midsummer Hours",
        first_day=date(2026, 6, 20),
        last_day=date(2026, 6, 21),
        circuit="circuits/larkmoor.csv",
    )
    belts = DueDate(
        id="club:belts[left]",
        title="Belts, left",
        expires=date(2026, 6, 1),
        rule="art. 1, Club, 2026",
        to_do="Fit new belts.",
        due_for="summer",
        part="belts",
        part_name="Six-point belts",
        cents=16500,
    )
    unreadable = DueDate(id="club:net", title="Net", expires=None, rule="art. 2", due_for="summer")
    return Season(events=(event,), dates=(unreadable, belts))


def test_a_season_gives_its_events_with_what_runs_out_and_each_date_with_rule_and_price():
    event, belts = days_of(_season(), "€")
    assert (event.title, event.place) == ("Midsummer Hours", "Midsummer Hours")
    assert event.words == "Runs out before it is over: Net\nRuns out before it is over: Belts, left"
    assert (belts.title, belts.first, belts.last) == (
        "Belts, left: last good day",
        date(2026, 6, 1),
        date(2026, 6, 1),
    )
    assert belts.words.splitlines() == [
        "art. 1, Club, 2026",
        "Does not last Midsummer Hours.",
        "Fit new belts.",
        "Six-point belts: a new one, last paid €165.00. What a check or a service costs is not known.",
        CAUTION,
    ]
    assert len(vobject.readOne(written(event, belts)).vevent_list) == 2


def test_a_reader_sees_no_price_and_a_spare_costs_nothing():
    assert "165" not in days_of(_season(), "€", shows_money=False)[1].words
    season = _season()
    spared = replace(season, dates=tuple(replace(each, spare="belts-2") for each in season.dates))
    assert "a like one is on the shelf" in days_of(spared)[1].words


def test_a_calendar_of_nothing_is_refused():
    with pytest.raises(BadInput, match="no date and no event"):
        written()


def test_the_place_is_the_circuit_by_its_name():
    (event, _belts) = days_of(_season(), places={"summer": "Larkmoor Circuit"})
    assert event.place == "Larkmoor Circuit"


def test_an_edition_and_what_a_hit_undid_are_told_apart_from_dates_that_run_out():
    edition = DueDate(
        id="club:in-force",
        title="Rule book: Club",
        expires=date(2026, 5, 31),
        rule="2026, in force from 1 January 2026 to 31 May 2026",
        edition="in force from 1 January 2026 to 31 May 2026",
        due_for="summer",
    )
    seat = DueDate(
        id="club:seat",
        title="Seat",
        expires=date(2029, 5, 31),
        rule="art. 3",
        due_for="summer",
        hit=date(2026, 6, 3),
    )
    event, first, second = days_of(replace(_season(), dates=(edition, seat)))
    assert event.words.splitlines() == [
        "Not in force on all of its days: Rule book: Club",
        "Before it, to be proven anew since the hard hit of 3 June 2026: Seat",
    ]
    assert (first.title, first.first) == ("Rule book: Club: last day in force", date(2026, 5, 31))
    assert "To be proven anew since the hard hit of 3 June 2026." in second.words
    assert "Does not last" not in second.words
