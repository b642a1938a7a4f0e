import pytest

from books import Writer, on
from tintop.logbook.entries import Measure
from tintop.logbook.pressure_rises import seen_rises
from tintop.physics.tyre_pressure import pressure_gauge_at

DAY = on("2026-12-31")
CORNERS = ("FL", "FR", "RL", "RR")
HERE, ELSEWHERE = "circuits/here.csv", "circuits/elsewhere.csv"


def book_of(*sessions):
    """A book of sessions: day, meeting, air, rise of the four corners, and what else the run has."""
    book = Writer()
    book.meeting("2026-03-01", "home", "2026-04-01", circuit=HERE)
    book.meeting("2026-03-01", "away", "2026-05-01", circuit=ELSEWHERE)
    for number, (day, meeting, air, rises, more) in enumerate(sessions):
        name = f"session-{number}"
        book.run(day, name, meeting=meeting, **{"air_temp": air, **more})
        for corner, rise in zip(CORNERS, rises, strict=True):
            hot = pressure_gauge_at(1.6e5, air, air + rise)
            for measure, value in ((Measure.PRESSURE_COLD, 1.6e5), (Measure.PRESSURE_HOT, hot)):
                book.read(day, measure, value, corner=corner, session=name)
    return book.book


def test_the_rise_is_found_back_from_the_pressures_with_its_spread():
    book = book_of(
        ("2026-04-01", "home", 10.0, (60.0, 50.0, 40.0, 30.0), {}),
        ("2026-04-01", "home", 14.0, (64.0, 52.0, 40.0, 36.0), {}),
        ("2026-05-01", "away", 14.0, (90.0, 90.0, 90.0, 90.0), {}),
    )
    seen = seen_rises(book, DAY, circuit=HERE, is_wet=False)
    assert seen is not None and seen.is_here and seen.last == on("2026-04-01")
    assert [one.rise for one in seen.corners] == pytest.approx([62.0, 51.0, 40.0, 33.0])
    assert [one.sessions for one in seen.corners] == [2, 2, 2, 2]
    assert seen.corners[0].spread == pytest.approx(8.0**0.5)


def test_without_a_session_here_those_elsewhere_count_and_it_is_said():
    book = book_of(("2026-05-01", "away", 14.0, (50.0, 50.0, 40.0, 40.0), {}))
    seen = seen_rises(book, DAY, circuit=HERE, is_wet=False)
    assert seen is not None and not seen.is_here
    assert seen.corners[0].spread is None


@pytest.mark.parametrize("more", [{"laps": 2}, {"is_wet": True}, {"air_temp": None}])
def test_a_push_round_a_wet_run_and_a_day_without_its_air_do_not_count(more):
    book = book_of(("2026-04-01", "home", 10.0, (60.0, 50.0, 40.0, 30.0), more))
    assert seen_rises(book, DAY, circuit=HERE, is_wet=False) is None


def test_three_corners_are_not_a_session():
    book = Writer()
    book.run("2026-04-01", "one", air_temp=10.0)
    for corner in CORNERS[:3]:
        for measure in (Measure.PRESSURE_COLD, Measure.PRESSURE_HOT):
            book.read("2026-04-01", measure, 1.6e5, corner=corner, session="one")
    assert seen_rises(book.book, DAY, circuit="", is_wet=False) is None
