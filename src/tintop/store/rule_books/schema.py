"""Every field of a rule book, as rows to read and as a JSON Schema for an editor to check against."""

from typing import Any

from tintop.store.documents.fields import declared
from tintop.store.documents.schema import Row
from tintop.store.rule_books.document import EXPRESSION, BookDocument

DOCUMENT = "rule_book.toml"
_OF_FORM: dict[str, dict[str, Any]] = {
    EXPRESSION: {"type": ["string", "number"]},
    "figure": {"type": ["string", "number"]},
    "list of texts, or a fact": {"type": ["string", "array"], "items": {"type": "string"}},
    "table of days": {"type": "object"},
}


def rule_book_rows() -> list[Row]:
    """Give a row for every field of a rule book."""
    return [
        Row(
            document=DOCUMENT,
            path=field.path,
            kind="one of " + ", ".join(field.choices) if field.choices else field.kind,
            units="",
            default="required" if field.is_required else "none",
            uncertainty="",
            source="",
            meaning=field.meaning,
            uncertainty_if_written="",
        )
        for field in declared(BookDocument)
    ]


def rule_book_json_schema() -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of a rule book: fields, required ones, and the words allowed."""
    found = BookDocument.model_json_schema()
    tables = {name: _table(table) for name, table in found["$defs"].items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A rule book of tintop",
        **_table(found),
        "required": ["book"],
        "$defs": tables,
    }


def _table(table: dict[str, Any]) -> dict[str, Any]:
    properties = table["properties"]
    required = [n for n, field in properties.items() if field.get("required") and not field.get("unless")]
    others = {field["unless"] for field in properties.values() if field.get("unless")}
    unless = [
        {
            "anyOf": [
                {"required": [other]},
                {"required": [name for name, field in properties.items() if field.get("unless") == other]},
            ]
        }
        for other in sorted(others)
    ]
    return {
        "type": "object",
        "description": table["description"],
        "properties": {name: _field(field) for name, field in properties.items()},
        "additionalProperties": False,
        **({"required": required} if required else {}),
        **({"allOf": unless} if unless else {}),
    }


def _field(field: dict[str, Any]) -> dict[str, Any]:
    kinds = [kind for kind in field.get("anyOf", [field]) if kind.get("type") != "null"]
    found = {key: kinds[0][key] for key in ("type", "format", "items", "$ref") if key in kinds[0]}
    found |= _OF_FORM.get(str(field.get("form")), {})
    if "choices" in field:
        found["enum"] = field["choices"]
    return {**found, **({"description": field["description"]} if "description" in field else {})}
