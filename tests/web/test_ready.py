"""Lives, wear and jobs on the page: the folds' own numbers, worst first, and what may be written there."""

import re
from dataclasses import replace
from datetime import date

import pytest

from tintop.logbook.build import build_on
from tintop.logbook.entries import (
    Basis,
    Counter,
    Draft,
    JobDone,
    JobOpened,
    LifeLimit,
    PartFailed,
    PartFitted,
    PartInspected,
)
from tintop.logbook.jobs import jobs_on
from tintop.logbook.readiness import readiness_on
from tintop.questions.is_it_ready import is_it_ready
from tintop.web.formats import counted, left, quantity
from tintop.web.page import new_key

MARKUP = '<script>alert(1)</script>"><img src=x>'


def test_the_answer_stands_on_top(page, garage):
    html = page.get("/ready").text
    answer = is_it_ready(garage.book, garage.today())
    assert answer.sentence in html.replace("&#39;", "'")
    assert html.index("<strong>Not ready") < html.index("<h2>Jobs to do</h2>")


def test_lives_stand_worst_first_with_the_folds_numbers(page, garage):
    html = page.get("/ready").text
    lives = readiness_on(garage.book, garage.today()).lives
    assert [life.part for life in lives] == ["cam-belt-1", "front-pads-1"]
    places = []
    for life in lives:
        row = re.search(
            rf'<tr><th scope="rowgroup" rowspan="1"><a [^>]*>{life.title}</a></th>.*?</tr>',
            html[html.index("<h2>Lives") :],
            re.S,
        )
        assert row is not None
        places.append(row.start())
        counter = life.limit.counter
        for value in (life.used, life.limit.limit, life.next_use):
            assert f">{counted(value, counter)}<" in row[0]
        assert f">{left(life.left, counter)}<" in row[0]
        assert life.state.value in row[0]
        assert life.limit.basis.value in row[0]
    assert places == sorted(places)


def test_wear_shows_the_folds_numbers(page, garage):
    html = page.get("/ready").text
    for wear in readiness_on(garage.book, garage.today()).wears:
        assert wear.title in html
        assert f">{quantity(wear.thickness, 'mm', 1, 'length')}<" in html


def test_a_bar_keeps_its_numbers_in_proportion():
    from tintop.logbook.entries import Area, Measure
    from tintop.logbook.wear import Wear, WearState
    from tintop.web.pages.ready import bar_of

    wear = Wear(
        part="p", name="Pads", family="pads", area=Area.FRONT_AXLE, corner="", measure=Measure.PAD_THICKNESS,
        state=WearState.LASTS, thickness=0.008, new=0.010, least=0.004, at_end=0.006, at_end_low=0.005,
        at_end_high=0.007,
    )  # fmt: skip
    assert bar_of(wear) == pytest.approx({"now": 80.0, "least": 40.0, "end": 60.0, "low": 50.0, "high": 70.0})


def test_a_job_is_opened_and_done(page, garage):
    job = {
        "key": "j1", "title": "Torque the wheel nuts", "meeting": "midsummer", "stops_running": "yes",
        "job_minutes": "15", "job_cost": "12,50", "part": "cam-belt-1",
    }  # fmt: skip
    answer = page.post("/ready/jobs", data=job)
    assert answer.status_code == 303
    opened = [one for _entry, one in garage.book.of(JobOpened) if one.title == job["title"]]
    assert opened == [
        JobOpened(
            job="torque-the-wheel-nuts", title=job["title"], part="cam-belt-1", meeting="midsummer",
            stops_running=True, cost_cents=1250, minutes=15.0,
        )
    ]  # fmt: skip
    assert page.post("/ready/jobs", data=job).headers["location"] == answer.headers["location"]
    done = {"key": "d1", "job": "torque-the-wheel-nuts"}
    first = page.post("/ready/done", data=done)
    assert first.status_code == 303
    assert page.post("/ready/done", data=done).headers["location"] == first.headers["location"]
    assert [one.job for _entry, one in garage.book.of(JobDone)] == ["torque-the-wheel-nuts"]
    assert {one.job.job for one in jobs_on(garage.book, garage.today()).open} == {"bleed"}
    late = page.post("/ready/done", data={"key": "d2", "job": "torque-the-wheel-nuts"})
    assert late.status_code == 422
    assert "not open" in late.text


def test_a_job_that_reads_two_ways_is_asked(page, garage):
    before = garage.book.last_number
    answer = page.post("/ready/jobs", data={"title": "New belt", "job_cost": "1.234", "job_minutes": "1:30"})
    assert answer.status_code == 422
    assert garage.book.last_number == before
    assert 'data-for="job_cost"' in answer.text
    assert 'data-for="job_minutes"' in answer.text
    assert 'value="New belt"' in answer.text


def test_a_part_is_inspected(page, garage):
    assert page.post("/ready/inspected", data={"key": "i1", "part": "cam-belt-1"}).status_code == 303
    assert [one.part for _entry, one in garage.book.of(PartInspected)] == ["cam-belt-1"]
    assert page.post("/ready/inspected", data={"key": "i2", "part": "nothing"}).status_code == 422


def _write(garage, *matters):
    garage.record(
        [Draft(key=new_key(), day=garage.today(), who="owner", matter=matter) for matter in matters]
    )


def test_a_failed_part_says_so_first_and_only_words_find_it_good_again(page, garage):
    """Two lives stand in this book; the failed one is the belt's, which is inspected, not replaced."""
    belt = build_on(garage.book, garage.today()).by_name["cam-belt-1"].part
    look = LifeLimit(counter=Counter.AGE, limit=9000.0, basis=Basis.MAKER, action="inspect")
    _write(garage, replace(belt, part="hoses", name="Brake hoses", limits=(look,), came_with_car=False))
    _write(garage, PartFitted(part="hoses"))
    assert "Found good" in page.get("/ready").text
    _write(garage, PartFailed(part="hoses", what="braid showing"))
    html = page.get("/ready").text
    lives = html[html.index("<h2>Lives") :]
    row = lives[lives.index("<tbody>") : lives.index("</tbody>")]
    assert "Brake hoses" in row
    assert 'class="state bad"><span class="sign" aria-hidden="true">✗</span>failed<' in row
    assert "Found good" not in html
    assert "braid showing" in html[: html.index("<h2>Jobs to do")]
    last = garage.book.last_number
    refused = page.post("/ready/inspected", data={"key": "h1", "part": "hoses"})
    assert refused.status_code == 422
    assert "Write down what was done and found" in refused.text
    assert garage.book.last_number == last
    told = page.post("/ready/inspected", data={"key": "h2", "part": "hoses", "found": "new pair fitted"})
    assert told.status_code == 303
    assert "failed" not in page.get("/ready").text


def test_a_limit_of_the_rules_is_never_ticked(page, garage):
    belt = build_on(garage.book, garage.today()).by_name["cam-belt-1"].part
    label = LifeLimit(counter=Counter.AGE, limit=9000.0, basis=Basis.RULE)
    _write(garage, replace(belt, part="harness", name="Harness", limits=(label,), made=date(2026, 1, 1)))
    _write(garage, PartFitted(part="harness"))
    html = page.get("/ready").text
    row = re.search(r">Harness</a></th>.*?</tr>", html, re.S)
    assert row is not None
    assert "in date by the label, not inspected" in row[0]
    assert "✓" not in row[0]
    part = page.get("/car/parts/harness").text
    assert "in date by the label, not inspected" in part
    assert "✓" not in part[part.index("<h2>Life") : part.index("<h2>History")]
    assert "in date by the label, not inspected" in page.get("/car").text


def test_what_to_have_in_hand_has_its_price_but_not_for_a_reader(page, reader, garage):
    orders = readiness_on(garage.book, garage.today()).orders
    assert [order.part for order in orders] == ["cam-belt-1", "front-pads-1"]
    html = page.get("/ready").text
    assert "£62.00" in html
    hidden = reader.get("/ready").text
    assert "Cam belt" in hidden
    assert "£" not in hidden


def test_a_reader_writes_nothing(reader, garage):
    before = garage.book.last_number
    for address in ("/ready/jobs", "/ready/done", "/ready/inspected"):
        assert (
            reader.post(address, data={"title": "x", "job": "bleed", "part": "cam-belt-1"}).status_code == 403
        )
    assert garage.book.last_number == before


def test_markup_is_shown_as_text(page):
    assert page.post("/ready/jobs", data={"key": "m", "title": MARKUP}).status_code == 303
    for answer in (
        page.get("/ready"),
        page.post("/ready/jobs", data=dict.fromkeys(("title", "part", "job_cost"), MARKUP)),
    ):
        assert "<script>alert" not in answer.text
        assert "<img" not in answer.text
