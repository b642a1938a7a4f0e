"""Refusals shared by the frozen values of car and event."""

import math

from tintop.errors import refuse


def require(holds: bool, where: str, found: object, expected: str, cure: str = "") -> None:
    """Raise BadInput unless the condition holds."""
    if not holds:
        raise refuse(where, found, expected, cure)


def within(value: float, low: float, high: float, where: str, unit: str) -> None:
    """Raise BadInput unless low <= value <= high; NaN never passes."""
    require(
        math.isfinite(value) and low <= value <= high,
        where,
        f"{value:g} {unit}".strip(),
        f"{low:g} to {high:g} {unit}".strip(),
    )


def above_nought(value: float, where: str, unit: str) -> None:
    """Raise BadInput unless the value is finite and above 0."""
    require(math.isfinite(value) and value > 0.0, where, f"{value:g} {unit}", f"more than 0 {unit}")
