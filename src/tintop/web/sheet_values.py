"""A value typed back from a printed set-up sheet: bare ones as the sheet has them, odd ones asked."""

import math
import re
from dataclasses import replace

from tintop.errors import BadInput, refuse
from tintop.handwriting import Ask, Understood, read_value
from tintop.handwriting.alignment import read_camber, read_toe
from tintop.handwriting.counted import HARD, SOFT, read_clicks
from tintop.handwriting.notes import number_text
from tintop.units import unit_named

_KIND = re.compile(
    r"sheet (clicks|toe|camber|ride height|tyre pressure cold)(?: (-?[0-9]{1,7}(?:\.[0-9]{1,9})?))?"
)
_SURE = re.compile(r"\s+sure\s*$", re.IGNORECASE)
_AS_PRINTED = "mm per wheel"
_FAR = {"camber": math.radians(1.0), "ride height": 0.02, "tyre pressure cold": 0.4e5}
"""From what stands [rad, m, Pa], from which a typed value is asked; common practice, no source."""
_UNITS = {"camber": "deg", "ride height": "mm", "tyre pressure cold": "bar"}


def sheet_kind(item: str, stands: float | None = None) -> str:
    """The kind of a field of the sheet; `stands` is what it has now in SI, of clicks the most there are."""
    return f"sheet {item}" if stands is None else f"sheet {item} {stands:.9f}"


def is_sheet_kind(kind: str) -> bool:
    """Whether a kind is one of a field of the sheet."""
    return _KIND.fullmatch(kind) is not None


def read_on_sheet(kind: str, text: str, usual_unit: str | None = None) -> Understood | Ask[Understood]:
    """Read a value of the sheet; what is far from what stands is asked until it ends in "sure".

    Raises BadInput when it can be none, or is more clicks than the damper has.
    """
    match = _KIND.fullmatch(kind)
    if match is None:
        raise refuse("kind", repr(kind[:60]), "a field of the set-up sheet")
    item, stands = match[1], None if match[2] is None else float(match[2])
    plain = _SURE.sub("", text)
    if item == "clicks":
        return _clicks(plain, None if stands is None else round(stands))
    if item == "toe":
        return _as_printed(read_toe(plain, _AS_PRINTED))
    found = _camber(plain) if item == "camber" else read_value(plain, item, usual_unit=usual_unit)
    if isinstance(found, Ask) or stands is None or plain != text:
        return found
    is_turned = item == "camber" and stands < 0.0 < found.value
    if not is_turned and abs(found.value - stands) <= _FAR[item]:
        return found
    now = _standing(item, stands, usual_unit)
    other = read_camber(f"-{found.in_full.removeprefix('+')}") if is_turned else now
    meant = replace(found, is_guessed=False, in_full=f"{found.in_full} sure")
    return Ask(written=text, question=f"{found.says}? It stands at {now.in_full}.", choices=(other, meant))


def _clicks(text: str, most: int | None) -> Understood:
    found = read_clicks(text, SOFT)
    assert isinstance(found, Understood)
    if most is not None and found.value > most:
        raise refuse("damper clicks", found.says, f"0 to {most} clicks, as this damper has")
    if found.unit != HARD:
        return replace(found, is_guessed=False)
    if most is None:
        raise refuse("damper clicks", found.says, "clicks from full soft, while the damper is not known")
    turned = read_clicks(f"{most - round(found.value)} {SOFT}")
    assert isinstance(turned, Understood)
    return replace(turned, is_guessed=found.is_guessed, written=text, says=f"{turned.says} ({found.says})")


def _as_printed(found: Understood | Ask[Understood]) -> Understood | Ask[Understood]:
    """A toe whose unit and extent are the sheet's own is no guess."""
    if isinstance(found, Ask) or found.unit != _AS_PRINTED:
        return found
    return replace(found, is_guessed=False)


def _camber(text: str) -> Understood | Ask[Understood]:
    """A camber; which way the top leans is asked where no sign says it."""
    found = read_camber(text)
    if not found.value:
        return found
    try:
        ways = tuple(replace(read_camber(f"{sign}{text}"), is_guessed=False) for sign in "-+")
    except BadInput:
        return found
    return Ask(written=text, question=f"{text.strip()!r}: does the top lean in or out?", choices=ways)


def _standing(item: str, stands: float, usual_unit: str | None) -> Understood:
    unit = unit_named(
        usual_unit or _UNITS[item], {"camber": "angle", "ride height": "length"}.get(item, "pressure")
    )
    text = f"{number_text(round((stands - unit.offset) / unit.factor, 3))} {unit.name}"
    found = read_camber(text) if item == "camber" else read_value(text, item)
    assert isinstance(found, Understood)
    return found
