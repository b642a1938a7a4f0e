import re

import pytest
from drawn import inside_view, read, words

from tintop.car.chassis import End
from tintop.charts.four_corners import WheelStance, four_corners_svg

CORNERS = {
    corner: (f"{300 + place} kg", "27.1 %", "perch up 1¼ turns")
    for place, corner in enumerate(("FL", "FR", "RL", "RR"))
}


def drawn(is_narrow: bool, **more: object) -> str:
    return four_corners_svg(
        CORNERS,
        axles={End.FRONT: ("front 55.0 %",), End.REAR: ("rear 45.0 %",)},
        middle=("1206 kg", "cross 50.1 %"),
        title="Corner loads",
        description="Four loads and what to turn",
        is_narrow=is_narrow,
        **more,
    )


@pytest.mark.parametrize("is_narrow", [False, True])
def test_every_word_is_there_and_inside(is_narrow):
    svg = drawn(is_narrow)
    said = " ".join(words(svg))
    for each in ("300 kg", "303 kg", "front 55.0 %", "rear 45.0 %", "1206 kg", "cross 50.1 %"):
        assert each in said
    read(svg)
    assert inside_view(svg)


def test_left_stands_left_and_front_before_rear():
    places = {
        found[3]: (float(found[1]), float(found[2]))
        for found in re.finditer(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]+)</text>', drawn(True))
    }
    assert places["300 kg"][0] < places["301 kg"][0]
    assert places["300 kg"][1] < places["302 kg"][1]


def test_wheels_lean_and_turn_the_way_they_stand():
    """Seen from above with the nose up, toe in turns the left front wheel clockwise."""
    stances = {"FL": WheelStance(camber=-0.04, toe=0.01), "FR": WheelStance(camber=-0.04, toe=0.01)}
    svg = drawn(False, stances=stances)
    turned = [float(each) for each in re.findall(r"rotate\((-?[\d.]+)", svg)]
    assert turned[0] > 0.0 > turned[2]
    contacts = re.findall(r'<rect x="([\d.]+)"[^>]*rx="5"[^>]*rotate', svg)
    left, left_top, right, right_top = (float(each) for each in contacts)
    assert left < left_top < right_top < right
    assert "larger than they are" in svg
    assert "larger than they are" not in drawn(False)
