"""The words of the camber charts: none over another, none off the sheet."""

from itertools import combinations
from xml.etree import ElementTree

import pytest

from benches import demo_bench
from demo_cars import demo_circuit, demo_lane
from tintop.charts.camber_charts import bump_svg, wear_svg
from tintop.event import Weather
from tintop.questions.which_camber import which_camber

TEXT = "{http://www.w3.org/2000/svg}text"


@pytest.fixture(scope="module")
def found():
    bench = demo_bench()
    dry = bench.setup("dry")
    return which_camber(bench.described.car, bench.chassis, dry, demo_circuit(), demo_lane(), Weather())


def _boxes(drawn):
    """Each word's left, right and middle height, at 0.6 of its size a letter."""
    for each in ElementTree.fromstring(drawn).iter(TEXT):
        wide = 0.6 * float(each.get("font-size", 13)) * len(each.text)
        left = float(each.get("x")) - wide * {"middle": 0.5, "end": 1.0}.get(each.get("text-anchor"), 0.0)
        yield each.text, left, left + wide, float(each.get("y"))


@pytest.mark.parametrize("is_narrow", [False, True])
@pytest.mark.parametrize("draw", [bump_svg, wear_svg])
def test_no_words_stand_over_others_or_off_the_sheet(found, draw, is_narrow):
    boxes = list(_boxes(draw(found, is_narrow=is_narrow)))
    width = 360.0 if is_narrow else 760.0
    assert all(left >= 0.0 and right <= width for _, left, right, _ in boxes)
    for (one, left, right, y), (other, its_left, its_right, its_y) in combinations(boxes, 2):
        assert right <= its_left or its_right <= left or abs(y - its_y) >= 11.0, (one, other)


def test_the_ends_the_best_and_what_is_set_have_words(found):
    words = [one for one, *_ in _boxes(wear_svg(found))]
    assert "as set" in words
    assert sum(each.endswith("°") for each in words) >= 3
