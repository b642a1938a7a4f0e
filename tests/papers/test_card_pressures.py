"""Pressures on the card: as last time at this circuit before the car's document."""

from dataclasses import replace

from printed import TODAY

from tintop.charts.car_words import in_owner_units
from tintop.garage.bench import bench_of
from tintop.garage.pressures import PressuresAsked, pressures_in
from tintop.logbook.entries import Measure, Reading
from tintop.logbook.sessions import sessions
from tintop.papers.card_pressures import last_run_here, pressures_of
from tintop.papers.stand import stand_on

CORNERS = ("FL", "FR", "RL", "RR")


def rows(demo, driven=None, meeting=None, described=None, event=None, worked=None):
    stand = stand_on(
        demo.book,
        TODAY,
        lambda value, quantity, decimals=None: in_owner_units(value, quantity, demo.settings.units, decimals),
        "£",
        is_public=False,
    )
    driven = sessions(demo.book, TODAY) if driven is None else driven
    meeting = meeting or demo.next_meeting()
    found = pressures_of(stand, meeting, driven, described or demo.car(), event, worked)
    return {row.name: row for row in found}, last_run_here(stand, meeting, driven, event)


def read_in(demo, session: str, measure: Measure) -> tuple[str, ...]:
    read = {
        reading.corner: f"{reading.value / 1e5:.2f} bar"
        for _, reading in demo.book.of(Reading)
        if reading.session == session and reading.measure is measure
    }
    return tuple(read[corner] for corner in CORNERS)


def test_cold_to_set_is_the_last_set_here_with_the_hot_it_gave(demo) -> None:
    found, last = rows(demo)
    assert last.run.session == "trophy-race"  # the last at Larkmoor; Ottersgill came after it
    assert found["cold, to set"].values == read_in(demo, "trophy-race", Measure.PRESSURE_COLD)
    assert found["hot, as it gave then"].values == read_in(demo, "trophy-race", Measure.PRESSURE_HOT)
    assert found["cold, to set"].known == "as last time here, Race, 23 May 2026, air 20 °C"
    assert found["hot, to aim at"].known == "by the car's document"


def test_without_a_run_here_the_car_s_document_is_asked_and_named(demo) -> None:
    elsewhere = replace(demo.next_meeting(), circuit="circuits/never.csv")
    found, last = rows(demo, meeting=elsewhere)
    assert last is None and "hot, as it gave then" not in found
    target = demo.car().known["tyre_front.pressure_cold"].value
    assert found["cold, to set"].values == (f"{target / 1e5:.2f} bar",) * 4
    assert found["cold, to set"].known == "by the car's document"


def test_a_wet_run_is_not_taken_for_a_dry_race_nor_a_run_with_a_corner_missing(demo) -> None:
    driven = sessions(demo.book, TODAY)
    wet = [
        replace(each, run=replace(each.run, is_wet=True)) if each.run.meeting == "trophy" else each
        for each in driven
    ]
    assert rows(demo, driven=wet)[1].run.session == "opening-race"
    lacking = [
        replace(each, corners=each.corners[:3]) if each.run.session == "trophy-race" else each
        for each in driven
    ]
    assert rows(demo, driven=lacking)[1].run.session == "opening-race"


def test_in_the_wet_the_last_wet_run_is_asked(demo) -> None:
    there = replace(demo.next_meeting(), circuit="circuits/ottersgill.csv")
    event = demo.event("events/larkmoor.toml")
    weather = replace(event.event.weather, wetness=0.6)
    event = replace(event, event=replace(event.event, weather=weather))
    found, last = rows(demo, meeting=there, event=event)
    assert last.run.session == "wether-moor-qualifying"
    assert ", wet" in found["cold, to set"].known


def test_what_is_worked_out_comes_first_and_last_time_is_beside_it(demo) -> None:
    asked = PressuresAsked(event=demo.next_meeting().meeting, with_model=False)
    worked = pressures_in(demo, bench_of(demo), asked)
    found, _ = rows(demo, worked=worked)
    assert next(iter(found)) == "cold, to set"
    assert found["cold, to set"].values == tuple(f"{each.to_set / 1e5:.2f} bar" for each in worked.corners)
    assert found["cold, to set"].known.startswith("for 2.15 bar hot, tyres and air at 25 °C")
    assert found["cold, last time here"].values == read_in(demo, "trophy-race", Measure.PRESSURE_COLD)
