"""What can be turned keeps within the parts: holes, clicks, turns, and parts that there are."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benches import demo_bench
from tintop.car.adjuster_rooms import adjuster_problems
from tintop.car.chassis import MOST_PLACES, Adjuster, End, Item
from tintop.car.setup_ranges import ranges_of
from tintop.errors import BadInput


def problems(**given_to: object) -> list[str]:
    found = adjuster_problems(Adjuster(**given_to), demo_bench().chassis)  # type: ignore[arg-type]
    return [str(each) for each in found]


def test_the_demo_s_adjusters_keep_within_their_parts():
    for adjuster in demo_bench().chassis.adjusters:
        assert list(adjuster_problems(adjuster, demo_bench().chassis)) == []


@pytest.mark.parametrize(
    ("given_to", "said"),
    [
        ({"item": Item.BAR, "end": End.REAR, "low": -1.0, "high": 3.0, "step": 1.0}, "0 to 3 holes"),
        ({"item": Item.BAR, "end": End.REAR, "low": 0.0, "high": 3.0, "step": 0.5}, "whole holes"),
        ({"item": Item.REBOUND, "end": End.REAR, "low": 0.0, "high": 30.0, "step": 1.0}, "0 to 10 clicks"),
        ({"item": Item.BRAKE_BIAS, "low": -50.0, "high": 4.0, "step": 1.0}, "-12 to 4 turns"),
        ({"item": Item.TYRES, "choices": ("slicks", "wets")}, "Did you mean semi-slicks?"),
        ({"item": Item.FINAL_DRIVE, "choices": ("4.06", "4_2")}, "one of: 4.06; 4.25"),
        ({"item": Item.CAMBER, "end": End.FRONT, "choices": ("a", "b")}, "low, high and step"),
    ],
)
def test_a_room_beyond_the_part_s_own_is_told(given_to, said):
    assert any(said in each for each in problems(**given_to)), problems(**given_to)


@given(
    low=st.floats(allow_nan=True, allow_infinity=True),
    high=st.floats(allow_nan=True, allow_infinity=True),
    step=st.floats(allow_nan=True, allow_infinity=True),
)
def test_an_adjuster_is_refused_or_has_few_places(low: float, high: float, step: float):
    try:
        Adjuster(item=Item.CAMBER, end=End.FRONT, low=low, high=high, step=step)
    except BadInput:
        return
    assert (high - low) / step <= MOST_PLACES


def test_the_demo_s_ranges_are_few():
    bench = demo_bench()
    for one in ranges_of(bench.chassis, bench.setup("dry")).found:
        assert 2 <= len(one.places) <= MOST_PLACES
