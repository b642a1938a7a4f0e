"""An entry or draft as one flat table of plain values, and back.

The header's fields and those of the matter stand side by side; what is not said (None, or the usual value) is
left out. Every number is in SI, money in cents.
"""

import dataclasses
import json
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from functools import cache
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from tintop.errors import BadInput, Problem
from tintop.logbook.entries import Draft, Entry, Matter
from tintop.store.exchange.entry_fields import said
from tintop.store.exchange.entry_problems import Where, problem_of

BEFORE = ("number", "day", "clock")
AFTER = ("who", "instrument", "note", "corrects", "key", "written_at")

MOST_PROBLEMS = 20

_Plain = dict[str, Any]


class _DraftTable(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False)

    key: str = Field(min_length=1)
    day: date
    who: str
    matter: Annotated[Matter, Field(discriminator="kind")]
    clock: str = ""
    instrument: str = ""
    note: str = ""
    corrects: int | None = Field(default=None, ge=1)


class _EntryTable(_DraftTable):
    number: int = Field(ge=1)
    written_at: str


_Table = TypeVar("_Table", bound=_DraftTable)


def table_of(entry: Entry | Draft) -> _Plain:
    """Give an entry or draft as a flat table of text, numbers, days, lists and tables."""
    header = said(entry)
    before = {name: header[name] for name in BEFORE if name in header}
    after = {name: header[name] for name in AFTER if name in header}
    return {**before, "kind": entry.matter.kind, **said(entry.matter), **after}


def entries_from(tables: Sequence[_Plain], where: Where) -> tuple[Entry, ...]:
    """Check tables and give their entries; `where` names the place of a table's field, counted from 0.

    Raises BadInput with the first problems found: unknown field, wrong type, missing field, unknown kind.
    """
    return tuple(Entry(**dict(table)) for table in _checked(_EntryTable, tables, where))


def drafts_from(tables: Sequence[_Plain], where: Where) -> tuple[Draft, ...]:
    """Check tables without number and time of writing and give their drafts; raises BadInput."""
    return tuple(Draft(**dict(table)) for table in _checked(_DraftTable, tables, where))


def _checked(model: type[_Table], tables: Sequence[_Plain], where: Where) -> list[_Table]:
    header = model.model_fields.keys() - {"matter"}
    content = [_nested(table, header) for table in tables]
    try:
        return _adapter(model).validate_json(json.dumps(content, default=_day, ensure_ascii=False))
    except (ValidationError, BadInput):
        raise BadInput(*_problems(model, tables, content, where)) from None


def _nested(table: object, header: Iterable[str]) -> object:
    if not isinstance(table, dict):
        return [table]
    inside = {name: value for name, value in table.items() if name not in header}
    return {**{name: table[name] for name in header if name in table}, "matter": inside}


@cache
def _adapter(model: type[_Table]) -> TypeAdapter[list[_Table]]:
    return TypeAdapter(list[model])  # type: ignore[valid-type]


def _day(value: object) -> object:
    if isinstance(value, date) and not isinstance(value, datetime):
        return value.isoformat()
    return [str(value)]


def _problems(
    model: type[_DraftTable], tables: Sequence[_Plain], content: Sequence[object], where: Where
) -> list[Problem]:
    header = Entry if model is _EntryTable else Draft
    found: list[Problem] = []
    for place, one in enumerate(content):
        try:
            model.model_validate_json(json.dumps(one, default=_day))
        except BadInput as error:
            found += (dataclasses.replace(each, where=where(place, each.where)) for each in error.problems)
        except ValidationError as error:
            details = error.errors(include_url=False)
            found += (problem_of(header, tables[place], each, place, where) for each in details)
        if len(found) >= MOST_PROBLEMS:
            break
    return found
