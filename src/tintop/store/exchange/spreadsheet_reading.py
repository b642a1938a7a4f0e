"""A spreadsheet that `logbook_to_spreadsheet` wrote, read back to entries."""

import re
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tintop.errors import BadInput, Problem, did_you_mean, refuse
from tintop.logbook.entries import Entry
from tintop.store.documents.written import shown
from tintop.store.exchange.cells import day_read, money_read, text_read, whole_read
from tintop.store.exchange.entry_tables import entries_from
from tintop.store.exchange.sheets import (
    NUMBER,
    PLACE,
    READ_ME,
    STATE,
    UNIT,
    Column,
    KindSheet,
    ListSheet,
    kind_sheets,
)
from tintop.store.exchange.text import refuse_disorder

LARGEST = 1_000_000_000  # bytes unpacked
_READ: dict[str, Callable[[Any], Any]] = {"text": text_read, "whole number": whole_read, "day": day_read}
_FURTHER = re.compile(r"(.*) \((\d+)\)")
_Table = dict[str, Any]
_BROKEN = (  # what the library raises for parts that are missing, cut short or nonsense
    zipfile.BadZipFile,
    zlib.error,
    LookupError,
    ArithmeticError,
    AttributeError,
    ValueError,
    TypeError,
    SyntaxError,
    EOFError,
    RuntimeError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    sheet: str
    number: int
    cells: dict[str, Any]  # by the head of the column

    @property
    def where(self) -> str:
        return f"sheet '{self.sheet}' row {self.number}"


def logbook_from_spreadsheet(path: Path) -> tuple[Entry, ...]:
    """Read the entries of a spreadsheet; sheets and columns must be those `logbook_to_spreadsheet` writes.

    What a person changed there is read; a sheet, column or value that does not fit is refused with its place.
    Raises BadInput.
    """
    pages = _pages(path)
    known = {
        title: sheet for sheet in kind_sheets() for title in (sheet.kind, *(one.title for one in sheet.lists))
    }
    for title in pages:
        if title != READ_ME and title not in known:
            expected = "the sheets of an exported logbook"
            raise refuse(
                f"{path.name}, sheet {title!r}",
                "a sheet of an unknown name",
                expected,
                did_you_mean(title, known),
            )
    tables: dict[int, _Table] = {}
    rows: dict[int, _Row] = {}
    for sheet in kind_sheets():
        for row in _rows(path.name, sheet.kind, pages.get(sheet.kind, []), sheet.columns):
            number = _entry_number(path.name, row)
            if number in rows:
                raise refuse(
                    f"{path.name}, {row.where}", f"entry {number} a second time", "a number that comes once"
                )
            rows[number], tables[number] = row, _table(path.name, sheet, row)
        for one in sheet.lists:
            listed = list(_rows(path.name, one.title, pages.get(one.title, []), one.columns))
            _take_list(path.name, one, listed, sheet, tables)
    numbers = sorted(tables)

    def where(place: int, field: str) -> str:
        return f"{path.name}, {rows[numbers[place]].where}, {field}"

    entries = entries_from([tables[number] for number in numbers], where)
    refuse_disorder(entries, where)
    _refuse_lost(path.name, pages, len(entries))
    return entries


def _refuse_lost(name: str, pages: dict[str, list[tuple[Any, ...]]], found: int) -> None:
    told = dict(row[:2] for row in pages.get(READ_ME, []) if len(row) >= 2).get("entries")
    if not isinstance(told, int):
        where, expected = f"{name}, sheet {READ_ME!r}", "the number the export wrote there"
        raise refuse(where, "no number of entries", expected)
    if found < told:
        raise refuse(
            f"{name}, sheet {READ_ME!r}",
            f"{told} entries told and {found} in the other sheets",
            "as many as are told",
            "Where rows were taken out on purpose, write the smaller number there.",
        )


def _pages(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    import openpyxl

    wrong = "a file that is no spreadsheet (XLSX)"
    expected = "a spreadsheet written by tintop export"
    if not path.is_file():
        raise refuse(str(path), "no such file", expected)
    try:
        with zipfile.ZipFile(path) as package:
            unpacked = sum(info.file_size for info in package.infolist())
        if unpacked > LARGEST:
            raise refuse(str(path), f"{unpacked / 1e6:,.0f} MB unpacked", f"at most {LARGEST / 1e6:,.0f} MB")
        with path.open("rb") as file:
            book = openpyxl.load_workbook(file, read_only=True, data_only=True)
            return {page.title: list(page.iter_rows(values_only=True)) for page in book.worksheets}
    except OSError as error:
        raise refuse(str(path), f"a file that cannot be read ({error.strerror})", expected) from None
    except BadInput:
        raise
    except _BROKEN:
        raise refuse(str(path), wrong, expected) from None


def _rows(
    file: str, title: str, page: Sequence[tuple[Any, ...]], columns: Sequence[Column]
) -> Iterator[_Row]:
    if not page:
        return
    heads = [_column(file, title, head, columns) for head in page[0]]
    missing = [column.head for column in columns if column.head not in heads]
    if missing:
        raise refuse(
            f"{file}, sheet '{title}' row 1", f"no column {missing[0]!r}", "every column of the export"
        )
    for number, values in enumerate(page[1:], 2):
        if all(value is None for value in values):
            continue
        cells: dict[str, Any] = {}
        for head, value in zip(heads, values, strict=False):
            if head is not None and value is not None:
                cells[head] = f"{cells[head]}{value}" if head in cells else value
        yield _Row(sheet=title, number=number, cells=cells)


def _column(file: str, title: str, head: object, columns: Sequence[Column]) -> str | None:
    if head is None or head in (STATE, UNIT):
        return None
    by_head = {column.head: column for column in columns}
    words = str(head)
    if further := _FURTHER.fullmatch(words):
        words = further[1] if further[1] in by_head else words
    column = by_head.get(words) or by_head.get(words.partition(" [")[0])
    if column is None or (words != column.head and column.sort != "money"):
        cure = did_you_mean(words, by_head)
        raise refuse(
            f"{file}, sheet '{title}' row 1", f"a column {words!r}", "the columns of the export", cure
        )
    return column.head


def _entry_number(file: str, row: _Row) -> int:
    number = whole_read(row.cells.get(NUMBER))
    if isinstance(number, bool) or not isinstance(number, int):
        raise refuse(f"{file}, {row.where}, {NUMBER}", shown(number), "the number of the entry")
    return number


def _table(file: str, sheet: KindSheet, row: _Row) -> _Table:
    table: _Table = {"kind": sheet.kind}
    for one in sheet.lists:
        table[one.field] = {} if one.is_by_name else []
    for column in sheet.columns:
        value = _read(file, column, row)
        if value is None:
            continue
        if len(column.path) == 1:
            table[str(column.path[0])] = value
            continue
        name, part = str(column.path[0]), column.path[1]
        if isinstance(part, int):
            table.setdefault(name, []).append(value)
        else:
            table.setdefault(name, {})[part] = value
    return table


def _take_list(
    file: str, sheet: ListSheet, rows: Sequence[_Row], of: KindSheet, tables: dict[int, _Table]
) -> None:
    items: dict[int, list[tuple[Any, Any, _Row]]] = {}
    names = [str(column.path[0]) for column in sheet.columns[2:]]
    for row in rows:
        number = _entry_number(file, row)
        if number not in tables or tables[number]["kind"] != of.kind:
            raise refuse(
                f"{file}, {row.where}, {NUMBER}", number, f"the number of an entry on the sheet {of.kind!r}"
            )
        place = _read(file, sheet.columns[1], row)
        read = {str(column.path[0]): _read(file, column, row) for column in sheet.columns[2:]}
        value = (
            read["value"]
            if names == ["value"]
            else {name: one for name, one in read.items() if one is not None}
        )
        items.setdefault(number, []).append((place, value, row))
    for number, found in items.items():
        places = [place for place, _, _ in found]
        if len(set(places)) < len(places) or not all(
            sheet.is_by_name or type(place) is int for place in places
        ):
            what = "name" if sheet.is_by_name else PLACE
            raise refuse(f"{file}, {found[0][2].where}, {what}", shown(places), f"a {what} that comes once")
        if sheet.is_by_name:
            tables[number][sheet.field] = {place: value for place, value, _ in found}
        else:
            tables[number][sheet.field] = [value for _, value, _ in sorted(found, key=lambda one: one[0])]


def _read(file: str, column: Column, row: _Row) -> Any:
    value = row.cells.get(column.head)
    if value is None:
        return "" if column.is_free else None
    if column.sort == "money":
        cents = money_read(value)
        if cents is None:
            where = f"{file}, {row.where}, {column.head}"
            raise BadInput(
                Problem(where=where, found=shown(value), expected="an amount with two decimals at most")
            )
        return cents
    return _READ[column.sort](value) if column.sort in _READ else value
