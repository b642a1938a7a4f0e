"""The sheets and columns of a logbook as a spreadsheet: a sheet per kind of entry, one more for each list.

Heads are words with their unit; a sheet of a list has a row per item, led by the number of its entry.
"""

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any, Literal, get_args, get_origin

from tintop.known import Known
from tintop.logbook.entries import Entry, Measure
from tintop.store.exchange.entry_fields import KINDS, FieldOf, fields_of

Sort = Literal["text", "number", "whole number", "money", "day", "flag"]

READ_ME = "read me"
NUMBER, PLACE = "entry", "place"
STATE, UNIT = "stands", "unit"  # told to the reader, not read back
UNIT_OF_MEASURE: Mapping[Measure, str] = {
    Measure.PRESSURE_COLD: "Pa",
    Measure.PRESSURE_HOT: "Pa",
    Measure.TREAD_TEMP_INNER: "°C",
    Measure.TREAD_TEMP_MIDDLE: "°C",
    Measure.TREAD_TEMP_OUTER: "°C",
    Measure.TREAD_DEPTH: "m",
    Measure.PAD_THICKNESS: "m",
    Measure.DISC_THICKNESS: "m",
    Measure.CORNER_LOAD: "kg",
    Measure.MASS: "kg",
    Measure.FUEL_ABOARD: "m³",
    Measure.COOLANT_TEMP: "°C",
    Measure.OIL_TEMP: "°C",
    Measure.OIL_PRESSURE: "Pa",
    Measure.FLUID_BOILING: "°C",
    Measure.TORQUE: "N·m",
}
_UNITS = {
    "duration": "s",
    "distance": "m",
    "road_distance": "m",
    "best_lap": "s",
    "lap_times": "s",
    "fuel_before": "m³",
    "fuel_added": "m³",
    "fuel_after": "m³",
    "air_temp": "°C",
    "road_temp": "°C",
    "coolant_peak": "°C",
    "oil_peak": "°C",
    "mass": "kg",
    "position": "m",
    "thickness_new": "m",
    "thickness_least": "m",
    "size": "bytes",
}
_WORDS = {"corrects": "corrects entry", "written_at": "written at (UTC)", "cents": "amount"}
_PLAIN: dict[Any, Sort] = {float: "number", int: "whole number", date: "day", bool: "flag"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its head, where its value sits in an entry's table, and what sort of value that is."""

    head: str
    path: tuple[str | int, ...]
    sort: Sort
    is_free: bool = False  # text that may be empty


@dataclass(frozen=True, slots=True, kw_only=True)
class ListSheet:
    """The sheet of a field that holds several values: entry, place or name there, a column per part."""

    title: str
    field: str
    is_by_name: bool
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KindSheet:
    """The sheet of a kind of entry, the columns in order, and the sheets of its lists."""

    kind: str
    matter: type
    columns: tuple[Column, ...]
    lists: tuple[ListSheet, ...]


@cache
def kind_sheets() -> tuple[KindSheet, ...]:
    """Give the sheet of every kind of entry."""
    return tuple(_kind_sheet(kind, matter) for kind, matter in KINDS.items())


def _kind_sheet(kind: str, matter: type) -> KindSheet:
    header = {field.name: field for field in fields_of(Entry)}
    before = [*_columns(header["number"]), *_columns(header["day"]), *_columns(header["clock"])]
    after = [
        column
        for name in ("who", "instrument", "note", "corrects", "key", "written_at")
        for column in _columns(header[name])
    ]
    middle = [column for field in fields_of(matter) for column in _columns(field)]
    lists = tuple(_list_sheet(kind, field) for field in fields_of(matter) if _is_list(field.hint))
    return KindSheet(kind=kind, matter=matter, columns=(*before, *middle, *after), lists=lists)


def _is_list(hint: Any) -> bool:
    return get_origin(hint) is dict or (get_origin(hint) is tuple and get_args(hint)[-1] is Ellipsis)


def _columns(field: FieldOf) -> Iterator[Column]:
    name, hint = field.name, field.hint
    if name == "number":
        yield Column(head=NUMBER, path=(name,), sort="whole number")
    elif hint is Known:
        unit = f" [{_UNITS[name]}]"
        yield Column(head=name + unit, path=(name, "value"), sort="number")
        yield Column(head=f"{name} ±{unit}", path=(name, "uncertainty"), sort="number")
        for part in ("origin", "note", "source"):
            yield Column(head=f"{name}, {part}", path=(name, part), sort="text")
    elif get_origin(hint) is tuple and not _is_list(hint):
        for place, axis in enumerate("xyz"):
            yield Column(head=f"{name} {axis} [{_UNITS[name]}]", path=(name, place), sort="number")
    elif not _is_list(hint):
        yield _column(field)


def _column(field: FieldOf) -> Column:
    name, hint = field.name, field.hint
    if hint is int and name.endswith("cents"):
        head = _WORDS.get(name, name.removesuffix("_cents").replace("_", " "))
        return Column(head=head, path=(name,), sort="money")
    head = _WORDS.get(name, name.removeprefix("is_").replace("_", " "))
    if name in _UNITS:
        head = f"{head} [{_UNITS[name]}]"
    elif name == "value":
        head = "value (SI)"
    sort = _PLAIN.get(hint, "text")
    return Column(head=head, path=(name,), sort=sort, is_free=hint is str)


def _list_sheet(kind: str, field: FieldOf) -> ListSheet:
    title = f"{kind}, {field.name.replace('_', ' ')}"
    inside = get_args(field.hint)
    is_by_name = get_origin(field.hint) is dict
    if dataclasses.is_dataclass(inside[0]):
        columns = [_column(one) for one in fields_of(inside[0])]
    else:
        value = inside[1] if is_by_name else inside[0]
        unit = f" [{_UNITS[field.name]}]" if field.name in _UNITS else ""
        sort = _PLAIN.get(value, "text")
        columns = [Column(head="value" + unit, path=("value",), sort=sort, is_free=value is str)]
    if is_by_name:
        columns = [Column(head="name", path=("name",), sort="text", is_free=True), *columns]
    else:
        columns = [Column(head=PLACE, path=(PLACE,), sort="whole number"), *columns]
    columns = [Column(head=NUMBER, path=(NUMBER,), sort="whole number"), *columns]
    return ListSheet(title=title, field=field.name, is_by_name=is_by_name, columns=tuple(columns))


def has_unit_column(sheet: KindSheet) -> bool:
    """Whether the unit of a row's value depends on what was measured."""
    return any(column.path == ("measure",) for column in sheet.columns)
