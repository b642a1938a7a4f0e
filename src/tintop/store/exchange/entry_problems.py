"""What is wrong with the table of an entry, in words: where, found, expected, the likely cure."""

import dataclasses
from collections.abc import Callable, Sequence
from datetime import date
from enum import Enum
from typing import Any, get_args, get_origin

from tintop.errors import Problem, did_you_mean
from tintop.store.documents.written import shown
from tintop.store.exchange.entry_fields import KINDS, FieldOf, fields_of

Where = Callable[[int, str], str]

_A_DAY = "a day such as 2026-05-17"
_EXPECTED = {
    "string_type": "text in quotes",
    "string_too_short": "text that is not empty",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "bool_type": "true or false",
    "date_type": _A_DAY,
    "date_parsing": _A_DAY,
    "date_from_datetime_parsing": _A_DAY,
    "tuple_type": "a list in square brackets",
    "dict_type": "a table",
    "dataclass_type": "a table",
    "model_type": "a table of fields",
    "too_long": "a list of {max_length}",
    "greater_than_equal": "{ge} or more",
}


def problem_of(header: type, table: Any, detail: Any, place: int, where: Where) -> Problem:
    """Put one refusal of pydantic into words; `header` is Entry or Draft, `place` counts tables from 0."""
    steps = list(detail["loc"])
    if steps[:1] == ["matter"]:
        steps = steps[2:]
    kind = detail["type"]
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        steps = ["kind"]
    path = ".".join(str(step + 1 if isinstance(step, int) else step) for step in steps)
    beside = _fields_beside(header, table, steps)
    names = [field.name for field in beside]
    hint = next((field.hint for field in beside if steps and field.name == str(steps[-1])), None)
    found, cure = shown(_as_written(table, steps)), ""
    if kind == "missing":
        found, expected = "nothing", _wanted(hint)
    elif kind in ("unexpected_keyword_argument", "extra_forbidden"):
        found, expected, cure = "a field of an unknown name", _one_of(names), did_you_mean(steps[-1], names)
    elif kind == "union_tag_not_found":
        found, expected = "nothing", _one_of(list(KINDS))
    elif kind == "union_tag_invalid":
        expected, cure = _one_of(list(KINDS)), did_you_mean(table["kind"], KINDS)
    elif kind in ("enum", "literal_error"):
        expected, cure = _one_of(_choices(hint)), did_you_mean(detail["input"], _choices(hint))
    else:
        expected = _EXPECTED.get(kind, str(detail["msg"])).format(**detail.get("ctx", {}))
    return Problem(where=where(place, path), found=found, expected=expected, cure=cure)


def _as_written(table: Any, steps: Sequence[str | int]) -> object:
    for step in steps:
        try:
            table = table[step]
        except (KeyError, IndexError, TypeError):
            break
    return table


def _fields_beside(header: type, table: Any, steps: Sequence[str | int]) -> list[FieldOf]:
    matter = KINDS.get(str(table.get("kind"))) if isinstance(table, dict) else None
    fields = [*(fields_of(matter) if matter else ()), *fields_of(header)]
    if len(steps) == 1:
        return fields
    hint: Any = None
    for step in steps[:-1]:
        if isinstance(step, int):
            hint = get_args(hint)[0]
        else:
            hint = next((field.hint for field in fields if field.name == step), None)
        fields = list(fields_of(hint)) if dataclasses.is_dataclass(hint) else []
    if not fields and steps and get_args(hint):
        inside = get_args(hint)[0]
        return [FieldOf(name=str(steps[-1]), hint=inside, default=None, plain=None)]
    return fields


def _one_of(names: list[str]) -> str:
    return "one of " + ", ".join(name or '""' for name in names)


def _choices(hint: Any) -> list[str]:
    if isinstance(hint, type) and issubclass(hint, Enum):
        return [str(one.value) for one in hint]
    return [str(one) for one in get_args(hint)]


def _wanted(hint: Any) -> str:
    if get_origin(hint) is dict:
        return "a table"
    if get_origin(hint) is tuple:
        return "a list in square brackets"
    plain = {float: "a number", int: "a whole number", str: "text in quotes", date: _A_DAY}
    return plain[hint] if hint in plain else _one_of(_choices(hint))
