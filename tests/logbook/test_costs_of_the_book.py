from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from books import Writer, on
from tintop.logbook.costs import Costs, costs_on
from tintop.logbook.entries import CostKind, CostPaid, JobOpened
from tintop.logbook.jobs import jobs_on
from tintop.logbook.lives import ToOrder

DAY = on("2026-06-30")


def pay(book: Writer, day: str, kind: CostKind, pounds: float, **more) -> int:
    corrects = more.pop("corrects", None)
    cost = CostPaid(cost_kind=kind, cents=round(pounds * 100), what=more.pop("what", str(kind)), **more)
    return book.write(day, cost, corrects=corrects)


def season() -> Writer:
    """Two events in spring 2026; the car bought in 2025 for 1800, its seats sold for 120."""
    book = Writer()
    book.meeting("2026-01-01", "april", "2026-04-11", name="April Hours")
    book.meeting("2026-01-01", "may", "2026-05-16", name="May Hours")
    book.meeting("2026-01-01", "july", "2026-07-18", name="July Hours")
    pay(book, "2025-11-01", CostKind.CAR, 1800)
    pay(book, "2025-12-01", CostKind.CAR, -120)
    pay(book, "2025-12-05", CostKind.SAFETY, 400)
    pay(book, "2026-04-01", CostKind.ENTRY, 350, meeting="april")
    pay(book, "2026-04-12", CostKind.FUEL, 90.50, meeting="april")
    pay(book, "2026-04-12", CostKind.FUEL, -30, meeting="april", what="share of the fuel")
    pay(book, "2026-05-01", CostKind.ENTRY, 350, meeting="may")
    pay(book, "2026-05-02", CostKind.TYRES, 480)
    pay(book, "2026-07-01", CostKind.ENTRY, 360, meeting="july", is_planned=True)
    book.run("2026-04-11", "a", hours=2, laps=60, meeting="april")
    book.run("2026-05-16", "q", hours=0.5, laps=15, meeting="may", kind="qualifying")
    book.run("2026-05-16", "b", hours=2, laps=45, meeting="may")
    return book


def test_a_season_by_hand():
    """2026: 350 + 90.50 − 30 + 350 + 480 = 1240.50 in 4 h of race and 120 laps: 310.125 and 10.3375."""
    costs = costs_on(season().book, DAY)
    assert costs.season_paid_cents == 124050
    assert costs.per_race_hour_cents == approx(31012.5)
    assert costs.per_lap_cents == approx(1033.75)
    assert (costs.car_cents, costs.paid_cents, costs.sold_cents) == (168000, 164050, -3000)
    assert costs.other_cents == 40000 + 48000
    assert costs.by_month == {"2025-12": 40000, "2026-04": 41050, "2026-05": 83000}
    assert costs.season_by_kind == {CostKind.ENTRY: 70000, CostKind.TYRES: 48000, CostKind.FUEL: 6050}


def test_events_by_hand():
    april, may, july = costs_on(season().book, DAY).by_meeting
    assert (april.name, april.paid_cents, april.driven.laps) == ("April Hours", 41050, 60)
    assert (april.per_race_hour_cents, april.per_lap_cents) == (20525, approx(684.1667))
    assert (may.driven.running, may.driven.racing) == (2.5 * 3600, 2 * 3600)
    assert (july.paid_cents, july.planned_cents, july.per_race_hour_cents) == (0, 36000, None)


def test_a_planned_cost_is_to_come_until_it_is_paid():
    book = season()
    planned = book.entries[-4].number
    costs = costs_on(book.book, DAY)
    assert (costs.season_planned_cents, costs.season_to_come_cents) == (36000, 36000)
    pay(book, "2026-06-20", CostKind.ENTRY, 365, meeting="july", corrects=planned)
    after = costs_on(book.book, DAY)
    assert (after.season_planned_cents, after.season_paid_cents) == (0, 124050 + 36500)


def test_what_is_dated_later_is_not_paid_yet():
    assert costs_on(season().book, on("2026-04-10")).season_paid_cents == 35000


def test_next_years_plans_are_not_this_seasons():
    book = season()
    pay(book, "2027-02-01", CostKind.INSURANCE, 500, is_planned=True)
    assert costs_on(book.book, DAY).season_planned_cents == 36000
    assert costs_on(book.book, on("2027-01-15")).season_planned_cents == 50000
    book.meeting("2026-06-01", "february", "2027-02-06")
    pay(book, "2026-06-01", CostKind.ENTRY, 300, meeting="february", is_planned=True)
    assert costs_on(book.book, DAY).season_planned_cents == 36000
    assert costs_on(book.book, on("2027-01-15")).season_planned_cents == 80000


def order(part: str, cents: int | None, spare: str = "") -> ToOrder:
    return ToOrder(
        part=part, name=part, family=part, needed_by=DAY, why="", price_cents=cents, price_of="", spare=spare
    )


def test_parts_due_and_jobs_are_to_come():
    """Pads 180, a hub nobody knows the price of, a belt that lies on the shelf; the belt's job costs nothing
    more, the welder's 150 do: 360 + 180 + 150."""
    book = season()
    book.write("2026-06-01", JobOpened(job="1", title="Change the belt", part="belt", cost_cents=9000))
    book.write("2026-06-01", JobOpened(job="2", title="Weld the sill", cost_cents=15000))
    book.write("2026-06-01", JobOpened(job="3", title="Polish"))
    due = (order("pads", 18000), order("hub", None), order("belt", 4000, "belt 2"))
    costs = costs_on(book.book, DAY, due, jobs_on(book.book, DAY).open)
    assert (costs.parts_due_cents, costs.jobs_cents) == (18000, 15000)
    assert costs.season_to_come_cents == 36000 + 18000 + 15000
    assert costs.unpriced == ("hub",)


def test_an_empty_book_costs_nothing():
    costs = costs_on(Writer().book, DAY)
    assert (costs.paid_cents, costs.per_lap_cents, costs.per_race_hour_cents) == (0, None, None)


lines = st.lists(
    st.tuples(
        st.sampled_from([f"{year}-{month:02d}-15" for year in (2025, 2026) for month in (1, 4, 5)]),
        st.sampled_from(CostKind),
        st.integers(-50000, 200000),
        st.sampled_from(["", "april", "may", "july", "never heard of"]),
        st.booleans(),
    ),
    max_size=30,
)


def written(lines) -> Costs:
    book = Writer()
    for meeting in ("april", "may", "july"):
        book.meeting("2026-01-01", meeting, "2026-04-11")
    for day, kind, cents, meeting, is_planned in lines:
        cost = CostPaid(cost_kind=kind, cents=cents, what="", meeting=meeting, is_planned=is_planned)
        book.write(day, cost)
    return costs_on(book.book, DAY)


@settings(deadline=None)
@given(lines=lines)
def test_every_way_of_adding_gives_the_same_sum(lines):
    costs = written(lines)
    paid = [line for line in lines if not line[4]]
    running = sum(line[2] for line in paid if line[1] is not CostKind.CAR)
    assert costs.paid_cents == running
    assert sum(costs.by_kind.values()) == running
    assert sum(costs.by_month.values()) == running
    assert sum(each.paid_cents for each in costs.by_meeting) + costs.other_cents == running
    assert all(sum(each.by_kind.values()) == each.paid_cents for each in costs.by_meeting)
    assert costs.car_cents + running == sum(line[2] for line in paid)


@settings(deadline=None)
@given(lines=lines, order=st.randoms())
def test_the_order_of_writing_does_not_matter(lines, order):
    shuffled = list(lines)
    order.shuffle(shuffled)
    one, other = written(lines), written(shuffled)
    assert (one.by_month, one.season_paid_cents, one.car_cents, one.season_planned_cents) == (
        other.by_month,
        other.season_paid_cents,
        other.car_cents,
        other.season_planned_cents,
    )


def test_racing_stands_apart_from_build_and_tools():
    """Racing: 1240.50 as above, with a jack of the April event; a cage and a welder's work are build."""
    book = season()
    pay(book, "2026-03-01", CostKind.SAFETY, 900, what="cage")
    pay(book, "2026-03-02", CostKind.WORK, 300, what="welding")
    pay(book, "2026-04-11", CostKind.TOOLS, 59.50, what="jack", meeting="april")
    costs = costs_on(book.book, DAY)
    assert (costs.season_paid_cents, costs.season_racing_cents) == (250000, 130000)
    assert costs.season_build_cents == 120000
    assert costs.per_race_hour_cents == approx(130000 / 4)
    assert costs.per_lap_cents == approx(130000 / 120)


def test_what_is_planned_for_a_part_or_in_the_words_of_a_job_counts_once():
    book = season()
    pay(book, "2026-07-01", CostKind.PARTS, 210, what="oil cooler, hoses", part="engine", is_planned=True)
    pay(book, "2026-07-02", CostKind.WORK, 40, what="Set the toe", is_planned=True)
    for number, (title, part, cents) in enumerate(
        (("Cooler or more air", "engine", 21000), ("set the toe ", "", 4000), ("Bleed", "brakes", 900))
    ):
        job = JobOpened(job=str(number), title=title, part=part, cost_cents=cents)
        book.write("2026-06-01", job)
    costs = costs_on(book.book, DAY, [order("engine", 150000)], jobs_on(book.book, DAY).open)
    assert costs.season_to_come_cents == 36000 + 21000 + 4000 + 900
    assert [job.job.title for job in costs.jobs_to_pay] == ["Bleed"]
