import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from books import HOUR, KM, MINUTE, Writer, kilograms, limit, on, planned
from tintop.logbook.amounts import title_of
from tintop.logbook.build import build_on
from tintop.logbook.entries import Area, Basis, Counter, Fate, PartInspected, PartRemoved
from tintop.logbook.lives import Life, LifeState, Pace, lives, pace_of, to_order
from tintop.logbook.meetings import next_meeting
from tintop.logbook.running import running_until

DAY = on("2026-06-01")


def season(*limits, **part) -> Writer:
    """A hub fitted new in January, 10 h run; next a race of 2 h on 20 June, then one of 3 h in September."""
    book = Writer()
    book.part("2026-01-01", "hub", limits=limits, **part)
    book.fit("2026-01-02", "hub")
    book.meeting("2026-01-01", "spring", "2026-04-11", circuit="circuits/larkmoor.csv")
    book.run("2026-04-11", "race", hours=10, laps=300, km=900, meeting="spring")
    book.meeting(
        "2026-01-01", "summer", "2026-06-20", circuit="circuits/larkmoor.csv",
        sessions=(planned("Practice", 30, "practice"), planned("Race", 90)), road_distance=200 * KM,
    )  # fmt: skip
    book.meeting("2026-01-01", "autumn", "2026-09-05", sessions=(planned("Race", 180),))
    return book


def only(book: Writer, **more) -> Life:
    (life,) = lives(book.book, DAY, **more)
    return life


@pytest.mark.parametrize(
    ("hours", "state"),
    [
        (9.0, LifeState.OVERDUE),
        (10.0, LifeState.OVERDUE),
        (11.9, LifeState.DUE_BEFORE_END),
        (12.0, LifeState.DUE_SOON),
        (14.9, LifeState.DUE_SOON),
        (15.0, LifeState.GOOD),
    ],
)
def test_the_state_of_a_life_in_hours(hours, state):
    life = only(season(limit(Counter.RUNNING, hours * HOUR)))
    assert life.state is state
    assert life.used == 10 * HOUR
    assert life.left == approx((hours - 10) * HOUR)
    assert life.next_use == 2 * HOUR


def test_laps_and_distance_to_come_by_hand():
    """Own sessions here: 300 laps in 10 h, 2 min and 3 km a lap. 30 min is 15 laps, 90 min is 45: 60 laps,
    180 km, and 200 km there and home; two sessions of three laps and more are two heat cycles."""
    life = {
        each.limit.counter: each
        for each in lives(season(*(limit(counter, 1e9) for counter in Counter)).book, DAY)
    }
    assert life[Counter.LAPS].next_use == 60
    assert life[Counter.DISTANCE].next_use == approx(380 * KM)
    assert life[Counter.HEAT_CYCLES].next_use == 2
    assert life[Counter.RUNNING].next_use == 2 * HOUR
    assert life[Counter.AGE].next_use == 19  # 1 to 20 June


def test_a_lap_that_is_expected_goes_before_what_was_driven():
    """90 min in laps of 100 s are 54, 30 min are 18."""
    life = only(season(limit(Counter.LAPS, 400)), pace=Pace(lap_time=100.0, lap_length=3000.0))
    assert life.next_use == 72
    assert life.state is LifeState.DUE_SOON


def test_a_session_driven_is_no_longer_to_come():
    book = season(limit(Counter.RUNNING, 100 * HOUR))
    book.run("2026-06-20", "p", hours=0.5, meeting="summer", name="practice", kind="practice")
    (life,) = lives(book.book, on("2026-06-20"))
    assert (life.used, life.next_use) == (10.5 * HOUR, 1.5 * HOUR)


def test_no_session_at_this_circuit_yet():
    book = season(limit(Counter.LAPS, 400), limit(Counter.DISTANCE, 2000 * KM))
    plan = next_meeting(book.book, on("2026-07-01"))
    assert plan is not None
    assert pace_of(book.book, plan, DAY) == Pace(speed=25.0, basis="mean speed of 1 own sessions elsewhere")
    by_counter = {each.limit.counter: each for each in lives(book.book, on("2026-07-01"))}
    assert by_counter[Counter.LAPS].state is LifeState.UNKNOWN
    assert by_counter[Counter.DISTANCE].next_use == approx(3 * 90 * KM)


def test_a_limit_in_days_falls_due_on_its_day():
    """Made 20 June 2021; five years are 1826 days, so the last good day is 20 June 2026."""
    for days, state in ((1826, LifeState.DUE_SOON), (1825, LifeState.DUE_BEFORE_END), (1806, "overdue")):
        assert only(season(limit(Counter.AGE, days), made=on("2021-06-20"))).state == state


def test_what_was_run_before_it_was_bought_counts():
    book = season(limit(Counter.RUNNING, 20 * HOUR), counted_before={"running time": 9 * HOUR})
    assert only(book).state is LifeState.DUE_BEFORE_END


def test_a_part_that_came_with_the_car_is_unknown_until_it_is_overdue():
    book = Writer()
    book.part("2026-01-01", "hub", came_with_car=True, limits=(limit(Counter.RUNNING, 20 * HOUR),))
    book.run("2026-02-01", "race", hours=2)
    life = only(book)
    assert life.state is LifeState.UNKNOWN
    assert life.why_unknown == "it was there when the car was bought; its running time before is not known"
    book.run("2026-02-02", "race 2", hours=19)
    assert only(book).state is LifeState.OVERDUE


def test_an_inspection_starts_its_limit_anew_and_no_other():
    """6 h, inspected, 4 h more: 4 of 5 h to the next inspection, 10 of 20 h to its end."""
    book = Writer()
    book.part(
        "2026-01-01",
        "hub",
        limits=(
            limit(Counter.RUNNING, 5 * HOUR, Basis.COMMON_PRACTICE, "inspect"),
            limit(Counter.RUNNING, 20 * HOUR),
        ),
    )
    book.fit("2026-01-02", "hub")
    book.run("2026-02-01", "one", hours=6)
    used = {each.limit.action: each.used for each in lives(book.book, DAY)}
    assert used == {"inspect": 6 * HOUR, "replace": 6 * HOUR}
    book.write("2026-02-02", PartInspected(part="hub", found="no play"))
    book.run("2026-03-01", "two", hours=4)
    used = {each.limit.action: each.used for each in lives(book.book, DAY)}
    assert used == {"inspect": 4 * HOUR, "replace": 10 * HOUR}
    assert next(each.inspected_on for each in lives(book.book, DAY) if each.inspected_on) == on("2026-02-02")


def test_the_last_inspection_counts():
    book = Writer()
    book.part("2026-01-01", "hub", limits=(limit(Counter.RUNNING, 5 * HOUR, action="inspect"),))
    book.fit("2026-01-02", "hub")
    for number, hours in enumerate((3.0, 2.0, 1.0), 1):
        book.run(f"2026-0{number}-10", f"run {number}", hours=hours)
        book.write(f"2026-0{number}-20", PartInspected(part="hub"))
    book.run("2026-05-01", "last", hours=0.5)
    assert only(book).used == 0.5 * HOUR


@pytest.mark.parametrize(("clock", "hours"), [("", 2.0), ("09:00", 2.0), ("18:00", 0.0)])
def test_an_inspection_on_the_day_of_a_race(clock, hours):
    book = Writer()
    book.part("2026-01-01", "hub", limits=(limit(Counter.RUNNING, 5 * HOUR, action="inspect"),))
    book.fit("2026-01-02", "hub")
    book.run("2026-02-01", "race", hours=2, clock="13:00")
    book.write("2026-02-01", PartInspected(part="hub"), clock=clock)
    assert only(book).used == hours * HOUR


def test_an_inspection_in_days_counts_from_the_last_one():
    book = Writer()
    book.part("2026-01-01", "hose", limits=(limit(Counter.AGE, 90, action="inspect"),), made=on("2020-01-01"))
    book.fit("2026-01-02", "hose")
    book.write("2026-05-02", PartInspected(part="hose"))
    assert only(book).used == 30


def test_parts_off_the_car_have_no_lives_to_watch():
    book = season(limit(Counter.RUNNING, HOUR))
    book.write("2026-05-01", PartRemoved(part="hub", fate=Fate.KEPT))
    assert lives(book.book, DAY) == ()


def test_without_a_next_event_nothing_is_due_before_it():
    book = season(limit(Counter.RUNNING, 11 * HOUR))
    (life,) = lives(book.book, on("2026-12-01"))
    assert (life.state, life.next_use) == (LifeState.GOOD, 0.0)


def test_the_worst_come_first():
    book = season(*(limit(Counter.RUNNING, hours * HOUR) for hours in (100, 11, 9, 13, 11.5)))
    assert [each.limit.limit / HOUR for each in lives(book.book, DAY)] == [9, 11, 11.5, 13, 100]


def test_what_to_order_and_at_what_price():
    """The family's last price is that of its last part bought: 4200 for pads b."""
    book = Writer()
    book.part("2025-01-01", "pads a", family="front pads", price_cents=3900)
    book.part("2026-02-01", "pads b", family="front pads", price_cents=4200, mass=kilograms(1.2))
    book.part("2026-01-01", "hub", family="hub")
    book.part("2026-01-01", "belt", family="cam belt", area=Area.ENGINE_BAY)
    book.part("2026-01-01", "belt 2", family="cam belt", area=Area.ENGINE_BAY)
    for part in ("pads a", "pads b", "hub", "belt"):
        book.fit("2026-03-01", part)
    orders = to_order(
        build_on(book.book, DAY),
        running_until(book.book, DAY),
        [("pads a", "worn"), ("hub", "overdue"), ("pads a", "again"), ("belt", "overdue")],
        on("2026-06-20"),
    )
    assert [(each.part, each.price_cents, each.price_of, each.spare) for each in orders] == [
        ("pads a", 4200, "pads b", ""),
        ("hub", None, "", ""),
        ("belt", None, "", "belt 2"),
    ]


def test_one_spare_serves_one_part():
    book = Writer()
    for part in ("left", "right", "spare"):
        book.part("2026-01-01", part, family="hub")
    book.fit("2026-01-02", "left")
    book.fit("2026-01-02", "right")
    build, running = build_on(book.book, DAY), running_until(book.book, DAY)
    orders = to_order(build, running, [("left", ""), ("right", "")], DAY)
    assert [each.spare for each in orders] == ["spare", ""]


def test_a_used_part_on_the_shelf_is_no_spare_and_a_gift_is_bought_at_its_list_price():
    book = Writer()
    book.part("2026-01-01", "used", family="race tyres", area=Area.OUTSIDE, price_cents=40500)
    book.part(
        "2026-02-01", "given", family="race tyres", area=Area.OUTSIDE, price_cents=0, list_price_cents=50800
    )
    book.fit("2026-01-02", "used")
    book.run("2026-03-01", "race")
    book.fit("2026-03-02", "given", replaces="used")
    build, running = build_on(book.book, DAY), running_until(book.book, DAY)
    (order,) = to_order(build, running, [("given", "")], DAY)
    assert (order.price_cents, order.spare) == (50800, "")


@settings(deadline=None)
@given(
    before=st.lists(st.tuples(st.integers(2, 31), st.floats(0, 3), st.integers(0, 80)), max_size=6),
    more=st.tuples(st.integers(2, 31), st.floats(0, 3), st.integers(0, 80)),
)
def test_what_is_left_never_rises_when_a_session_is_added(before, more):
    def left(runs):
        book = Writer()
        counters = [counter for counter in Counter if counter is not Counter.AGE]
        book.part("2026-01-01", "hub", limits=tuple(limit(counter, 1e5) for counter in counters))
        book.fit("2026-01-02", "hub")
        for number, (day, hours, laps) in enumerate(runs):
            book.run(f"2026-05-{day:02d}", f"s{number}", hours=hours, laps=laps)
        return {each.limit.counter: each.left for each in lives(book.book, DAY)}

    earlier, later = left(before), left([*before, more])
    assert all(later[counter] <= earlier[counter] + 1e-6 for counter in earlier)
    assert earlier[Counter.RUNNING] - later[Counter.RUNNING] == approx(more[1] * HOUR, abs=1e-6)


def test_reached_in_is_the_running_still_allowed():
    life = only(season(limit(Counter.RUNNING, 10 * HOUR + 80 * MINUTE)))
    assert life.reached_in == approx(80 * MINUTE)


@pytest.mark.parametrize(
    ("name", "corner", "title"),
    [
        ("Hub bearing", "FL", "Hub bearing, FL"),
        ("Front disc, 276 mm, left", "FL", "Front disc, 276 mm, left"),
        ("Lower arm, left", "FL", "Lower arm, left, FL"),
        ("Caliper RR", "RR", "Caliper RR"),
        ("Rear arm, left", "FL", "Rear arm, left, FL"),
        ("Harness", "", "Harness"),
    ],
)
def test_a_corner_is_said_once(name, corner, title):
    assert title_of(name, corner) == title
