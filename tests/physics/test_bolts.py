import math
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics import bolts
from tintop.physics.threads import GRADES, THREADS

names = st.sampled_from(sorted(THREADS))
grades = st.sampled_from(sorted(GRADES))
forces = st.floats(1.0, 1e5)
bearing = partial(
    bolts.bearing_capacity,
    thread="M8",
    grade="8.8",
    hole=0.009,
    thickness=0.003,
    plate_tensile=360e6,
    end_distance=0.027,
    edge_distance=0.0135,
)


def test_published_case():
    check("V16-03")


def test_three_m8_break_at_87_8_kilonewtons():
    """ISO 898-1 with the printed stress area, 36.6 mm²; the formula gives 36.61."""
    assert bolts.breaking_load("M8", "8.8", 3).value == pytest.approx(87.8e3, rel=1e-3)


def test_bearing_by_hand():
    """EN 1993-1-8 table 3.4, k1 2.5 and ab 1 at e1 = 3 d0: 2.5 x 360 x 8 x 3 / 1.25 = 17,280 N."""
    found = bearing()
    assert found.value == pytest.approx(17280.0)
    assert found.governs == "plate, hole pulled long"
    near_end = bearing(end_distance=0.0135)
    assert near_end.value == pytest.approx(8640.0)
    assert "end" in near_end.governs
    near_side = bearing(edge_distance=0.0108)
    assert near_side.value == pytest.approx(17280.0 * (2.8 * 1.2 - 1.7) / 2.5)
    assert near_side.governs.endswith("near its side")
    assert bearing(plate_tensile=1000e6).governs == "bolt's side, softer than the plate"


def test_pull_through_by_hand():
    """M8 hexagon, 13 mm across flats, 15.01 across corners: dm 14.006 mm, in 1 mm sheet of 270 N/mm²."""
    perimeter = bolts.head_perimeter(0.013)
    assert perimeter == pytest.approx(math.pi * 0.0140056, rel=1e-5)
    found = bolts.pull_through_capacity(perimeter, 0.001, 270e6)
    assert found.value == pytest.approx(0.6 * math.pi * 14.0056 * 1.0 * 270 / 1.25, rel=1e-5)


def test_thread_in_the_plane_or_plain_shank():
    """EN 1993-1-8 table 3.4: 10.9 falls from 0.6 to 0.5 when the thread lies in the plane, 8.8 does not."""
    soft, hard = (bolts.shear_capacity("M10", grade) for grade in ("8.8", "10.9"))
    assert hard.value / soft.value == pytest.approx(0.5 * 1000 / (0.6 * 800))
    plain = bolts.shear_capacity("M10", "10.9", is_thread_in_plane=False)
    assert plain.value == pytest.approx(0.6 * 1000 * math.pi / 4 * 100 / 1.25)
    assert plain.governs.endswith("plain shank")


@given(names, grades, st.integers(1, 12), st.floats(1.0, 2.0))
def test_capacities_add_up_and_fall_with_the_partial_factor(name, grade, count, factor):
    for capacity in (bolts.tension_capacity, bolts.shear_capacity):
        one, many = capacity(name, grade), capacity(name, grade, count)
        assert many.value == pytest.approx(count * one.value)
        assert capacity(name, grade, partial_factor=factor).value == pytest.approx(one.value * 1.25 / factor)
    single, double = (bolts.shear_capacity(name, grade, planes=planes) for planes in (1, 2))
    assert double.value == pytest.approx(2.0 * single.value)
    assert bolts.tension_capacity(name, grade, count).value < bolts.breaking_load(name, grade, count).value


@given(st.floats(0.0005, 0.02), st.floats(1.01, 3.0))
def test_thicker_is_never_weaker(thickness, times):
    assert bearing(thickness=times * thickness).value > bearing(thickness=thickness).value
    thin, thick = (bolts.pull_through_capacity(0.2, t, 270e6).value for t in (thickness, times * thickness))
    assert thick > thin


@given(st.floats(0.0108, 0.05), st.floats(0.0108, 0.05), st.floats(0.0, 0.02))
def test_farther_from_the_edge_is_never_weaker(end, edge, more):
    here = bearing(end_distance=end, edge_distance=edge).value
    assert bearing(end_distance=end + more, edge_distance=edge).value >= here
    assert bearing(end_distance=end, edge_distance=edge + more).value >= here


@given(forces, forces, forces, forces, st.floats(0.0, 10.0))
def test_more_load_uses_more(shear, tension, shear_capacity, tension_capacity, more):
    used = bolts.combined_use(shear, tension, shear_capacity, tension_capacity)
    assert bolts.combined_use(shear + more, tension, shear_capacity, tension_capacity) >= used
    assert bolts.combined_use(shear, tension + more, shear_capacity, tension_capacity) >= used
    assert used >= max(shear / shear_capacity, tension / tension_capacity)


def test_combined_use_at_its_corners():
    """EN 1993-1-8 table 3.4: full tension leaves 1 - 1/1.4 of the shear."""
    assert bolts.combined_use(100.0, 0.0, 100.0, 200.0) == 1.0
    assert bolts.combined_use(0.0, 200.0, 100.0, 200.0) == 1.0
    assert bolts.combined_use(100.0 * (1 - 1 / 1.4), 200.0, 100.0, 200.0) == pytest.approx(1.0)
    assert bolts.combined_use(50.0, 200.0, 100.0, 200.0) == pytest.approx(0.5 + 1 / 1.4)


@given(st.floats(0.0, math.pi / 2.0), forces, forces, forces, forces)
def test_an_anchor_at_its_capacity_is_used_up_and_no_more(angle, shear, tension, side, through):
    found = bolts.anchor_capacity(angle, shear=shear, tension=tension, bearing=side, pull_through=through)
    across, along = found.value * math.cos(angle), found.value * math.sin(angle)
    used = {
        "bolt": bolts.combined_use(across, along, shear, tension),
        "plate at the side of the hole": across / side,
        "sheet, punched through": along / through,
    }
    assert max(used.values()) == pytest.approx(1.0)
    assert used[found.governs] == pytest.approx(1.0)


def test_every_capacity_says_formula_source_and_caution():
    found = (
        bolts.breaking_load("M8", "8.8"),
        bolts.tension_capacity("M8", "8.8"),
        bolts.shear_capacity("M8", "8.8"),
        bearing(),
        bolts.pull_through_capacity(0.1, 0.001, 270e6),
        bolts.anchor_capacity(0.3, shear=1.0, tension=1.0, bearing=1.0, pull_through=1.0),
    )
    for each in found:
        assert each.formula and each.governs and each.source
        assert "No weld" in each.caution and "fabricator" in each.caution


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: bolts.tension_capacity("M9", "8.8"), "thread"),
        (lambda: bolts.tension_capacity("M8", "9.9"), "strength class"),
        (lambda: bolts.breaking_load("M8", "8.8", 0), "number of bolts"),
        (lambda: bolts.shear_capacity("M8", "8.8", planes=3), "shear planes"),
        (lambda: bolts.shear_capacity("M8", "8.8", partial_factor=0.5), "partial factor"),
        (lambda: bolts.tension_capacity("M8", "8.8", partial_factor=math.nan), "partial factor"),
        (lambda: bearing(hole=0.0079), "hole: found 7.9 mm; expected 8 mm or more"),
        (lambda: bearing(end_distance=0.0107), "end distance"),
        (lambda: bearing(edge_distance=0.010), "edge distance"),
        (lambda: bearing(thickness=0.0), "plate thickness"),
        (lambda: bolts.pull_through_capacity(0.0, 0.001, 270e6), "perimeter"),
        (lambda: bolts.pull_through_capacity(0.1, -1.0, 270e6), "sheet thickness"),
        (lambda: bolts.head_perimeter(math.inf), "width across flats"),
        (lambda: bolts.combined_use(-1.0, 0.0, 1.0, 1.0), "shear force"),
        (lambda: bolts.combined_use(1.0, 0.0, 0.0, 1.0), "shear capacity"),
        (
            lambda: bolts.anchor_capacity(2.0, shear=1.0, tension=1.0, bearing=1.0, pull_through=1.0),
            "angle of the pull",
        ),
    ],
)
def test_nonsense_is_refused_in_words(call, says):
    with pytest.raises(BadInput, match=says):
        call()


def test_a_hole_at_just_the_least_edge_is_allowed():
    assert bearing(end_distance=1.2 * 0.009, edge_distance=0.0108).value > 0.0
