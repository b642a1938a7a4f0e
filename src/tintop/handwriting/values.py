"""One value of one field: the unit as written, guessed from the number, or asked about."""

from collections.abc import Iterable

from tintop.errors import BadInput, refuse
from tintop.handwriting.fields import Field, Reading, field_named, spelled
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import inch_fraction, number_text, shown, take_apart, tidy, without
from tintop.units import format_quantity, parse_quantity, unit_named, with_article

_BESIDE = {
    "pressure": ("bar", "psi"),
    "temperature": ("°C", "°F"),
    "spring rate": ("N/mm", "lb/in"),
    "torque": ("N·m", "lb-ft"),
    "mass": ("kg", "lb"),
    "volume": ("L",),
    "angle": ("deg",),
}
_HOT_OR_COLD = ("hot", "cold")


def understood(number: float, unit: str, field: Field, written: str, *, is_guessed: bool) -> Understood:
    """Give a number of a unit of the field as understood; raises BadInput when tintop knows no such unit."""
    value = parse_quantity(f"{number!r} {unit}", field.quantity, field.name)
    name = unit_named(unit, field.quantity).name
    state = next((f" {word}" for word in _HOT_OR_COLD if word in field.fillers), "")
    other = beside(value, name, field)
    return Understood(
        value=value,
        quantity=field.quantity,
        unit=name,
        written=written,
        is_guessed=is_guessed,
        says=f"{number_text(number)} {spelled(name)}{f' ({other})' if other else ''}{state}",
        in_full=f"{number_text(number)} {spelled(name)}",
    )


def beside(value: float, unit: str, field: Field) -> str:
    """Give an SI value in the unit of the other habit, or nothing."""
    units = _BESIDE.get(field.quantity, ())
    if field.name == "distance":
        units = ("km", "mi")
    other = next((name for name in units if name != unit), None)
    return format_quantity(value, other, 3, field.quantity) if other else ""


def read_field(text: str, field: Field, usual_unit: str | None = None) -> Understood | Ask[Understood]:
    """Read a tidy text as a value of the field.

    Raises BadInput when it can be nothing there.
    """
    for word in _HOT_OR_COLD:
        if field.quantity == "pressure" and word in text.casefold().split() and word not in field.fillers:
            cure = f"Write it into the field for {word}."
            raise refuse(field.name, shown(text), with_article(field.name), cure)
    fraction = inch_fraction(text) if field.name == "tread depth" else None
    if fraction is not None:
        inches, words = fraction
        is_named = words.casefold() in ("in", '"', "inch")
        if words and not is_named:
            raise refuse(field.name, shown(text), field.expected())
        return _believable([understood(inches, "in", field, text, is_guessed=not is_named)], field, text)
    note = take_apart(without(text, field.fillers), field.name, field.expected())
    if not note.words:
        return _bare(text, note.numbers, field, usual_unit)
    unit = _unit_known(note.words, field, text)
    is_guessed = len(note.numbers) > 1
    return _believable(
        [understood(number, unit, field, text, is_guessed=is_guessed) for number in note.numbers], field, text
    )


def _unit_known(words: str, field: Field, text: str) -> str:
    """Give the unit these words mean; raises BadInput, the text quoted as it was written, for none."""
    unit = unit_spoken(words, field)
    if words.startswith("+"):
        number = text[: len(text) - len(words)].strip()
        cure = f"Write {number} if that was read, and put the rest into words."
        raise refuse(field.name, shown(text), "one number: a + says no more than at least", cure)
    try:
        unit_named(unit, field.quantity)
    except BadInput:
        raise refuse(field.name, shown(text), field.expected()) from None
    return unit


def unit_spoken(words: str, field: Field) -> str:
    """Give the name of the unit that these words mean in this field."""
    return field.spoken.get(words.casefold().strip(" ."), words)


def _believable(meanings: Iterable[Understood], field: Field, text: str) -> Understood | Ask[Understood]:
    meanings = list(meanings)
    kept = [meaning for meaning in meanings if field.is_believable(meaning.value)]
    if kept:
        return settle(text, f"{shown(text)} reads two ways. Which is meant?", kept)
    number = float(meanings[-1].in_full.split()[0])
    low, high = (number_text(limit) for limit in field.limits)
    raise refuse(
        field.name,
        shown(text),
        f"{low} to {high} {field.limit_unit}",
        _cure([reading for reading in field.readings if reading.is_usual(number)], number),
    )


def _cure(readings: list[Reading], number: float) -> str:
    ways = [f'"{number_text(number)} {spelled(reading.unit)}"' for reading in readings]
    return f"Write {' or '.join(ways)} if that is meant." if ways else ""


def _bare(
    text: str, numbers: tuple[float, ...], field: Field, usual_unit: str | None
) -> Understood | Ask[Understood]:
    pairs = [pair for number in numbers for pair in _bare_readings(number, field, usual_unit)]
    meanings = [understood(number, reading.unit, field, text, is_guessed=True) for number, reading in pairs]
    if not meanings:
        nearby = [reading for reading in field.readings if reading.may_be(numbers[-1])]
        raise refuse(field.name, shown(text), field.expected(), _cure(nearby, numbers[-1]))
    units = list(dict.fromkeys(spelled(meaning.unit) for meaning in meanings))
    question = (
        f"In which unit is {shown(text)}: {' or '.join(units)}?"
        if len(numbers) == 1
        else f"{shown(text)} reads more than one way. Which is meant?"
    )
    return settle(text, question, meanings)


def _bare_readings(number: float, field: Field, usual_unit: str | None) -> list[tuple[float, Reading]]:
    usual = usual_reading(field, usual_unit)
    fits = [reading for reading in field.readings if reading.is_usual(number)]
    if usual is not None and usual.may_be(number) and not (field.asks_where_two_fit and len(fits) > 1):
        return [(number, usual)]
    if field.asks_outside and (usual is not None or not fits):
        fits = [reading for reading in field.readings if _is_believable(number, reading, field)]
    elif not fits:
        nearby = [reading for reading in field.readings if reading.may_be(number)]
        fits = nearby if len(nearby) > 1 else []
    return [(number, reading) for reading in fits]


def _is_believable(number: float, reading: Reading, field: Field) -> bool:
    unit = unit_named(reading.unit, field.quantity)
    return field.is_believable(number * unit.factor + unit.offset)


def usual_reading(field: Field, usual_unit: str | None) -> Reading | None:
    """Give the reading of the user's usual unit, or None when the field has none for it."""
    if usual_unit is None:
        return None
    try:
        name = unit_named(unit_spoken(usual_unit, field), field.quantity).name
    except BadInput:
        return None
    return next((reading for reading in field.readings if reading.unit == name), None)


def read_plain(text: object, field_name: str, usual_unit: str | None) -> Understood | Ask[Understood]:
    """Read a text in a field of the table.

    Raises BadInput for an unknown field or a text that can be nothing there.
    """
    field = field_named(field_name)
    return read_field(tidy(text, field.name, field.expected()), field, usual_unit)
