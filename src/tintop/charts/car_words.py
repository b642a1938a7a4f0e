"""Values of the car in words: in the owner's units, with as many decimals as the trade reads."""

import math
from collections.abc import Mapping

from tintop.charts.car_picture import CornerValue
from tintop.owner_units import MINUS, in_owner_units, owner_unit

__all__ = [
    "MINUS",
    "NAMES",
    "corner_words",
    "in_owner_units",
    "owner_unit",
    "setting_words",
    "share_words",
]

NAMES = {
    "camber": "camber",
    "toe": "toe",
    "spring": "spring",
    "pressure cold": "cold",
    "pressure hot": "hot",
    "tread": "tread",
    "pad": "pad",
    "disc": "disc",
}


def corner_words(found: CornerValue, units: Mapping[str, str]) -> str:
    """The value of a corner in words; what is no number stands as it was written."""
    return setting_words(found.name, found.value, found.quantity, found.written, units)


def setting_words(
    item: str, value: float | None, quantity: str, written: str, units: Mapping[str, str]
) -> str:
    """A value of the set-up in words; what has no unit the owner chooses stands as it was written."""
    if value is None or not (item == "toe" or owner_unit(quantity, units)):
        return written or ("–" if value is None else f"{value:g}".replace("-", MINUS))
    if item == "toe":
        return _toe(value, quantity)
    return in_owner_units(value, quantity, units)


def share_words(share: float | None) -> str:
    """A share as a percentage with one decimal."""
    return "–" if share is None else f"{100.0 * share:.1f} %"


def _toe(value: float, quantity: str) -> str:
    if abs(value) < 1e-9:
        return "none"
    way = "in" if value > 0.0 else "out"
    if quantity == "angle":
        return f"{abs(math.degrees(value)) * 60.0:.0f}′ {way}"
    return f"{abs(value) * 1e3:.1f} mm {way}"
