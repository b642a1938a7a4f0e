"""The logbook as TOML text: one [[entry]] block each, in the order of writing."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import partial
from typing import Any

from tintop.errors import BadInput, Problem, refuse
from tintop.logbook.entries import Draft, Entry
from tintop.rules.facts import Fact
from tintop.store.documents.text import lines_of, toml_tables
from tintop.store.documents.written import shown
from tintop.store.exchange.entry_problems import Where
from tintop.store.exchange.entry_tables import drafts_from, entries_from, table_of
from tintop.store.exchange.short_proofs import is_blank, written_out
from tintop.store.exchange.toml_writing import toml_block

_EXAMPLE = 'kind = "remark"'
_ONCE = {"who": (str, "text in quotes"), "day": (date, "a day such as 2026-05-17")}
HEAD = """\
# The logbook: one block for each entry, in the order of writing.
# An entry is never edited; a later one corrects it by its number.
# Numbers are in SI: m, m³, kg, s, Pa, N·m, rad; temperatures in °C; money in whole hundredths (cents).
"""


def logbook_to_text(entries: Iterable[Entry]) -> str:
    """Write entries as text, by number; the same entries give the same bytes, and all reads back equal."""
    ordered = sorted(entries, key=lambda entry: entry.number)
    return "".join([HEAD, *(toml_block("entry", table_of(entry)) for entry in ordered)])


def logbook_from_text(text: str, name: str) -> tuple[Entry, ...]:
    """Read a logbook that `logbook_to_text` wrote; `name` is the file's.

    Raises BadInput: not TOML, a field that is unknown, missing or of the wrong type, a number or key that
    comes twice, a correction of what was not written before.
    """
    tables = _blocks(toml_tables(text, name), name, ())
    where = _places(text, name, tables)
    entries = entries_from(tables, where)
    refuse_disorder(entries, where)
    return entries


def drafts_from_text(text: str, name: str, facts: Mapping[str, Fact] | None = None) -> tuple[Draft, ...]:
    """Read entries written by hand: number, key and time of writing may be missing.

    A key is then made of the file's name and the place of the block; `who` and `day` may stand once at the
    top of the file. `corrects` counts blocks from 1, as the numbers will be in an empty garage. With `facts`,
    a proof may be written in words ("153 mm"), and one still blank is passed over. Raises BadInput.
    """
    content = toml_tables(text, name, _EXAMPLE)
    tables = _blocks(content, name, tuple(_ONCE))
    once = {one: content[one] for one in _ONCE if one in content}
    for one, value in once.items():
        if type(value) is not _ONCE[one][0]:
            raise refuse(f"{name}, {one}", shown(value), _ONCE[one][1])
    where = _places(text, name, tables)
    if facts is not None:
        kept = [place for place, table in enumerate(tables) if not is_blank(table)]
        tables, where = [tables[place] for place in kept], partial(_moved, where, kept)
        tables = written_out(tables, facts, where)
    problems = [
        Problem(
            where=where(place, "number"), found=shown(table["number"]), expected=f"{place + 1}, its place"
        )
        for place, table in enumerate(tables)
        if isinstance(table, dict) and table.get("number", place + 1) != place + 1
    ]
    if problems:
        raise BadInput(*problems)
    stem = re.sub(r"\.toml$", "", name)
    filled = []
    for place, table in enumerate(tables):
        if isinstance(table, dict):
            said = {one: value for one, value in table.items() if one not in ("number", "written_at")}
            table = {"key": f"{stem}-{place + 1}"} | once | said
        filled.append(table)
    drafts = drafts_from(filled, where)
    _refuse_twice([draft.key for draft in drafts], where)
    _refuse_later([(place + 1, draft.corrects) for place, draft in enumerate(drafts)], where)
    return drafts


def _moved(where: Where, places: Sequence[int], place: int, path: str) -> str:
    return where(places[place], path)


def refuse_disorder(entries: tuple[Entry, ...], where: Where) -> None:
    """Raise BadInput unless numbers rise, keys come once, and corrections name an entry written before."""
    highest = 0
    for place, entry in enumerate(entries):
        if entry.number <= highest:
            raise refuse(
                where(place, "number"), entry.number, f"more than {highest}, that of the entry before"
            )
        highest = entry.number
    _refuse_twice([entry.key for entry in entries], where)
    _refuse_later([(entry.number, entry.corrects) for entry in entries], where)


def _refuse_twice(keys: list[str], where: Where) -> None:
    seen: set[str] = set()
    for place, key in enumerate(keys):
        if key in seen:
            raise refuse(where(place, "key"), f"the key {shown(key)} a second time", "a key that comes once")
        seen.add(key)


def _refuse_later(numbers: list[tuple[int, int | None]], where: Where) -> None:
    written: set[int] = set()
    for place, (number, corrects) in enumerate(numbers):
        if corrects is not None and corrects not in written:
            raise refuse(where(place, "corrects"), corrects, "the number of an entry written before")
        written.add(number)


def _blocks(content: dict[str, Any], name: str, beside: tuple[str, ...]) -> list[Any]:
    for key in content:
        if key != "entry" and key not in beside:
            raise refuse(f"{name}, {key}", "a field outside any entry", "blocks that begin with [[entry]]")
    tables = content.get("entry", [])
    if not isinstance(tables, list):
        raise refuse(
            f"{name}, entry", "a single table", "blocks that begin with [[entry]], in double brackets"
        )
    return tables


def _places(text: str, name: str, tables: list[Any]) -> Where:
    lines: dict[str, int] = {}

    def where(place: int, path: str) -> str:
        if not lines:
            lines.update(lines_of(text))
        kind = tables[place].get("kind", "") if isinstance(tables[place], dict) else ""
        words = f"entry {place + 1}" + (f" ({kind})" if isinstance(kind, str) and kind else "")
        line = _line(lines, f"entry.{place + 1}", path)
        return f"{name} line {line}, {words}, {path}" if line else f"{name}, {words}, {path}"

    return where


def _line(lines: dict[str, int], block: str, path: str) -> int | None:
    while path:
        if f"{block}.{path}" in lines:
            return lines[f"{block}.{path}"]
        path = path.rpartition(".")[0]
    return lines.get(block)
