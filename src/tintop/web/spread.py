"""Several values typed into one field: offered to the fields they belong to, written by one button."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tintop.errors import BadInput
from tintop.handwriting import Ask, Row, Understood, read_corners, read_temperatures_across

_PRESSURE = re.compile(r"(pressure_(?:cold|hot)_|value_at_)(FL|FR|RL|RR)")
_TREAD = re.compile(r"tread_(?:inner|middle|outer)_(FL|FR|RL|RR)")
_CORNERS = ("FL", "FR", "RL", "RR")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What one button writes: a text for each of several fields."""

    says: str
    fields: Mapping[str, str]

    @property
    def in_full(self) -> str:
        """The texts, one after the other, in the order of `names`."""
        return "|".join(self.fields.values())

    @property
    def names(self) -> str:
        """The names of the fields."""
        return " ".join(self.fields)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskWhere:
    """Several values in one field: nothing is taken until it is said where they belong."""

    written: str
    question: str
    choices: tuple[Spread, ...]


def several(kind: str, text: str, name: str, usual_unit: str | None) -> AskWhere | None:
    """Ask where the values typed into the field `name` belong; None when they are not several."""
    try:
        pressure, tread = _PRESSURE.fullmatch(name), _TREAD.fullmatch(name)
        if kind.startswith("tyre pressure") and pressure:
            found = read_corners(text, kind, usual_unit=usual_unit)
            choices = [one for row in _rows(found) for one in _pressures(row, pressure[1], pressure[2])]
        elif kind == "tyre temperature" and tread:
            across = read_temperatures_across(text, usual_unit=usual_unit)
            choices = [_across(row, tread[1]) for row in _rows(across)]
        else:
            return None
    except BadInput:
        return None
    written = " ".join(text.split())
    return AskWhere(written=text, question=f"Where does {written!r} belong?", choices=tuple(choices))


def _rows(found: Row | Ask[Row]) -> tuple[Row, ...]:
    return found.choices if isinstance(found, Ask) else (found,)


def _pressures(row: Row, stem: str, corner: str) -> Iterable[Spread]:
    values = row.values
    if values[0] != values[1] or values[2] != values[3]:
        yield _spread((f"{stem}{one}", value, one) for one, value in zip(_CORNERS, values, strict=True))
        return
    front, rear = values[0], values[2]
    yield Spread(
        says=f"front {front.in_full}, rear {rear.in_full}",
        fields={f"{stem}{one}": (front if one.startswith("F") else rear).in_full for one in _CORNERS},
    )
    if stem.startswith("pressure"):
        cold, hot = sorted((front, rear), key=lambda one: one.value)
        yield _spread(
            [(f"pressure_cold_{corner}", cold, f"{corner} cold"), (f"pressure_hot_{corner}", hot, "hot")]
        )


def _across(row: Row, corner: str) -> Spread:
    return _spread(
        (f"tread_{edge}_{corner}", value, edge) for edge, value in zip(row.places, row.values, strict=True)
    )


def _spread(parts: Iterable[tuple[str, Understood, str]]) -> Spread:
    found = tuple(parts)
    return Spread(
        says=", ".join(f"{place} {value.in_full}" for _name, value, place in found),
        fields={name: value.in_full for name, value, _place in found},
    )
