"""Values in the owner's units, with as many decimals as the trade reads."""

import re
from collections.abc import Mapping

from tintop.errors import refuse
from tintop.settings import USUAL_UNITS
from tintop.units import unit_named

_DECIMALS = {
    "psi": 1, "bar": 2, "kPa": 0, "kg": 1, "lb": 0, "mm": 1, "in": 2, "m": 3, "N/mm": 0, "lb/in": 0, "L": 1,
    "gal_uk": 1, "gal_us": 1, "deg": 1, "°C": 0, "°F": 0, "N·m": 0, "lb-ft": 0, "km": 0, "mi": 0,
}  # fmt: skip
_BARE = re.compile(r"[+\-]?[0-9]*[.,]?[0-9]+")
_WITHOUT_CHOICE = {"angle": "deg"}
MINUS = "\u2212"
HEIGHTS = (-450.0, 5000.0)  # [m] above the sea, of the lowest road and the highest


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


def require_between(
    value: float,
    low: float,
    high: float,
    where: str,
    quantity: str,
    units: Mapping[str, str],
    decimals: int | None = None,
) -> None:
    """Raise BadInput in the owner's unit unless low <= value <= high [SI]; NaN never passes."""
    if not low <= value <= high:
        found, least, most = (in_owner_units(one, quantity, units, decimals) for one in (value, low, high))
        raise refuse(where, found, f"{least} to {most}")


def require_height(height: float | None, where: str) -> None:
    """Raise BadInput unless a height above the sea [m] is that of a road; None is not looked at."""
    if height is not None:
        require_between(height, *HEIGHTS, where, "length", {"length": "m"}, 0)


def with_unit(text: str, unit: str) -> str:
    """A text with the unit put to a bare number, such as "20 L" for "20"."""
    return f"{text.strip()} {unit}" if _BARE.fullmatch(text.strip()) else text


def lap_words(seconds: float) -> str:
    """A lap time in the one form it has everywhere, such as "1:26.32"; under a minute "58.20 s"."""
    minutes, hundredths = divmod(round(100.0 * seconds), 6000)
    return f"{minutes}:{hundredths / 100.0:05.2f}" if minutes else f"{hundredths / 100.0:.2f} s"
