"""What the published cases are made of: inputs as printed, and their units to SI and back."""

from collections.abc import Callable, Mapping
from typing import Any

from tintop.units import unit_named

Inputs = Mapping[str, Any]
Results = Mapping[str, Any]
Run = Callable[[Inputs], Results]


def si(number: float, unit: str) -> float:
    """Give the SI value of a printed number in a unit that tintop knows."""
    found = unit_named(unit)
    return number * found.factor + found.offset


def printed(value: float, unit: str) -> float:
    """Give an SI value in a printed unit."""
    found = unit_named(unit)
    return (value - found.offset) / found.factor
