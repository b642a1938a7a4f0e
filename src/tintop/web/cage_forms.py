"""The forms of the cage's page: measures of a template, and a load of the owner's own."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from tintop.car.cage import Case, Fixing, Side
from tintop.car.cage_templates import DoorBars
from tintop.errors import BadInput, TintopError
from tintop.store.documents.cage_document import WAYS
from tintop.store.revisions import DocumentConflict

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One blank of a form: its label, unit, hint, and the words to choose from, if it is a choice."""

    name: str
    label: str
    unit: str = ""
    hint: str = ""
    usual: str = ""
    options: Options = ()


def _same(*words: str) -> Options:
    return tuple((word, word) for word in words)


_YES_NO: Options = (("yes", "yes"), ("no", "no"))
MEASURES = (
    Blank(name="name", label="What the cage is called", usual="Cage from a template"),
    Blank(name="car_mass", label="Car with the cage, unloaded", unit="kg", hint="on the scales, tank empty"),
    Blank(name="driver_side", label="Driver sits", options=_same(*Side), usual=Side.RIGHT.value),
    Blank(
        name="yield_strength",
        label="Yield strength of the tube",
        unit="N/mm2",
        hint="Re or Rp0.2 on the tube's certificate; say in the document where it stands",
    ),
    Blank(name="cabin_width", label="Main hoop, width at the floor", unit="mm"),
    Blank(name="cabin_height", label="Main hoop, height above its feet", unit="mm"),
    Blank(name="cabin_length", label="Main hoop forward to the front feet", unit="mm"),
    Blank(name="stay_length", label="Main hoop back to the stays' feet", unit="mm", hint="along the floor"),
    Blank(name="hoop_tube", label="Tube of hoop and front legs", hint="such as 45 x 2.5 mm"),
    Blank(name="other_tube", label="Tube of all others", hint="such as 38 x 2.5 mm"),
    Blank(name="diagonals", label="Diagonals of the main hoop", options=_same("0", "1", "2"), usual="2"),
    Blank(name="roof_diagonals", label="Diagonals of the roof", options=_same("0", "1", "2"), usual="1"),
    Blank(name="door_bars", label="Door bars, two a side", options=_same(*DoorBars), usual="cross"),
    Blank(name="windscreen_bar", label="Bar above the windscreen", options=_YES_NO, usual="yes"),
    Blank(name="harness_bar", label="Harness bar", options=_YES_NO, usual="yes"),
    Blank(name="bolted_door_bars", label="Door bars come out", options=_YES_NO, usual="no"),
    Blank(name="feet", label="Feet", options=_same(*Fixing), usual=Fixing.WELDED.value),
)
LOAD = (
    Blank(name="name", label="What the load is called", usual="lateral"),
    Blank(name="case", label="Which it is", options=_same(*Case), usual=Case.LATERAL.value),
    Blank(name="force", label="Whole force", unit="kN"),
    Blank(name="direction", label="Presses to the", options=_same(*WAYS), usual="left"),
    Blank(
        name="permitted_deflection", label="Permitted movement", unit="mm", hint="empty where none is stated"
    ),
    Blank(name="source", label="Book, article and edition it stands in"),
)
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_LONGEST = 200


def typed_blanks(blanks: tuple[Blank, ...], typed: Mapping[str, str]) -> dict[str, str]:
    """What was typed into each blank; a bare number is given the blank's unit."""
    found = {}
    for blank in blanks:
        text = typed.get(blank.name, "")[:_LONGEST].strip()
        found[blank.name] = f"{text} {blank.unit}" if blank.unit and _BARE.fullmatch(text) else text
    return found


def usual_blanks(blanks: tuple[Blank, ...]) -> dict[str, str]:
    """What stands in each blank before anything is typed."""
    return {blank.name: blank.usual for blank in blanks}


def beside_blanks(error: TintopError, blanks: tuple[Blank, ...]) -> dict[str, str]:
    """Sentences by blank, "" for what concerns none or more than one."""
    if isinstance(error, DocumentConflict):
        return {"": "The document was changed meanwhile. Nothing is saved; look at it, then do this again."}
    if not isinstance(error, BadInput):
        return {"": str(error)}
    names = {blank.name for blank in blanks} | {"document", "nodes"}
    found: dict[str, str] = {}
    for problem in error.problems:
        field = re.split(r"[., ]+", problem.where)[-1]
        name = field if field in names else ""
        words = f"Found {problem.found}; expected {problem.expected}. {problem.cure}".strip()
        words = words if name else f"{problem.where}: {words}"
        found[name] = f"{found[name]} {words}" if name in found else words
    return found
