from datetime import date

import pytest
from drawn import SVG, inside_view, read, words

from books import Writer
from tintop.charts.book_charts import mass_course_svg, wear_charts
from tintop.known import Known, Origin
from tintop.logbook.build import build_on
from tintop.logbook.entries import Area, Fate, Measure, PartFitted, PartRemoved, Reading
from tintop.logbook.mass_ledger import mass_ledger
from tintop.logbook.running import running_until
from tintop.settings import USUAL_UNITS

DAY = date(2026, 6, 1)


def weighed(value: float) -> Known:
    return Known(value=value, uncertainty=0.1, origin=Origin.MEASURED)


def stripped() -> Writer:
    book = Writer()
    book.part("2026-01-01", "bench", mass=weighed(20.0), came_with_car=True, area=Area.CABIN)
    book.write("2026-01-01", Reading(measure=Measure.MASS, value=1150.0))
    book.write("2026-02-01", PartRemoved(part="bench", fate=Fate.STRIPPED))
    book.write("2026-03-01", Reading(measure=Measure.MASS, value=1131.0))
    return book


def test_the_mass_steps_down_by_what_came_out_and_the_scales_are_marked() -> None:
    svg = mass_course_svg(mass_ledger(stripped().book, DAY), USUAL_UNITS, DAY)
    description = read(svg).find(f"{SVG}desc").text
    assert "by the ledger: 1150, 1130, 1130" in description
    assert "on the scales: 1150, 1131" in description
    assert inside_view(svg) and "Mass without driver and fuel [kg]" in words(svg)


def test_the_owner_reads_his_own_unit() -> None:
    svg = mass_course_svg(mass_ledger(stripped().book, DAY), {**USUAL_UNITS, "mass": "lb"}, DAY)
    first = float(read(svg).find(f"{SVG}desc").text.split("ledger: ")[1].split(",")[0])
    assert first == pytest.approx(1150.0 / 0.45359237, rel=1e-3)


def test_a_car_never_weighed_has_no_chart() -> None:
    assert mass_course_svg(mass_ledger(Writer().book, DAY), USUAL_UNITS, DAY) == ""


def test_wear_is_drawn_at_the_thinnest_place_from_new_to_the_last_reading() -> None:
    book = Writer()
    name = 'pads "<1>"'
    book.part(
        "2026-01-01", "pads", name=name, family="front pads", thickness_new=0.012, thickness_least=0.002
    )
    book.write("2026-01-02", PartFitted(part="pads"))
    book.part("2026-01-03", "spare", family="front pads", thickness_new=0.012)
    for place, left in (("inner pad", 0.007), ("outer pad", 0.009)):
        book.write(
            "2026-05-01",
            Reading(measure=Measure.PAD_THICKNESS, value=left, corner="FL", place=place, part="pads"),
        )
    day = date(2026, 6, 1)
    assert (
        wear_charts(Writer().book, build_on(Writer().book, day), running_until(Writer().book, day), {}, ())
        == ()
    )
    _drive(book)
    found = wear_charts(
        book.book,
        build_on(book.book, day),
        running_until(book.book, day),
        USUAL_UNITS,
        (Measure.PAD_THICKNESS,),
    )
    (chart,) = found
    assert chart.parts == ("pads",) and chart.family == "front pads"
    description = read(chart.svg).find(f"{SVG}desc").text
    assert "(FL, inner pad): 12, 7." in description
    assert "to be changed at" in words(chart.svg)


def _drive(book: Writer) -> None:
    from tintop.logbook.entries import SessionRun

    book.write(
        "2026-04-01",
        SessionRun(
            session="s",
            meeting="m",
            name="Race",
            session_kind="race",
            duration=7200.0,
            laps=60,
            distance=180e3,
        ),
    )
