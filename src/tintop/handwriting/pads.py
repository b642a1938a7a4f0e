"""Pad thickness: friction material left, with the backing plate measured along or not."""

import re
from dataclasses import replace

from tintop.errors import BadInput, refuse
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import number_text, shown, take_apart, tidy
from tintop.units import format_quantity, parse_quantity

WITH_PLATE = "mm with plate"
WITHOUT_PLATE = "mm without plate"
USUAL_PLATE = 0.005  # common practice, no source
_LARGEST = 0.04
_PAD = 'a pad thickness such as "9 mm without plate"'
_WITH = re.compile(r"\(?(?:\+|with|incl?\.?|including|and)(?: the)?(?: backing)? ?plate\)?", re.IGNORECASE)
_WITHOUT = re.compile(
    r"\(?(?:(?:without|no|excl?\.?|excluding)(?: the)?(?: backing)? ?plate"
    r"|(?:of )?(?:friction|lining)(?: only| left)?)\)?",
    re.IGNORECASE,
)


def read_pad(
    text: object,
    usual_unit: str | None = None,
    new_thickness: float | None = None,
    plate: float | None = None,
) -> Understood | Ask[Understood]:
    """Read a pad thickness as metres of friction material.

    `new_thickness` of friction material and `plate` in m where known; a plate not known is taken as 5 mm, and
    said so. What may hide a plate is asked, unless `usual_unit` ("mm with plate", "mm without plate") tells.
    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "pad thickness", _PAD)
    has_plate = bool(_WITH.search(tidied))
    has_none = bool(_WITHOUT.search(tidied))
    note = take_apart(_WITH.sub("", _WITHOUT.sub("", tidied)).strip(), "pad thickness", _PAD)
    number = note.numbers[0]
    try:
        measured = parse_quantity(f"{number!r} {note.words or 'mm'}", "length", "pad thickness")
    except BadInput:
        raise refuse("pad thickness", shown(tidied), _PAD) from None
    if not 0.0 <= measured <= _LARGEST or (has_plate and has_none):
        raise refuse("pad thickness", shown(tidied), f"{_PAD}, 0 to 40 mm")
    is_said = bool(note.words)
    backing = USUAL_PLATE if plate is None else plate
    is_plate_known = is_said and has_plate and plate is not None
    bare = _friction(measured, tidied, is_guessed=not (is_said and has_none))
    if has_plate or (not has_none and usual_unit == WITH_PLATE):
        if measured < backing:
            raise refuse("pad thickness", shown(tidied), f"more than a plate of {1e3 * backing:.3g} mm")
        return _friction(measured, tidied, backing, is_guessed=not is_plate_known, is_assumed=plate is None)
    if has_none or usual_unit == WITHOUT_PLATE or measured < backing:
        return bare
    plated = _friction(measured, tidied, backing, is_guessed=True, is_assumed=plate is None)
    if new_thickness is not None and measured <= new_thickness:
        left = format_quantity(plated.value, "mm", 3, "length")
        return replace(bare, says=f"{bare.says}; {left} if the plate was measured too")
    return settle(tidied, f"Is the backing plate part of {shown(tidied)}?", [bare, plated])


def _friction(
    measured: float, written: str, backing: float = 0.0, *, is_guessed: bool, is_assumed: bool = False
) -> Understood:
    value = measured - backing
    left = format_quantity(value, "mm", 3, "length")
    assumed = " assumed" if is_assumed else ""
    plate = f"after {1e3 * backing:.3g} mm of plate{assumed}" if backing else "plate not counted"
    return Understood(
        value=value,
        quantity="length",
        unit=WITH_PLATE if backing else WITHOUT_PLATE,
        written=written,
        is_guessed=is_guessed,
        says=f"{left} of friction material, {plate}",
        in_full=f"{number_text(1e3 * value)} {WITHOUT_PLATE}",
    )
