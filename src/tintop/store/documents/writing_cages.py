"""Cage documents written for the owner: from the measures of a template, and with a load of his own."""

import re
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.items import InlineTable

from tintop.car.cage import Cage, CageLoad
from tintop.errors import BadInput, refuse
from tintop.store.documents.cage_document import WAYS, LoadTable, TemplateTable
from tintop.store.documents.cage_parts import Notes, own_load
from tintop.store.documents.fields import validated
from tintop.store.documents.text import Document, toml_tables

_WORDS = ("car_mass", "driver_side")
_NONE = ("none", "none stated", "-")
_LINE = (
    'four parts with semicolons between them: force and direction; nodes; permitted deflection, or "none"; '
    'source, such as "30 kN left; hoop shoulder right; 50 mm; yearbook 2026, 8.2"'
)
_FLAGS = ("windscreen_bar", "harness_bar", "bolted_door_bars")
_COUNTS = ("diagonals", "roof_diagonals")
_HEAD = """# A cage drawn from the measures of a cabin: a likely cage, not yours. Before you trust a
# figure, draw your own in place of [template]: every node by tape measure under [nodes], every tube
# under [[tubes]].
"""


def is_from_template(text: str, name: str) -> bool:
    """Whether a cage document is drawn from a template alone; BadInput if it is not TOML."""
    tables = toml_tables(text, name)
    return "template" in tables and not tables.get("nodes") and not tables.get("tubes")


def template_fields(text: str, name: str) -> dict[str, str]:
    """What stands in a template's document, by field, as it would be typed."""
    tables = toml_tables(text, name)
    found = {each: _plain(tables.get(each, "")) for each in ("name", *_WORDS)}
    found["yield_strength"] = _plain(tables.get("steel", {}).get("yield_strength", ""))
    return found | {each: _plain(value) for each, value in tables.get("template", {}).items()}


def with_template(text: str, typed: Mapping[str, str]) -> str:
    """Write typed measures into a document, or into a new one for an empty text; nothing else is touched.

    A field typed empty is taken out. What was said of a value beside it stays.
    """
    document = tomlkit.parse(text or _HEAD)
    for name in ("name", *_WORDS):
        _put(document, name, typed.get(name, ""))
    for table in ("steel", "template"):
        if table not in document:
            document.add(tomlkit.nl())
            document.add(table, tomlkit.table())
    _put(document["steel"], "yield_strength", typed.get("yield_strength", ""))
    for name in TemplateTable.model_fields:
        _put(document["template"], name, typed.get(name, ""))
    return tomlkit.dumps(document)


def with_load(text: str, typed: Mapping[str, Any]) -> str:
    """Write a load of the owner's own below all that stands in a document."""
    load = tomlkit.table()
    for name in LoadTable.model_fields:
        if typed.get(name):
            load.add(name, typed[name])
    loads = tomlkit.aot()
    loads.append(load)
    written = tomlkit.document()
    written.add("loads", loads)
    return f"{text.rstrip()}\n\n{tomlkit.dumps(written)}"


def load_from_line(line: str, cage: Cage, where: str = "--lateral") -> CageLoad:
    """Read a lateral load from one line: force and direction; nodes; permitted deflection; source.

    Raises BadInput naming `where`.
    """
    parts = [part.strip() for part in line.split(";")]
    force, _, way = parts[0].rpartition(" ")
    if len(parts) != 4 or not all(parts):
        raise refuse(where, repr(line[:120]), _LINE)
    if way not in WAYS:
        raise refuse(where, repr(parts[0]), "a force and one of " + ", ".join(WAYS), "Such as 30 kN left.")
    tables: dict[str, Any] = {
        "name": "lateral",
        "case": "lateral",
        "nodes": [node.strip() for node in parts[1].split(",") if node.strip()],
        "force": force,
        "direction": way,
        "source": parts[3],
    }
    if parts[2].casefold() not in _NONE:
        tables["permitted_deflection"] = parts[2]
    document = Document(name=where, tables=tables, lines={})
    notes = Notes(document)
    found = own_load(validated(LoadTable, document, {}), "load", cage, notes)
    notes.raise_any()
    if found is None:
        raise BadInput(document.problem("load", repr(line[:120]), _LINE))
    return found


def _plain(value: Any) -> str:
    found = value.get("value", "") if isinstance(value, dict) else value
    return ("yes" if found else "no") if isinstance(found, bool) else str(found)


def _put(table: Any, name: str, typed: str) -> None:
    """Write a field, "yes" and "no" as a flag, a count as a number; take it out for nothing."""
    value: Any = typed
    if name in _FLAGS:
        value = {"yes": True, "no": False}.get(typed, typed)
    elif name in _COUNTS and re.fullmatch(r"[0-9]{1,3}", typed):
        value = int(typed)
    if typed == "":
        if name in table:
            del table[name]
    elif isinstance(table.get(name), InlineTable):
        table[name]["value"] = value
    else:
        table[name] = value
