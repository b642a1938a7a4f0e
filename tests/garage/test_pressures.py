"""Which rise is used: the owner's own readings, else his document with the model's sides, else the model."""

from dataclasses import replace
from datetime import date

import pytest

from benches import demo_bench
from books import Writer
from tintop.car.tread_doubts import MOST_MINUTES
from tintop.errors import BadInput
from tintop.garage.pressures import PressuresAsked, pressures_for
from tintop.known import Known, Origin
from tintop.logbook.entries import Measure
from tintop.physics.tyre_pressure import pressure_gauge_at
from tintop.reports.pressures_sheet import bare, pressure_tables

ASKED = PressuresAsked(setup="dry", circuit="larkmoor", air=14.0)
DAY = date(2026, 12, 31)


def book_with(rises):
    book = Writer()
    book.meeting("2026-03-01", "home", "2026-04-01", circuit="circuits/larkmoor.csv")
    book.run("2026-04-01", "one", meeting="home", air_temp=12.0)
    for corner, rise in zip(("FL", "FR", "RL", "RR"), rises, strict=True):
        hot = pressure_gauge_at(1.6e5, 12.0, 12.0 + rise)
        for measure, value in ((Measure.PRESSURE_COLD, 1.6e5), (Measure.PRESSURE_HOT, hot)):
            book.read("2026-04-01", measure, value, corner=corner, session="one")
    return book.book


def test_the_owners_own_readings_beat_everything_and_it_is_said():
    found = pressures_for(demo_bench(), ASKED, book_with((50.0, 44.0, 30.0, 26.0)), DAY)
    assert [each.rise.value for each in found.corners] == pytest.approx([50.0, 44.0, 30.0, 26.0], abs=0.1)
    assert "as your own tyres warmed here, 1 session" in found.corners[0].rise.basis
    assert found.corners[0].rise.uncertainty == pytest.approx(8.0 * 2.0**0.5)


def test_without_any_the_document_counts_and_the_model_shares_it_left_and_right():
    found = pressures_for(demo_bench(), ASKED)
    left, right = (found.corners[place].rise for place in (0, 1))
    assert 0.5 * (left.value + right.value) == pytest.approx(60.0)
    assert left.value > right.value  # the circuit runs clockwise
    assert "by the chassis document" in left.basis and "predicted loads" in left.basis


def test_what_nobody_measured_gives_way_to_the_model():
    bench = demo_bench()
    assumed = {
        path: Known(value=known.value, uncertainty=20.0, origin=Origin.ASSUMED)
        if "air_rise" in path
        else known
        for path, known in bench.chassis_known.items()
    }
    found = pressures_for(replace(bench, chassis_known=assumed), ASKED)
    assert found.corners[0].rise.basis == "the predicted loads and slip alone"
    assert found.corners[0].rise.uncertainty == 15.0
    bare = pressures_for(replace(bench, chassis_known=assumed), replace(ASKED, circuit=""))
    assert bare.corners[0].rise.basis == "assumed, nobody measured it"


def test_the_wet_set_up_rises_less_and_has_no_row_for_rain():
    wet = pressures_for(demo_bench(), PressuresAsked(setup="wet", circuit="larkmoor"))
    dry = pressures_for(demo_bench(), ASKED)
    assert all(a.rise.value < b.rise.value for a, b in zip(wet.corners, dry.corners, strict=True))
    assert wet.rain_cold is None and dry.rain_cold is not None


def test_a_tyre_without_a_target_is_asked_about():
    bench = demo_bench()
    sets = tuple(
        replace(each, front=replace(each.front, pressure_hot=None)) for each in bench.chassis.tyre_sets
    )
    unknown = replace(bench, chassis=replace(bench.chassis, tyre_sets=sets))
    with pytest.raises(BadInput, match="no hot pressure known"):
        pressures_for(unknown, ASKED)
    typed = pressures_for(unknown, replace(ASKED, targets=(2.1e5,) * 4))
    assert typed.corners[0].target == 2.1e5


def test_the_morning_is_the_first_session_and_the_event_the_last():
    stages = [each.stage for each in pressures_for(demo_bench(), replace(ASKED, later=26.0)).plan]
    assert [stage.air_temp for stage in stages] == [14.0, 20.0, 26.0]
    assert stages[1].share < stages[0].share <= stages[2].share


def test_the_road_home_on_other_tyres_is_set_cold_and_said_so():
    found = pressures_for(demo_bench(), ASKED)
    assert found.home_warm is None
    rows = next(table for table in pressure_tables(found) if table.title == "If").rows
    home = next(row for row in rows if row[0].startswith("the road home"))
    assert home[0] == "the road home, on road tyres: these tyres are cold"
    assert found.day.home == tuple(each.pressure_cold for each in demo_bench().setups["road"].corners)
    assert home[1:] == tuple(bare(each, found.day.unit) for each in found.day.home)
    assert not any("after the flag" in row[0] for row in rows)


def test_the_road_home_on_the_same_tyres_is_set_warm_between_two_coolings():
    bench = demo_bench()
    setups = {**bench.setups, "road": replace(bench.setups["road"], tyres=bench.setups["dry"].tyres)}
    found = pressures_for(replace(bench, setups=setups), ASKED)
    least, most = found.home_warm
    assert least[0] < most[0] and most[0] > found.day.home[0]
    rows = next(table for table in pressure_tables(found) if table.title == "If").rows
    assert " to " in rows[-1][1] and rows[-1][0] == "... set an hour after the flag"


def test_a_class_tyre_may_cool_far_quicker_than_reckoned():
    bench = demo_bench()
    assert pressures_for(bench, ASKED).day.cooling_doubt == 2.5
    measured = {
        path: replace(known, origin=Origin.MEASURED)
        if path.endswith(("_to_air", "_heat_capacity"))
        else known
        for path, known in bench.chassis_known.items()
    }
    assert pressures_for(replace(bench, chassis_known=measured), ASKED).day.cooling_doubt == 1.5


def test_pressures_and_treads_agree_on_how_soon_to_read():
    found = pressures_for(demo_bench(), ASKED)
    assert all(row.read_within <= 60.0 * MOST_MINUTES for row in found.plan)
    assert "treads first, then all four pressures, within 3 min" in found.answer.next_thing
