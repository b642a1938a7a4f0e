"""A note taken apart: the numbers it may hold and the words beside them."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from tintop.errors import refuse

NUMBER = r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:e[+-]?[0-9]{1,3})?"
_LEADING = re.compile(rf"({NUMBER})(.*)", re.DOTALL | re.IGNORECASE)
_INCH_FRACTION = re.compile(r"([0-9]{1,3}) ?/ ?(8|16|32|64)(?:ths?|nds?)?(?![0-9])(.*)", re.DOTALL)
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")
_LONGEST = 120
_SAME = str.maketrans(dict.fromkeys("−–—", "-") | dict.fromkeys("’‘′´`", "'") | dict.fromkeys("”“″", '"'))
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """The numbers a note may mean (two for "1,234"), and the words after them."""

    written: str
    numbers: tuple[float, ...]
    words: str
    is_signed: bool


def tidy(text: object, where: str, expected: str) -> str:
    """Give the text with single spaces and plain signs; raises BadInput for nothing or too much."""
    if not isinstance(text, str):
        raise refuse(where, repr(text)[:60], expected)
    if not text.strip():
        raise refuse(where, "nothing", expected)
    if len(text) > _LONGEST:
        raise refuse(where, f"{len(text)} characters", expected)
    for sign, fraction in _FRACTIONS.items():
        text = text.replace(sign, fraction)
    return " ".join(text.translate(_SAME).replace("''", '"').split())


def without(words: str, fillers: Iterable[str]) -> str:
    """Give the words with the ones that add nothing left out."""
    for filler in fillers:
        start = r"(?<!\w)" if filler[0].isalnum() else ""
        words = re.sub(rf"{start}{re.escape(filler)}(?!\w)", " ", words, flags=re.IGNORECASE)
    return " ".join(words.split())


def take_apart(text: str, where: str, expected: str) -> Note:
    """Split a tidy text into its number and its words; raises BadInput when it starts with no number."""
    match = _LEADING.fullmatch(text)
    if match is None:
        raise refuse(where, shown(text), expected)
    digits = match[1]
    numbers = [float(digits.replace(",", "."))]
    if _THOUSANDS.fullmatch(digits):
        numbers.append(float(digits.replace(",", "")))
    if not all(math.isfinite(number) for number in numbers):
        raise refuse(where, shown(text), "a finite number")
    return Note(written=text, numbers=tuple(numbers), words=match[2].strip(), is_signed=digits[0] in "+-")


def inch_fraction(text: str) -> tuple[float, str] | None:
    """Give the inches of "3/32" or "1/16" and the words after them, or None."""
    match = _INCH_FRACTION.fullmatch(text)
    return (int(match[1]) / int(match[2]), match[3].strip()) if match else None


def shown(text: str) -> str:
    """Give the text for a sentence, cut to a readable length."""
    return repr(text[:60])


def number_text(number: float) -> str:
    """Give a number as a person would write it."""
    return f"{number:.10g}"
