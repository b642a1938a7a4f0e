"""Ballast places: against every choice on a grid, and moments by hand."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.physics.ballast import best_ballast, centre_with, in_blocks

PLACES = np.array([[-1.2, -0.38, 0.18], [-2.3, 0.0, 0.25], [-0.9, -0.35, 0.15]])
MOST = (20.0, 20.0, 15.0)
CENTRE = np.array([-1.05, 0.02, 0.5])


def cost(masses, wanted_x=None):
    x, y, z = centre_with(1120.0, CENTRE, np.asarray(masses), PLACES)
    return abs(y) + z + (abs(x - wanted_x) if wanted_x is not None else 0.0)


@pytest.mark.parametrize("wanted_x", [None, -1.1])
@pytest.mark.parametrize("need", [5.0, 25.0, 48.0])
def test_no_choice_on_a_grid_is_better(need, wanted_x):
    found = best_ballast(need, 1120.0, CENTRE, PLACES, MOST, wanted_x)
    assert float(found.sum()) == pytest.approx(need)
    assert np.all(found <= np.array(MOST) + 1e-9) and np.all(found >= 0.0)
    grid = np.arange(0.0, 20.5, 0.5)
    tried = [
        cost((a, b, need - a - b), wanted_x) for a, b in product(grid, grid) if 0.0 <= need - a - b <= MOST[2]
    ]
    assert cost(found, wanted_x) <= min(tried) + 1e-9


def test_a_driver_to_the_left_puts_it_to_the_right():
    found = best_ballast(15.0, 1120.0, CENTRE, PLACES, MOST)
    assert found[1] == pytest.approx(0.0, abs=1e-6)


def test_moments_by_hand():
    """1000 kg at (−1, 0, 0.5) and 20 kg at (−2, −0.4, 0.2): −1.0196, −0.00784, 0.4941."""
    found = centre_with(1000.0, np.array([-1.0, 0.0, 0.5]), np.array([20.0]), np.array([[-2.0, -0.4, 0.2]]))
    assert found == pytest.approx([-1040 / 1020, -8 / 1020, 504 / 1020])


def test_more_than_the_places_carry_is_refused():
    with pytest.raises(BadInput, match=r"60\.0 kg to be carried.*55\.0 kg"):
        best_ballast(60.0, 1120.0, CENTRE, PLACES, MOST)


@given(st.lists(st.floats(0.0, 20.0), min_size=1, max_size=4))
def test_blocks_are_whole_and_no_less(masses):
    found = in_blocks(np.array(masses), [25.0] * len(masses), 0.5)
    assert float(found.sum()) >= sum(masses) - 1e-6
    assert float(found.sum()) < sum(masses) + 0.5
    assert found / 0.5 == pytest.approx(np.round(found / 0.5))
