from xml.etree import ElementTree

import pytest

from cars import front_driven_hatchback
from tintop.car.brake_balance import BrakeAsk
from tintop.car.front_first import SetBrakes
from tintop.charts.brake_chart import adhesion_svg, forces_svg
from tintop.questions.brake_balance import BrakeQuestion, how_are_the_brakes


def case_on(friction):
    asks = {"dry": BrakeAsk(friction=friction, front_temp=300.0, rear_temp=200.0)}
    asked = BrakeQuestion(
        brakes=SetBrakes(car=front_driven_hatchback()), asks=asks, asked="dry", temp_basis=""
    )
    return how_are_the_brakes(asked).cases[0]


def words_of(drawn):
    root = ElementTree.fromstring(drawn)
    return [each.text for each in root.iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("is_narrow", [False, True])
@pytest.mark.parametrize("friction", [0.25, 0.6, 1.0, 1.3])
@pytest.mark.parametrize("draw", [adhesion_svg, forces_svg])
def test_it_stands_within_its_sheet_and_needs_no_colour(draw, friction, is_narrow):
    drawn = draw(case_on(friction), is_narrow=is_narrow)
    root = ElementTree.fromstring(drawn)
    width, height = (float(each) for each in root.attrib["viewBox"].split()[2:])
    assert width == (360.0 if is_narrow else 760.0)
    for each in root.iter("{http://www.w3.org/2000/svg}text"):
        assert 0.0 <= float(each.attrib["x"]) <= width and 0.0 <= float(each.attrib["y"]) <= height
    assert "stroke-dasharray" in drawn and "<circle" in drawn and "style=" not in drawn


def test_the_place_where_the_rear_is_first_is_named():
    assert "rear first" in words_of(adhesion_svg(case_on(1.0)))
    says = adhesion_svg(case_on(1.0))
    assert "the rear axle locks first" in says and "× rear locks" in says


@pytest.mark.parametrize("is_narrow", [False, True])
@pytest.mark.parametrize("friction", [0.25, 0.6, 1.0, 1.3])
@pytest.mark.parametrize("draw", [adhesion_svg, forces_svg])
def test_no_words_are_cut_off(draw, friction, is_narrow):
    for each in ElementTree.fromstring(draw(case_on(friction), is_narrow=is_narrow)).iter(
        "{http://www.w3.org/2000/svg}text"
    ):
        wide = 0.6 * float(each.get("font-size", 14)) * len(each.text)
        left = float(each.get("x")) - wide * {"middle": 0.5, "end": 1.0}.get(each.get("text-anchor"), 0.0)
        assert left >= -1.0 and left + wide <= (360.0 if is_narrow else 760.0), each.text
