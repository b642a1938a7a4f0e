"""The search over adjusters: optima known by algebra, what must hold, and which changes are kept."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setups_by_hand import chassis_by_hand, dry_by_hand
from tintop.car.chassis import Adjuster, End, Item
from tintop.car.setup_ranges import ranges_of, value_of
from tintop.errors import refuse
from tintop.lap.outer_wheel import OUTER_SHOULDER
from tintop.lap.setup_effect import Quick
from tintop.lap.setup_search import (
    BUMP_STOPS,
    LEAST_WORTH,
    NEAR,
    NOT_ALLOWED,
    REAR_LOCKS,
    Demands,
    search_setup,
)

_ADJUSTERS = (
    Adjuster(item=Item.CAMBER, end=End.FRONT, low=-0.06, high=-0.01, step=0.01),
    Adjuster(item=Item.PRESSURE, end=End.FRONT, low=1.5e5, high=2.0e5, step=1e4),
    Adjuster(item=Item.BAR, end=End.REAR, low=0, high=3, step=1),
    Adjuster(item=Item.BRAKE_BIAS, low=-3.0, high=3.0, step=1.0),
    Adjuster(item=Item.RIDE_HEIGHT, end=End.REAR, low=0.10, high=0.13, step=0.005),
)
CHASSIS = replace(chassis_by_hand(), adjusters=_ADJUSTERS)
NOW = dry_by_hand()  # camber -0.05, 1.7 bar, hole 3, one turn to the rear, 115 mm


def judge(best, weight, lock=0.0, lock_per_turn=0.0, oversteer_per_hole=0.0, bump=0.02):
    """A lap that is a bowl about `best` in steps of each adjuster, and demands that are planes."""
    steps = {
        Item.CAMBER: 0.01,
        Item.PRESSURE: 1e4,
        Item.BAR: 1.0,
        Item.BRAKE_BIAS: 1.0,
        Item.RIDE_HEIGHT: 0.005,
    }

    def one(setup):
        off = [
            (value_of(setup, a.item, a.end) - best[a.item]) / steps[a.item] if a.item in best else 0.0
            for a in _ADJUSTERS
        ]
        return Quick(
            lap_time=80.0 + sum(weight * each**2 for each in off),
            balance=0.05 - oversteer_per_hole * setup.rear.bar_hole,
            lock_margin=lock + lock_per_turn * setup.brake_bias_turns,
            bump_left=bump,
        )

    return one


def searched(one, demands=None, setup=NOW, bounds=None, **asked):
    ranges = ranges_of(CHASSIS, setup, bounds=bounds)
    return search_setup(CHASSIS, setup, ranges, one, one, demands or Demands(), **asked)


BEST = {
    Item.CAMBER: -0.03,
    Item.PRESSURE: 1.9e5,
    Item.BAR: 1.0,
    Item.BRAKE_BIAS: 2.0,
    Item.RIDE_HEIGHT: 0.115,
}


def test_the_bottom_of_a_bowl_is_found_and_each_change_is_worth_what_algebra_says():
    found = searched(judge(BEST, 0.05))
    assert found.setup.rear.bar_hole == 1
    assert found.setup.brake_bias_turns == 2.0
    assert found.setup.corners[0].camber == pytest.approx(-0.03)
    worth = {change.range.item: change.worth for change in found.changes}
    assert worth == {
        Item.CAMBER: pytest.approx(0.05 * 2**2),
        Item.PRESSURE: pytest.approx(0.05 * 2**2),
        Item.BAR: pytest.approx(0.05 * 2**2),
        Item.BRAKE_BIAS: pytest.approx(0.05 * 3**2),
    }
    assert found.changes[0].range.item is Item.BRAKE_BIAS
    assert found.gain == pytest.approx(0.05 * (4 + 4 + 4 + 9))
    assert found.changes[-1].gained == pytest.approx(found.gain)


def test_only_changes_worth_a_spanner_are_kept():
    found = searched(judge(BEST, 0.004))  # three adjusters are worth 16 ms, one 36 ms
    assert [change.range.item for change in found.changes] == [Item.BRAKE_BIAS]
    assert set(found.not_worth) == {"front camber", "front cold pressure", "rear anti-roll bar"}
    assert found.given_up == pytest.approx(3 * 0.016)
    assert found.setup.corners == NOW.corners


def test_an_outer_wheel_may_not_lean_outwards_and_the_search_says_why():
    """The lap wants −0.03; upright at the hardest corners is −0.04."""
    bowl = judge(BEST, 0.05)

    def one(setup):
        return replace(bowl(setup), outer_lean=value_of(setup, Item.CAMBER, End.FRONT) + 0.04)

    found = searched(one, Demands(outer_lean=0.0))
    assert found.setup.corners[0].camber == pytest.approx(-0.04)
    camber = next(each for each in found.flatness if each.range.item is Item.CAMBER)
    assert [OUTER_SHOULDER in each for each in camber.broken] == [
        place > -0.0399 for place in camber.range.places
    ]

    def leaning_now(setup):
        return replace(bowl(setup), outer_lean=value_of(setup, Item.CAMBER, End.FRONT) + 0.06)

    held = searched(leaning_now, Demands(outer_lean=0.0))
    assert held.setup.corners[0].camber <= NOW.corners[0].camber + 1e-9  # not worse than it is


def test_flatness_by_algebra():
    found = searched(judge(BEST, 0.05))
    camber = next(one for one in found.flatness if one.range.item is Item.CAMBER)
    assert camber.one_step == (pytest.approx(0.05), pytest.approx(0.05))
    pressure = next(one for one in searched(judge(BEST, 0.01)).flatness if one.range.item is Item.PRESSURE)
    width = math.floor(math.sqrt(NEAR / 0.01) - 1e-9)  # steps that lose less than NEAR
    assert pressure.range.places[pressure.low] == pytest.approx(1.9e5 - width * 1e4)
    assert pressure.at - pressure.low == width


def test_nothing_to_gain_changes_nothing():
    here = {a.item: value_of(NOW, a.item, a.end) for a in _ADJUSTERS}
    found = searched(judge(here, 0.05))
    assert found.changes == ()
    assert found.setup == NOW
    assert found.gain == 0.0


def test_a_change_that_balance_rests_on_is_kept_though_it_costs_time():
    loose = judge({**BEST, Item.BAR: 3.0}, 0.05, oversteer_per_hole=0.03)  # hole 3: 4 % oversteer
    found = searched(loose, Demands(balance_low=0.0), setup=replace(NOW, rear=replace(NOW.rear, bar_hole=1)))
    assert found.setup.rear.bar_hole == 1  # hole 2 would already be 1 % oversteer
    assert loose(found.setup).balance >= 0.0


def test_what_is_missed_now_and_cannot_be_mended_may_not_get_worse():
    loose = judge({**BEST, Item.BAR: 0.0}, 0.05, oversteer_per_hole=-0.02, bump=-0.001)
    found = searched(loose, Demands(balance_low=0.2))
    assert loose(found.setup).balance >= loose(NOW).balance - 0.006
    assert BUMP_STOPS in found.still_broken


def test_brakes_that_can_be_made_safe_are_and_it_is_said_why():
    unsafe = judge({}, 0.05, lock=-0.05, lock_per_turn=0.1)  # safe from half a turn to the front
    found = searched(unsafe)
    assert found.setup.brake_bias_turns == 1.0 or unsafe(found.setup).lock_margin >= 0.0
    (change,) = found.changes
    assert change.worth is None
    assert change.needed_for == REAR_LOCKS
    assert not found.still_broken


def test_brakes_are_never_moved_to_the_rear_for_a_quicker_lap():
    safe = judge({Item.BRAKE_BIAS: -3.0}, 0.05, lock=0.5)
    found = searched(safe)
    assert found.setup.brake_bias_turns == NOW.brake_bias_turns
    assert found.changes == ()


def test_a_bias_that_changes_nothing_is_left_where_it_is():
    found = searched(judge({}, 0.05, lock=-0.5))
    assert found.setup == NOW
    assert REAR_LOCKS in found.still_broken


def test_brakes_that_cannot_be_made_safe_are_made_as_safe_as_they_go_and_told():
    found = searched(judge({}, 0.05, lock=-0.9, lock_per_turn=0.1))
    assert found.setup.brake_bias_turns == 3.0
    assert found.changes[0].needed_for == REAR_LOCKS
    assert REAR_LOCKS in found.still_broken


def test_what_is_not_allowed_is_mended_first():
    found = searched(judge(BEST, 0.05), bounds={(Item.RIDE_HEIGHT, End.REAR): (0.121, None)})
    first = found.changes[0]
    assert (first.range.item, first.needed_for) == (Item.RIDE_HEIGHT, NOT_ALLOWED)
    assert first.before == pytest.approx(0.115)
    assert first.after == pytest.approx(0.125)


def test_a_setup_that_cannot_be_is_never_suggested():
    bowl = judge(BEST, 0.05)

    def one(setup):
        if setup.rear.bar_hole == 1:
            raise refuse("bar", "hole 1", "a hole that holds")
        return bowl(setup)

    found = searched(one)
    assert found.setup.rear.bar_hole in (0, 2)


@settings(max_examples=30, deadline=None)
@given(
    st.fixed_dictionaries(
        {
            Item.CAMBER: st.floats(-0.08, 0.0),
            Item.PRESSURE: st.floats(1.4e5, 2.1e5),
            Item.BAR: st.floats(-1.0, 4.0),
            Item.BRAKE_BIAS: st.floats(-4.0, 4.0),
            Item.RIDE_HEIGHT: st.floats(0.09, 0.14),
        }
    ),
    st.floats(0.001, 0.1),
    st.floats(-0.2, 0.2),
    st.floats(0.0, 0.03),
    st.floats(-0.05, 0.05),
)
def test_bounds_and_demands_hold_and_no_dropped_change_mattered(best, weight, lock, oversteer, low):
    one = judge(best, weight, lock=lock, lock_per_turn=0.05, oversteer_per_hole=oversteer)
    found = searched(one, Demands(balance_low=low))
    after, now = one(found.setup), one(NOW)
    assert after.balance >= min(low, now.balance - 0.005) - 1e-6
    assert after.lock_margin >= -1e-6 or found.setup.brake_bias_turns == 3.0
    for adjuster in _ADJUSTERS:
        value = value_of(found.setup, adjuster.item, adjuster.end)
        assert adjuster.low - 1e-9 <= value <= adjuster.high + 1e-9
    assert found.given_up <= LEAST_WORTH * len(found.not_worth) + 1e-9
    for change in found.changes:
        assert change.worth is None or change.worth >= LEAST_WORTH - 1e-9


def test_a_search_can_be_stopped():
    class Enough(Exception):
        pass

    def progress(share):
        if share > 0.1:
            raise Enough

    with pytest.raises(Enough):
        searched(judge(BEST, 0.05), progress=progress)


def test_progress_rises_to_one():
    shares = []
    searched(judge(BEST, 0.05), progress=shares.append)
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
