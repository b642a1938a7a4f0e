"""What has to last a race, in the order in which it is counted everywhere."""

from dataclasses import dataclass

from tintop.physics import race_numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing that has to last: its name, the SI unit of its margin, and when that margin is called close.

    A consumable (fuel, pads, discs, tread) is used up; anything else is a temperature [°C] against a limit.
    """

    name: str
    unit: str
    close: float

    @property
    def is_consumable(self) -> bool:
        """Whether it is used up, rather than too hot or not."""
        return self.unit != "K"


ITEMS: tuple[Item, ...] = (
    Item(name="fuel", unit="m3", close=2.0e-3),
    Item(name="front pads", unit="m", close=1.0e-3),
    Item(name="rear pads", unit="m", close=1.0e-3),
    Item(name="front disc thickness", unit="m", close=0.1e-3),
    Item(name="rear disc thickness", unit="m", close=0.1e-3),
    Item(name="front disc temperature", unit="K", close=50.0),
    Item(name="rear disc temperature", unit="K", close=50.0),
    Item(name="brake fluid", unit="K", close=30.0),
    Item(name="front tyre tread", unit="m", close=0.5e-3),
    Item(name="rear tyre tread", unit="m", close=0.5e-3),
    Item(name="front tyre heat", unit="K", close=5.0),
    Item(name="rear tyre heat", unit="K", close=5.0),
    Item(name="coolant", unit="K", close=5.0),
    Item(name="oil", unit="K", close=5.0),
)
assert len(ITEMS) == race_numbers.ITEMS
NAMES = tuple(item.name for item in ITEMS)


def item_of(name: str) -> Item:
    """Give an item by its name."""
    return ITEMS[NAMES.index(name)]
