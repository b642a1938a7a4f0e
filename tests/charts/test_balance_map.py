"""The map of every pair: each cell is written, drawn inside the sheet, and not told by colour alone."""

from functools import cache
from xml.etree import ElementTree

import pytest

from demo_cars import demo_lane
from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.charts.balance_map import balance_map_svg, lap_words
from tintop.event import Weather
from tintop.lap.spring_map import SpringMap, Varied, smooth_fit, spring_map, trial_on

_SVG = "{http://www.w3.org/2000/svg}"


@cache
def mapped(varied: Varied) -> SpringMap:
    chassis, day = chassis_by_hand(), Weather()
    trial = trial_on(smooth_fit(car_by_hand(), chassis, day), demo_lane(6.0), day, 25.0)
    return spring_map(chassis, dry_by_hand(), trial, varied)


@pytest.mark.parametrize("varied", list(Varied))
@pytest.mark.parametrize("is_narrow", [False, True])
def test_every_cell_is_written_within_the_sheet(varied: Varied, is_narrow: bool) -> None:
    found = mapped(varied)
    root = ElementTree.fromstring(balance_map_svg(found, is_narrow=is_narrow))
    width, height = (float(part) for part in root.attrib["viewBox"].split()[2:])
    boxes = root.findall(f"{_SVG}rect")[1:]
    assert len(boxes) == len(found.cells)
    words = [element.text for element in root.iter(f"{_SVG}text")]
    for cell in found.cells:
        assert lap_words(cell.difference) in words
    for element in root.iter(f"{_SVG}text"):
        assert 0.0 <= float(element.attrib["x"]) <= width
        assert 0.0 < float(element.attrib["y"]) <= height
    thick = [box for box in boxes if box.attrib["stroke-width"] == "3.5"]
    assert len(thick) == 1
    assert any(words is not None and words[0] in "▲▼=" for words in words)


def test_the_description_names_the_quickest_pair() -> None:
    found = mapped(Varied.SPRINGS)
    best = min(found.cells, key=lambda cell: cell.difference)
    drawn = balance_map_svg(found)
    assert f"front {best.front.words}, rear {best.rear.words}" in drawn
    assert lap_words(0.001) == "0.00"
    assert lap_words(-0.123) == "\u22120.12"
