"""Entries that prove or unprove that the car meets its rules."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from tintop.checks import require


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofRecorded:
    """One fact of the car, proven; values in SI, as `rules.facts` lays out each kind, with what was written.

    A later one of the same fact and instance takes its place; one about a part counts while it is on the car.
    """

    kind: Literal["proof"] = "proof"
    fact: str  # such as "harness.shoulder_anchor"
    each: str = ""  # such as "left"
    form: Literal["measurement", "photograph", "certificate", "label", "receipt", "witness", "trial"]
    fact_kind: str  # such as "point": how `values` and `text` are to be read
    values: tuple[float, ...] = ()
    text: str = ""
    marked: date | None = None
    marked_to: Literal["", "year", "month", "day", "unreadable"] = ""
    error: float | None = None  # ± in SI; None for the fact's usual one
    written: str = ""
    serial: str = ""  # number on the label or certificate
    part: str = ""
    papers: tuple[str, ...] = ()  # digests of originals

    def __post_init__(self) -> None:
        if self.error is not None:
            require(self.error >= 0.0, f"± of {self.fact}", self.error, "zero or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class AccidentHappened:
    """The car was hit, or hit something; after a hard hit belts, seat, helmet, cage are to be proven anew."""

    kind: Literal["accident"] = "accident"
    what: str
    is_hard: bool = True
    meeting: str = ""
