"""Every figure of every book shipped: a value just inside passes, one just outside does not.

The values stand in `figures/<book>.toml`, by clause, written by hand from the regulations.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from shipped_rules import books, computes
from tintop.rules.book import Clause, Expiry, ExpiryKind, Read, RuleBook
from tintop.rules.evidence import Evidence, Form, Paper, Proven
from tintop.rules.facts import Fact, FactKey
from tintop.rules.findings import Finding, Ruling
from tintop.rules.inspect import inspect
from tintop.rules.stack import stacked
from tintop.rules.writing_facts import read_fact

FIGURES = Path(__file__).parent / "figures"
RULINGS = {"pass": Ruling.PASS, "fail": Ruling.FAIL, "expires": Ruling.EXPIRES, "advised": Ruling.ADVISED,
           "not proven": Ruling.NOT_PROVEN, "not applicable": Ruling.NOT_APPLICABLE}  # fmt: skip
MISSED = ("fail", "expires", "advised")
NEVER_RUNS_OUT = (ExpiryKind.NO_LIFE, ExpiryKind.HOMOLOGATION_END)
USUAL_DAY = date(2026, 6, 1)
DRIVERS = "Robin"
PICTURE = Paper(digest="0" * 64, name="picture.jpg", media_type="image/jpeg")


@dataclass(frozen=True)
class Line:
    """One line of values of one clause."""

    wanted: str
    written: Mapping[str, str]
    on: date

    def __str__(self) -> str:
        return f"{self.wanted} on {self.on}: {dict(self.written)}"


def every_clause() -> Iterator[tuple[RuleBook, Clause]]:
    for book in books()[0].values():
        for clause in book.clauses:
            yield book, clause


@cache
def figures(book: str) -> Mapping[str, dict[str, Any]]:
    file = FIGURES / f"{book}.toml"
    return tomllib.loads(file.read_text("utf-8")) if file.exists() else {}


def lines(book: str, clause: str) -> Iterator[Line]:
    table = figures(book).get(clause, {})
    assert set(table) <= {"always", *RULINGS}, f"{book}:{clause} has {set(table)}"
    for wanted in RULINGS:
        for values in table.get(wanted, []):
            written = {**table.get("always", {}), **values}
            on = written.pop("on", USUAL_DAY)
            yield Line(wanted, written, on if isinstance(on, date) else date.fromisoformat(on))


def evidence_of(line: Line, clause: Clause, facts: Mapping[str, Fact]) -> Evidence:
    """Each value at every place its fact is recorded at, in the form asked for, with a photograph."""
    drivers = line.written.get("drivers", DRIVERS)
    written: dict[FactKey, str] = {FactKey("drivers"): drivers}
    for name, text in sorted(line.written.items(), key=lambda item: "[" in item[0]):
        fact, _, each = name.removesuffix("]").partition("[")
        of_all = facts[fact].each
        if isinstance(of_all, str):
            of_all = tuple(driver.strip() for driver in drivers.split(","))
        for one in (each,) if each else of_all or ("",):
            written[FactKey(fact, one)] = text
    form = clause.proof[0] if clause.proof else Form.MEASUREMENT
    proven = {}
    for key, text in written.items():
        value, error = read_fact(facts[key.fact], text)
        proven[key] = Proven(
            key=key, value=value, error=error or 0.0, form=form, day=line.on, written=text, papers=(PICTURE,)
        )
    return Evidence(proven=proven, fallen={})


def found(book: RuleBook, clause: Clause, line: Line, without: FactKey | None = None) -> Finding:
    """What the clause by itself says of a line of values, one of them left out if wanted."""
    facts = books()[1]
    alone = replace(book, clauses=(replace(clause, act="adds", on=""),), builds_on=())
    all_of_it = evidence_of(line, clause, facts).proven
    evidence = Evidence(proven={key: all_of_it[key] for key in all_of_it if key != without}, fallen={})
    inspection = inspect(stacked([alone]), facts, evidence, line.on, line.on)
    return next(finding for finding in inspection.findings if finding.id == f"{book.id}:{clause.id}")


WITH_FIGURES = [
    pytest.param(book, clause, id=f"{book.id}:{clause.id}")
    for book, clause in every_clause()
    if clause.id in figures(book.id)
]
COMPUTING = [(book, clause) for book, clause in every_clause() if computes(clause)]


@pytest.mark.parametrize(("book", "clause"), WITH_FIGURES)
def test_a_value_just_inside_passes_and_one_just_outside_does_not(book: RuleBook, clause: Clause):
    looked_up = replace(clause, verified_on=USUAL_DAY, verified_by="the owner")
    wrong = [
        f"{line}: {finding.ruling}, {finding.reason}"
        for line in lines(book.id, clause.id)
        if (finding := found(book, looked_up, line)).ruling is not RULINGS[line.wanted]
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(
    ("book", "clause"), [one for one in WITH_FIGURES if one.values[1].read is Read.MEMORY]
)
def test_a_figure_from_memory_never_passes_until_it_is_looked_up(book: RuleBook, clause: Clause):
    assert not clause.is_verified, "a shipped figure from memory has been looked up by nobody"
    met = [line for line in lines(book.id, clause.id) if line.wanted == "pass"]
    assert met
    for line in met:
        finding = found(book, clause, line)
        assert (finding.ruling, finding.is_unverified) == (Ruling.NOT_PROVEN, True), str(line)
    for line in lines(book.id, clause.id):
        if line.wanted in MISSED[:2] and clause.severity != "advice":
            assert found(book, clause, line).ruling is RULINGS[line.wanted], str(line)


@pytest.mark.parametrize(("book", "clause"), [pytest.param(b, c, id=f"{b.id}:{c.id}") for b, c in COMPUTING])
def test_every_clause_that_computes_has_values_on_both_sides(book: RuleBook, clause: Clause):
    given = {line.wanted for line in lines(book.id, clause.id)}
    assert "pass" in given
    never_missed = isinstance(clause.check, Expiry) and clause.check.kind in NEVER_RUNS_OUT
    assert never_missed or given & set(MISSED)


def test_every_table_of_values_is_of_a_clause():
    for file in FIGURES.glob("*.toml"):
        known = {clause.id for clause in books()[0][file.stem].clauses}
        assert set(figures(file.stem)) <= known, file.name


def test_every_clause_says_where_it_is_from():
    for book, clause in every_clause():
        where = f"{book.id}:{clause.id}"
        assert clause.reference, where
        assert clause.read in Read, where
        assert clause.source or clause.read in (Read.OWN, Read.MEMORY), where
        assert clause.check is not None or clause.act == "waives", where


def test_every_book_says_that_it_is_no_regulation():
    for book in books()[0].values():
        assert any("working aid" in caution for caution in book.cautions), book.id


def test_every_fact_shipped_can_be_asked_for():
    for fact in books()[1].values():
        assert fact.ask, fact.name


def test_there_are_clauses_enough_and_most_compute():
    assert sum(1 for _ in every_clause()) >= 120
    assert len(COMPUTING) >= 60
    assert sum(1 for book, _ in COMPUTING if book.id == "international") >= 60


def test_every_form_of_expiry_stands_in_some_book():
    named = {clause.check.kind for _, clause in every_clause() if isinstance(clause.check, Expiry)}
    assert named == set(ExpiryKind)


@pytest.mark.parametrize("book", sorted(books()[0]))
def test_nothing_passes_on_nothing(book: str):
    nothing = Evidence(proven={}, fallen={})
    shipped, facts = books()
    inspection = inspect(stacked(list(shipped.values())), facts, nothing, USUAL_DAY, USUAL_DAY)
    met = [
        f.id for f in inspection.findings if f.book.id == book and f.ruling in (Ruling.PASS, Ruling.ADVISED)
    ]
    assert not met


@pytest.mark.parametrize(("book", "clause"), WITH_FIGURES)
def test_without_any_one_of_its_proofs_it_passes_no_more(book: RuleBook, clause: Clause):
    second = clause.check.extended_from if isinstance(clause.check, Expiry) else None
    looked_up = replace(clause, verified_on=USUAL_DAY, verified_by="the owner")
    for line in lines(book.id, clause.id):
        if line.wanted != "pass":
            continue
        for proven in found(book, looked_up, line).evidence:
            gone = found(book, looked_up, line, without=proven.key)
            wanted = Ruling.EXPIRES if proven.key == second else Ruling.NOT_PROVEN
            assert gone.ruling is wanted, f"{line} without {proven.key}: {gone.reason}"
