from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from books import HOUR, MM, Writer, limit, on, planned
from tintop.answer import Answer, Verdict
from tintop.logbook.entries import (
    Area,
    Basis,
    Counter,
    Fate,
    JobDone,
    JobOpened,
    Measure,
    PartFailed,
    PartInspected,
    PartRemoved,
)
from tintop.logbook.wear import ForecastWear
from tintop.questions.is_it_ready import is_it_ready

DAY = on("2026-06-01")


def car(pads_left: float = 9.0, tread_left: float = 5.0, hub_limit: float = 100.0) -> Writer:
    """Pads of 12 mm new and 3 mm at least, tyres of 6 and 2 mm, both read after 2 h; a hub with a limit.

    Next: half an hour of practice and two hours of race on 20 June.
    """
    book = Writer()
    book.part(
        "2026-01-01", "pads", family="front pads", name="Front pads (fast road)", price_cents=8900,
        thickness_new=12 * MM, thickness_least=3 * MM,
    )  # fmt: skip
    book.part(
        "2026-01-01", "tyres", family="race tyres", name="Race tyres", area=Area.OUTSIDE,
        thickness_new=6 * MM, thickness_least=2 * MM,
    )  # fmt: skip
    book.part(
        "2026-01-01", "hub", name="Hub bearing", area=Area.FRONT_LEFT, price_cents=7400,
        limits=(limit(Counter.RUNNING, hub_limit * HOUR),),
    )  # fmt: skip
    for part in ("pads", "tyres", "hub"):
        book.fit("2026-01-02", part)
    book.run("2026-04-11", "spring", hours=2)
    book.read("2026-04-11", Measure.PAD_THICKNESS, pads_left * MM, part="pads", session="spring")
    book.read("2026-04-11", Measure.TREAD_DEPTH, tread_left * MM, part="tyres", session="spring")
    book.meeting(
        "2026-01-01", "summer", "2026-06-20", name="Midsummer Hours",
        sessions=(planned("Practice", 30, "practice"), planned("Race", 120)),
    )  # fmt: skip
    return book


def ask(book: Writer, **more) -> Answer:
    return is_it_ready(book.book, DAY, **more)


def test_ready_says_what_is_nearest():
    """Pads: 9 mm less 2.5 h of 1.5 mm/h, 2.25 mm above 3 mm. Tyres: 5 less 1.25, 1.75 mm above 2 mm."""
    answer = ask(car())
    assert answer.verdict is Verdict.YES
    assert answer.sentence == (
        "Ready for Midsummer Hours: nothing is worn or out of life before it is over; "
        "nearest race tyres, with 1.8 mm to spare."
    )
    assert answer.why == ()


def test_pads_that_run_out_in_the_race():
    """12 − 6.5 in 2 h is 2.75 mm/h; 6.5 − 3 = 3.5 mm last 76.4 min. Practice takes 30, so they are at their
    least 46.4 min into the race, 73.6 min before its end."""
    answer = ask(car(pads_left=6.5))
    assert answer.verdict is Verdict.NO
    assert answer.sentence == (
        "Not ready: front pads (fast road) reach their least thickness 74 min before the end of the race."
    )
    assert answer.next_thing == (
        "Order new front pads (fast road) now and fit them before Sat 20 June; last paid £89.00."
    )


def test_a_spare_on_the_shelf_is_named():
    book = car(pads_left=6.5)
    book.part("2026-05-01", "pads 2", family="front pads", name="Second pads")
    assert ask(book).next_thing == "Replace front pads (fast road): a spare is on the shelf (Second pads)."


def test_a_forecast_against_the_cars_own_readings_warns_and_orders_nothing():
    """Own 1.5 mm/h leave 9 − 3.75 mm; 3 mm/h of the forecast 9 − 7.5, less and more 0.2 mm of the gauge."""
    forecast = ForecastWear(running=2 * HOUR, used={Measure.PAD_THICKNESS: (6 * MM, 6 * MM, 0.0, 0.0)})
    answer = ask(car(), forecast=forecast)
    assert answer.verdict is Verdict.CLOSE
    assert answer.sentence == (
        "Ready, but close: front pads (fast road) last the event by its own 2 thicknesses, but the race "
        "forecast says 1.5 mm left at the end (1.3 to 1.7 mm), least 3.0 mm."
    )
    assert answer.working["to_order"] == []
    pads = next(figure for figure in answer.figures if figure.name.startswith("front pads"))
    assert pads.value == pytest.approx(2.25 * MM)


def test_a_forecast_leads_where_nothing_was_ever_measured():
    """4 mm/h from the forecast: 12 − 3 = 9 mm last 135 min, 30 of them in practice."""
    book = car()
    book.entries = [
        entry
        for entry in book.entries
        if not (entry.matter.kind == "reading" and entry.matter.part == "pads")
    ]
    forecast = ForecastWear(running=2 * HOUR, used={Measure.PAD_THICKNESS: (8 * MM, 8 * MM, 0.0, 0.0)})
    answer = ask(book, forecast=forecast)
    assert answer.verdict is Verdict.NO
    assert [row["part"] for row in answer.working["to_order"]] == ["pads"]


def test_worn_already():
    assert ask(car(pads_left=2.5)).sentence == (
        "Not ready: front pads (fast road) are at 2.5 mm, their least is 3.0 mm."
    )


def test_close_when_only_the_range_reaches_the_least():
    """8.05 after 2 h is 1.975 mm/h; 2.5 h more leave 3.1 mm. Half range: 1.96 × 0.1 mm of the gauge and 2.5 h
    of 1.96 × 0.1 mm / √2 h, together 0.40 mm."""
    answer = ask(car(pads_left=8.05))
    assert answer.verdict is Verdict.CLOSE
    assert answer.sentence == (
        "Ready, but close: front pads (fast road) may reach their least thickness of 3.0 mm before the event "
        "is over: 3.1 mm left then, 2.7 to 3.5 mm."
    )


@pytest.mark.parametrize(
    ("hours", "sentence"),
    [
        (1.5, "Not ready: hub bearing, FL is 0.5 h past its life at 1.5 h (maker)."),
        (
            3.5,
            "Not ready: hub bearing, FL reaches its life at 3.5 h (maker) 60 min before the end of the race.",
        ),
        (
            2.25,
            "Not ready: hub bearing, FL reaches its life at 2.2 h (maker) 15 min before the end of Practice.",
        ),
    ],
)
def test_a_part_out_of_life(hours, sentence):
    answer = ask(car(hub_limit=hours))
    assert (answer.verdict, answer.sentence) == (Verdict.NO, sentence)
    assert (
        answer.next_thing
        == "Order a new hub bearing, FL now and fit it before Sat 20 June; last paid £74.00."
    )


def test_a_life_due_at_the_event_after_is_told_and_stops_nothing():
    book = car(hub_limit=6.0)
    answer = ask(book)
    assert answer.verdict is Verdict.YES
    assert answer.why == ("due before the event after this one is over: hub bearing, FL, 4.0 h to life",)


def test_an_inspection_due_in_the_event_is_close_and_overdue_is_not_ready():
    for hours, verdict in ((4.0, Verdict.CLOSE), (1.0, Verdict.NO)):
        book = car()
        checked = limit(Counter.RUNNING, hours * HOUR, Basis.COMMON_PRACTICE, "inspect")
        book.part("2026-01-01", "studs", name="Wheel studs", limits=(checked,))
        book.fit("2026-01-02", "studs")
        answer = ask(book)
        assert answer.verdict is verdict
        assert answer.next_thing == "Inspect wheel studs and write down what was found."
        book.write("2026-05-30", PartInspected(part="studs"))
        assert ask(book).verdict is (Verdict.YES if hours > 2.5 else Verdict.CLOSE)


def test_a_limit_in_days():
    book = car()
    book.part(
        "2026-01-01", "harness", name="Harness", area=Area.CABIN, made=on("2021-06-10"),
        limits=(limit(Counter.AGE, 1826, Basis.RULE),),
    )  # fmt: skip
    book.fit("2026-01-02", "harness")
    assert ask(book).sentence == (
        "Not ready: harness reaches its life at 1826 days (rule) before the event is over: "
        "9 days left, 19 days to come."
    )


def test_a_failed_part_comes_before_all_else():
    book = car(pads_left=2.5)
    book.write("2026-05-01", PartFailed(part="hub", what="play at 12 and 6 o'clock"))
    answer = ask(book)
    assert answer.sentence == (
        "Not ready: hub bearing, FL failed (play at 12 and 6 o'clock) and is still on the car."
    )
    assert answer.next_thing.startswith("Order a new hub bearing, FL now and fit it before Sat 20 June")
    assert len(answer.why) == 2
    book.write("2026-05-02", PartRemoved(part="hub", fate=Fate.FAILED))
    assert "front pads" in ask(book).sentence


def test_a_failed_part_has_no_figure_of_life_or_wear():
    """Whatever is left of a limit or a thickness, it is nothing while the part is broken."""
    book = car()
    for part in ("hub", "pads"):
        book.write("2026-05-01", PartFailed(part=part, what="cracked"))
    answer = ask(book)
    assert [figure.name for figure in answer.figures] == ["race tyres: to spare at the end"]
    assert {row["state"] for row in answer.working["lives"]} == {"failed"}
    assert {row["part"]: row["state"] for row in answer.working["wear"]} == {
        "pads": "failed",
        "tyres": "lasts the event",
    }


def test_jobs():
    book = car()
    book.write("2026-05-01", JobOpened(job="1", title="Replace the brake hose", stops_running=True))
    assert ask(book).sentence == (
        "Not ready: the car is not to run before this is done: Replace the brake hose."
    )
    book.write("2026-05-02", JobDone(job="1"))
    assert ask(book).verdict is Verdict.YES
    book.write("2026-05-03", JobOpened(job="2", title="Set the toe", meeting="summer"))
    book.write("2026-05-03", JobOpened(job="3", title="Polish", meeting="autumn"))
    answer = ask(book)
    assert (answer.verdict, answer.why) == (Verdict.CLOSE, ("to be done before this event: Set the toe",))


def test_what_is_not_known_is_never_ready():
    empty = ask(Writer())
    assert empty.verdict is Verdict.NOT_PROVEN
    assert empty.sentence == "Not proven: no event is planned to be ready for."

    unread = car()
    unread.part("2026-05-01", "discs", family="front discs", name="Front discs")
    unread.fit("2026-05-01", "discs")
    answer = ask(unread)
    assert answer.verdict is Verdict.NOT_PROVEN
    assert answer.sentence == (
        "Not proven: front discs: it was never measured, and its thickness as new is not known."
    )

    ghost = car()
    ghost.fit("2026-05-01", "fuel pump")
    assert ask(ghost).sentence == (
        "Not proven: fuel pump was fitted or taken off, but no such part was ever entered."
    )


def test_a_car_without_known_brakes_or_tyres_is_not_ready():
    book = car()
    for part in ("pads", "tyres"):
        book.write("2026-05-01", PartRemoved(part=part, fate=Fate.KEPT))
    answer = ask(book)
    assert answer.verdict is Verdict.NOT_PROVEN
    assert answer.why == ("the book knows no brake pads on the car", "the book knows no tyres on the car")


def test_an_event_without_sessions_proves_nothing():
    book = Writer()
    book.entries = [entry for entry in car().entries if entry.matter.kind != "event planned"]
    book.meeting("2026-01-01", "summer", "2026-06-20", name="Midsummer Hours")
    assert ask(book).sentence == (
        "Not proven: no sessions are planned at Midsummer Hours, so what it uses is not known."
    )


def test_figures_carry_margin_range_and_basis():
    """Pads: 9 − 3.75 − 3 = 2.25 mm; tyres: 1.75 mm; hub: 100 − 2 − 2.5 h."""
    figures = {figure.name: figure for figure in ask(car()).figures}
    pads = figures["front pads (fast road): to spare at the end"]
    assert pads.value == pytest.approx(2.25 * MM)
    assert pads.low < pads.value < pads.high
    assert (pads.unit, pads.basis) == ("m", "rate by its own 2 thicknesses")
    hub = figures["hub bearing, FL: running time left at the end"]
    assert (hub.value, hub.unit) == (pytest.approx(95.5 * HOUR), "s")


def test_the_working_is_plain_and_complete():
    working = ask(car()).working
    pads = next(row for row in working["wear"] if row["part"] == "pads")
    assert pads["at_end_m"] == pytest.approx(
        pads["read_m"] - pads["rate_m_per_s"] * (pads["driven_since_s"] + working["planned_running_s"])
    )
    hub = working["lives"][0]
    assert hub["left"] == hub["limit"] - hub["used"]


def test_every_answer_defers_to_the_scrutineer():
    for book in (Writer(), car(), car(pads_left=2.5)):
        assert "scrutineer" in " ".join(ask(book).cautions)


@settings(deadline=None)
@given(order=st.permutations(range(len(car().entries))))
def test_the_order_of_writing_does_not_matter(order):
    """The same days written down in any order give the same answer, but for the entries' own numbers."""
    written = car(pads_left=6.5).entries
    book = Writer()
    book.entries = [replace(written[place], number=number) for number, place in enumerate(order, 1)]
    one, other = ask(book), ask(car(pads_left=6.5))
    assert (one.sentence, one.figures, one.why, one.next_thing) == (
        other.sentence,
        other.figures,
        other.why,
        other.next_thing,
    )
