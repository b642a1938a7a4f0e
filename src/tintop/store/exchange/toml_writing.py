"""TOML text from plain values: the same values give the same bytes, and every one reads back equal.

Written here so that an entry stays a block of lines: the library for it gives every list a line per item and
every table inside an entry a section of its own, and takes twice as long.
"""

import json
import re
from collections.abc import Mapping
from datetime import date
from typing import Any


def toml_block(name: str, table: Mapping[str, Any]) -> str:
    """Write one [[block]] of a list of tables, a line for each field."""
    fields = "\n".join(f"{field} = {toml_value(value)}" for field, value in table.items())
    return f"\n[[{name}]]\n{fields}\n"


def toml_lines(text: str) -> str:
    """Write text of many lines as it is read, between three quotes."""
    kept = "\n".join(_quoted(line)[1:-1].replace('\\"', '"') for line in text.split("\n"))
    kept = _CLOSING.sub('\\\\"', kept)
    return f'"""\n{kept}"""'


_CLOSING = re.compile(r'"(?=""|\Z)')
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_JSON = json.JSONEncoder(ensure_ascii=False)
_UNSEEN = re.compile("[\x7f-\x9f\u2028\u2029\ufeff]")


def toml_value(value: Any) -> str:
    """Write one value: text, a number, a day, a list or a table on one line."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return _quoted(value)
        case int() | float():
            return repr(value)
        case date():
            return value.isoformat()
        case list():
            return "[" + ", ".join(map(toml_value, value)) + "]"
        case dict():
            inside = ", ".join(f"{_name(key)} = {toml_value(one)}" for key, one in value.items())
            return "{ " + inside + " }" if inside else "{}"
    raise TypeError(f"no text for a {type(value).__name__}")


def _name(key: str) -> str:
    return key if _BARE.fullmatch(key) else _quoted(key)


def _quoted(text: str) -> str:
    return _UNSEEN.sub(lambda found: f"\\u{ord(found[0]):04x}", _JSON.encode(text))
