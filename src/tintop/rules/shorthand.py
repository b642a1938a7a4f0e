"""What a shed writes in short, spelled out as the rest reads it: tubes without a cross, months by name."""

import re
from datetime import date

from tintop.handwriting.dates import full_year, month_named
from tintop.rules.facts import FactKind

_SIGNS = re.compile(r"[øØ⌀∅]|\b(?:dia|od)\b\.?", re.IGNORECASE)
_FRACTION = re.compile(
    r"(?:(?<![0-9.,/])([0-9]{1,2})[ -]+)?(?<![0-9.,/])([0-9]{1,2})/(2|4|8|16|32|64)(?![0-9.,/])"
)
_ONE = r"[0-9]+(?:[.,][0-9]+)?"
_TWO = re.compile(
    rf"({_ONE})\s*(mm|cm|in|inch|\"|)\s*(?:[x×*/]|\bby\b|\s)\s*({_ONE})\s*([^0-9.,/x×*]*)", re.IGNORECASE
)
_NAMED = re.compile(r"([12][0-9]{3})-([a-z]{3,9})\.?(?:-([0-9]{1,2}))?", re.IGNORECASE)


def spelled_out(kind: FactKind, text: str) -> str:
    """A text in full: "38/2.5 mm" as "38 x 2.5 mm", "2026-nov" as "2026-11"; anything else as it is."""
    if kind is FactKind.TUBE:
        return _tube(text)
    if kind is FactKind.MARKED:
        named = _NAMED.fullmatch(text.strip())
        month = named and month_number(named[2])
        if named and month:
            return "-".join(filter(None, (named[1], month, (named[3] or "").zfill(2) if named[3] else "")))
    return text


def month_number(text: str) -> str:
    """The number of a month by its name, such as "11" for "nov"; empty for anything else."""
    plain = text.strip().rstrip(".")
    number = month_named(plain) if len(plain) >= 3 else None
    return f"{number:02d}" if number else ""


def year_in_full(text: str, today: date) -> str:
    """A year in two digits in full, the nearest to today within fifty years; anything else as it is."""
    digits = text.strip().lstrip("'’")
    return str(full_year(digits, today)) if re.fullmatch(r"[0-9]{2}", digits) else text


def _tube(text: str) -> str:
    plain = _SIGNS.sub(" ", text).strip()
    plain = _FRACTION.sub(_decimal, plain)
    two = _TWO.fullmatch(plain)
    if two is None:
        return plain
    first = " ".join(filter(None, (two[1], two[2])))
    return f"{first} x {two[3]} {two[4]}".strip()


def _decimal(match: re.Match[str]) -> str:
    whole, part, of = int(match[1] or 0), int(match[2]), int(match[3])
    return f"{whole + part / of:g}" if part < of else match[0]
