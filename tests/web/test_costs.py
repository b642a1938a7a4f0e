"""Money on the page: the folds' own sums, typed however, seen by nobody who only looks."""

import re

import pytest

from tintop.garage import answers
from tintop.logbook.costs import costs_on
from tintop.logbook.entries import (
    Area,
    CostKind,
    CostPaid,
    Draft,
    Measure,
    PartAdded,
    PartFitted,
    SupportReceived,
    SupportReturned,
)
from tintop.logbook.readiness import readiness_on
from tintop.logbook.support import supporters
from tintop.logbook.wear import ForecastWear
from tintop.web.formats import money

MARKUP = '<script>alert(1)</script>"><img src=x>'
FUEL = {
    "key": "fuel-1", "what": "Fuel, two cans", "amount": "64,80", "cost_kind": "fuel", "meeting": "spring",
    "supplier": "Larkmoor paddock", "state": "paid", "cost_day": "2026-04-18",
}  # fmt: skip


def costs(garage) -> list[CostPaid]:
    return [cost for _entry, cost in garage.book.of(CostPaid)]


def test_the_sums_are_those_of_the_fold(page, garage):
    html = page.get("/costs").text
    ready = readiness_on(garage.book, garage.today())
    found = costs_on(garage.book, garage.today(), ready.orders, ready.jobs.open)
    assert found.season_paid_cents == 31000
    assert found.season_to_come_cents == 32000 + 6200 + 14250
    for cents in (
        found.season_paid_cents,
        found.season_racing_cents,
        found.season_to_come_cents,
        found.per_race_hour_cents,
    ):
        assert f'<span class="large">{money(cents, "£")}</span>' in html
    assert f'<span class="large">{money(found.per_lap_cents, "£", 2)}</span>' in html
    for spent in found.by_meeting:
        assert spent.name in html
        assert f">{money(spent.paid_cents, '£')}<" in html


def test_a_cost_is_paid_as_typed_and_once(page, garage):
    answer = page.post("/costs", data=FUEL)
    assert answer.status_code == 303
    (fuel,) = [cost for cost in costs(garage) if cost.cost_kind is CostKind.FUEL]
    assert (fuel.cents, fuel.meeting, fuel.is_planned) == (6480, "spring", False)
    assert page.post("/costs", data=FUEL).headers["location"] == answer.headers["location"]
    assert len([cost for cost in costs(garage) if cost.cost_kind is CostKind.FUEL]) == 1


@pytest.mark.parametrize(
    ("text", "cents"), [("12,50", 1250), ("£1,234.50", 123450), ("1234", 123400), ("-40", -4000)]
)
def test_sums_typed_in_many_ways(page, garage, text, cents):
    assert page.post("/costs", data={**FUEL, "amount": text}).status_code == 303
    assert next(cost.cents for cost in costs(garage) if cost.cost_kind is CostKind.FUEL) == cents


def test_a_sum_that_reads_two_ways_is_asked_and_everything_stays(page, garage):
    before = garage.book.last_number
    answer = page.post("/costs", data={**FUEL, "amount": "1,234"})
    assert answer.status_code == 422
    assert garage.book.last_number == before
    assert 'data-write="1234.00" data-for="amount"' in answer.text
    assert 'data-write="1.23" data-for="amount"' in answer.text
    assert 'value="Larkmoor paddock"' in answer.text
    assert 'value="fuel-1"' in answer.text


@pytest.mark.parametrize(
    ("field", "text"),
    [("what", ""), ("amount", ""), ("amount", "lots"), ("cost_kind", "bribes"), ("meeting", "none"),
     ("cost_day", "2026-12-24"), ("cost_day", "soon"), ("part", "none")],
)  # fmt: skip
def test_what_is_wrong_is_said_at_its_field(page, garage, field, text):
    before = garage.book.last_number
    answer = page.post("/costs", data={**FUEL, field: text})
    assert answer.status_code == 422
    assert garage.book.last_number == before
    assert re.search(rf'<(input|select) id="{field}"[^>]*aria-invalid="true"', answer.text)


def test_a_planned_cost_is_paid_by_a_correction(page, garage):
    html = page.get("/costs").text
    number = re.search(r'action="/costs/planned/(\d+)/paid"', html)[1]
    answer = page.post(f"/costs/planned/{number}/paid", data={"key": "p", f"came_to_{number}": "325"})
    assert answer.status_code == 303
    entry = [cost for cost in costs(garage) if cost.meeting == "midsummer"]
    assert entry == [CostPaid(cost_kind=CostKind.ENTRY, cents=32500, what="Entry fee", meeting="midsummer")]
    late = page.post(f"/costs/planned/{number}/paid", data={"key": "q", f"came_to_{number}": "320"})
    assert late.status_code == 409
    assert page.post("/costs/planned/1/paid", data={"came_to_1": "3"}).status_code == 404


def test_support_is_written_down_and_returned(page, garage):
    given = {
        "key": "s1", "supporter": "Fettle & Son", "support_what": "Alignment, four hours",
        "list_price": "240", "support_paid": "60", "owed": "Photographs", "owed_by": "2026-07-01",
    }  # fmt: skip
    assert page.post("/costs/received", data=given).status_code == 303
    received = next(one for _entry, one in garage.book.of(SupportReceived) if one.supporter == "Fettle & Son")
    assert (received.list_price_cents, received.paid_cents) == (24000, 6000)
    html = page.get("/costs").text
    first = supporters(garage.book, garage.today())[0]
    assert (first.name, first.overdue) == ("Marlow Lubricants", 1)
    assert html.index("Marlow Lubricants") < html.index("<h3>Fettle &amp; Son")
    assert "overdue" in html
    assert (
        page.post(
            "/costs/returned",
            data={"key": "r1", "support": "oil", "returned_what": "Name on the windows", "is_settled": "yes"},
        ).status_code
        == 303
    )
    assert [one.support for _entry, one in garage.book.of(SupportReturned)] == ["oil"]
    assert supporters(garage.book, garage.today())[0].overdue == 0
    assert page.post("/costs/returned", data={"support": "none", "returned_what": "x"}).status_code == 422


def test_a_reader_sees_no_money_anywhere(reader, garage):
    answer = reader.get("/costs")
    assert answer.status_code == 403
    assert "Money is not shown to readers." in answer.text
    number = next(entry.number for entry, _cost in garage.book.of(CostPaid))
    for address in ("/history", f"/history?number={number}", "/history?text=fee", f"/events?saved={number}"):
        assert "Entry fee" not in reader.get(address).text, address
    for address in ("/costs", "/costs/received", "/costs/returned", f"/costs/planned/{number}/paid"):
        assert reader.post(address, data=FUEL).status_code == 403


def test_many_lines_are_shown_a_hundred_at_a_time_and_filtered(page, garage):
    garage.record(
        [
            Draft(key=f"line {place}", day=garage.today(), who="Robin",
                  matter=CostPaid(cost_kind=CostKind.FLUIDS, cents=100, what=f"Line {place}"))
            for place in range(250)
        ]
    )  # fmt: skip
    lines = page.get("/costs").text
    lines = lines[lines.index('id="lines"') :]
    assert "Line 249<" in lines
    assert "Line 149<" not in lines
    assert "252 lines" in lines
    older = page.get("/costs?page=3").text
    assert "Line 0<" in older
    fluids = page.get("/costs?kind=fluids&event=none").text
    assert "250 lines" in fluids
    assert "£250.00 paid" in fluids
    assert "1 lines" in page.get("/costs?event=spring").text
    for number in ("0", "-3", "x", "999999"):
        assert page.get(f"/costs?page={number}").status_code == 200


def test_markup_is_shown_as_text(page):
    page.post("/costs", data={**FUEL, "what": MARKUP, "supplier": MARKUP})
    page.post(
        "/costs/received",
        data={"key": "s", "supporter": MARKUP, "support_what": MARKUP, "list_price": "1", "owed": MARKUP},
    )
    for answer in (
        page.get("/costs"),
        page.get("/costs", params={"event": MARKUP, "kind": MARKUP, "page": MARKUP}),
        page.post("/costs", data=dict.fromkeys(FUEL, MARKUP)),
        page.get("/history"),
    ):
        assert "<script>alert" not in answer.text
        assert "<img" not in answer.text


def test_the_page_and_the_answer_say_the_same_of_what_is_to_come(page, garage, monkeypatch):
    """With a forecast in hand by which pads of no history wear out, both count their price."""
    pads = PartAdded(
        part="rear-pads", name="Rear pads", family="rear pads", area=Area.REAR_AXLE, price_cents=4000,
        thickness_new=0.010, thickness_least=0.004,
    )  # fmt: skip
    matters = (pads, PartFitted(part="rear-pads"))
    garage.record(
        [
            Draft(key=str(place), day=garage.today(), who="owner", matter=one)
            for place, one in enumerate(matters)
        ]
    )
    forecast = ForecastWear(running=7200.0, used={Measure.PAD_THICKNESS: (0.0, 0.0, 0.009, 0.009)})
    monkeypatch.setattr(answers, "forecast_of", lambda _garage, _meeting: forecast)
    found = answers.standing(garage, garage.next_meeting(), "affordable").answer
    assert found is not None
    to_come = next(figure.value for figure in found.figures if figure.name == "this season still to come")
    assert to_come == pytest.approx(320.0 + 62.0 + 142.5 + 40.0)
    html = page.get("/costs").text
    assert f'<span class="large">{money(100.0 * to_come, "£")}</span>to come' in html
    assert found.sentence in html
