"""What may be written into the garage: text that can be read back, of bounded length, and finite numbers."""

import math
import re
from dataclasses import fields, is_dataclass
from datetime import date, datetime

from tintop.errors import refuse

LONGEST_FIELD = 20_000
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")
_INVISIBLE = re.compile(  # Unicode format characters, but for the two joiners that some scripts need
    "[\u00ad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff\ufff9-\ufffb\U000e0001\U000e0020-\U000e007f]"
)
_CURE = "Type it again instead of pasting it."
_CLOCK = re.compile(r"([01]\d|2[0-3]):[0-5]\d")


def check_text(where: str, text: object, *, longest: int = LONGEST_FIELD) -> str:
    """Give the text back; raise BadInput if it is too long or holds a control or invisible character.

    Newline, tab and the two joiners are not counted among them.
    """
    if not isinstance(text, str):
        raise refuse(where, repr(text), "text")
    if len(text) > longest:
        raise refuse(where, f"{len(text):,} characters", f"{longest:,} at most", "Shorten it.")
    found = _CONTROL.search(text)
    if found:
        raise refuse(
            where,
            f"the control character {ord(found[0]):#04x} at place {found.start() + 1}",
            "text with no control character but newline and tab",
            _CURE,
        )
    hidden = _INVISIBLE.search(text)
    if hidden:
        raise refuse(
            where,
            f"a character nobody can see ({ord(hidden[0]):#06x}) at place {hidden.start() + 1}",
            "text that shows all it holds",
            _CURE,
        )
    return text


def check_line(where: str, text: object, *, longest: int = 200) -> str:
    """Give the text back; raise BadInput if it is empty, long, or more than one line."""
    line = check_text(where, text, longest=longest)
    if not line.strip() or "\n" in line or "\t" in line:
        raise refuse(where, repr(line), "one line of text")
    return line


def check_day(where: str, day: object) -> date:
    """Give the day back; raise BadInput unless it is a date from 1900 to 2200."""
    if not isinstance(day, date) or isinstance(day, datetime) or not 1900 <= day.year <= 2200:
        raise refuse(where, str(day), "a date from 1900 to 2200")
    return day


def check_clock(where: str, clock: object) -> str:
    """Give the local time of day back; raise BadInput unless it is empty or such as 14:05."""
    if clock == "":
        return ""
    if not isinstance(clock, str) or not _CLOCK.fullmatch(clock):
        raise refuse(where, repr(clock), "a time of day such as 14:05, or nothing")
    return clock


def check_fields(where: str, value: object, *, longer: dict[str, int] | None = None) -> None:
    """Raise BadInput for any text, number or date inside a value that cannot be kept; `longer` by field."""
    if isinstance(value, str):
        check_text(where, value, longest=(longer or {}).get(where.rpartition(".")[2], LONGEST_FIELD))
    elif isinstance(value, float):
        if not math.isfinite(value):
            raise refuse(where, value, "a finite number")
    elif isinstance(value, date):
        check_day(where, value)
    elif isinstance(value, dict):
        for key, content in value.items():
            check_text(where, key)
            check_fields(where, content)
    elif isinstance(value, (tuple, list)):
        for content in value:
            check_fields(where, content)
    elif is_dataclass(value):
        for field in fields(value):
            check_fields(f"{where}.{field.name}", getattr(value, field.name), longer=longer)
