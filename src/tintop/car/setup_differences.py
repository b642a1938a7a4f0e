"""What two set-ups of one car differ in, item by item, where it stands on the car; SI, radians."""

from collections.abc import Iterator
from dataclasses import dataclass

from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.setup import Setup, bar_in_hole

Value = float | str
_OF_A_CORNER = (
    (Item.RIDE_HEIGHT, "ride_height"),
    (Item.CAMBER, "camber"),
    (Item.TOE, "toe"),
    (Item.BUMP, "bump"),
    (Item.REBOUND, "rebound"),
    (Item.PRESSURE, "pressure_cold"),
)
_SAME = 1e-9  # relative: below it two figures typed in different units are the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One item that is not as it was: `place` is a corner, "front", "rear", or "" for the whole car.

    Values are in SI; parts by name; clicks from full soft; bar holes from the softest, 0 unhooked. The bar is
    one item in words, such as "24 mm bar, hole 2", and so is the ballast with its place.
    """

    item: Item
    place: str
    before: Value
    after: Value

    @property
    def end(self) -> End | None:
        """The end of the car it is at; None for the whole car."""
        if self.place in CORNERS:
            return End.FRONT if self.place[0] == "F" else End.REAR
        return End(self.place) if self.place else None


def differences(a: Setup, b: Setup, chassis: Chassis) -> tuple[Difference, ...]:
    """What has to change to go from one set-up to the other, in the order of `Item`.

    Where one knob turns bump and rebound together, in both set-ups, the rebound's clicks alone count.
    """
    found = [
        Difference(item=item, place=place, before=before, after=after)
        for item, place, before, after in _pairs(a, b, chassis)
        if not _is_same(before, after)
    ]
    order = list(Item)
    return tuple(sorted(found, key=lambda each: order.index(each.item)))


def has_one_knob(setup: Setup, chassis: Chassis, end: End) -> bool:
    """Whether one knob turns bump and rebound together at an end."""
    return chassis.at(end).damper(setup.at(end).damper).is_linked


def bar_words(setup: Setup, end: End) -> str:
    """The bar of an end in words."""
    chosen = setup.at(end)
    return bar_in_hole(chosen.bar, chosen.bar_hole)


def ballast_words(setup: Setup) -> str:
    """The ballast with its place in words."""
    return f"{setup.ballast:g} kg, {setup.ballast_place}" if setup.ballast else "none"


def _pairs(a: Setup, b: Setup, chassis: Chassis) -> Iterator[tuple[Item, str, Value, Value]]:
    yield Item.TYRES, "", a.tyres, b.tyres
    yield Item.PADS, "", a.pads, b.pads
    for end in End:
        yield Item.SPRINGS, end.value, a.at(end).spring, b.at(end).spring
        yield Item.DAMPERS, end.value, a.at(end).damper, b.at(end).damper
        yield Item.BAR, end.value, bar_words(a, end), bar_words(b, end)
    one_knob = {end: has_one_knob(a, chassis, end) and has_one_knob(b, chassis, end) for end in End}
    for item, name in _OF_A_CORNER:
        for place, before, after in zip(CORNERS, a.corners, b.corners, strict=True):
            if item is Item.BUMP and one_knob[End.FRONT if place[0] == "F" else End.REAR]:
                continue
            yield item, place, float(getattr(before, name)), float(getattr(after, name))
    yield Item.BRAKE_BIAS, "", a.brake_bias_turns, b.brake_bias_turns
    yield Item.FINAL_DRIVE, "", a.final_drive, b.final_drive
    yield Item.BALLAST, "", ballast_words(a), ballast_words(b)
    yield Item.FUEL, "", a.fuel_volume, b.fuel_volume


def _is_same(before: Value, after: Value) -> bool:
    if isinstance(before, str) or isinstance(after, str):
        return before == after
    return abs(after - before) <= _SAME * max(abs(before), abs(after))
