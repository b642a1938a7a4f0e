from pytest import approx

from books import HOUR, Writer, on
from tintop.logbook.entries import Measure
from tintop.logbook.sessions import sessions

DAY = on("2026-12-31")


def test_laps_and_fuel_by_hand():
    """40 L aboard, 20 L put in, 12 L left: 48 L in 2 h and 60 laps is 24 L/h and 0.8 L a lap.
    Clean laps are within 7 % of the best 100 s: 100, 104 and 106 s, the middle one 104 s."""
    book = Writer()
    book.run(
        "2026-03-01", "race", hours=2, laps=60, lap_times=(112.0, 100.0, 106.0, 104.0, 140.0),
        fuel_before=0.040, fuel_added=0.020, fuel_after=0.012,
    )  # fmt: skip
    (found,) = sessions(book.book, DAY)
    assert found.fuel_used == approx(0.048)
    assert found.fuel_per_hour == approx(0.024)
    assert found.fuel_per_lap == approx(0.0008)
    assert (found.best_lap, found.median_lap, found.clean_laps) == (100.0, 104.0, 3)


def test_what_was_not_written_stays_unknown():
    book = Writer()
    book.run("2026-03-01", "race", hours=0, laps=0, fuel_before=0.04)
    (found,) = sessions(book.book, DAY)
    assert (found.best_lap, found.median_lap, found.fuel_used, found.fuel_per_lap) == (None,) * 4
    book.run("2026-03-02", "push round", hours=0, laps=0, fuel_before=0.04, fuel_after=0.03)
    assert sessions(book.book, DAY)[1].fuel_per_hour is None
    assert sessions(book.book, DAY)[1].fuel_per_lap is None


def test_a_best_lap_written_alone_counts():
    book = Writer()
    book.run("2026-03-01", "race", best_lap=99.5, lap_times=(101.0,))
    assert sessions(book.book, DAY)[0].best_lap == 99.5


def test_readings_of_the_session_by_corner():
    book = Writer()
    book.run("2026-03-01", "race", hours=2)
    book.read("2026-03-01", Measure.PRESSURE_COLD, 180e3, corner="FL", session="race")
    book.read("2026-03-01", Measure.PRESSURE_HOT, 230e3, corner="FL", session="race")
    book.read("2026-03-01", Measure.PRESSURE_HOT, 225e3, corner="FL", session="race", clock="16:10")
    book.read("2026-03-01", Measure.TREAD_TEMP_OUTER, 81.0, corner="RR", session="race")
    book.read("2026-03-01", Measure.PRESSURE_HOT, 99e3, corner="FR", session="another")
    (found,) = sessions(book.book, DAY)
    front_left, rear_right = found.corners
    assert (front_left.corner, front_left.pressure_cold, front_left.pressure_hot) == ("FL", 180e3, 225e3)
    assert (rear_right.corner, rear_right.tread_outer, rear_right.pressure_hot) == ("RR", 81.0, None)
    assert len(found.readings) == 4


def test_sessions_to_come_are_not_there_yet():
    book = Writer()
    book.run("2026-03-01", "one", hours=1)
    book.run("2026-04-01", "two", hours=1)
    found = sessions(book.book, on("2026-03-31"))
    assert [each.run.session for each in found] == ["one"]
    assert found[0].run.duration == HOUR
