"""The saw-tooth: every gear, every drop and every place named, inside the sheet."""

from xml.etree import ElementTree

import pytest

from demo_cars import demo_car
from tintop.charts.saw_tooth import saw_tooth_svg
from tintop.event import Weather
from tintop.lap.gearing import gears_of

_SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("is_narrow", [False, True])
def test_gears_drops_and_places_are_drawn_inside_the_sheet(is_narrow: bool) -> None:
    car = demo_car()
    gears = gears_of(car, Weather())
    reached = [("here", 50.0, 600.0), ("there", 50.5, 605.0), ("yonder", 20.0, 500.0)]
    drawn = saw_tooth_svg(gears, car.engine.limiter_speed, reached, is_narrow=is_narrow)
    root = ElementTree.fromstring(drawn)
    width, height = (float(part) for part in root.attrib["viewBox"].split()[2:])
    words = [element.text or "" for element in root.iter(f"{_SVG}text")]
    assert [str(number) for number in range(1, 6)] == [word for word in words if word in "12345"][:5]
    for gear in gears[:-1]:
        assert gear.engine_speed_left is not None
        assert f"{gear.engine_speed_left * 30.0 / 3.141592653589793:.0f}" in words
    assert any(word.startswith("3  yonder: 72 km/h") for word in words)
    for element in root.iter(f"{_SVG}text"):
        assert 0.0 <= float(element.attrib["x"]) <= width
        assert 0.0 < float(element.attrib["y"]) <= height
    marks = {
        (element.attrib["x"], element.attrib["y"])
        for element in root.iter(f"{_SVG}text")
        if element.attrib.get("font-weight") == "bold"
    }
    assert len(marks) == len(gears) + len(reached)
