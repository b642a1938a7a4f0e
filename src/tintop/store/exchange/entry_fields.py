"""The fields of the logbook's values, read from their declarations, and how each is made plain."""

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from tintop.logbook.entries import Draft, Entry, Matter


def _kind_of(matter: type) -> str:
    return str(next(field.default for field in dataclasses.fields(matter) if field.name == "kind"))


KINDS: Mapping[str, type] = {_kind_of(matter): matter for matter in get_args(Matter)}


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldOf:
    """One field: name, type without None, value when not said, how it is made plain (None = it is)."""

    name: str
    hint: Any
    default: object
    plain: Callable[[Any], Any] | None


def fields_of(kind: Any) -> tuple[FieldOf, ...]:
    """Give the fields of a dataclass of the logbook, but for a header's matter and a matter's kind."""
    return _fields_of(kind)


@cache
def _fields_of(kind: Any) -> tuple[FieldOf, ...]:
    beside = "matter" if kind in (Entry, Draft) else "kind" if kind in KINDS.values() else ""
    hints = get_type_hints(kind)
    found = []
    for field in dataclasses.fields(kind):
        if field.name != beside:
            default: object = field.default
            if field.default_factory is not dataclasses.MISSING:
                default = field.default_factory()
            hint = _without_none(hints[field.name])
            found.append(FieldOf(name=field.name, hint=hint, default=default, plain=_plainer(hint)))
    return tuple(found)


def said(holder: Any) -> dict[str, Any]:
    """Give the fields of a value as plain text, numbers, days, lists and tables, without those not said."""
    table = {}
    for field in fields_of(type(holder)):
        value = getattr(holder, field.name)
        if value is not None and value != field.default:
            table[field.name] = value if field.plain is None else field.plain(value)
    return table


def _without_none(hint: Any) -> Any:
    if get_origin(hint) in (Union, UnionType):
        return next(one for one in get_args(hint) if one is not type(None))
    return hint


def _plainer(hint: Any) -> Callable[[Any], Any] | None:
    if hint is float:
        return float
    if isinstance(hint, type) and issubclass(hint, Enum):
        return lambda value: value.value
    if dataclasses.is_dataclass(hint):
        return said
    inside = get_args(hint)
    if get_origin(hint) is tuple:
        one = _plainer(inside[0]) or _as_it_is
        return lambda values: [one(value) for value in values]
    if get_origin(hint) is dict:
        one = _plainer(inside[1]) or _as_it_is
        return lambda values: {key: one(value) for key, value in values.items()}
    return None


def _as_it_is(value: Any) -> Any:
    return value
