"""Threads and strength classes of bolts: sizes, stress areas, strengths, exact sections.

Sizes: ISO 262 and ISO 724; stress area and strengths: ISO 898-1.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from tintop.checks import above_nought, require
from tintop.errors import refuse

_MILLIMETRE = 1e-3
_MEGAPASCAL = 1e6
_PER_METRE = 10**7  # a tenth of a micrometre: 7/16 in is a whole number of them


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A thread: nominal diameter and pitch [m]; unified threads have another stress-area formula."""

    name: str
    diameter: float
    pitch: float
    is_unified: bool = False

    @property
    def nominal_area(self) -> float:
        """Section of the plain shank [m²]."""
        return math.pi / 4.0 * self.diameter**2

    @property
    def stress_area(self) -> float:
        """Section that carries tension in the thread [m²].

        Metric: pi/4 ((d2 + d3)/2)², d2 = d - 0.649519 P, d3 = d - 1.226869 P: ISO 898-1:2013 9.1.6.1 with
        ISO 724. Unified: pi/4 (d - 0.9743 P)²: ASME B1.1. Both from memory.
        """
        if self.is_unified:
            return math.pi / 4.0 * (self.diameter - 0.9743 * self.pitch) ** 2
        pitch_diameter = self.diameter - 0.75 * math.sqrt(3.0) / 2.0 * self.pitch
        root_diameter = self.diameter - 17.0 / 24.0 * math.sqrt(3.0) * self.pitch
        return math.pi / 4.0 * (0.5 * (pitch_diameter + root_diameter)) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """A strength class: nominal tensile strength, yield (or 0.2 % proof) strength, proof stress [Pa]."""

    name: str
    tensile: float
    yield_strength: float
    proof: float
    shear_share: float = 0.5  # of the tensile strength, with the thread in the shear plane

    def is_at_least(self, other: "Grade") -> bool:
        """Whether neither tensile nor yield strength falls short of the other's."""
        return self.tensile >= other.tensile and self.yield_strength >= other.yield_strength


def _metric(size: int, pitch: float) -> Thread:
    return Thread(name=f"M{size}", diameter=size * _MILLIMETRE, pitch=pitch * _MILLIMETRE)


# ISO 262, coarse pitches; 7/16-20 UNF: ASME B1.1 (the harness thread)
THREADS = {
    thread.name: thread
    for thread in (
        *(
            _metric(size, pitch)
            for size, pitch in ((5, 0.8), (6, 1.0), (8, 1.25), (10, 1.5), (12, 1.75), (14, 2.0), (16, 2.0))
        ),
        Thread(name="7/16-20 UNF", diameter=0.4375 * 0.0254, pitch=0.0254 / 20.0, is_unified=True),
    )
}


def _grade(name: str, tensile: float, yield_strength: float, proof: float, shear_share: float = 0.5) -> Grade:
    return Grade(
        name=name,
        tensile=tensile * _MEGAPASCAL,
        yield_strength=yield_strength * _MEGAPASCAL,
        proof=proof * _MEGAPASCAL,
        shear_share=shear_share,
    )


# Nominal values of ISO 898-1:2013, table 3 (8.8 up to M16 as quoted by others, the rest from memory).
# A2-70: ISO 3506-1, Grade 8: SAE J429 (both from memory); A2-70 has no proof stress, its yield stands there.
# Share in shear: EN 1993-1-8:2005, table 3.4 (from memory); for the last three the lower one, own choice.
GRADES = {
    grade.name: grade
    for grade in (
        _grade("4.6", 400.0, 240.0, 225.0, 0.6),
        _grade("5.6", 500.0, 300.0, 280.0, 0.6),
        _grade("5.8", 500.0, 400.0, 380.0),
        _grade("6.8", 600.0, 480.0, 440.0),
        _grade("8.8", 800.0, 640.0, 580.0, 0.6),
        _grade("10.9", 1000.0, 900.0, 830.0),
        _grade("12.9", 1200.0, 1080.0, 970.0),
        _grade("A2-70", 700.0, 450.0, 450.0),
        _grade("Grade 8", 1034.0, 896.0, 827.0),
    )
}


def thread_named(name: str) -> Thread:
    """Give the thread of a name such as "M8", "M10x1.25" or "7/16 UNF"; BadInput for any other."""
    plain = re.sub(r"[\s_]", "", name).upper().replace("×", "X").replace("*", "X")
    if plain in {"7/16", "7/16UNF", "7/16-20", "7/16-20UNF", '7/16"', '7/16"UNF', "7/16UNF20", "7/16X20UNF"}:
        return THREADS["7/16-20 UNF"]
    match = re.fullmatch(r"M(\d{1,2})(?:X(\d(?:[.,]\d{1,2})?))?", plain)
    coarse = THREADS.get(f"M{match[1]}") if match else None
    if match is None or coarse is None:
        raise refuse(
            "thread", repr(name[:30]), f"one of {', '.join(THREADS)}, or a fine one such as M10x1.25"
        )
    if match[2] is None:
        return coarse
    pitch = float(match[2].replace(",", ".")) * _MILLIMETRE
    require(
        0.5 * _MILLIMETRE <= pitch <= coarse.pitch,
        "thread",
        f"{name[:30]!r}",
        f"a pitch from 0.5 to {coarse.pitch / _MILLIMETRE:g} mm for {coarse.name}",
    )
    if pitch == coarse.pitch:
        return coarse
    return Thread(name=f"{coarse.name}x{pitch / _MILLIMETRE:g}", diameter=coarse.diameter, pitch=pitch)


def grade_named(name: str) -> Grade:
    """Give the strength class of a name such as "8.8" or "A2-70"; BadInput for one that is not known."""
    plain = re.sub(r"\s", "", name).replace(",", ".").upper()
    for grade in GRADES.values():
        if plain == re.sub(r"\s", "", grade.name).upper():
            return grade
    raise refuse(
        "strength class",
        repr(name[:30]),
        f"one of {', '.join(GRADES)}",
        "It is marked on the bolt's head; a bolt without a mark has no known strength.",
    )


def is_grade_at_least(grade: str, wanted: str) -> bool:
    """Whether a class falls short of another in neither tensile nor yield; BadInput for unknown ones."""
    return grade_named(grade).is_at_least(grade_named(wanted))


def nominal_section(count: int, diameter: float) -> int:
    """Give n·d² of so many bolts as a whole number, in squares of a tenth of a micrometre, exact.

    diameter [m], nominal. BadInput for fewer than one bolt or no diameter. Source: own, so that two M8
    against three M8 is two thirds and not nearly so.
    """
    require(count >= 1 and count == int(count), "number of bolts", f"{count:g}", "a whole number from 1")
    above_nought(diameter, "bolt diameter", "m")
    return int(count) * round(diameter * _PER_METRE) ** 2


def section_share(count: int, diameter: float, of_count: int, of_diameter: float) -> Fraction:
    """Give the nominal section of one set of bolts as an exact share of another's.

    Diameters [m]. Errors and source: nominal_section.
    """
    return Fraction(nominal_section(count, diameter), nominal_section(of_count, of_diameter))
