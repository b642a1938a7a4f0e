import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from tintop.charts.labels import Box, Placing

_places = st.floats(0.0, 100.0)


@given(st.lists(st.tuples(_places, _places), min_size=1, max_size=12))
def test_what_is_placed_never_overlaps(centres: list[tuple[float, float]]) -> None:
    placing = Placing(np.array([50.0]), np.array([50.0]), 100.0, 100.0)
    boxes = [Box(x=x, y=y, half_width=8.0, half_height=5.0) for x, y in centres]
    placed = [box for box in boxes if placing.first_free([box], 1.0) is not None]
    for place, box in enumerate(placed):
        assert not any(box.meets(other) for other in placed[:place])
        assert not box.covers(np.array([50.0]), np.array([50.0]), 0.0)
        assert 8.0 <= box.x <= 92.0
        assert 5.0 <= box.y <= 95.0


def test_the_first_free_place_is_taken() -> None:
    placing = Placing(np.array([10.0]), np.array([10.0]), 100.0, 100.0)
    on_the_line = Box(x=10.0, y=10.0, half_width=5.0, half_height=5.0)
    beside = Box(x=30.0, y=10.0, half_width=5.0, half_height=5.0)
    assert placing.first_free([on_the_line, beside], 1.0) == beside
    assert placing.first_free([beside], 1.0) is None
