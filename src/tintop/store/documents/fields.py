"""The fields of the documents as a flat list, and a document's values by path."""

import types
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, TypeVar, get_args

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from tintop.errors import BadInput, Problem, did_you_mean
from tintop.store.documents.text import Document
from tintop.store.documents.written import Table, Written, shown

MOST_PROBLEMS = 50  # told at once

_Model = TypeVar("_Model", bound=Table)


@dataclass(frozen=True, slots=True, kw_only=True)
class Declared:
    """One field of a document: its path, kind of quantity or words allowed, and meaning."""

    path: str
    kind: str
    choices: tuple[str, ...]
    is_list: bool
    is_required: bool
    meaning: str


def declared(model: type[Table], prefix: str = "") -> Iterator[Declared]:
    """List every field of a document and its tables, in order; list tables carry "[]" in their path."""
    for name, field in model.model_fields.items():
        path = prefix + name
        inner, is_list = inner_table(field)
        if inner is not None:
            yield from declared(inner, f"{path}[]." if is_list else f"{path}.")
            continue
        extra: dict[str, Any] = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
        yield Declared(
            path=path,
            kind=str(
                extra.get("kind")
                or extra.get("kinds")
                or extra.get("form")
                or ("flag" if _is_flag(field) else "text")
            ),
            choices=tuple(extra.get("choices", ())),
            is_list="kinds" in extra,
            is_required=bool(extra.get("required", False)),
            meaning=field.description or "",
        )


def _is_flag(field: FieldInfo) -> bool:
    return bool in get_args(field.annotation)


def inner_table(field: FieldInfo) -> tuple[type[Table] | None, bool]:
    """Give the table a field holds, if it holds one, and whether it holds a list of them."""
    annotation = field.annotation
    is_list = getattr(annotation, "__origin__", None) in (list, tuple)
    candidates = [annotation, *get_args(annotation)]
    if isinstance(annotation, types.UnionType):
        candidates = list(get_args(annotation))
    for candidate in candidates:
        if isinstance(candidate, type) and issubclass(candidate, Table):
            return candidate, is_list
    return None, is_list


def values_of(table: Table, prefix: str = "") -> Iterator[tuple[str, Written]]:
    """List the single values written in a table and the tables within, by document path."""
    for name in type(table).model_fields:
        value = getattr(table, name)
        if isinstance(value, Written):
            yield prefix + name, value
        elif isinstance(value, Table):
            yield from values_of(value, f"{prefix}{name}.")


def missing(model: type[Table], document: Document) -> list[Problem]:
    """Give a problem for every required field that the document does not hold."""
    problems = []
    for field in declared(model):
        if field.is_required and "[]" not in field.path and not _is_written(document.tables, field.path):
            expected = "one of " + ", ".join(field.choices) if field.choices else field.meaning
            problems.append(document.problem(field.path, "nothing", expected))
    return problems


def _is_written(tables: Mapping[str, Any], path: str) -> bool:
    value: Any = tables
    for step in path.split("."):
        if not isinstance(value, Mapping) or step not in value:
            return False
        value = value[step]
    written = value.get("value", value) if isinstance(value, Mapping) else value
    return not (isinstance(written, str) and written.strip().casefold() == "unknown")


def validated(model: type[_Model], document: Document, is_enough: Mapping[str, tuple[str, ...]]) -> _Model:
    """Check a document against its model and give it.

    `is_enough` gives, by required path, the paths of which one will do in its place.
    Raises BadInput with every problem: unknown fields, unreadable values, required fields that are missing.
    """
    problems = [
        problem
        for problem in missing(model, document)
        for path in [problem.where.rpartition(", ")[2]]
        if not any(_is_written(document.tables, other) for other in is_enough.get(path, ()))
    ]
    try:
        checked = model.model_validate(document.tables)
    except ValidationError as error:
        raise BadInput(*_problems(model, document, error), *problems) from None
    except RecursionError:
        raise BadInput(document.problem("", "tables nested too deeply", "a few tables of fields")) from None
    if problems:
        raise BadInput(*problems)
    return checked


def salvaged(model: type[_Model], document: Document) -> tuple[_Model, tuple[Problem, ...], frozenset[str]]:
    """Give what reads of a document, the problems of the fields that do not, and the entries they stand in.

    The entries are paths such as "clause.3". Raises BadInput with the problems where nothing is left to read.
    """
    tables = document.tables
    problems: list[Problem] = []
    damaged: set[str] = set()
    while True:
        try:
            return model.model_validate(tables), tuple(problems), frozenset(damaged)
        except ValidationError as error:
            found = _problems(model, document, error)
            if len(problems) + len(found) > MOST_PROBLEMS:
                raise BadInput(*problems, *found) from None
            tables = tables if problems else deepcopy(tables)
            problems += found
            for detail in error.errors(include_url=False):
                damaged.add(".".join(str(s + 1 if isinstance(s, int) else s) for s in detail["loc"][:2]))
                if not _leave_out(tables, detail["loc"]):
                    raise BadInput(*problems) from None
        except RecursionError:
            raise BadInput(
                document.problem("", "tables nested too deeply", "a few tables of fields")
            ) from None


def _leave_out(tables: dict[str, Any], loc: tuple[str | int, ...]) -> bool:
    """Leave a field out, all of a list of which one place is wrong; an entry that is no table is emptied."""
    holder: Any = tables
    last: tuple[Any, str | int] | None = None
    for depth, step in enumerate(loc):
        is_entry = isinstance(holder, list) and isinstance(step, int) and depth == 1 and step < len(holder)
        if is_entry or (isinstance(holder, dict) and step in holder):
            last = (holder, step)
        elif not isinstance(holder, list):
            break
        holder = holder[step]
    match last:
        case (dict() as table, name):
            table.pop(name)
        case (list() as entries, int() as place):
            entries[place] = {}
        case _:
            return False
    return True


def _problems(model: type[Table], document: Document, error: ValidationError) -> list[Problem]:
    problems = []
    for detail in error.errors(include_url=False)[:MOST_PROBLEMS]:
        steps = [step + 1 if isinstance(step, int) else step for step in detail["loc"]]
        path = ".".join(str(step) for step in steps)
        context = detail.get("ctx", {})
        if detail["type"] == "refused":
            problems.append(document.problem(path, context["found"], context["expected"], context["cure"]))
        elif detail["type"] == "extra_forbidden":
            names = _names_beside(model, [step for step in detail["loc"][:-1] if isinstance(step, str)])
            cure = did_you_mean(detail["loc"][-1], names)
            listed = ", ".join(names[:12]) + (", ..." if len(names) > 12 else "")
            problems.append(document.problem(path, "a field of an unknown name", f"one of {listed}", cure))
        else:
            of_tables = _is_list_of_tables(model, steps)
            problems.append(_of_wrong_form(document, path, detail["type"], detail["input"], of_tables))
    return problems


def _is_list_of_tables(model: type[Table], steps: list[str | int]) -> bool:
    path = ".".join(step for step in steps if isinstance(step, str))
    return any(
        field.path.replace("[]", "", field.path.count("[]") - 1).startswith(f"{path}[].")
        for field in declared(model)
    )


def _of_wrong_form(document: Document, path: str, kind: str, raw: object, of_tables: bool) -> Problem:
    expected, cure = _EXPECTED.get(kind, "a value"), ""
    if kind == "list_type" and isinstance(raw, str) and not of_tables:
        expected = "a list in square brackets"
        cure = f'Write {path.rpartition(".")[2]} = ["{raw[:60]}"].'
    return document.problem(path, shown(raw), expected, cure)


_EXPECTED = {
    "model_type": "a table of fields",
    "model_attributes_type": "a table of fields",
    "string_type": "text in quotes",
    "bool_type": "true or false",
    "tuple_type": "a list in square brackets",
    "list_type": "a list of tables, each under [[...]]",
    "int_type": "a whole number",
    "date_type": "a day such as 2026-03-31, without quotes",
    "dict_type": "a table of fields",
}


def _names_beside(model: type[Table], steps: list[str]) -> list[str]:
    for step in steps:
        inner = inner_table(model.model_fields[step])[0] if step in model.model_fields else None
        if inner is None:
            break
        model = inner
    return list(model.model_fields)
