"""The sheets made of the logbook: what stands in their cells, and what stays out."""

import pytest

from books import HOUR, MM, Writer, kilograms, limit, on, planned
from tintop.logbook.build import build_on
from tintop.logbook.costs import costs_on
from tintop.logbook.counters import counts_on
from tintop.logbook.entries import (
    Area,
    CostKind,
    CostPaid,
    Counter,
    Fate,
    JobOpened,
    Measure,
    MeetingClosed,
    PartRemoved,
    SupportReceived,
)
from tintop.logbook.mass_ledger import mass_ledger
from tintop.logbook.meetings import meetings
from tintop.logbook.readiness import readiness_on
from tintop.logbook.sessions import sessions
from tintop.logbook.support import supporters
from tintop.questions import is_it_ready, what_will_it_cost
from tintop.reports.build_sheet import build_sheet
from tintop.reports.costs_sheet import costs_content, costs_sheet
from tintop.reports.event_sheet import event_sheet
from tintop.reports.ready_sheet import ready_content, ready_sheet
from tintop.reports.sheet import Sheet

DAY = on("2026-06-01")


@pytest.fixture(scope="module")
def book():
    writer = Writer()
    writer.part(
        "2026-01-01", "seats", area=Area.CABIN, came_with_car=True, name="Rear seats", mass=kilograms(30, 1)
    )
    writer.read("2026-01-02", Measure.MASS, 1050.0)
    writer.write("2026-01-10", PartRemoved(part="seats", fate=Fate.SOLD, reason="strip-out"))
    writer.part(
        "2026-01-11", "pads", family="front pads", name="Front pads", price_cents=8900,
        supplier="Fell Friction", thickness_new=12 * MM, thickness_least=3 * MM,
        limits=(limit(Counter.RUNNING, 4 * HOUR),), mass=kilograms(1.2, 0.1),
    )  # fmt: skip
    writer.fit("2026-01-12", "pads")
    writer.meeting("2026-01-01", "april", "2026-04-11", name="April Hours", sessions=(planned("Race", 120),))
    writer.run(
        "2026-04-11", "a", hours=2, laps=60, meeting="april", name="Race", driver="owner",
        lap_times=(100.0, 101.0, 125.5), fuel_before=0.05, fuel_after=0.006, remarks="long pedal at the end",
    )  # fmt: skip
    writer.read("2026-04-11", Measure.PRESSURE_HOT, 230e3, corner="FL", session="a")
    writer.read("2026-04-11", Measure.PAD_THICKNESS, 9 * MM, part="pads", session="a")
    writer.write("2026-04-12", MeetingClosed(meeting="april", result="7th of 31"))
    writer.write("2026-04-13", CostPaid(cost_kind=CostKind.ENTRY, cents=35000, what="entry", meeting="april"))
    writer.write(
        "2026-04-14",
        SupportReceived(
            support="1", supporter="Fell Friction", what="pads", list_price_cents=12000, paid_cents=8900
        ),
    )
    writer.write("2026-05-01", JobOpened(job="1", title="Bleed the brakes", meeting="june", minutes=45.0))
    writer.meeting("2026-01-01", "june", "2026-06-20", name="June Hours", sessions=(planned("Race", 150),))
    return writer.book


def table(sheet: Sheet, title: str) -> list[tuple[str, ...]]:
    return next([tuple(row) for row in each.rows] for each in sheet.tables if each.title.startswith(title))


def every_cell(sheet: Sheet) -> str:
    return "\n".join(cell for each in sheet.tables for row in each.rows for cell in row)


def test_every_row_fits_its_columns(book):
    ready = readiness_on(book, DAY)
    costs = costs_on(book, DAY, ready.orders, ready.jobs.open)
    for sheet in (
        ready_sheet(is_it_ready.answer_of(ready), ready),
        costs_sheet(what_will_it_cost.answer_of(costs, ()), costs, supporters(book, DAY)),
        build_sheet(build_on(book, DAY), counts_on(book, DAY), mass_ledger(book, DAY)),
        event_sheet(meetings(book, DAY)[0], sessions(book, DAY)),
    ):
        assert sheet.tables
        for each in sheet.tables:
            assert all(len(row) == len(each.columns) for row in each.rows), each.title


def test_readiness(book):
    """Pads 1.5 mm/h: 9 mm, 5.2 mm after 2.5 h more (5.25 rounded to even); the life of 4 h has 2 h left."""
    ready = readiness_on(book, DAY)
    sheet = ready_sheet(is_it_ready.answer_of(ready), ready)
    assert sheet.sentences[0] == (
        "Not ready: front pads reach their life at 4.0 h (maker) 30 min before the end of the race."
    )
    (pads,) = table(sheet, "Pads")
    assert pads[:5] == ("Front pads", "", "9.0 mm, 2026-04-11", "1.50", "its own 2 thicknesses")
    assert pads[6:] == ("3.0 mm", "lasts the event")
    (life,) = table(sheet, "Lives")
    assert life[2:6] == ("2.0 h", "4.0 h", "2.0 h", "2.5 h")
    assert table(sheet, "To do") == [("Bleed the brakes", "june", "45", "")]
    assert table(sheet, "To have in hand") == [
        ("Front pads", "due before the event is over", "2026-06-20", "£89.00", "")
    ]
    content = ready_content(is_it_ready.answer_of(ready))
    assert content["verdict"] == "no"
    assert content["wear"][0]["read_m"] == 9 * MM


def test_readiness_tells_the_rest_of_the_reasons_once(book):
    ready = readiness_on(book, DAY)
    sheet = ready_sheet(is_it_ready.answer_of(ready), ready, has_good=False)
    told = [sentence for sentence in sheet.sentences if "reach their life" in sentence]
    assert len(told) == 1
    assert "To be done before this event: Bleed the brakes." in sheet.sentences
    assert "The book knows no tyres on the car." in sheet.sentences


def test_costs(book):
    ready = readiness_on(book, DAY)
    costs = costs_on(book, DAY, ready.orders, ready.jobs.open)
    answer = what_will_it_cost.answer_of(costs, supporters(book, DAY))
    sheet = costs_sheet(answer, costs, supporters(book, DAY))
    assert table(sheet, "By event") == [("April Hours", "2026-04-11", "£350.00", "", "£175.00", "£5.83")]
    assert table(sheet, "To come") == [("Front pads", "2026-06-20", "£89.00")]
    assert table(sheet, "Help in kind") == [("Fell Friction", "£120.00", "£89.00", "£31.00", "0", "0")]
    assert costs_content(answer, costs)["season_cents"] == 35000


def test_the_build(book):
    build, counts, ledger = build_on(book, DAY), counts_on(book, DAY), mass_ledger(book, DAY)
    sheet = build_sheet(build, counts, ledger)
    assert sheet.sentences == (
        "On 2026-06-01: 1 on the car, 0 on the shelf, 1 gone.",
        "Taken out 30.0 kg, put in 1.2 kg.",
        "1050 kg as bought, 1021 ± 2 kg today, without driver and fuel.",
    )
    assert table(sheet, "Front axle") == [
        ("Front pads", "", "2026-01-12", "1.2 kg", "2.0 h", "90 km", "", "£89.00", "Fell Friction")
    ]
    assert table(sheet, "Gone") == [("Rear seats", "2026-01-10", "sold", "strip-out")]
    assert table(sheet, "Mass")[1] == ("2026-01-12", "Front pads", "+1.2 ± 0.1 kg", "-28.8 ± 1.0 kg")


def test_the_build_for_others_holds_no_price(book):
    sheet = build_sheet(build_on(book, DAY), counts_on(book, DAY), mass_ledger(book, DAY), has_prices=False)
    assert "£" not in every_cell(sheet)
    assert "Fell Friction" not in every_cell(sheet)


def test_an_event(book):
    sheet = event_sheet(meetings(book, DAY)[0], sessions(book, DAY))
    assert sheet.title == "April Hours"
    assert "Result: 7th of 31." in sheet.sentences
    assert table(sheet, "Driven") == [
        ("Race", "owner", "60", "2 h 00 min", "1:40.00", "1:40.50", "44.0", "22.0")
    ]
    assert table(sheet, "Tyres") == [("Race", "FL", "", "33.4 psi", "", "", "")]
    assert table(sheet, "Remarks") == [("Race", "long pedal at the end")]


def test_an_event_to_come(book):
    sheet = event_sheet(meetings(book, DAY)[1], sessions(book, DAY), {"pressure": "bar", "temperature": "°C"})
    assert table(sheet, "Still to come") == [("Race", "race", "2 h 30 min")]
    assert len(sheet.tables) == 1
