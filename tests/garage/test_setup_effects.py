"""Lines found once, and set-ups driven in the weather they are for."""

import pytest

from short_benches import SHORT, short_bench
from tintop.errors import BadInput
from tintop.garage.setup_effects import effects_of, line_of

BENCH = short_bench()


def test_a_line_is_found_once():
    assert line_of(BENCH, SHORT) is line_of(BENCH, SHORT)


def test_each_set_up_in_its_weather_with_progress():
    shares = []
    found = effects_of(BENCH, ("dry", "wet"), SHORT, shares.append)
    assert list(found) == ["dry", "wet"]
    assert found["wet"].limit.limit < found["dry"].limit.limit
    assert shares == sorted(shares)
    assert shares[-1] == pytest.approx(1.0)


def test_a_name_that_is_not_there_is_told_before_a_line_is_looked_for():
    with pytest.raises(BadInput, match="wet"):
        effects_of(BENCH, ("dry", "wett"), SHORT)
    with pytest.raises(BadInput, match="short"):
        line_of(BENCH, "shrot")
