"""The paddock's own handwriting: what a note means, or which of two or three things is asked.

Nothing is guessed silently: `is_guessed` and `says` tell what was assumed, and an `Ask` takes nothing until
one of its choices is picked. Each meaning carries `in_full`, a way of writing it that reads one way only.
"""

from tintop.errors import refuse
from tintop.handwriting import rows
from tintop.handwriting.alignment import read_camber, read_toe
from tintop.handwriting.counted import read_clicks, read_hole
from tintop.handwriting.dates import read_date
from tintop.handwriting.fields import FIELDS
from tintop.handwriting.fuel import read_consumption, read_fuel
from tintop.handwriting.lap_time import read_lap_time
from tintop.handwriting.meaning import Ask, Row, Understood, day_of, taken
from tintop.handwriting.pads import read_pad
from tintop.handwriting.values import read_plain

__all__ = [
    "FIELD_NAMES",
    "Ask",
    "Row",
    "Understood",
    "day_of",
    "read_corners",
    "read_date",
    "read_lap_time",
    "read_temperatures_across",
    "read_value",
    "taken",
]

_OWN_WAYS = ("toe", "camber", "damper clicks", "anti-roll bar hole", "pad thickness", "fuel consumption")
FIELD_NAMES = (*FIELDS, *_OWN_WAYS)


def read_value(
    text: object,
    field: str,
    *,
    usual_unit: str | None = None,
    tank: float | None = None,
    new_thickness: float | None = None,
    plate: float | None = None,
) -> Understood | Ask[Understood]:
    """Read one value of a field of `FIELD_NAMES`.

    `usual_unit` is how this user usually writes the field: a unit, or "from full soft", "mm with plate",
    "mm total"; `tank` in m³ for "half"; `new_thickness` of friction material and backing `plate` in m for
    pads.
    Raises BadInput for an unknown field or a text that can be nothing there.
    """
    match field:
        case "toe":
            return read_toe(text, usual_unit)
        case "camber":
            return read_camber(text)
        case "damper clicks":
            return read_clicks(text, usual_unit)
        case "anti-roll bar hole":
            return read_hole(text)
        case "pad thickness":
            return read_pad(text, usual_unit, new_thickness, plate)
        case "fuel consumption":
            return read_consumption(text, usual_unit)
        case "fuel" | "fuel per lap":
            return read_fuel(text, field, usual_unit, tank)
        case _:
            return read_plain(text, field, usual_unit)


def read_corners(
    text: object,
    field: str,
    *,
    usual_unit: str | None = None,
    new_thickness: float | None = None,
    plate: float | None = None,
) -> Row | Ask[Row]:
    """Read a field at the four corners: one value for all, front and rear, or FL FR RL RR, named or not.

    Raises BadInput when the text can be no such row.
    """
    if field not in FIELD_NAMES:
        raise refuse("field", repr(field[:60]), "one of " + ", ".join(FIELD_NAMES))

    def read(part: str, unit: str | None) -> Understood | Ask[Understood]:
        return read_value(part, field, usual_unit=unit, new_thickness=new_thickness, plate=plate)

    return rows.read_corners(text, field, read, usual_unit)


def read_temperatures_across(
    text: object, *, usual_unit: str | None = None, usual_order: str | None = None
) -> Row | Ask[Row]:
    """Read three tread temperatures, given inner middle outer.

    `usual_order` is "inner first" or "outer first". Asks which edge came first unless it is written or told.
    Raises BadInput when the text can be no such row.
    """

    def read(part: str, unit: str | None) -> Understood | Ask[Understood]:
        return read_value(part, "tyre temperature", usual_unit=unit)

    return rows.read_temperatures_across(text, read, usual_unit, usual_order)
