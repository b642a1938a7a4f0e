"""The trade-off drawn: every pair of clicks a mark, those chosen named, an unknown damper said."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from benches import demo_bench
from dampers_by_hand import chassis_measured, setup_measured
from setups_by_hand import car_by_hand
from tintop.charts.trade_off import trade_off_svg
from tintop.questions.which_clicks import which_clicks

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("is_narrow", [False, True])
def test_every_click_is_a_mark_and_the_chosen_are_named(is_narrow):
    bench = demo_bench()
    found = which_clicks(bench.described.car, bench.chassis, bench.setup("dry"))
    drawn = trade_off_svg(found, is_narrow=is_narrow)
    root = ElementTree.fromstring(drawn)
    width, height = map(float, root.get("viewBox").split()[2:])
    circles = root.findall(f"{SVG}circle")
    assert len([one for one in circles if one.get("fill") == "none"]) == len(found.marks)
    assert all(0.0 < float(one.get("cx")) < width and 0.0 < float(one.get("cy")) < height for one in circles)
    words = " ".join(each.text or "" for each in root.findall(f"{SVG}text"))
    for purpose in ("road: front", "dry: front", "wet: front", "as it stands: front 8 / 10, rear 6 / 9"):
        assert purpose in words
    assert "style=" not in drawn and "m/s²" in root.find(f"{SVG}desc").text


def test_steadier_is_lower_and_softer_is_left():
    bench = demo_bench()
    found = which_clicks(bench.described.car, bench.chassis, bench.setup("dry"))
    root = ElementTree.fromstring(trade_off_svg(found))
    marks = [one for one in root.findall(f"{SVG}circle") if one.get("fill") == "none"]
    places = [(float(one.get("cx")), float(one.get("cy"))) for one in marks]
    softest = min(range(len(places)), key=lambda place: found.marks[place].comfort)
    steadiest = min(range(len(places)), key=lambda place: found.marks[place].variation)
    assert places[softest][0] == min(x for x, _ in places)
    assert places[steadiest][1] == max(y for _, y in places)


def test_an_unknown_damper_draws_the_reason():
    chassis, setup = chassis_measured(), setup_measured()
    bare = replace(chassis, rear=replace(chassis.rear, dampers=()))
    found = which_clicks(car_by_hand(), bare, replace(setup, rear=replace(setup.rear, damper="")))
    drawn = trade_off_svg(found)
    assert "Unknown" in drawn and "<circle" not in drawn
