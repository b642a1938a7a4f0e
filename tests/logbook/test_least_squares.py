import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy import stats

from tintop.logbook.least_squares import line_through, student_factor


@settings(deadline=None)
@given(
    points=st.lists(
        st.tuples(st.integers(0, 400), st.floats(0.0, 20.0)),
        min_size=3,
        max_size=30,
        unique_by=lambda p: p[0],
    )
)
def test_slope_and_standard_error_agree_with_an_independent_library(points):
    x, y = [point[0] / 10 for point in points], [point[1] for point in points]
    ours, theirs = line_through(x, y), stats.linregress(x, y)
    assert ours is not None
    assert ours.slope == approx(theirs.slope, rel=1e-9, abs=1e-9)
    assert ours.at_zero == approx(theirs.intercept, rel=1e-9, abs=1e-8)
    assert ours.slope_error == approx(theirs.stderr, rel=1e-6, abs=1e-7)


def test_two_points_give_a_slope_without_error():
    line = line_through([0.0, 2.0], [12.0, 9.0])
    assert line is not None
    assert (line.slope, line.at_zero, line.slope_error) == (-1.5, 12.0, None)


@pytest.mark.parametrize("x", [[], [1.0], [1.0, 1.0], [3.0, 3.0, 3.0]])
def test_points_that_give_no_line(x):
    assert line_through(x, [1.0] * len(x)) is None


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 10, 20, 21, 30, 100, 1000])
def test_range_factor_agrees_with_an_independent_library(freedom):
    assert student_factor(freedom) == approx(stats.t.ppf(0.975, freedom), rel=2e-3)
