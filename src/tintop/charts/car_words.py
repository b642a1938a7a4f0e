"""Values of the car in words: in the owner's units, with as many decimals as the trade reads."""

import math
from collections.abc import Mapping

from tintop.charts.car_picture import CornerValue
from tintop.settings import USUAL_UNITS
from tintop.units import unit_named

_DECIMALS = {
    "psi": 1, "bar": 2, "kPa": 0, "kg": 1, "lb": 0, "mm": 1, "in": 2, "m": 3, "N/mm": 0, "lb/in": 0, "L": 1,
    "gal_uk": 1, "gal_us": 1, "deg": 1, "°C": 0, "°F": 0, "N·m": 0, "lb-ft": 0, "km": 0, "mi": 0,
}  # fmt: skip
_WITHOUT_CHOICE = {"angle": "deg"}
MINUS = "\u2212"
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


def owner_unit(quantity: str, units: Mapping[str, str]) -> str:
    """The unit in which the owner writes a quantity."""
    return units.get(quantity) or USUAL_UNITS.get(quantity) or _WITHOUT_CHOICE.get(quantity, "")


def in_owner_units(value: float, quantity: str, units: Mapping[str, str], decimals: int | None = None) -> str:
    """An SI value in the owner's unit, such as "26.0 psi"; a plain number where the quantity has no unit."""
    name = owner_unit(quantity, units)
    if not name:
        return f"{value:g}".replace("-", MINUS)
    unit = unit_named(name, quantity if quantity != "distance" else "length")
    digits = _DECIMALS.get(name, 1) if decimals is None else decimals
    number = f"{(value - unit.offset) / unit.factor:.{digits}f}".replace("-", MINUS)
    return f"{number}°" if name == "deg" else f"{number} {name.replace('_', ' ')}"


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
