"""Expressions of rule books as values: built by the reader, evaluated here; nothing in them can run code."""

from dataclasses import dataclass
from typing import Literal

Comparison = Literal["<", "<=", "==", "!=", ">=", ">"]
Arithmetic = Literal["+", "-", "*", "/"]


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure with its unit, in SI: "45 mm" is Amount(0.045, "length", "45 mm")."""

    value: float
    quantity: str
    written: str


@dataclass(frozen=True, slots=True)
class Words:
    """A text between quotation marks."""

    text: str


@dataclass(frozen=True, slots=True)
class Truth:
    """yes or no."""

    value: bool


@dataclass(frozen=True, slots=True)
class Named:
    """A fact; `each` names one instance, empty for the instance under check or the only one."""

    fact: str
    each: str = ""


@dataclass(frozen=True, slots=True)
class Call:
    """A function of `functions.FUNCTIONS` of expressions."""

    function: str
    arguments: tuple["Expression", ...]


@dataclass(frozen=True, slots=True)
class Calculation:
    """Two expressions joined by an arithmetic sign."""

    sign: Arithmetic
    left: "Expression"
    right: "Expression"


@dataclass(frozen=True, slots=True)
class Compared:
    """Two expressions compared."""

    sign: Comparison
    left: "Expression"
    right: "Expression"


@dataclass(frozen=True, slots=True)
class Joined:
    """Conditions of which all ("and") or one ("or") must hold."""

    sign: Literal["and", "or"]
    parts: tuple["Expression", ...]


@dataclass(frozen=True, slots=True)
class Denied:
    """A condition that must not hold."""

    part: "Expression"


Expression = Amount | Words | Truth | Named | Call | Calculation | Compared | Joined | Denied
