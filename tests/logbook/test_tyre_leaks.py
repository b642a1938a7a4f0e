import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from books import Writer, on
from tintop.logbook.entries import Measure
from tintop.logbook.tyre_leaks import LeakFinding, Occasion, cold_occasions, tyre_leaks
from tintop.physics.tyre_pressure import DAY, pressure_gauge_at

CORNERS = ("FL", "FR", "RL", "RR")


def read(leaks, *, days=8, temp_of=lambda day: 15.0, is_temp_written=True, corners=CORNERS, off=0.0, seed=1):
    """Readings of tyres set at 1.65 bar at 15 °C, `leaks` bar a day, gauge off by up to `off` bar."""
    chance = random.Random(seed)
    found = []
    for day in range(days):
        pressures = {
            corner: pressure_gauge_at(1.65e5 - 1e5 * leaks.get(corner, 0.0) * day, 15.0, temp_of(day))
            + 1e5 * chance.uniform(-off, off)
            for corner in corners
        }
        temp = temp_of(day) if is_temp_written else None
        found.append(Occasion(time=day * DAY, pressures=pressures, temp=temp))
    return found


def test_a_tyre_that_loses_a_twentieth_of_a_bar_a_day_is_found_among_three_that_hold():
    leaks = tyre_leaks(read({"RL": 0.05}, off=0.034))
    assert [leak.finding for leak in leaks] == [
        LeakFinding.HOLDS, LeakFinding.HOLDS, LeakFinding.LEAKS, LeakFinding.HOLDS,
    ]  # fmt: skip
    assert leaks[2].low < 0.05e5 < leaks[2].high
    assert leaks[2].rate == pytest.approx(0.05e5, rel=0.2)
    assert leaks[2].basis == "against the other three"


@given(st.integers(0, 10_000))
def test_gauge_error_alone_is_hardly_ever_called_a_leak(seed):
    leaks = tyre_leaks(read({}, off=0.0345, seed=seed))
    assert sum(leak.finding is LeakFinding.LEAKS for leak in leaks) <= 1


def test_a_cold_night_is_no_leak_and_needs_no_temperature_written_down():
    getting_colder = read({}, temp_of=lambda day: 22.0 - 2.5 * day, is_temp_written=False)
    assert {leak.finding for leak in tyre_leaks(getting_colder)} == {LeakFinding.HOLDS}


def test_one_tyre_read_alone_is_judged_at_one_temperature():
    alone = read({"FR": 0.08}, temp_of=lambda day: 12.0 + day, corners=("FR",))
    leak = tyre_leaks(alone)[1]
    assert leak.finding is LeakFinding.LEAKS
    assert leak.rate == pytest.approx(0.08e5, rel=0.05)
    assert leak.basis.startswith("by itself")
    assert tyre_leaks(read({"FR": 0.08}, corners=("FR",), is_temp_written=False))[1].finding is (
        LeakFinding.UNKNOWN
    )


def test_air_put_in_begins_anew():
    before, after = read({"FL": 0.06}, days=4), read({"FL": 0.06}, days=4)
    later = [Occasion(time=each.time + 4 * DAY, pressures=each.pressures, temp=each.temp) for each in after]
    leak = tyre_leaks([*before, *later])[0]
    assert leak.finding is LeakFinding.LEAKS
    assert leak.readings == 4
    assert leak.rate == pytest.approx(0.06e5, rel=0.05)


def test_readings_of_other_tyres_do_not_count():
    old = [Occasion(time=each.time, pressures=each.pressures, temp=15.0, tyres="old") for each in read({})]
    new = Occasion(time=20 * DAY, pressures=old[0].pressures, temp=15.0, tyres="new")
    assert {leak.finding for leak in tyre_leaks([*old, new])} == {LeakFinding.UNKNOWN}
    assert {leak.finding for leak in tyre_leaks([])} == {LeakFinding.UNKNOWN}


def test_two_readings_a_day_apart_cannot_tell_a_small_leak():
    leak = tyre_leaks(read({"RR": 0.03}, days=2))[3]
    assert leak.finding is LeakFinding.HOLDS
    assert leak.high > 0.08e5 and math.isfinite(leak.high)


def test_pressures_set_anew_for_a_warmer_day_are_no_leak():
    day = iter((0.0, 14.0, 28.0))
    lower = [
        Occasion(time=next(day) * DAY, pressures=dict(zip(CORNERS, each, strict=True)), temp=15.0)
        for each in (
            (1.60e5, 1.65e5, 1.75e5, 1.75e5),
            (1.55e5, 1.6e5, 1.75e5, 1.75e5),
            (1.5e5, 1.55e5, 1.7e5, 1.7e5),
        )
    ]
    assert {leak.finding for leak in tyre_leaks(lower)} == {LeakFinding.HOLDS}


def test_occasions_are_read_from_the_book():
    book = Writer()
    book.run("2026-04-04", "first", air_temp=11.0, tyres="set-1")
    for clock, drop in (("08:00", 0.0), ("18:30", 3e3)):
        for corner in CORNERS:
            book.read(
                "2026-04-04", Measure.PRESSURE_COLD, 1.6e5 - drop, clock=clock, corner=corner, session="first"
            )
    book.read("2026-04-05", Measure.PRESSURE_COLD, 1.5e5, corner="FL")
    first, second, last = cold_occasions(book.book, on("2026-12-31"))
    assert second.time - first.time == 10.5 * 3600.0
    assert (first.temp, first.tyres, len(first.pressures)) == (11.0, "set-1", 4)
    assert (last.temp, last.pressures) == (None, {"FL": 1.5e5})
    assert cold_occasions(book.book, on("2026-04-01")) == ()
