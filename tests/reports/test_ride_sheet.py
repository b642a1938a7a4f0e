"""The ride sheet: what to turn, dampers unknown, and a kerb by wheel."""

from dataclasses import replace

from benches import demo_bench
from dampers_by_hand import chassis_measured, setup_measured
from setups_by_hand import car_by_hand
from tintop.car.setup import Purpose
from tintop.questions.which_clicks import which_clicks
from tintop.reports.answer_content import exit_code
from tintop.reports.ride_sheet import ride_content, ride_sheet, turns_for


def test_a_whole_sheet():
    bench = demo_bench()
    found = which_clicks(bench.described.car, bench.chassis, bench.setup("dry"))
    sheet = ride_sheet(found)
    titles = [table.title for table in sheet.tables]
    assert titles[0] == "As it stands, on the smooth circuit"
    assert any(title.startswith("Clicks from full soft") for title in titles)
    assert exit_code(found.answer) == 0
    turns = {choice.purpose: turns_for(found, choice) for choice in found.choices}
    assert turns[Purpose.DRY] == "nothing: as good as it stands"
    assert "softer, both sides" in turns[Purpose.ROAD]


def test_unknown_stays_unknown_on_paper():
    chassis, setup = chassis_measured(), setup_measured()
    bare = replace(chassis, rear=replace(chassis.rear, dampers=()))
    found = which_clicks(car_by_hand(), bare, replace(setup, rear=replace(setup.rear, damper="")))
    sheet = ride_sheet(found)
    assert exit_code(found.answer) == 3
    rows = [row for table in sheet.tables for row in table.rows if row[0] == "rear"]
    assert rows and "unknown" in rows[0]
    content = ride_content(found)
    assert content["dampers"]["rear"] is None and content["ride"] is None and content["choices"] == []
