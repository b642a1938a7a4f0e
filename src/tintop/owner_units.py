"""Values in the owner's units, with as many decimals as the trade reads."""

from collections.abc import Mapping

from tintop.settings import USUAL_UNITS
from tintop.units import unit_named

_DECIMALS = {
    "psi": 1, "bar": 2, "kPa": 0, "kg": 1, "lb": 0, "mm": 1, "in": 2, "m": 3, "N/mm": 0, "lb/in": 0, "L": 1,
    "gal_uk": 1, "gal_us": 1, "deg": 1, "°C": 0, "°F": 0, "N·m": 0, "lb-ft": 0, "km": 0, "mi": 0,
}  # fmt: skip
_WITHOUT_CHOICE = {"angle": "deg"}
MINUS = "\u2212"


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
