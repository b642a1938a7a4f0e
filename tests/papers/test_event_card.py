from datetime import date

import pytest
from printed import TODAY, bare, is_a4, pages, said

from tintop.answer import Answer, Figure, Verdict
from tintop.charts.car_words import in_owner_units
from tintop.charts.circuit_map import road_map_svg
from tintop.garage.answers import standings
from tintop.garage.keeper import Garage
from tintop.garage.papers import event_card, event_card_content
from tintop.logbook.entries import Draft, JobOpened, Measure, MeetingPlanned, PlannedSession, Reading
from tintop.logbook.jobs import jobs_on
from tintop.logbook.sessions import sessions
from tintop.papers.event_card import AnswerThen, card_of
from tintop.papers.stand import stand_on
from tintop.papers.typeset import set_event_card
from tintop.questions.will_it_last import written_amount
from tintop.settings import Settings
from tintop.store.garage_store import Store

ANSWER = Answer(
    question="Will it last?",
    verdict=Verdict.CLOSE,
    sentence="It lasts 13 laps as planned.",
    figures=(Figure(name="laps", value=13.0, low=11.0, high=14.0, unit="laps", basis="march"),),
    next_thing="Measure the pads at the stop.",
)


def card(demo, forecast, **changes):
    meeting = demo.next_meeting()
    settings = demo.settings
    stand = stand_on(
        demo.book,
        TODAY,
        lambda value, quantity, decimals=None: in_owner_units(value, quantity, settings.units, decimals),
        settings.currency,
        is_public=False,
    )
    answers = changes.pop("answers", (AnswerThen(name="lasting", question="Will it last?", answer=ANSWER),))
    return card_of(
        stand,
        changes.pop("meeting", meeting),
        answers,
        sessions(demo.book, TODAY),
        car="Lantern",
        place="Larkmoor",
        described=forecast.described,
        event=forecast.event,
        forecast=forecast if changes.get("is_predicted", True) else None,
        map_svg=road_map_svg(demo.circuit(meeting.circuit), 250.0),
    )


def test_it_is_one_page_of_a4_with_all_five_answers_and_the_line_for_the_pen(demo):
    pdf = event_card(demo, demo.next_meeting())
    words = pages(pdf)
    assert is_a4(pdf) and len(words) == 1
    for question in (
        "Is it legal?",
        "Is it ready?",
        "How quick is it?",
        "Will it last?",
        "What does it cost?",
    ):
        assert question in words[0]
    given = [each.answer for each in standings(demo, demo.next_meeting()) if each.answer]
    assert all(answer.verdict.value.upper() in words[0] for answer in given) and given
    assert "litres per lap now:" in words[0]
    assert "scrutineers, the regulations in force and licensed practice come first" in words[0]
    assert pdf == event_card(demo, demo.next_meeting())


def test_what_is_not_predicted_is_said_and_not_made_up(demo):
    found = event_card_content(demo, demo.next_meeting())
    assert found.stops == () and found.watch == ()
    assert ("predicted", "no race is predicted as things stand") in found.fuel
    assert "No race is predicted" in said_in_order(set_event_card(found))


def test_the_weather_tells_how_it_is_known(demo):
    found = event_card_content(demo, demo.next_meeting())
    assert found.weather == "air 25 °C, road 36 °C, dry, as reckoned with: estimated, a warm day assumed"


def said_in_order(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def test_pressures_are_the_last_that_were_read(demo, forecast):
    last = {}
    for entry, reading in demo.book.of(Reading):
        if reading.measure in (Measure.PRESSURE_COLD, Measure.PRESSURE_HOT) and entry.day <= TODAY:
            last[reading.measure, reading.corner] = f"{reading.value / 1e5:.2f} bar"
    rows = {row.name: row for row in card(demo, forecast).pressures}
    for name, measure in (
        ("cold, last read", Measure.PRESSURE_COLD),
        ("hot, last read", Measure.PRESSURE_HOT),
    ):
        assert rows[name].values == tuple(last[measure, corner] for corner in ("FL", "FR", "RL", "RR"))
        assert "dial gauge" in rows[name].known and "at another circuit" in rows[name].known


def test_fuel_stops_and_what_to_watch_are_those_of_the_race(demo, forecast):
    found = card(demo, forecast)
    (stop,) = found.stops
    lap, _ = forecast.trace.stops_made[0]
    assert f"lap {lap}" in stop[1] and stop[4] == "5.0 L" and stop[5] == "1:00"
    assert found.stop_notes == ("Stop 1, when: window 5 to 15 min, article 9.",)
    odds = [forecast.odds.of(row[0]).probability for row in found.watch]
    assert odds == sorted(odds)
    weakest = min(forecast.judged, key=lambda each: (forecast.odds.of(each.item).probability, each.margin))
    assert found.watch[0][0] == weakest.item
    assert found.watch[0][2].replace("−", "-") == written_amount(weakest.margin, weakest.unit)
    (fuel,) = [row for row in found.watch if row[0] == "fuel"]
    assert fuel[1] == f"lap {forecast.trace.fuel_left.argmin() + 1} of {forecast.trace.laps}"
    pdf = set_event_card(found)
    assert len(pages(pdf)) == 1
    assert all(bare(cell) in said(pdf) for row in (*found.watch, *found.stops) for cell in row)


def test_what_stops_the_car_is_on_it(demo, forecast):
    found = card(demo, forecast)
    stopping = [each.job.title for each in jobs_on(demo.book, TODAY).open if each.job.stops_running]
    assert stopping and set(stopping) <= set(found.stopping_jobs)
    assert any(words.startswith("Failed and still on the car: Brake hoses") for words in found.stopping_jobs)


def test_a_reader_gets_it_without_money(demo):
    owners = said(event_card(demo, demo.next_meeting()))
    readers = said(event_card(demo, demo.next_meeting(), shows_money=False))
    assert "£" in owners
    assert "£" not in readers and "Moneyisnotshowntoreaders." in readers


@pytest.mark.parametrize("has_forecast", [True, False])
def test_it_stays_one_page_whatever_is_written(demo, forecast, has_forecast):
    words = 'long #import "x" *bold* $x$ ' * 30 + "W" * 200
    answer = Answer(question="q", verdict=Verdict.NOT_PROVEN, sentence=words, figures=(), next_thing=words)
    answers = tuple(
        AnswerThen(
            name=name, question=f"Is it {name}?", answer=answer, sentence="Given on a day; changed since."
        )
        for name in ("legal", "ready", "quick", "lasting", "affordable")
    )
    meeting = MeetingPlanned(
        meeting="m",
        name=words,
        first_day=date(2026, 6, 20),
        last_day=date(2026, 6, 23),
        sessions=tuple(PlannedSession(name=words, kind="race", duration=7200.0) for _ in range(30)),
    )
    found = card(demo, forecast, meeting=meeting, answers=answers, is_predicted=has_forecast)
    assert len(pages(set_event_card(found))) == 1


def test_sixty_jobs_are_counted_and_not_all_printed(tmp_path):
    garage = Garage(Store.create(tmp_path / "g", Settings(title="Small")), today=lambda: TODAY)
    meeting = MeetingPlanned(meeting="m", name="A race", first_day=TODAY, last_day=TODAY)
    jobs = [JobOpened(job=f"j{n}", title=f"Mend number {n}", stops_running=True) for n in range(60)]
    garage.record(
        [Draft(key=str(n), day=TODAY, who="Sam", matter=matter) for n, matter in enumerate((meeting, *jobs))]
    )
    pdf = event_card(garage, meeting)
    garage.close()
    assert len(pages(pdf)) == 1
    assert "and 54 more" in pages(pdf)[0] and "never read" in pages(pdf)[0]
    assert "no circuit named" in pages(pdf)[0]
