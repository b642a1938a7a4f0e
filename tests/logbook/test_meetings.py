import pytest

from books import HOUR, KM, MINUTE, Writer, on, planned
from tintop.logbook.entries import MeetingClosed, RoadDriven
from tintop.logbook.meetings import MeetingState, meeting_after, meetings, moment_in, next_meeting


def season() -> Writer:
    book = Writer()
    book.meeting("2026-01-01", "autumn", "2026-09-05", "2026-09-06", (planned("Race", 120),))
    book.meeting(
        "2026-01-01",
        "spring",
        "2026-04-11",
        "2026-04-12",
        (planned("Practice", 30, "practice"), planned("Race", 120)),
        road_distance=240 * KM,
    )
    book.meeting("2026-01-01", "summer", "2026-06-20")
    return book


@pytest.mark.parametrize(
    ("day", "states"),
    [
        ("2026-01-05", ["next", "coming", "coming"]),
        ("2026-04-12", ["next", "coming", "coming"]),
        ("2026-04-13", ["past", "next", "coming"]),
        ("2026-12-01", ["past", "past", "past"]),
    ],
)
def test_states_by_day(day, states):
    found = meetings(season().book, on(day))
    assert [each.planned.meeting for each in found] == ["spring", "summer", "autumn"]
    assert [each.state for each in found] == states


def test_an_event_closed_early_is_past():
    book = season()
    book.write("2026-04-11", MeetingClosed(meeting="spring", result="gearbox", is_finished=False))
    found = next_meeting(book.book, on("2026-04-11"))
    assert found is not None and found.planned.meeting == "summer"
    spring = meetings(book.book, on("2026-04-11"))[0]
    assert (spring.state, spring.result, spring.is_finished) == (MeetingState.PAST, "gearbox", False)


def test_next_and_after():
    book = season().book
    after = meeting_after(book, on("2026-05-01"))
    assert after is not None and after.planned.meeting == "autumn"
    assert meeting_after(book, on("2026-07-01")) is None
    assert next_meeting(book, on("2026-10-01")) is None


def test_what_is_driven_is_no_longer_to_come():
    book = season()
    book.run("2026-04-11", "s1", hours=0.5, meeting="spring", name="practice", kind="practice")
    book.write("2026-04-10", RoadDriven(distance=120 * KM, meeting="spring"))
    spring = next_meeting(book.book, on("2026-04-11"))
    assert spring is not None
    assert [each.name for each in spring.still_planned] == ["Race"]
    assert (spring.planned_duration, spring.driven_duration) == (2.5 * HOUR, 0.5 * HOUR)
    assert spring.road_left == 120 * KM


def test_of_two_sessions_of_one_name_the_second_is_still_to_come():
    book = Writer()
    book.meeting("2026-01-01", "spring", "2026-04-11", sessions=(planned("Race", 30), planned("Race", 60)))
    book.run("2026-04-11", "s1", hours=0.5, meeting="spring", name="Race")
    spring = next_meeting(book.book, on("2026-04-11"))
    assert spring is not None
    assert spring.still_planned == (planned("Race", 60),)


def test_a_moment_falls_into_the_session_in_which_it_is_reached():
    sessions = (planned("Practice", 30, "practice"), planned("Race", 120))
    in_race = moment_in(sessions, 110 * MINUTE)
    in_practice = moment_in(sessions, 10 * MINUTE)
    assert in_race is not None and in_practice is not None
    assert (in_race.session.name, in_race.before_end) == ("Race", 40 * MINUTE)
    assert (in_practice.session.name, in_practice.before_end) == ("Practice", 20 * MINUTE)
    assert moment_in(sessions, 151 * MINUTE) is None
