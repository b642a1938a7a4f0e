"""Small invented rule books and what is recorded of a car, as a person would write both."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from tintop.rules.evidence import Evidence, Form, Paper, Proven
from tintop.rules.facts import Fact, FactKey
from tintop.rules.findings import Finding, Inspection
from tintop.rules.inspect import inspect
from tintop.rules.stack import Stack
from tintop.rules.writing_facts import read_fact
from tintop.store.rule_books.load import load_stack

EVENT = date(2026, 6, 20)
PHOTOGRAPH = Paper(digest="0" * 64, name="plate.jpg", media_type="image/jpeg")
HEAD = """
[book]
id = "{id}"
title = "Book {id}"
edition = "2026"
jurisdiction = "invented"
valid_from = 2026-01-01
valid_to = 2026-12-31
builds_on = {builds_on}
cautions = ["A working aid, never the regulations."]
"""
CLAUSE = """
[[clause]]
id = "{id}"
group = "{group}"
title = "{title}"
requirement = "As it says."
reference = "art. 1"
severity = "{severity}"
known = "{known}"
{body}
"""
FACT = """
[[fact]]
name = "{name}"
ask = "{ask}"
kind = "{kind}"
station = "{station}"
{body}
"""


def fact_text(name: str, kind: str, body: str = "", station: str = "cabin", ask: str = "") -> str:
    """A fact as a book declares it."""
    return FACT.format(name=name, ask=ask or name.partition(".")[2], kind=kind, station=station, body=body)


def clause_text(
    id: str, body: str, severity: str = "stops you racing", known: str = "own", title: str = ""
) -> str:
    """A clause as a book has it."""
    return CLAUSE.format(id=id, group="cage", title=title or id, severity=severity, known=known, body=body)


def book_text(*parts: str, id: str = "club", builds_on: tuple[str, ...] = ()) -> str:
    """A book of facts and clauses."""
    return HEAD.format(id=id, builds_on=list(builds_on)) + "\n".join(parts)


def stack_of(*texts: str) -> tuple[Stack, dict[str, Fact]]:
    """The stack of the books of these texts, the last one on top."""
    own = {text.split('id = "')[1].split('"')[0]: text for text in texts}
    return load_stack(list(own), own)


def proven(
    facts: Mapping[str, Fact],
    written: Mapping[str, str],
    *,
    form: Form = Form.MEASUREMENT,
    day: date = date(2026, 5, 1),
    papers: tuple[Paper, ...] = (),
    accident: date | None = None,
) -> Evidence:
    """What a person has recorded: facts by "name" or "name[each]"."""
    found = {}
    for name, text in written.items():
        key = FactKey(name.partition("[")[0], name.partition("[")[2].rstrip("]"))
        value, error = read_fact(facts[key.fact], text)
        found[key] = Proven(
            key=key, value=value, form=form, day=day, written=text, papers=papers, entry=len(found) + 1,
            error=facts[key.fact].error if error is None else error,
        )  # fmt: skip
    return Evidence(proven=found, fallen={}, accident=accident)


def inspected(text: str, written: Mapping[str, str], **more: Any) -> Inspection:
    """A car inspected under one book on what is written of it."""
    stack, facts = stack_of(text)
    return inspect(stack, facts, proven(facts, written, **more), EVENT, EVENT)


def found(inspection: Inspection, clause: str) -> Finding:
    """The one finding on a clause."""
    (finding,) = [one for one in inspection.findings if one.id.partition(":")[2] == clause]
    return finding
