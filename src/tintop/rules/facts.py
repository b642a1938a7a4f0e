"""What a rule book asks to be recorded of a car: facts, their kinds, and their values in SI.

Positions follow ISO 8855: x forward, y left, z up; any origin on the car serves, the same for all.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Literal

from tintop.checks import require


class FactKind(StrEnum):
    """What form the value of a fact has."""

    NUMBER = "number"  # of one quantity, such as "45 mm" or "3"
    NUMBERS = "numbers"  # several of one quantity, such as "5.1 4.9 5.0 mm"
    POINT = "point"  # x, y, z, such as "-1200 350 900 mm"
    OUTLINE = "outline"  # corners x, y in order round a plate, such as "0 0, 120 0, 120 100, 0 100 mm"
    TUBE = "tube"  # outside diameter and wall, such as "45 x 2.5 mm"
    BOLTS = "bolts"  # count, thread diameter, class, such as "3 x M8 8.8"
    TEXT = "text"
    CHOICE = "choice"  # one of the words the fact lists
    NAMES = "names"  # such as "Robin, Sam"
    YES_NO = "yes or no"
    MARKED = "marked date"  # as a label has it: "2024", "2024-03" or "2024-03-15", or "unreadable"


class Station(StrEnum):
    """Where one stands to see it, in the order a scrutineer walks round a car."""

    OUTSIDE = "outside"
    BONNET = "under the bonnet"
    CABIN = "cabin"
    BOOT = "boot"
    UNDERNEATH = "underneath"
    KIT = "driver's kit"
    PAPERS = "papers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing to be recorded: its name, the words that ask for it, kind, quantity, and how it is measured.

    `each` lists the instances recorded apart, such as left and right, or names one fact of kind NAMES
    (such as "drivers") that lists them; empty for a fact there is one of.
    `error` is the usual ± in SI when measured and no other is given.
    `least` and `most` bound what is usual, in SI: of a number, of each of several, of a point's figures, of
    an outline's length and width, of bolts' thread; of a tube both as tubes. What lies outside is asked, not
    refused. A number is below zero only where `least` is, or where its quantity may always be.
    `in_future` allows a day to come, as on a label that says until when; any other is past when recorded.
    `forms` are the forms of proof that will do where a clause names none; all where empty.
    `lasts_through_accident` says that a hit cannot change it: who, what number, what steel.
    `renewed_by_inspection` says that after a hit it counts on once its part was looked over since.
    `area` is where on the car a part proven by it sits, as one walks round.
    """

    name: str  # dotted, such as "harness.shoulder_anchor"
    ask: str
    kind: FactKind
    station: Station
    quantity: str = ""  # a key of `units.UNITS` for NUMBER and NUMBERS
    unit: str = ""  # the unit it is usually written in
    how: str = ""
    choices: tuple[str, ...] = ()
    each: tuple[str, ...] | str = ()
    error: float = 0.0
    wants_photograph: bool = False
    least: "float | Tube | None" = None
    most: "float | Tube | None" = None
    in_future: bool = False
    forms: tuple[str, ...] = ()
    lasts_through_accident: bool = False
    renewed_by_inspection: bool = False


@dataclass(frozen=True, slots=True, order=True)
class FactKey:
    """A fact of one instance: `FactKey("harness.shoulder_anchor", "left")`."""

    fact: str
    each: str = ""

    def __str__(self) -> str:
        return f"{self.fact}[{self.each}]" if self.each else self.fact


Precision = Literal["year", "month", "day"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """A date as a label or certificate bears it; `day` is the last day that fits what is readable."""

    day: date
    precision: Precision = "day"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A round tube by outside diameter and wall [m]."""

    diameter: float
    wall: float

    def __post_init__(self) -> None:
        require(self.diameter > 0.0, "diameter", self.diameter, "more than zero")
        require(
            0.0 < 2.0 * self.wall <= self.diameter,
            "wall",
            self.wall,
            "more than zero, half the diameter at most",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolts:
    """A number of equal bolts: thread diameter [m] and property class such as "8.8" (empty if unmarked).

    `thread` names one that the diameter alone does not tell, such as "7/16-20 UNF" or "M10x1.25"; empty for a
    coarse metric one, and for one in inches of which nobody said.
    """

    count: int
    diameter: float
    strength_class: str = ""
    thread: str = ""


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A label that is missing or cannot be read; it counts as expired."""


Point = tuple[float, float, float]
Outline = tuple[tuple[float, float], ...]
FactValue = (
    float
    | tuple[float, ...]
    | Point
    | Outline
    | Tube
    | Bolts
    | str
    | tuple[str, ...]
    | bool
    | Marked
    | Unreadable
)
