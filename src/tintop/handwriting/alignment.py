"""Toe and camber: the sign, the unit, and whether toe is of one wheel or of both.

Toe is kept per wheel, toe-in positive: a length at the rim in metres, or an angle in radians. Camber is in
radians, negative when the top leans in; on a race car it nearly always does (common practice, no source).
"""

import math
import re
from itertools import product

from tintop.errors import refuse
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import inch_fraction, number_text, shown, take_apart, tidy
from tintop.units import format_quantity, parse_quantity

_TOE = 'a toe such as "1 mm out per wheel" or "10 minutes out in total"'
_CAMBER = 'a camber such as "-2.5 deg"'
_LENGTH_LIMIT = 0.02
_TOE_LIMIT = math.radians(3.0)
_CAMBER_LIMIT = math.radians(8.0)
_LARGEST_BARE_DEGREES = 8.0
_SMALLEST_BARE_MINUTES = 30.0
_MOST_CHOICES = 6

_EXTENTS = {
    "per wheel": "per wheel", "each wheel": "per wheel", "a wheel": "per wheel", "each side": "per wheel",
    "per side": "per wheel", "a side": "per wheel", "each": "per wheel", "in total": "total",
    "total": "total", "overall": "total", "both": "total", "tot": "total",
}  # fmt: skip
_DIRECTIONS = {"toe out": -1, "toe in": 1, "toe-out": -1, "toe-in": 1, "out": -1, "in": 1}
_TOE_UNITS = {
    "mm": "mm", "millimetres": "mm", "'": "arcmin", "min": "arcmin", "mins": "arcmin", "minute": "arcmin",
    "minutes": "arcmin", "arcmin": "arcmin", "deg": "deg", "°": "deg", "degree": "deg", "degrees": "deg",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "16ths": "1/16 in", "16th": "1/16 in",
    "sixteenths": "1/16 in", "sixteenth": "1/16 in",
}  # fmt: skip
_BARE_TOE = {"mm": (0.0, 10.0), "arcmin": (1.0, 120.0), "deg": (0.02, 0.99), "1/16 in": (1.0, 8.0)}
_SIGNS = {
    "negative": -1, "neg": -1, "minus": -1, "positive": 1, "pos": 1, "plus": 1, "in at the top": -1,
}  # fmt: skip
_DEGREES_AND_MINUTES = re.compile(r"([+-]?)([0-9]{1,2}) ?(?:°|deg) ?([0-5]?[0-9]) ?(?:'|min)(.*)", re.DOTALL)


def _take(words: str, names: dict[str, str] | dict[str, int]) -> tuple[str, str | int | None]:
    for name, meaning in names.items():
        found = re.search(rf"(?<![\w/-]){re.escape(name)}(?!\w)", words, re.IGNORECASE)
        if found:
            return " ".join((words[: found.start()] + " " + words[found.end() :]).split()), meaning
    return words, None


def _decimal_degrees(text: str) -> str:
    match = _DEGREES_AND_MINUTES.fullmatch(text)
    if match is None:
        return text
    degrees = int(match[2]) + int(match[3]) / 60.0
    return f"{match[1]}{number_text(degrees)} deg{match[4]}"


def read_toe(text: object, usual_unit: str | None = None) -> Understood | Ask[Understood]:
    """Read a toe; `usual_unit` is such as "mm", "mm total" or "arcmin per wheel".

    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "toe", _TOE)
    rest, extent = _take(tidied, _EXTENTS)
    rest, direction = _take(rest, _DIRECTIONS)
    rest = _decimal_degrees(rest.strip())
    fraction = inch_fraction(rest)
    if fraction is not None:
        number, rest, is_signed, is_fraction = *fraction, False, True
        if not rest and direction == 1 and "toe" not in tidied.casefold():
            direction = None  # "1/16 in" says inches, and not which way
    else:
        note = take_apart(rest, "toe", _TOE)
        number, rest, is_signed, is_fraction = note.numbers[0], note.words, note.is_signed, False
    unit = _TOE_UNITS.get(rest.casefold().strip(" ."))
    if (rest and unit is None) or (is_signed and direction is not None and number < 0.0):
        raise refuse("toe", shown(tidied), _TOE)
    if number == 0.0:
        return _toe(0.0, unit or "mm", "per wheel", tidied, is_guessed=unit is None)
    usual = _usual_toe(usual_unit)
    units = [unit] if unit else ["in"] if is_fraction else _bare_toe_units(abs(number), usual[0])
    extents = [str(extent)] if extent else [usual[1]] if usual[1] else ["per wheel", "total"]
    signs = [int(direction)] if direction is not None else [1] if is_signed else [1, -1]
    is_guessed = unit is None or extent is None or direction is None
    meanings = [
        _toe(number * sign, one, how, tidied, is_guessed=is_guessed)
        for one, how, sign in product(units, extents, signs)
    ]
    meanings = [meaning for meaning in meanings if _is_believable_toe(meaning)]
    if not meanings or len(meanings) > _MOST_CHOICES:
        lacking = "Say at least the unit, and whether it is in or out." if meanings else ""
        raise refuse("toe", shown(tidied), _TOE, lacking)
    return settle(tidied, _toe_question(tidied, units, extents, signs), meanings)


def _usual_toe(usual_unit: str | None) -> tuple[str | None, str | None]:
    rest, extent = _take(usual_unit or "", _EXTENTS)
    return _TOE_UNITS.get(rest.strip(), rest if rest in _BARE_TOE else None), str(extent) if extent else None


def _bare_toe_units(number: float, usual: str | None) -> list[str]:
    fitting = [unit for unit, (low, high) in _BARE_TOE.items() if low <= number <= high]
    return [usual] if usual in fitting else fitting


def _toe_question(text: str, units: list[str], extents: list[str], signs: list[int]) -> str:
    open_points = [
        words
        for words, count in (("unit", units), ("per wheel or total", extents), ("in or out", signs))
        if len(count) > 1
    ]
    return f"{shown(text)} leaves open: {', '.join(open_points)}. Which is meant?"


def _toe(number: float, unit: str, extent: str, written: str, *, is_guessed: bool) -> Understood:
    count, base = (number / 16.0, "in") if unit == "1/16 in" else (number, unit)
    quantity = "length" if base in ("mm", "in") else "angle"
    whole = parse_quantity(f"{count!r} {base}", quantity, "toe")
    value = whole if extent == "per wheel" else 0.5 * whole
    way = "in" if value > 0.0 else "out"
    shown_unit = "mm" if quantity == "length" else "arcmin"
    each = format_quantity(abs(value), shown_unit, 3, quantity).replace("arcmin", "minutes")
    both = format_quantity(2.0 * abs(value), shown_unit, 3, quantity).replace("arcmin", "minutes")
    full_unit = {"in": "inch", "1/16 in": "16ths"}.get(unit, unit)
    says = f"{each} toe-{way} per wheel ({both} total)" if value else "no toe"
    if base == "in" and value:
        inches = f"{number_text(abs(number))} sixteenths" if unit == "1/16 in" else f"{abs(number):.4g} in"
        says = f"{says}, from {inches} {extent}"
    return Understood(
        value=value,
        quantity=quantity,
        unit=f"{unit} {extent}",
        written=written,
        is_guessed=is_guessed,
        says=says,
        in_full=f"{number_text(abs(number))} {full_unit} toe-{way} {extent}" if value else f"0 {full_unit}",
    )


def _is_believable_toe(meaning: Understood) -> bool:
    limit = _LENGTH_LIMIT if meaning.quantity == "length" else _TOE_LIMIT
    return abs(meaning.value) <= limit * (1.0 + 1e-9)


def read_camber(text: object) -> Understood:
    """Read a camber; without a sign it is taken as negative, and said to be guessed.

    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "camber", _CAMBER)
    rest, sign = _take(tidied, _SIGNS)
    note = take_apart(_decimal_degrees(rest), "camber", _CAMBER)
    number = note.numbers[0]
    if note.is_signed and sign is not None:
        raise refuse("camber", shown(tidied), _CAMBER)
    unit = _TOE_UNITS.get(note.words.casefold().strip(" ."), note.words)
    named = unit or (
        "deg"
        if abs(number) <= _LARGEST_BARE_DEGREES
        else "arcmin"
        if abs(number) >= _SMALLEST_BARE_MINUTES
        else ""
    )
    if not named:
        raise refuse("camber", shown(tidied), _CAMBER)
    has_sign = note.is_signed or sign is not None or number == 0.0
    number *= int(sign) if sign is not None else 1 if has_sign else -1
    value = parse_quantity(f"{number!r} {named}", "angle", "camber")
    if abs(value) > _CAMBER_LIMIT * (1.0 + 1e-9):
        raise refuse("camber", shown(tidied), "-8 to 8 deg")
    lean = "" if value == 0.0 else ", top leaning in" if value < 0.0 else ", top leaning out"
    taken = "" if has_sign else "; minus assumed"
    return Understood(
        value=value,
        quantity="angle",
        unit=named,
        written=tidied,
        is_guessed=not unit or not has_sign,
        says=f"{format_quantity(value, 'deg', 3, 'angle')}{lean}{taken}",
        in_full=f"{'+' if value > 0.0 else ''}{number_text(number)} {named}",
    )
