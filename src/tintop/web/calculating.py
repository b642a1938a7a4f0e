"""What a plain calculator is: blanks to fill in, results each with formula, numbers put in and source."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tintop.errors import BadInput, Problem
from tintop.physics.bolts import CAUTION
from tintop.web.formats import THIN, number
from tintop.web.typed_values import lengths_typed, places_typed, value_typed

_LONGEST_TEXT = 4000
_LEAST_PRINTED, _MOST_PRINTED = 1e-3, 1e7


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One blank: its words, how it is read, an example; `kind` is value, lengths, places or name.

    `refusals` are the words by which a formula's refusal names what stands here; `choices` those of a name.
    """

    name: str
    label: str
    example: str
    quantity: str = "length"
    unit: str = "mm"
    kind: str = "value"
    hint: str = ""
    refusals: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()

    @property
    def unit_words(self) -> str:
        """The unit as it is printed."""
        return self.unit.replace("mm2", "mm²") if self.kind != "name" else ""

    def read(self, text: str) -> Any:
        """Read what was typed; BadInput naming the blank."""
        match self.kind:
            case "lengths":
                return lengths_typed(text, self.unit, self.name)
            case "places":
                return places_typed(text, self.unit, self.name)
            case "name":
                return text
            case _:
                return value_typed(text, self.quantity, self.unit, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One result in words, and how it came about."""

    name: str
    value: str
    formula: str
    put_in: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What a calculator found: the first sentence, the results, a drawing, what to beware of."""

    lead: str
    results: tuple[Result, ...]
    drawing: str
    caution: str = CAUTION


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculator:
    """One calculator: its address, title, question, blanks, and the work."""

    address: str
    title: str
    question: str
    blanks: tuple[Blank, ...]
    work: Callable[[Mapping[str, Any]], Worked]

    def texts(self, asked: Mapping[str, str]) -> dict[str, str]:
        """What stands in each blank: as typed, or its example where nothing was sent for it."""
        return {blank.name: asked.get(blank.name, blank.example)[:_LONGEST_TEXT] for blank in self.blanks}

    def worked(self, texts: Mapping[str, str]) -> Worked:
        """Read every blank and work it out; BadInput with every problem, each named by its blank or ""."""
        values: dict[str, Any] = {}
        problems: list[Problem] = []
        for blank in self.blanks:
            try:
                values[blank.name] = blank.read(texts[blank.name])
            except BadInput as error:
                problems += error.problems
        if problems:
            raise BadInput(*problems)
        try:
            return self.work(values)
        except BadInput as error:
            raise BadInput(*(self._beside_its_blank(problem) for problem in error.problems)) from None

    def _beside_its_blank(self, problem: Problem) -> Problem:
        name = next((blank.name for blank in self.blanks if problem.where in blank.refusals), "")
        return Problem(
            where=name,
            found=problem.found if name else f"{problem.where} {problem.found}",
            expected=problem.expected,
            cure=problem.cure,
        )


def plain(value: float, unit: str = "", factor: float = 1.0, digits: int = 4) -> str:
    """Write an SI value divided by the unit's factor with so many digits that count, and the unit."""
    shown = value / factor
    size = abs(shown)
    if size and not _LEAST_PRINTED <= size < _MOST_PRINTED:
        written = f"{shown:.3e}"
    else:
        decimals = max(0, digits - 1 - (math.floor(math.log10(size)) if size >= 1.0 else 0))
        written = number(shown, decimals)
        if decimals:
            written = written.rstrip("0").rstrip(".")
    return f"{written}{THIN}{unit}" if unit else written


def degrees(angle: float, decimals: int = 2) -> str:
    """Write an angle [rad] in degrees."""
    return f"{number(math.degrees(angle), decimals)}°"


def millimetres(length: float) -> str:
    """Write a length [m] in millimetres."""
    return plain(length, "mm", 1e-3)


def square_centimetres(area: float) -> str:
    """Write an area [m²] in square centimetres."""
    return plain(area, "cm²", 1e-4)


def newtons(force: float) -> str:
    """Write a force in newtons."""
    return plain(force, "N")


def kilonewtons(force: float) -> str:
    """Write a force [N] in kilonewtons."""
    return plain(force, "kN", 1e3, 3)
