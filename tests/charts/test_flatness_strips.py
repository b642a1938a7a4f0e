"""How flat an optimum is, drawn: what stands in the drawing, and that it is a drawing."""

import xml.etree.ElementTree as ET

import pytest

from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import AdjusterRange
from tintop.charts.flatness_strips import flatness_svg
from tintop.lap.setup_search import Flatness

_SVG = "{http://www.w3.org/2000/svg}"


def row(count, at, now, broken=()):
    return Flatness(
        range=AdjusterRange(
            item=Item.BUMP, end=End.FRONT, places=tuple(float(n) for n in range(count)), now=now
        ),
        at=at,
        lost=tuple(float("inf") if n in broken else 0.01 * (n - at) ** 2 for n in range(count)),
        broken=tuple("on the bump stops" if n in broken else "" for n in range(count)),
        low=max(at - 2, 0),
        high=min(at + 2, count - 1),
    )


def drawn(*rows, **more):
    text = flatness_svg(
        rows, lambda one, at: f"<{one.range.places[at]:.0f} clicks>", title="Flat", description="d", **more
    )
    return ET.fromstring(text)


def test_a_strip_shows_its_place_what_is_as_good_and_what_breaks():
    found = drawn(row(9, 4, 6, broken=(0, 1)))
    words = [one.text for one in found.iter(f"{_SVG}text")]
    assert words[:2] == ["front bump clicks", "<4 clicks>"]
    assert "<0 clicks>" in words and "<8 clicks>" in words
    circles = list(found.iter(f"{_SVG}circle"))
    suggested, now = float(circles[1].get("cx")), float(circles[0].get("cx"))
    assert suggested < now
    (bar,) = (one for one in found.iter(f"{_SVG}rect") if one.get("rx"))
    left = float(bar.get("x"))
    assert left < suggested < left + float(bar.get("width"))
    crosses = [one for one in found.iter(f"{_SVG}path") if "l6,6" in one.get("d")]
    assert len(crosses) == 2


def test_a_row_of_one_place_is_left_out():
    assert not list(drawn(row(1, 0, 0)).iter(f"{_SVG}text"))


@pytest.mark.parametrize("is_narrow", [True, False])
def test_everything_stands_within_the_drawing(is_narrow):
    found = drawn(row(5, 0, 4), row(17, 16, 0), is_narrow=is_narrow)
    _, _, width, height = (float(one) for one in found.get("viewBox").split())
    for one in found.iter(f"{_SVG}circle"):
        assert 0.0 <= float(one.get("cx")) <= width
        assert 0.0 <= float(one.get("cy")) <= height
