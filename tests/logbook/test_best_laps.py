import pytest

from books import Writer, on
from tintop.logbook.best_laps import best_lap_at

HERE, THERE = "circuits/here.csv", "circuits/there.csv"


@pytest.fixture
def book() -> Writer:
    book = Writer()
    for meeting, circuit, first in (
        ("spring", HERE, "2026-04-01"),
        ("away", THERE, "2026-05-01"),
        ("summer", HERE, "2026-06-01"),
    ):
        book.meeting("2026-01-01", meeting, first, circuit=circuit)
    book.run("2026-04-01", "a", meeting="spring", kind="qualifying", best_lap=87.5)
    book.run("2026-04-01", "b", meeting="spring", kind="race", lap_times=(95.0, 88.1, 0.0))
    book.run("2026-05-01", "c", meeting="away", best_lap=60.0)
    book.run("2026-06-01", "d", meeting="summer", best_lap=80.0, is_wet=True)
    book.run("2026-06-01", "e", meeting="summer", kind="practice", lap_times=(87.2, 90.0))
    return book


def test_the_best_dry_lap_of_the_events_there(book):
    best = best_lap_at(book.book, HERE, on("2026-12-31"))
    assert (best.time, best.day, best.session_kind) == (87.2, on("2026-06-01"), "practice")


def test_what_is_driven_later_is_not_known_before(book):
    best = best_lap_at(book.book, HERE, on("2026-05-31"))
    assert (best.time, best.session_kind) == (87.5, "qualifying")


def test_where_nothing_was_timed_there_is_none(book):
    assert best_lap_at(book.book, "circuits/never.csv", on("2026-12-31")) is None
    assert best_lap_at(book.book, "", on("2026-12-31")) is None
