"""What a garage is called, whose it is, and the units and money its owner writes in."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

USUAL_UNITS: Mapping[str, str] = MappingProxyType(
    {
        "pressure": "psi",
        "temperature": "°C",
        "spring rate": "N/mm",
        "mass": "kg",
        "length": "mm",
        "volume": "L",
        "distance": "km",
        "speed": "km/h",
        "torque": "N·m",
        "power": "hp",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The few choices of a garage; `units` gives the unit the owner writes by quantity.

    `is_demo` marks a garage whose entries and proofs are invented.
    """

    title: str
    owner: str = ""
    currency: str = "£"
    units: Mapping[str, str] = field(default_factory=lambda: dict(USUAL_UNITS))
    is_demo: bool = False
