"""What two set-ups differ in."""

from dataclasses import replace

from setups_by_hand import chassis_by_hand, dry_by_hand, setup_by_hand
from tintop.car.chassis import End, Item
from tintop.car.setup_differences import differences


def test_nothing_differs_from_itself() -> None:
    assert differences(setup_by_hand(), setup_by_hand("another name"), chassis_by_hand()) == ()


def test_each_item_stands_where_it_is_on_the_car() -> None:
    found = differences(setup_by_hand(), dry_by_hand(), chassis_by_hand())
    places = {item: [each.place for each in found if each.item is item] for item in Item}
    assert places[Item.TYRES] == places[Item.PADS] == places[Item.BRAKE_BIAS] == [""]
    assert places[Item.CAMBER] == places[Item.TOE] == ["FL", "FR"]
    assert places[Item.PRESSURE] == places[Item.RIDE_HEIGHT] == ["FL", "FR", "RL", "RR"]
    assert places[Item.BAR] == ["rear"]
    assert not places[Item.SPRINGS]
    bar = next(each for each in found if each.item is Item.BAR)
    assert (bar.before, bar.after, bar.end) == ("bar, hole 1", "bar, hole 3", End.REAR)


def test_one_knob_is_one_item() -> None:
    """Where one knob turns both ways bump is not listed beside rebound; with two knobs it is."""
    road, dry, chassis = setup_by_hand(), dry_by_hand(), chassis_by_hand()
    assert not [each for each in differences(road, dry, chassis) if each.item is Item.BUMP]
    two = [replace(each, front=replace(each.front, damper="two knobs")) for each in (road, dry)]
    found = differences(*two, chassis)
    assert [each.place for each in found if each.item is Item.BUMP] == ["FL", "FR"]


def test_an_unhooked_bar_and_ballast_in_words() -> None:
    road = setup_by_hand()
    off = replace(road, rear=replace(road.rear, bar_hole=0), ballast=10.0, ballast_place="footwell")
    found = {each.item: (each.before, each.after) for each in differences(road, off, chassis_by_hand())}
    assert found == {
        Item.BAR: ("bar, hole 1", "bar, unhooked"),
        Item.BALLAST: ("none", "10 kg, footwell"),
    }
