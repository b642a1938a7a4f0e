"""Treads as they are written down, read; what reads two ways is asked."""

from dataclasses import replace

import pytest

from benches import demo_bench
from books import Writer, on
from tintop.car.chassis import End
from tintop.car.driver_words import said_from
from tintop.car.treads import Feel, Pace, Phase
from tintop.errors import BadInput
from tintop.garage.logged_treads import camber_said, last_reading, taken_with
from tintop.garage.treads import reading_from
from tintop.logbook.entries import Measure, SetupChanged
from tintop.logbook.sessions import sessions

FOUR = {"FL": "85 82 78", "FR": "84/81/77", "RL": "in 75 74 72 out", "RR": "o72 m74 i75"}
CELSIUS = {"temperature": "°C", "pressure": "bar"}


def test_paddock_writing_is_read():
    found = reading_from(FOUR, hot="2.15 2.2 2.1 2.1", cold="1.6/1.75", units=CELSIUS, lap_before="1:43.2",
                         lap_after="103.9")  # fmt: skip
    assert [tread.inner for tread in found.treads] == [85.0, 84.0, 75.0, 75.0]
    assert found.hot == pytest.approx((2.15e5, 2.2e5, 2.1e5, 2.1e5))
    assert found.cold == pytest.approx((1.6e5, 1.6e5, 1.75e5, 1.75e5))
    assert (found.lap_before, found.lap_after) == pytest.approx((103.2, 103.9))


def test_fahrenheit_is_asked_once_and_goes_for_all_twelve():
    fahrenheit = {"FL": "180 190 196", "FR": "185 188 180", "RL": "148 142 140", "RR": "150 149 141"}
    with pytest.raises(BadInput, match=r"Are all twelve in °F or in °C") as refused:
        reading_from(fahrenheit, units=CELSIUS)
    assert len(refused.value.problems) == 1
    for told in ({**fahrenheit, "RL": "148 142 140 F"}, fahrenheit):
        units = CELSIUS if told is not fahrenheit else {"temperature": "°F"}
        found = reading_from(told, units=units)
        assert found.treads[2].inner == pytest.approx((148.0 - 32.0) / 1.8)
        assert found.treads[0].inner == pytest.approx((180.0 - 32.0) / 1.8)
    with pytest.raises(BadInput, match="one unit for all twelve"):
        reading_from({**fahrenheit, "FL": "82 81 80 C", "FR": "180 181 182 F"}, units=CELSIUS)


def test_which_edge_came_first_is_asked_where_it_is_not_told():
    with pytest.raises(BadInput, match="inner or the outer edge"):
        reading_from(FOUR, units=CELSIUS, order=None)
    turned = reading_from({**FOUR, "FL": "78 82 85"}, units=CELSIUS, order="outer first")
    assert turned.treads[0].inner == 85.0


def test_all_that_is_wrong_is_told_at_once_and_by_wheel():
    with pytest.raises(BadInput) as refusal:
        reading_from({"FL": "85 82", "FR": "eighty", "RL": "75 74 72"}, units=CELSIUS, hot="2.1 bars of gold")
    wheres = [problem.where for problem in refusal.value.problems]
    assert wheres == ["temperatures FL", "temperatures FR", "temperatures RR", "tyre pressure hot"]


def test_the_drivers_words():
    (said,) = said_from(["Mid fast oversteer"])
    assert (said.phase, said.pace, said.feel) == (Phase.MID, Pace.FAST, Feel.OVERSTEER)
    assert len(said_from(["fine"])) == 3
    assert str(said) == "mid fast oversteer"
    assert said_from(["exit push"])[0].feel is Feel.UNDERSTEER


def read_treads(book: Writer, day: str, session: str, *, without: str = "") -> None:
    for corner in ("FL", "FR", "RL", "RR"):
        for measure, value in (
            (Measure.TREAD_TEMP_INNER, 85.0),
            (Measure.TREAD_TEMP_MIDDLE, 82.0),
            (Measure.TREAD_TEMP_OUTER, 78.0),
        ):
            if f"{corner} {measure.name}" != without:
                book.read(day, measure, value, corner=corner, session=session)
    book.read(day, Measure.PRESSURE_HOT, 2.1e5, corner="FL", session=session)


def test_the_logbooks_last_whole_reading_is_taken():
    book = Writer()
    book.run("2026-03-01", "race", hours=2, laps=60)
    book.run("2026-03-02", "practice", hours=1, laps=12)
    read_treads(book, "2026-03-01", "race")
    read_treads(book, "2026-03-02", "practice", without="RR TREAD_TEMP_OUTER")
    found, session = last_reading(book.book, on("2026-12-31"))
    assert session.run.session == "race"
    assert (found.laps, found.hot[0], found.hot[1]) == (60, 2.1e5, None)
    assert found.is_after_cool_down is None


def test_a_logbook_without_one_says_so():
    with pytest.raises(BadInput, match="all twelve temperatures"):
        last_reading(Writer().book, on("2026-12-31"))


@pytest.mark.parametrize(
    ("outer", "way", "words"),
    [(78.0, 0, "leave it"), (90.0, -1, "more negative"), (70.0, 1, "less negative")],
)
def test_logged_treads_say_what_they_say_of_a_camber(outer, way, words):
    bench, book = demo_bench(), Writer()
    book.run("2026-03-01", "race", hours=2, laps=60)
    for corner in ("FL", "FR", "RL", "RR"):
        for measure, value in (
            (Measure.TREAD_TEMP_INNER, 85.0),
            (Measure.TREAD_TEMP_MIDDLE, 82.0),
            (Measure.TREAD_TEMP_OUTER, outer if corner[0] == "F" else 78.0),
        ):
            book.read("2026-03-01", measure, value, corner=corner, session="race")
    day = on("2026-12-31")
    found = camber_said(bench, bench.setup("dry"), End.FRONT, book.book, day)
    assert (found.way, found.words) == (way, words)
    assert "2026-03-01" in found.sentence and "they win over the lap" in found.sentence
    for other in ("road", "wet"):
        assert camber_said(bench, bench.setup(other), End.FRONT, book.book, day) is None
    assert camber_said(bench, bench.setup("dry"), End.FRONT, Writer().book, day) is None


def test_a_reading_taken_with_other_tyres_says_so():
    bench, book = demo_bench(), Writer()
    book.write("2026-03-01", SetupChanged(item="set-up", written="dry"))
    book.run("2026-03-02", "practice", hours=0.3, laps=8)
    (session,) = sessions(book.book, on("2026-03-02"))
    assert taken_with(bench, bench.setup("dry"), book.book, session) == ""
    words = taken_with(bench, bench.setup("wet"), book.book, session)
    assert words == f"other tyres ({bench.setup('dry').tyres}; set-up dry, {session.run.name}, 2026-03-02)"
    assert taken_with(bench, bench.setup("wet"), Writer().book, session) == "the car on a dry road"
    same = replace(bench, setups={**bench.setups, "late": replace(bench.setup("dry"), name="Late")})
    assert taken_with(same, same.setup("late"), book.book, session).startswith("another set-up (set-up dry")
