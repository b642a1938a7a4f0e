import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics import plates
from tintop.physics.plates import Corner

SQUARE_CENTIMETRE = 1e-4
sides = st.integers(10, 400)
L_SHAPE = [Corner(x, y) for x, y in ((0, 0), (0.1, 0), (0.1, 0.04), (0.04, 0.04), (0.04, 0.1), (0, 0.1))]


@st.composite
def stars(draw):
    """Outlines round the origin, corners in order of their bearing: never crossing, mostly not convex."""
    count = draw(st.integers(5, 12))
    radii = draw(st.lists(st.integers(20, 100), min_size=count, max_size=count))
    return [
        Corner(radius / 1000 * math.cos(math.tau * i / count), radius / 1000 * math.sin(math.tau * i / count))
        for i, radius in enumerate(radii)
    ]


def _rectangle(length: float, width: float) -> list[Corner]:
    return [Corner(0.0, 0.0), Corner(length, 0.0), Corner(length, width), Corner(0.0, width)]


def test_published_case():
    check("V16-08")


@pytest.mark.parametrize(
    ("length", "width", "limit"), [(0.12, 0.1, 120), (0.1, 0.06, 60), (0.15, 0.08, 120), (0.3, 0.04, 120)]
)
def test_a_plate_at_its_limit_is_at_its_limit(length, width, limit):
    """NCR 2026 8.2 and Appendix J 253-8.3.2.6, as quoted: 60 and 120 cm²."""
    for area in (plates.rectangle_area(length, width), plates.outline_area(_rectangle(length, width))):
        assert area == limit * SQUARE_CENTIMETRE
    assert plates.rectangle_area(length, width - 1e-4) < limit * SQUARE_CENTIMETRE


@given(sides, sides)
def test_drawn_and_multiplied_areas_are_one(length, width):
    drawn = plates.outline_area(_rectangle(length / 1000, width / 1000))
    assert drawn == plates.rectangle_area(length / 1000, width / 1000) == round(length * width / 1e6, 12)


def test_a_disc_of_many_corners():
    count = 200
    corners = [
        Corner(0.03 * math.cos(math.tau * i / count), 0.03 * math.sin(math.tau * i / count))
        for i in range(count)
    ]
    drawn = plates.outline_area(corners)
    assert drawn == pytest.approx(0.5 * count * 0.03**2 * math.sin(math.tau / count), abs=1e-12)
    assert drawn == pytest.approx(plates.disc_area(0.06), rel=3e-4)
    assert plates.perimeter(corners) == pytest.approx(math.pi * 0.06, rel=1e-4)
    assert plates.least_width(corners) == pytest.approx(0.06, rel=3e-4)


@given(stars())
def test_the_area_is_the_share_of_scattered_points_inside(corners):
    """Even-odd rule on a fixed grid of 40,000 points, which knows nothing of the shoelace formula."""
    step = 0.2 / 200
    x, y = (axis.ravel() for axis in np.meshgrid(*[np.arange(-0.1 + step / 2, 0.1, step)] * 2))
    inside = np.zeros(x.shape, dtype=bool)
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        crosses = (a.y > y) != (b.y > y)
        if a.y != b.y:
            inside ^= crosses & (x < a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y))
    counted = inside.sum() * step**2
    assert plates.outline_area(corners) == pytest.approx(counted, abs=plates.perimeter(corners) * step)


@given(stars(), st.floats(-math.pi, math.pi), st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
def test_turned_moved_and_mirrored_a_plate_is_the_same(corners, turn, along, across):
    there = [
        Corner(
            along + c.x * math.cos(turn) - c.y * math.sin(turn),
            across + c.x * math.sin(turn) + c.y * math.cos(turn),
        )
        for c in corners
    ]
    for other in (there, [Corner(-c.x, c.y) for c in corners], corners[::-1], corners[3:] + corners[:3]):
        assert plates.outline_area(other) == pytest.approx(plates.outline_area(corners), abs=3e-12)
        assert plates.least_width(other) == pytest.approx(plates.least_width(corners), abs=2e-9)
        assert plates.perimeter(other) == pytest.approx(plates.perimeter(corners), rel=1e-9)


@given(stars())
def test_no_bearing_is_narrower_than_the_least_width(corners):
    bearings = np.linspace(0.0, math.pi, 721)
    shadows = np.outer(np.cos(bearings), [c.x for c in corners])
    shadows += np.outer(np.sin(bearings), [c.y for c in corners])
    narrowest = np.ptp(shadows, axis=1).min()
    least = plates.least_width(corners)
    assert least <= narrowest + 1e-8
    assert narrowest == pytest.approx(least, rel=0.02)


def test_holes_are_taken_off():
    left = plates.net_area(120 * SQUARE_CENTIMETRE, [0.009] * 3)
    assert left == pytest.approx(0.012 - 3 * math.pi / 4 * 0.009**2, abs=1e-12)
    assert plates.net_area(0.012) == 0.012
    with pytest.raises(BadInput, match=r"holes: found 176\.7 cm²"):
        plates.net_area(0.012, [0.15])


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (1, 1), (1, 0), (0, 1)],  # a bow
        [(0, 0), (2, 0), (2, 2), (1, 0), (0, 2)],  # a corner on another side
        [(0, 0), (2, 0), (1, 0), (1, 1)],  # back along itself
        [(0, 0), (1, 0), (2, 0)],  # flat
        [(0, 0), (1, 0), (1, 1), (0, 0), (-1, 1)],  # through one corner twice
        [(0, 0), (4, 0), (4, 1), (3, 1), (3, -1), (2, -1), (2, 1), (0, 1)],  # a side through another
    ],
)
def test_outlines_that_meet_themselves_are_refused(corners):
    for drawn in (corners, corners[::-1], corners[2:] + corners[:2]):
        with pytest.raises(BadInput, match="outline"):
            plates.outline_area([Corner(*corner) for corner in drawn])


def test_a_notch_is_no_crossing():
    assert plates.outline_area(L_SHAPE) == pytest.approx(64 * SQUARE_CENTIMETRE, abs=1e-12)
    with_a_corner_along_a_side = [Corner(0.05, 0.0), *L_SHAPE[1:], L_SHAPE[0]]
    assert plates.outline_area(with_a_corner_along_a_side) == plates.outline_area(L_SHAPE)


def test_pressure_by_hand():
    """14.7 kN on 40 cm² is 3.675 N/mm²."""
    assert plates.bearing_pressure(14700.0, 40 * SQUARE_CENTIMETRE) == pytest.approx(3.675e6)
    assert plates.bearing_pressure(0.0, 0.004) == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: plates.outline_area([Corner(0, 0), Corner(1, 0)]), "2 corners"),
        (lambda: plates.outline_area([Corner(0, 0)] * 201), "3 to 200"),
        (lambda: plates.outline_area([Corner(0, 0), Corner(1, 0), Corner(1, 0)]), "in one place"),
        (lambda: plates.least_width([Corner(0, 0), Corner(1, 0), Corner(1, math.nan)]), "no number"),
        (lambda: plates.rectangle_area(0.0, 1.0), "length"),
        (lambda: plates.rectangle_area(1.0, math.inf), "width"),
        (lambda: plates.disc_area(-0.1), "diameter"),
        (lambda: plates.net_area(0.012, [0.0]), "diameter"),
        (lambda: plates.bearing_pressure(-1.0, 1.0), "force"),
        (lambda: plates.bearing_pressure(1.0, 0.0), "area"),
    ],
)
def test_nonsense_is_refused_in_words(call, says):
    with pytest.raises(BadInput, match=says):
        call()
