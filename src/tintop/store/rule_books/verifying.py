"""A figure from memory that somebody has now read in the regulation: written into the text of a rule book."""

import json
import re
from datetime import date

from tintop.errors import BadInput, did_you_mean, refuse
from tintop.rules.book import Read
from tintop.rules.placeholders import is_visible
from tintop.store.plain_text import check_line
from tintop.store.rule_books.document import RuleBookText, book_text

_LINE = r"^(\s*{name}\s*=\s*)(?:\"(?:[^\"\\]|\\.)*\"|'[^']*'|[\d-]+)(\s*(?:#.*)?)$"
_READ_IN = re.compile(r"(?:^|; )read and verified in ([^;]*)$")
_EARLIEST = date(1990, 1, 1)


def with_verified(text: str, clause: str, day: date, by: str, edition: str, name: str = "") -> str:
    """Give a rule book's text in which one clause says who read its figure, when, and in which edition.

    Day and name go into verified_on and verified_by, the edition to the end of the clause's source; nothing
    else changes, comments included. Raises BadInput for a clause there is not, one whose figure is not from
    memory, a day nobody can mean, words of more than one line, and a clause written in a way that cannot be
    added to (as one in-line table).
    """
    document = book_text(text, name or "rule book")
    place = _place(document, clause)
    path = f"clause.{place}"
    if day < _EARLIEST:
        raise refuse("day", day.isoformat(), "the day on which it was read")
    by, edition = check_line("by", by).strip(), check_line("edition", edition).strip()
    if not is_visible(by):
        raise refuse("by", repr(by), "a name with a letter or digit in it")
    if ";" in edition:
        raise refuse("edition", repr(edition), "an edition without ;")
    source = _READ_IN.sub("", str(_table(document, place).get("source", "")))
    said = f"read and verified in {edition}"
    fields = {
        "source": json.dumps(f"{source}; {said}" if source else said, ensure_ascii=False),
        "verified_on": day.isoformat(),
        "verified_by": json.dumps(by, ensure_ascii=False),
    }
    changed = _with_fields(document, path, fields)
    _refuse_anything_else(document, changed, place, fields)
    return changed


def edition_read(source: str) -> str:
    """Give the edition in which a clause's source says its figure was verified; "" if it says none."""
    found = _READ_IN.search(source)
    return found[1] if found else ""


def _place(document: RuleBookText, clause: str) -> int:
    clauses = document.tables.get("clause")
    ids = [each.get("id") for each in clauses if isinstance(each, dict)] if isinstance(clauses, list) else []
    if clause not in ids:
        expected = f"a clause of {document.name}"
        raise refuse("clause", repr(clause[:80]), expected, did_you_mean(clause, [str(id) for id in ids]))
    place = ids.index(clause) + 1
    known = _table(document, place).get("known")
    if known != Read.MEMORY:
        raise BadInput(
            document.problem(
                f"clause.{place}.known", repr(known), "a figure from memory: no other has to be verified"
            )
        )
    return place


def _table(document: RuleBookText, place: int) -> dict[str, object]:
    return dict(document.tables["clause"][place - 1])


def _with_fields(document: RuleBookText, path: str, fields: dict[str, str]) -> str:
    """Write the fields over their own lines, those not there yet below the line of `known`."""
    lines = document.text.split("\n")
    end = "\r" if lines[0].endswith("\r") else ""
    added = []
    for field, value in fields.items():
        number = document.lines.get(f"{path}.{field}")
        if number is None:
            added.append(f"{field} = {value}{end}")
            continue
        found = re.match(_LINE.format(name=field), lines[number - 1])
        if found:
            lines[number - 1] = f"{found[1]}{value}{found[2]}"
    known = document.lines.get(f"{path}.known", 0)
    lines[known:known] = added
    return "\n".join(lines)


def _refuse_anything_else(document: RuleBookText, changed: str, place: int, fields: dict[str, str]) -> None:
    """Refuse the change unless the clause has its three fields by it, and all else stands as it stood."""
    wanted = {**_table(document, place)}
    wanted |= {
        "source": json.loads(fields["source"]),
        "verified_on": date.fromisoformat(fields["verified_on"]),
        "verified_by": json.loads(fields["verified_by"]),
    }
    clauses = enumerate(document.tables["clause"], 1)
    all_else = [wanted if number == place else each for number, each in clauses]
    try:
        found = book_text(changed, document.name).tables
    except BadInput:
        found = {}
    if found != {**document.tables, "clause": all_else}:
        cure = "Write verified_on, verified_by and source into it by hand, each on a line of its own."
        raise BadInput(
            document.problem(f"clause.{place}", "a clause that cannot be added to", "plain lines", cure)
        )
