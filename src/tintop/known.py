"""A number together with how we know it."""

import math
from dataclasses import dataclass
from enum import StrEnum

from tintop.errors import refuse


class Origin(StrEnum):
    """How a number came to be known, best first."""

    MEASURED = "measured"
    DOCUMENTED = "documented"
    ESTIMATED = "estimated"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A value in SI with its standard uncertainty (same unit), origin, note and source."""

    value: float
    uncertainty: float
    origin: Origin
    note: str = ""
    source: str = ""

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise refuse("value", self.value, "a finite number")
        if not (math.isfinite(self.uncertainty) and self.uncertainty >= 0.0):
            raise refuse("uncertainty", self.uncertainty, "a number of zero or more")
