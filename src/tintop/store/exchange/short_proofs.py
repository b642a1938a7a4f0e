"""Proofs as a person writes them: the fact, how it is proven, and the value in words with its unit."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from tintop.errors import BadInput, Problem, did_you_mean, refuse
from tintop.logbook.proof_values import proof_entry
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact
from tintop.rules.reading_facts import read_fact
from tintop.store.documents.written import shown
from tintop.store.exchange.entry_fields import said

_READ_HERE = ("kind", "fact", "each", "form", "written", "serial", "part", "papers")


def is_short(table: object) -> bool:
    """Whether a block is a proof written in words: without the kind of fact that the full form names."""
    return (
        isinstance(table, dict)
        and "fact" in table
        and "written" in table
        and "fact_kind" not in table
        and table.get("kind", "proof") == "proof"
    )


def is_blank(table: object) -> bool:
    """Whether such a proof has no value yet."""
    return is_short(table) and isinstance(table, dict) and table["written"] == ""


def written_out(
    tables: Sequence[Any], facts: Mapping[str, Fact], where: Callable[[int, str], str]
) -> list[Any]:
    """Give the blocks with each short proof in its full form; raises BadInput with every problem of them."""
    problems: list[Problem] = []
    full = []
    for place, table in enumerate(tables):
        try:
            full.append(_full(table, facts, place, where) if is_short(table) else table)
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(*problems)
    return full


def _full(
    table: dict[str, Any], facts: Mapping[str, Fact], place: int, where: Callable[[int, str], str]
) -> dict[str, Any]:
    for name in ("fact", "each", "form", "written", "serial", "part"):
        if not isinstance(table.get(name, ""), str):
            raise refuse(where(place, name), shown(table[name]), "text in quotes")
    fact = facts.get(table["fact"])
    if fact is None:
        cure = did_you_mean(table["fact"], facts)
        expected = "a fact these rule books or the shipped list declare"
        raise refuse(where(place, "fact"), shown(table["fact"]), expected, cure)
    if table.get("form") not in list(Form):
        found = shown(table["form"]) if "form" in table else "nothing"
        cure = did_you_mean(table.get("form", ""), Form)
        raise refuse(where(place, "form"), found, f"one of {', '.join(Form)}", cure)
    value, error = read_fact(fact, table["written"], where(place, "written"))
    try:
        proof = proof_entry(
            fact,
            table.get("each", ""),
            value,
            Form(table["form"]),
            written=table["written"],
            error=error,
            serial=table.get("serial", ""),
            part=table.get("part", ""),
        )
    except BadInput as refusal:
        field = "each" if table.get("each", "") or fact.each else "written"
        raise BadInput(*(replace(one, where=where(place, field)) for one in refusal.problems)) from None
    beside = {name: one for name, one in table.items() if name not in _READ_HERE or name == "papers"}
    return {"kind": proof.kind, **said(proof), **beside}
