from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from books import HOUR, KM, Writer, on
from tintop.logbook.book import logbook_of
from tintop.logbook.build import build_on
from tintop.logbook.counters import count_of, counts_on, drives_of, sum_of
from tintop.logbook.entries import Area, Counter, Fate, PartFailed, PartRemoved, RoadDriven, Withdrawn
from tintop.logbook.running import running_until

DAY = on("2026-12-31")


def test_a_season_counted_by_hand():
    """Fitted 1 March, off 1 June. In between: 0.5 h with 15 laps and 45 km, 2 h with 60 laps and 180 km,
    a run of two laps, and 120 km of road; 3 h had been run before, so 3 + 0.5 + 2 + 0.1 = 5.6 h."""
    book = Writer()
    book.part("2026-01-01", "pads", counted_before={"running time": 3 * HOUR, "heat cycles": 4.0})
    book.run("2026-02-20", "before", hours=9)
    book.fit("2026-03-01", "pads")
    book.run("2026-03-05", "test", hours=0.5, laps=15, km=45)
    book.write("2026-04-01", RoadDriven(distance=120 * KM))
    book.run("2026-04-02", "race", hours=2, laps=60, km=180)
    book.run("2026-04-03", "shakedown", hours=0.1, laps=2, km=6)
    book.write("2026-06-01", PartRemoved(part="pads", fate=Fate.KEPT))
    book.run("2026-06-02", "after", hours=9)
    count = counts_on(book.book, DAY)["pads"]
    assert count.running == approx(5.6 * HOUR)
    assert count.distance == approx(351 * KM)
    assert count.laps == 77
    assert count.heat_cycles == 4 + 2
    assert count.age == 305  # 1 March to 31 December


def test_age_runs_from_the_day_it_was_made():
    book = Writer()
    book.part("2026-01-01", "harness", area=Area.CABIN, made=on("2025-12-01"))
    book.fit("2026-03-01", "harness")
    assert counts_on(book.book, on("2026-01-01"))["harness"].age == 31


def test_a_part_never_on_the_car_has_run_nothing():
    book = Writer()
    book.part("2026-01-01", "spare")
    book.run("2026-02-01", "race")
    count = counts_on(book.book, DAY)["spare"]
    assert [count.of(counter) for counter in Counter] == [0.0] * 5


def test_counters_travel_from_corner_to_corner():
    book = Writer()
    book.part("2026-01-01", "hub", area=Area.FRONT_LEFT)
    book.fit("2026-01-02", "hub")
    book.run("2026-02-01", "one", hours=1)
    book.fit("2026-03-01", "hub", corner="RR")
    book.run("2026-03-01", "two", hours=2)
    assert counts_on(book.book, DAY)["hub"].running == approx(3 * HOUR)


def test_a_change_of_part_without_a_clock_stands_before_the_days_running():
    book = Writer()
    book.part("2026-01-01", "old")
    book.part("2026-01-01", "new")
    book.fit("2026-01-02", "old")
    book.run("2026-03-01", "race", hours=2)
    book.fit("2026-03-01", "new", replaces="old")
    counts = counts_on(book.book, DAY)
    assert (counts["old"].running, counts["new"].running) == (0.0, 2 * HOUR)


def test_a_part_that_failed_that_day_ran_that_day():
    book = Writer()
    book.part("2026-01-01", "old")
    book.part("2026-01-01", "new")
    book.fit("2026-01-02", "old")
    book.run("2026-03-01", "race", hours=2)
    book.write("2026-03-01", PartFailed(part="old", what="broke", session="race"))
    book.fit("2026-03-01", "new", replaces="old")
    counts = counts_on(book.book, DAY)
    assert (counts["old"].running, counts["new"].running) == (2 * HOUR, 0.0)


def test_clocks_tell_which_sessions_of_the_day_count():
    book = Writer()
    book.part("2026-01-01", "old")
    book.part("2026-01-01", "new")
    book.fit("2026-01-02", "old")
    book.run("2026-03-01", "practice", hours=0.5, clock="9:30")
    book.fit("2026-03-01", "new", clock="11:00", replaces="old")
    book.run("2026-03-01", "race", hours=2, clock="14:00")
    counts = counts_on(book.book, DAY)
    assert (counts["old"].running, counts["new"].running) == (0.5 * HOUR, 2 * HOUR)


def test_a_part_taken_off_without_a_clock_counts_its_last_day():
    book = Writer()
    book.part("2026-01-01", "hub")
    book.fit("2026-01-02", "hub")
    book.run("2026-03-01", "race", hours=2)
    book.write("2026-03-01", PartRemoved(part="hub", fate=Fate.SCRAPPED))
    assert counts_on(book.book, DAY)["hub"].running == 2 * HOUR


def test_a_set_of_tyres_counts_the_sessions_that_name_it():
    book = Writer()
    for tyres in ("set 1", "set 2"):
        book.part("2026-01-01", tyres, family="race tyres", area=Area.OUTSIDE)
    book.part("2026-01-01", "pads")
    book.fit("2026-01-02", "set 1")
    book.fit("2026-01-02", "pads")
    book.run("2026-03-01", "practice", hours=0.5, tyres="set 2")
    book.run("2026-03-02", "race", hours=2, tyres="set 1")
    book.run("2026-03-03", "not said", hours=1)
    book.run("2026-03-04", "unknown set", hours=4, tyres="lent by a friend")
    counts = counts_on(book.book, DAY)
    assert counts["set 2"].running == 0.5 * HOUR
    assert counts["set 1"].running == 7 * HOUR
    assert counts["pads"].running == 7.5 * HOUR


sessions = st.lists(
    st.tuples(st.integers(1, 28), st.floats(0.0, 5.0), st.integers(0, 99), st.floats(0.0, 300.0)), max_size=12
)


def season(runs, off_from=10, off_to=20):
    """A part on from the 1st to `off_from`, off until `off_to`, on again; one session per tuple."""
    book = Writer()
    book.part("2026-01-01", "hub")
    book.fit("2026-01-02", "hub")
    book.write(f"2026-02-{off_from:02d}", PartRemoved(part="hub", fate=Fate.KEPT))
    book.fit(f"2026-02-{off_to:02d}", "hub")
    for number, (day, hours, laps, km) in enumerate(runs):
        book.run(f"2026-02-{day:02d}", f"s{number}", hours=hours, laps=laps, km=km)
    return book


@settings(deadline=None)
@given(runs=sessions)
def test_a_part_out_and_back_counts_only_its_own_sessions(runs):
    count = counts_on(season(runs).book, DAY)["hub"]
    own = [run for run in runs if run[0] <= 10 or run[0] >= 20]
    assert count.running == approx(HOUR * sum(run[1] for run in own))
    assert count.laps == sum(run[2] for run in own)
    assert count.distance == approx(KM * sum(run[3] for run in own))
    assert count.heat_cycles == sum(run[2] >= 3 for run in own)


@settings(deadline=None)
@given(runs=sessions, cut=st.integers(0, 12))
def test_counters_add_up_over_sessions(runs, cut):
    book = season(runs).book
    part, running = build_on(book, DAY).by_name["hub"], running_until(book, DAY)
    whole = sum_of(drives_of(part, running))
    later = drives_of(part, running, cut)
    earlier = [drive for drive in drives_of(part, running) if drive not in later]
    parts = sum_of(earlier).plus(sum_of(later))
    assert [whole.of(counter) for counter in Counter] == approx([parts.of(counter) for counter in Counter])


@settings(deadline=None)
@given(runs=sessions.filter(len), data=st.data())
def test_a_session_taken_back_takes_its_hours_with_it(runs, data):
    book = season(runs)
    gone = data.draw(st.integers(0, len(runs) - 1))
    number = next(each.number for each in book.entries if getattr(each.matter, "session", "") == f"s{gone}")
    book.write("2026-12-30", Withdrawn(), corrects=number)
    without = season([run for place, run in enumerate(runs) if place != gone])
    assert counts_on(book.book, DAY)["hub"].running == approx(counts_on(without.book, DAY)["hub"].running)


@settings(deadline=None)
@given(runs=sessions, order=st.randoms())
def test_the_order_of_writing_does_not_matter(runs, order):
    shuffled = list(runs)
    order.shuffle(shuffled)
    one, other = (counts_on(season(each).book, DAY)["hub"] for each in (runs, shuffled))
    assert [one.of(counter) for counter in Counter] == approx([other.of(counter) for counter in Counter])


def test_a_correction_takes_the_place_of_what_it_corrects():
    book = Writer()
    book.part("2026-01-01", "hub")
    book.fit("2026-01-02", "hub")
    wrong = book.run("2026-03-01", "race", hours=20)
    book.run("2026-03-01", "race", hours=2, corrects=wrong)
    part = build_on(book.book, DAY).by_name["hub"]
    assert count_of(part, running_until(book.book, DAY), DAY).running == 2 * HOUR
    assert counts_on(logbook_of(book.entries[:-1]), DAY)["hub"].running == 20 * HOUR
