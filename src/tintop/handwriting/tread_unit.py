"""One unit for the twelve temperatures of a probe: nobody changes it between two wheels."""

import re
from collections.abc import Sequence

from tintop.errors import refuse

_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_NAMED = re.compile(r"(?<![a-z])(?:deg(?:rees)?\s*)?°?\s*([cf])(?:elsius|ahrenheit)?(?![a-z])")
_CURE = 'Are all twelve in °F or in °C? Write it behind one of them, such as "185 °F".'
_USUAL = {"°C": (5.0, 130.0), "°F": (60.0, 266.0)}  # of a tread; common practice, no source


def tread_unit(texts: Sequence[str], usual: str | None, where: str) -> str:
    """The unit in which all bare numbers of a reading are: the one written, else the owner's.

    BadInput, asked once for all, where two units are written beside bare numbers, or where a number can be no
    tread in the owner's unit.
    """
    named = {f"°{found.upper()}" for text in texts for found in _NAMED.findall(text.casefold())}
    bare = [text for text in texts if text.strip() and not _NAMED.search(text.casefold())]
    owner = usual if usual in _USUAL else "°C"
    if len(named) == 1:
        return named.pop()
    if named and bare:
        raise refuse(where, "both °C and °F, and numbers without", "one unit for all twelve", _CURE)
    low, high = _USUAL[owner]
    odd = [each for text in bare for each in _NUMBER.findall(text) if not low <= _value(each) <= high]
    if odd:
        raise refuse(
            where,
            f"{', '.join(odd[:3])} without a unit, in a garage that reads {owner}",
            f"a tread of {low:.0f} to {high:.0f} {owner}",
            _CURE,
        )
    return owner


def with_tread_unit(text: str, unit: str) -> str:
    """A text with the unit put to it where it names none."""
    return text if not text.strip() or _NAMED.search(text.casefold()) else f"{text.strip()} {unit}"


def _value(text: str) -> float:
    return float(text.replace(",", "."))
