"""Where each adjuster can be set: bounds, the present place, left and right, parts not on the shelf."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setups_by_hand import chassis_by_hand, corner_by_hand, dry_by_hand
from tintop.car.chassis import Adjuster, End, Item, Offer, Spring
from tintop.car.setup_ranges import ranges_of, value_of, with_value

_TWO_KNOBS = replace(dry_by_hand().front, damper="two knobs")


def with_adjusters(*adjusters, **changes):
    return replace(chassis_by_hand(), adjusters=adjusters, **changes)


def only(chassis, setup, **asked):
    (found,) = ranges_of(chassis, setup, **asked).found
    return found


def test_steps_run_from_end_to_end_and_the_present_value_lies_among_them():
    camber = Adjuster(item=Item.CAMBER, end=End.FRONT, low=-0.06, high=-0.01, step=0.02)
    found = only(with_adjusters(camber), dry_by_hand())
    assert found.places == pytest.approx((-0.06, -0.05, -0.04, -0.02, -0.01))
    assert found.places[found.now] == -0.05
    assert found.name == "front camber"


@given(st.floats(0.05, 0.2), st.floats(0.005, 0.05), st.floats(0.0005, 0.004), st.floats(-0.01, 0.01))
def test_no_place_leaves_the_room_but_the_present_one(low, room, step, uneven):
    left, right = corner_by_hand(ride_height=0.13 + uneven), corner_by_hand(ride_height=0.13 - uneven)
    setup = dry_by_hand()
    setup = replace(setup, corners=(left, right, *setup.corners[2:]))
    height = Adjuster(item=Item.RIDE_HEIGHT, end=End.FRONT, low=low, high=low + room, step=min(step, room))
    chassis = with_adjusters(height)
    for found in ranges_of(chassis, setup).found:
        for at, place in enumerate(found.places):
            moved = with_value(chassis, setup, Item.RIDE_HEIGHT, End.FRONT, place)
            first, second = (corner.ride_height for corner in moved.pair(End.FRONT))
            assert first - second == pytest.approx(2.0 * uneven)
            assert moved.pair(End.REAR) == setup.pair(End.REAR)
            if at != found.now:
                assert low - 1e-8 <= min(first, second) <= max(first, second) <= low + room + 1e-8


def test_what_the_rules_close_off_is_no_place_and_the_present_one_is_moved():
    height = Adjuster(item=Item.RIDE_HEIGHT, end=End.FRONT, low=0.10, high=0.14, step=0.01)
    ranges = ranges_of(
        with_adjusters(height), dry_by_hand(), bounds={(Item.RIDE_HEIGHT, End.FRONT): (0.125, None)}
    )
    (found,) = ranges.found
    assert found.places == pytest.approx((0.13, 0.14))
    assert found.now == 0
    assert ranges.moved == {"front ride height": pytest.approx(0.11)}


def test_nothing_allowed_is_told_and_not_searched():
    height = Adjuster(item=Item.RIDE_HEIGHT, end=End.FRONT, low=0.10, high=0.14, step=0.01)
    ranges = ranges_of(
        with_adjusters(height), dry_by_hand(), bounds={(Item.RIDE_HEIGHT, End.FRONT): (0.2, None)}
    )
    assert ranges.found == ()
    assert "no place" in ranges.left_out["front ride height"]


def test_springs_come_in_the_order_of_their_rate_and_only_from_the_shelf():
    chassis = chassis_by_hand()
    to_buy = Spring(name="stiffer", rate=90e3, offer=Offer(is_owned=False))
    front = replace(chassis.front, springs=(*chassis.front.springs, to_buy))
    choice = Adjuster(item=Item.SPRINGS, end=End.FRONT, choices=("stiff", "stiffer", "unmarked", "soft"))
    found = only(replace(chassis, front=front, adjusters=(choice,)), dry_by_hand())
    assert found.places == ("soft", "unmarked", "stiff")


def test_one_knob_turns_both_ways_and_is_tried_once():
    clicks = [
        Adjuster(item=item, end=End.FRONT, low=0, high=40, step=1) for item in (Item.BUMP, Item.REBOUND)
    ]
    chassis = with_adjusters(*clicks)
    ranges = ranges_of(chassis, dry_by_hand())
    assert [one.item for one in ranges.found] == [Item.REBOUND]
    assert ranges.found[0].places[-1] == 24  # what the damper has, though the adjuster says 40
    assert "one knob" in ranges.left_out["front bump clicks"]
    turned = with_value(chassis, dry_by_hand(), Item.REBOUND, End.FRONT, 3.0)
    assert {(one.bump, one.rebound) for one in turned.pair(End.FRONT)} == {(3, 3)}


def test_without_dampers_nothing_is_tried_whose_cost_is_unknown():
    chassis = chassis_by_hand()
    choice = Adjuster(item=Item.SPRINGS, end=End.FRONT, choices=("soft", "stiff"))
    bare = replace(chassis, front=replace(chassis.front, dampers=()), adjusters=(choice,))
    setup = replace(dry_by_hand(), front=replace(dry_by_hand().front, damper=""))
    ranges = ranges_of(bare, setup)
    assert ranges.found == ()
    assert "unknown" in ranges.left_out["front springs"]


def test_toe_is_left_out_with_its_reason_and_tyres_are_tried_when_named():
    toe = Adjuster(item=Item.TOE, end=End.FRONT, low=-0.01, high=0.01, step=0.002)
    tyres = Adjuster(item=Item.TYRES, choices=("road tyres", "semi-slicks"))
    chassis = with_adjusters(toe, tyres)
    everything = ranges_of(chassis, dry_by_hand())
    assert everything.found == ()
    assert "turning in" in everything.left_out["front toe"]
    assert only(chassis, dry_by_hand(), wanted=("tyres",)).places == ("road tyres", "semi-slicks")


@pytest.mark.parametrize(
    ("item", "end", "value"),
    [
        (Item.CAMBER, End.REAR, -0.03),
        (Item.PRESSURE, End.FRONT, 1.9e5),
        (Item.BAR, End.REAR, 2.0),
        (Item.BRAKE_BIAS, None, 1.5),
        (Item.FINAL_DRIVE, None, 4.4),
        (Item.SPRINGS, End.FRONT, "stiff"),
        (Item.TYRES, None, "road tyres"),
        (Item.BUMP, End.FRONT, 7.0),
    ],
)
def test_what_is_set_is_read_back_and_nothing_else_moves(item, end, value):
    chassis, setup = chassis_by_hand(), replace(dry_by_hand(), front=_TWO_KNOBS)
    moved = with_value(chassis, setup, item, end, value)
    assert value_of(moved, item, end) == (pytest.approx(value) if isinstance(value, float) else value)
    back = with_value(chassis, moved, item, end, value_of(setup, item, end))
    assert value_of(back, item, end) == (
        pytest.approx(value_of(setup, item, end)) if isinstance(value, float) else value_of(setup, item, end)
    )


def test_clicks_come_back_to_what_other_dampers_have():
    chassis = chassis_by_hand()
    short = replace(
        chassis.front.dampers[1],
        name="short",
        bump=replace(chassis.front.dampers[1].bump, most_clicks=5, clicks=(0, 5)),
    )
    chassis = replace(chassis, front=replace(chassis.front, dampers=(*chassis.front.dampers, short)))
    moved = with_value(chassis, dry_by_hand(), Item.DAMPERS, End.FRONT, "short")
    assert {one.bump for one in moved.pair(End.FRONT)} == {5}
    assert {one.rebound for one in moved.pair(End.FRONT)} == {10}
