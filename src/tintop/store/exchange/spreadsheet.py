"""The logbook as a spreadsheet (XLSX) for those who live in one."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from enum import Enum
from pathlib import Path
from typing import Any

from tintop.errors import refuse
from tintop.logbook.book import corrections_in
from tintop.logbook.corrections import fallen_to
from tintop.logbook.entries import Entry, Reading, Withdrawn
from tintop.store.durable import disk_in_plain_words, put_in_place, sync_file, unfinished_beside
from tintop.store.exchange.entry_fields import fields_of
from tintop.store.exchange.sheets import (
    READ_ME,
    STATE,
    UNIT,
    UNIT_OF_MEASURE,
    Column,
    KindSheet,
    ListSheet,
    has_unit_column,
    kind_sheets,
)
from tintop.store.exchange.workbook import LONGEST_TEXT, MOST_ROWS, Cell, Sheet, write_workbook

LARGEST_MONEY = 10**13  # hundredths; below it a cell's number gives every one of them back
_HEADER = frozenset(field.name for field in fields_of(Entry))
_WIDE = ("what", "text", "content", "remarks", "note", "title", "name", "found", "reason", "key")


def logbook_to_spreadsheet(
    entries: Sequence[Entry], path: Path, *, title: str, currency: str, today: date
) -> None:
    """Write a spreadsheet: a sheet that explains, one per kind of entry, one for each list an entry can hold.

    Corrected entries are there too and marked. Raises BadInput if a sheet would be too long, or for the disk;
    then nothing is written.
    """
    ordered = sorted(entries, key=lambda entry: entry.number)
    sheets = list(_sheets(ordered, title, currency, today))
    beside = unfinished_beside(path)
    with disk_in_plain_words(path):
        try:
            write_workbook(beside, sheets)
            sync_file(beside)
            put_in_place(beside, path)
        finally:
            beside.unlink(missing_ok=True)


def _sheets(entries: Sequence[Entry], title: str, currency: str, today: date) -> Iterator[Sheet]:
    words = _read_me(len(entries), title, currency, today)
    yield Sheet(title=READ_ME, widths=(24.0, 100.0), height=len(words), rows=words)
    by_kind: dict[type, list[Entry]] = {}
    for entry in entries:
        by_kind.setdefault(type(entry.matter), []).append(entry)
    states = _states(entries)
    for sheet in kind_sheets():
        found = by_kind.get(sheet.matter, [])
        if found:
            yield _kind(sheet, found, states, currency)
        for one in sheet.lists:
            count = sum(len(getattr(entry.matter, one.field)) for entry in found)
            if count:
                yield _list(one, found, count, currency)


def _read_me(count: int, title: str, currency: str, today: date) -> list[list[Cell]]:
    units = "SI: m, m³, kg, s, Pa, N·m, rad; temperatures in °C; the head of a column says which"
    return [
        ["garage", title],
        ["written on", today],
        ["entries", count],
        ["units", units],
        ["money", f"in {currency}, with two decimals, exact to the last"],
        ["times", "of writing in UTC, of the day as written"],
        ["numbers", "with all the digits that give the very same number back"],
        ["stands", "yes, or which later entry corrected or withdrew this one"],
        ["lists", "such as lap times are in sheets of their own, by the number of the entry"],
        ["long text", f"goes on in further columns every {LONGEST_TEXT:,} characters"],
        ["�", "stands for a control character that a spreadsheet cannot hold"],
    ]


def _states(entries: Sequence[Entry]) -> dict[int, str]:
    withdrawals = {entry.number for entry in entries if isinstance(entry.matter, Withdrawn)}
    return {
        number: f"no, {'withdrawn' if by in withdrawals else 'corrected'} by entry {by}"
        for number, by in fallen_to(corrections_in(entries)).items()
    }


def _kind(sheet: KindSheet, entries: Sequence[Entry], states: Mapping[int, str], currency: str) -> Sheet:
    _refuse_too_long(sheet.kind, len(entries))
    pieces = [_pieces(column, entries) for column in sheet.columns]
    heads: list[Cell] = []
    for column, count in zip(sheet.columns, pieces, strict=True):
        heads += _heads(column, count, currency)
    with_unit = has_unit_column(sheet)
    heads += [UNIT, STATE] if with_unit else [STATE]

    def rows() -> Iterator[list[Cell]]:
        yield heads
        for entry in entries:
            row: list[Cell] = []
            for column, count in zip(sheet.columns, pieces, strict=True):
                value = _value(entry, column.path)
                if count == 1:
                    row.append(_cell(column, value))
                else:
                    row += _split(value, count)
            if with_unit:
                row.append(
                    UNIT_OF_MEASURE.get(entry.matter.measure) if isinstance(entry.matter, Reading) else None
                )
            row.append(states.get(entry.number, "yes"))
            yield row

    return Sheet(title=sheet.kind, widths=_widths(heads), height=len(entries) + 1, rows=rows())


def _list(sheet: ListSheet, entries: Sequence[Entry], count: int, currency: str) -> Sheet:
    _refuse_too_long(sheet.title, count)
    heads = [head for column in sheet.columns for head in _heads(column, 1, currency)]
    names = [str(column.path[0]) for column in sheet.columns[2:]]

    def rows() -> Iterator[list[Cell]]:
        yield heads
        for entry in entries:
            values = getattr(entry.matter, sheet.field)
            numbered = values.items() if sheet.is_by_name else enumerate(values, 1)
            for place, value in numbered:
                parts = [value] if names == ["value"] else [_plain(getattr(value, name)) for name in names]
                cells = (_cell(column, part) for column, part in zip(sheet.columns[2:], parts, strict=True))
                yield [entry.number, place, *cells]

    return Sheet(title=sheet.title, widths=_widths(heads), height=count + 1, rows=rows())


def _refuse_too_long(title: str, count: int) -> None:
    if count >= MOST_ROWS:
        raise refuse(
            f"the sheet {title!r}",
            f"{count:,} rows",
            f"at most {MOST_ROWS - 1:,}, all that a spreadsheet holds below its heads",
            "Nothing was written. Export the garage to a folder of text instead; it has no such end.",
        )


def _heads(column: Column, pieces: int, currency: str) -> list[Cell]:
    head = f"{column.head} [{currency}]" if column.sort == "money" else column.head
    return [head, *(f"{head} ({piece})" for piece in range(2, pieces + 1))]


def _widths(heads: Sequence[Cell]) -> list[float]:
    words = [str(head) for head in heads]
    return [
        32.0 if head.partition(" (")[0] in _WIDE else max(10.0, min(len(head) + 2.0, 22.0)) for head in words
    ]


def _pieces(column: Column, entries: Sequence[Entry]) -> int:
    if column.sort != "text":
        return 1
    longest = max(len(_value(entry, column.path) or "") for entry in entries)
    return max(1, -(-longest // LONGEST_TEXT))


def _split(text: str | None, count: int) -> list[Cell]:
    return [(text or "")[place * LONGEST_TEXT : (place + 1) * LONGEST_TEXT] for place in range(count)]


def _value(entry: Entry, path: tuple[str | int, ...]) -> Any:
    value: Any = entry if path[0] in _HEADER else entry.matter
    for step in path:
        if value is None:
            return None
        value = value[step] if isinstance(step, int) else getattr(value, step)
    return _plain(value)


def _plain(value: Any) -> Any:
    return value.value if isinstance(value, Enum) else value


def _cell(column: Column, value: Any) -> Cell:
    if value is None:
        return None
    if column.sort == "number":
        return float(value)
    if column.sort == "whole number":
        return int(value)
    if column.sort == "money":
        amount = Decimal(value).scaleb(-2)
        return amount if abs(value) <= LARGEST_MONEY else f"{amount:f}"
    return value  # type: ignore[no-any-return]
