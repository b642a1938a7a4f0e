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
