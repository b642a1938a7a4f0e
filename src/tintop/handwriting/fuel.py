"""Fuel: litres, gallons of two sizes, shares of a tank, cans; and consumption in its many ways."""

import re
from collections.abc import Callable

from tintop.errors import refuse
from tintop.handwriting.fields import FIELDS, GALLONS, Reading, spelled
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import number_text, shown, take_apart, tidy, without
from tintop.handwriting.values import read_field, understood
from tintop.units import format_quantity, unit_named

_SHARES = {
    "empty": 0.0, "quarter": 0.25, "a quarter": 0.25, "half": 0.5, "three quarters": 0.75,
    "three quarter": 0.75, "full": 1.0, "brim": 1.0, "brimmed": 1.0,
}  # fmt: skip
_SHARE_OF_TANK = re.compile(r"([1-7]) ?/ ?([248])")
_CANS = re.compile(r"([0-9]{1,2}|a|one|two|three|half(?: a)?) (?:jerry ?)?cans?", re.IGNORECASE)
_CAN_OF = re.compile(
    r"(?:([0-9]{1,2}|a|one|two|three)(?: ?x)? )?([0-9]{1,2}(?:[.,][0-9])?) ?(?:l|lts?|ltrs?|lit(?:re|er)s?)"
    r" (?:jerry ?)?cans?",
    re.IGNORECASE,
)
_CAN_COUNTS = {"a": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "half a": 0.5, "half": 0.5}
_CAN_LITRES = (5.0, 10.0, 20.0, 25.0)  # common practice, no source
_GALLON = re.compile(r"gal(?:lon)?s?\.?", re.IGNORECASE)
_SIZES = ("gal_uk", "gal_us")


def read_fuel(
    text: object, field_name: str = "fuel", usual_unit: str | None = None, tank: float | None = None
) -> Understood | Ask[Understood]:
    """Read an amount of fuel in m³; a share needs the volume of the `tank` in m³.

    Raises BadInput when it can be none, or a share of an unknown tank.
    """
    field = FIELDS[field_name]
    tidied = tidy(text, field.name, field.expected())
    share = _share(tidied)
    if share is not None and field.name == "fuel":
        return _of_tank(share, tank, tidied)
    cans = _CANS.fullmatch(tidied)
    if cans is not None and field.name == "fuel":
        count = _CAN_COUNTS.get(cans[1].casefold()) or float(cans[1])
        sizes = [understood(count * size, "L", field, tidied, is_guessed=True) for size in _CAN_LITRES]
        return settle(tidied, "How much does one can hold?", sizes)
    can_of = _CAN_OF.fullmatch(tidied)
    if can_of is not None and field.name == "fuel":
        count = _CAN_COUNTS.get((can_of[1] or "a").casefold()) or float(can_of[1])
        litres = count * float(can_of[2].replace(",", "."))
        if not field.is_believable(1e-3 * litres):
            raise refuse(field.name, shown(tidied), field.expected())
        return understood(litres, "L", field, tidied, is_guessed=True)
    words = without(tidied, field.fillers)
    note = take_apart(words, field.name, field.expected())
    if not _GALLON.fullmatch(note.words):
        return read_field(tidied, field, usual_unit)
    usual = GALLONS.get((usual_unit or "").casefold(), usual_unit)
    sizes = [
        understood(number, size, field, tidied, is_guessed=True)
        for number in note.numbers
        for size in ([usual] if usual in _SIZES else _SIZES)
        if field.is_believable(number * unit_named(size, "volume").factor)
    ]
    if not sizes:
        raise refuse(field.name, shown(tidied), field.expected())
    return settle(tidied, "Imperial gallons or US gallons?", sizes)


def _share(text: str) -> float | None:
    plain = without(text.casefold(), ("a tank", "of a tank", "tank", "of")).strip()
    match = _SHARE_OF_TANK.fullmatch(plain)
    if match is not None and int(match[1]) <= int(match[2]):
        return int(match[1]) / int(match[2])
    return _SHARES.get(plain)


def _of_tank(share: float, tank: float | None, written: str) -> Understood:
    if tank is None:
        raise refuse("fuel", shown(written), "litres, as the volume of the tank is not known")
    litres = format_quantity(share * tank, "L", 3, "volume")
    whole = format_quantity(tank, "L", 3, "volume")
    return Understood(
        value=share * tank,
        quantity="volume",
        unit="share of tank",
        written=written,
        is_guessed=True,
        says=f"{litres}: {100.0 * share:.3g} % of the {whole} tank",
        in_full=f"{number_text(share * tank * 1e3)} L",
    )


def _per_distance(distance: str, volume: str) -> Callable[[float], float]:
    factor = unit_named(volume, "volume").factor / unit_named(distance, "length").factor
    return lambda number: factor / number


_CONSUMPTIONS: dict[str, Callable[[float], float]] = {
    "L/100 km": lambda number: 1e-8 * number,
    "km/L": _per_distance("km", "L"),
    "mpg_uk": _per_distance("mi", "gal_uk"),
    "mpg_us": _per_distance("mi", "gal_us"),
}
_CONSUMPTION_READINGS = (
    Reading("L/100 km", (35.0, 100.0), (5.0, 100.0)),
    Reading("km/L", None, (1.0, 20.0)),
    Reading("mpg_uk", None, (3.0, 60.0)),
    Reading("mpg_us", None, (3.0, 50.0)),
)
_CONSUMPTION_LIMITS = (2e-8, 2e-6)
_CONSUMPTION_NAMES = {
    "l/100km": "L/100 km", "l/100": "L/100 km", "litres/100km": "L/100 km", "lper100km": "L/100 km",
    "litresper100km": "L/100 km", "km/l": "km/L", "kml": "km/L", "kpl": "km/L", "kmperlitre": "km/L",
    "kmperl": "km/L", "km/litre": "km/L", "mpgus": "mpg_us", "usmpg": "mpg_us", "mpguk": "mpg_uk",
    "ukmpg": "mpg_uk", "mpgimperial": "mpg_uk", "mpgimp": "mpg_uk", "imperialmpg": "mpg_uk",
}  # fmt: skip
_CONSUMPTION = 'a consumption such as "45 L/100 km", "2.2 km/L" or "6 mpg US"'


def read_consumption(text: object, usual_unit: str | None = None) -> Understood | Ask[Understood]:
    """Read a fuel consumption as m³ per m of distance.

    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "fuel consumption", _CONSUMPTION)
    note = take_apart(tidied, "fuel consumption", _CONSUMPTION)
    number = note.numbers[0]
    name = _consumption_name(note.words)
    if name == "mpg":
        usual = _consumption_name(usual_unit or "")
        units = [usual] if usual in ("mpg_uk", "mpg_us") else ["mpg_uk", "mpg_us"]
    elif name:
        units = [name]
    else:
        units = _bare_consumption(number, _consumption_name(usual_unit or ""))
    if number <= 0.0 or not all(unit in _CONSUMPTIONS for unit in units):
        raise refuse("fuel consumption", shown(tidied), _CONSUMPTION)
    is_said = bool(note.words) and name != "mpg"
    low, high = _CONSUMPTION_LIMITS
    meanings = [
        _consumption(number, unit, tidied, is_guessed=not is_said)
        for unit in units
        if low <= _CONSUMPTIONS[unit](number) <= high
    ]
    if not meanings:
        raise refuse("fuel consumption", shown(tidied), f"{_CONSUMPTION}, 2 to 200 L/100 km")
    return settle(tidied, f"In which unit is {shown(tidied)}?", meanings)


def _consumption_name(words: str) -> str:
    plain = re.sub(r"[\s.()]", "", words).casefold()
    return _CONSUMPTION_NAMES.get(plain, plain if plain in _CONSUMPTIONS else words.casefold())


def _bare_consumption(number: float, usual: str) -> list[str]:
    for reading in _CONSUMPTION_READINGS:
        if reading.unit == usual and reading.may_be(number):
            return [usual]
    fits = [reading.unit for reading in _CONSUMPTION_READINGS if reading.is_usual(number)]
    return fits or [reading.unit for reading in _CONSUMPTION_READINGS if reading.may_be(number)]


def _consumption(number: float, unit: str, written: str, *, is_guessed: bool) -> Understood:
    value = _CONSUMPTIONS[unit](number)
    litres = f" ({1e8 * value:.3g} L/100 km)" if unit != "L/100 km" else ""
    return Understood(
        value=value,
        quantity="fuel consumption",
        unit=unit,
        written=written,
        is_guessed=is_guessed,
        says=f"{number_text(number)} {spelled(unit)}{litres}",
        in_full=f"{number_text(number)} {spelled(unit)}",
    )
