"""The search on a grid: against trying every place, and against optima known by algebra."""

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.lap.lattice import best_place


def quadratic(centre, weights, coupling):
    def cost(place):
        off = [at - to for at, to in zip(place, centre, strict=True)]
        own = sum(w * x * x for w, x in zip(weights, off, strict=True))
        return own + coupling * sum(a * b for a, b in pairwise(off))

    return cost


def test_a_bowl_in_eight_dimensions_is_found_at_its_bottom():
    sizes = (13, 9, 40, 3, 7, 21, 12, 5)
    centre = (7, 2, 31, 1, 5, 0, 11, 4)
    cost = quadratic(centre, (1.0, 2.0, 0.02, 5.0, 1.0, 0.3, 0.7, 1.5), 0.1)
    found, looked_at = best_place(sizes, tuple(size // 2 for size in sizes), lambda place: (0.0, cost(place)))
    assert found == centre
    assert looked_at < 2000 < 13 * 9 * 40 * 3 * 7 * 21 * 12 * 5


@settings(max_examples=60, deadline=None)
@given(
    st.data(),
    st.lists(st.integers(2, 7), min_size=2, max_size=3),
    st.floats(-0.9, 0.9),
)
def test_against_trying_every_place(data, sizes, coupling):
    centre = [data.draw(st.floats(-2.0, size + 1.0)) for size in sizes]
    weights = [data.draw(st.floats(1.0, 3.0)) for _ in sizes]
    start = tuple(data.draw(st.integers(0, size - 1)) for size in sizes)
    cost = quadratic(centre, weights, coupling)
    found, _ = best_place(sizes, start, lambda place: (0.0, cost(place)))
    least = min(cost(place) for place in product(*map(range, sizes)))
    assert cost(found) == pytest.approx(least, abs=1e-12)


def test_what_must_hold_comes_before_the_cost():
    def merit(place):
        return max(0.0, place[0] + place[1] - 6.0), -2.0 * place[0] - 3.0 * place[1]

    found, _ = best_place((8, 5), (7, 4), merit)
    assert found == (2, 4)  # 3·y is dearest: y at its top of 4, then x up to the line x + y = 6


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 30), min_size=1, max_size=5), st.data())
def test_never_beyond_its_bounds_and_never_worse_than_the_start(sizes, data):
    start = tuple(data.draw(st.integers(0, size - 1)) for size in sizes)
    slopes = [data.draw(st.floats(-1.0, 1.0)) for _ in sizes]

    def merit(place):
        assert all(0 <= at < size for at, size in zip(place, sizes, strict=True))
        return 0.0, sum(slope * at for slope, at in zip(slopes, place, strict=True))

    found, _ = best_place(sizes, start, merit)
    assert merit(found) <= merit(start)


def test_it_can_be_stopped_at_any_place():
    class Enough(Exception):
        pass

    looked = []

    def progress(share):
        looked.append(share)
        if len(looked) == 5:
            raise Enough

    with pytest.raises(Enough):
        best_place((20, 20), (0, 0), lambda place: (0.0, float(sum(place))), progress)
    assert len(looked) == 5


def test_the_same_again_is_the_same():
    cost = quadratic((3.3, 8.1, 2.2), (1.0, 0.4, 0.9), -0.3)
    first = best_place((9, 14, 6), (0, 0, 0), lambda place: (0.0, cost(place)))
    assert first == best_place((9, 14, 6), (0, 0, 0), lambda place: (0.0, cost(place)))


def test_progress_rises_and_ends_at_one():
    shares = []
    best_place((12, 12), (0, 0), lambda place: (0.0, float(sum(place))), shares.append)
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
