"""Two set-ups of a bench: the jobs alone, or both driven on the same day."""

import pytest

from benches import demo_bench
from tintop.errors import BadInput
from tintop.garage.setups import compare_setups


def test_without_a_circuit_nothing_is_driven() -> None:
    found = compare_setups(demo_bench(), "road", "wet")
    assert found.predicted is None and found.jobs
    assert (found.a.name, found.b.name) == ("Road drive", "Wet circuit")


def test_names_there_are_not_are_refused() -> None:
    with pytest.raises(BadInput, match="Did you mean wet"):
        compare_setups(demo_bench(), "road", "wat")
    with pytest.raises(BadInput, match="larkmoor"):
        compare_setups(demo_bench(), "road", "wet", "larkmor")


def test_the_minutes_of_the_worked_example() -> None:
    """As added up by hand in docs/theory/setups.md."""
    found = compare_setups(demo_bench(), "road", "dry")
    assert found.minutes == 25 + 60 + 45 + 45 + 20 + 10 + 25 + 40 + 4 * 4 + 2 * 8 == 302
    assert not found.untimed
