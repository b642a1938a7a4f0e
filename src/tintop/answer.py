"""An answer as the owner gets it: a verdict, figures with their range, why, and what to beware of."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


class Verdict(StrEnum):
    """What is said first."""

    YES = "yes"
    CLOSE = "close"
    NO = "no"
    NOT_PROVEN = "not proven"
    FOUND = "found"  # a quantity was asked for, not a yes or no

    @property
    def sign(self) -> str:
        """The sign that stands beside the word, the same on page and paper."""
        return _SIGNS[self]


_SIGNS = {
    Verdict.YES: "✓",
    Verdict.CLOSE: "≈",
    Verdict.NO: "✗",
    Verdict.NOT_PROVEN: "?",
    Verdict.FOUND: "=",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One number of an answer with its range (about 95 %), unit and how it was come by."""

    name: str
    value: float
    low: float
    high: float
    unit: str
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """A number used that the owner did not give, and what its doubt does to the answer."""

    path: str
    value: float
    uncertainty: float
    effect: float
    effect_unit: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The verdict in words, figures, reasons, the next thing to do, cautions, works, and the working."""

    question: str
    verdict: Verdict
    sentence: str
    figures: tuple[Figure, ...]
    why: tuple[str, ...] = ()
    next_thing: str = ""
    cautions: tuple[str, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    works: tuple[str, ...] = ()
    working: Mapping[str, Any] = field(default_factory=dict)
