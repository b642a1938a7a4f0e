import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics.threads import (
    GRADES,
    THREADS,
    grade_named,
    is_grade_at_least,
    nominal_section,
    section_share,
    thread_named,
)


@pytest.mark.parametrize("case_id", ["V16-02", "V16-04"])
def test_published_case(case_id):
    check(case_id)


def test_class_8_8_up_to_m16():
    """ISO 898-1: 800, 640 and 580 N/mm², as quoted by others."""
    steel = grade_named("8.8")
    assert (steel.tensile, steel.yield_strength, steel.proof) == (800e6, 640e6, 580e6)


@pytest.mark.parametrize("name", [n for n in GRADES if n[0].isdigit()])
def test_a_class_says_its_own_strength(name):
    """ISO 898-1: the first number is Rm/100 in N/mm², their product a tenth of the yield strength."""
    first, second = name.split(".")
    assert GRADES[name].tensile == pytest.approx(int(first) * 100e6)
    assert GRADES[name].yield_strength == pytest.approx(int(first) * int(second) * 10e6)
    assert GRADES[name].proof < GRADES[name].yield_strength


def test_two_m8_against_three_is_exactly_two_thirds():
    assert section_share(2, 0.008, 3, 0.008) == Fraction(2, 3)
    assert float(section_share(2, 0.008, 3, 0.008)) >= 2 / 3


@given(
    st.integers(1, 9), st.sampled_from(sorted(THREADS)), st.integers(1, 9), st.sampled_from(sorted(THREADS))
)
def test_shares_are_exact_both_ways(count, name, of_count, of_name):
    one, other = THREADS[name].diameter, THREADS[of_name].diameter
    share = section_share(count, one, of_count, other)
    assert share * section_share(of_count, other, count, one) == 1
    assert nominal_section(count, one) == count * nominal_section(1, one)
    assert float(share) == pytest.approx(count * one**2 / (of_count * other**2), rel=1e-12)


@pytest.mark.parametrize("thread", THREADS.values(), ids=lambda thread: thread.name)
def test_the_stress_area_lies_between_core_and_shank(thread):
    core = math.pi / 4.0 * (thread.diameter - 1.2269 * thread.pitch) ** 2
    assert core < thread.stress_area < thread.nominal_area


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("M8", "M8"), (" m 8 ", "M8"), ("M8x1.25", "M8"), ("M10 × 1,25", "M10x1.25"), ("M10*1", "M10x1"),
        ("7/16", "7/16-20 UNF"), ("7/16 unf", "7/16-20 UNF"), ("7/16-20 UNF", "7/16-20 UNF"),
    ],
)  # fmt: skip
def test_names_as_they_are_written(typed, name):
    assert thread_named(typed).name == name
    assert thread_named(thread_named(typed).name) == thread_named(typed)


def test_a_fine_thread_is_the_stronger():
    """ISO 898-1, fine pitch: M10x1.25 has 61.2 mm² (from memory)."""
    assert thread_named("M10x1.25").stress_area == pytest.approx(61.2e-6, abs=0.05e-6)


@pytest.mark.parametrize("typed", ["", "M", "M9", "M8x2", "M8x0.1", "8", "M8; import os", "M" * 5000, "½"])
def test_other_threads_are_refused_with_what_is_known(typed):
    with pytest.raises(BadInput, match="thread: found"):
        thread_named(typed)


@pytest.mark.parametrize("typed", ["", "8.9", "88", "strong", "8.8.8"])
def test_other_classes_are_refused(typed):
    with pytest.raises(BadInput, match="no known strength"):
        grade_named(typed)


def test_classes_compare_by_both_strengths():
    assert is_grade_at_least("8.8", "8,8")
    assert is_grade_at_least("10.9", "8.8")
    assert not is_grade_at_least("6.8", "8.8")
    assert not is_grade_at_least("A2-70", "8.8")
    assert is_grade_at_least("Grade 8", "8.8")
    assert not is_grade_at_least("A2-70", "6.8")  # breaks later, but yields earlier


@pytest.mark.parametrize("call", [(0, 0.008), (-1, 0.008), (1.5, 0.008), (2, 0.0), (2, math.nan)])
def test_no_bolts_have_no_section(call):
    with pytest.raises(BadInput):
        nominal_section(*call)
