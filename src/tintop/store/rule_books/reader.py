"""A parsed rule book to its value."""

import re
from collections.abc import Mapping
from datetime import date
from hashlib import sha256
from typing import TypeVar

from tintop.errors import BadInput, Problem, did_you_mean
from tintop.rules.book import Act, Check, Clause, Read, RuleBook, Severity
from tintop.rules.checking import check_instances, facts_named
from tintop.rules.evidence import Form
from tintop.rules.expression import Named
from tintop.rules.facts import Fact
from tintop.rules.placeholders import is_visible
from tintop.store.documents.fields import MOST_PROBLEMS, salvaged
from tintop.store.documents.written import Table, shown
from tintop.store.rule_books.check_reader import check_from, read_alone
from tintop.store.rule_books.document import (
    ACTS,
    BookDocument,
    ClauseTable,
    FactsDocument,
    HeadTable,
    RuleBookText,
)
from tintop.store.rule_books.fact_reader import facts_from
from tintop.store.rule_books.reading import Reading

MOST_CLAUSES = 3000
MOST_FACTS = 3000
MOST_LISTED = 300  # fields of one table, or entries of one list
ID = re.compile(r"[a-z0-9][a-z0-9_-]{0,79}")
_TARGET = re.compile(rf"({ID.pattern}):({ID.pattern})")
_Model = TypeVar("_Model", bound=Table)
_FROM_ELSEWHERE = (Read.READ, Read.QUOTED)


def rule_book_from(
    document: RuleBookText, facts: Mapping[str, Fact], *, is_own_copy: bool = False
) -> RuleBook:
    """Give the rule book of a text; `facts` are those declared outside it.

    Raises BadInput with every problem found: file, line, clause, field, what was found, what is expected.
    """
    tables, reading, damaged = _tables(BookDocument, document, facts)
    own = facts_from(tables.fact, reading)
    reading.facts = {**facts, **{fact.name: fact for fact in own}}
    reading.unread = {str(table.name) for table in tables.fact} - set(reading.facts)
    _check_head(tables.book, reading)
    clauses = []
    for place, table in enumerate(tables.clause, 1):
        path = f"clause.{place}"
        if len(reading.problems) >= MOST_PROBLEMS:
            break
        if path in damaged:
            reading.check_table(table, path)
            read_alone(table, path, reading)
        else:
            clauses.append(_clause(table, path, reading))
    _refuse_twice(tables, reading)
    reading.stop_if_any()
    head = tables.book
    return RuleBook(
        id=str(head.id),
        title=str(head.title),
        edition=str(head.edition),
        jurisdiction=str(head.jurisdiction),
        valid_from=head.valid_from or date.min,
        valid_to=head.valid_to,
        builds_on=tuple(head.builds_on or ()),
        clauses=tuple(clause for clause in clauses if clause is not None),
        facts=own,
        cautions=tuple(head.cautions or ()),
        name=document.name,
        is_own_copy=is_own_copy,
        is_partial=bool(head.partial),
        digest=sha256(document.text.encode("utf-8")).hexdigest(),
    )


def facts_of(document: RuleBookText, facts: Mapping[str, Fact]) -> tuple[Fact, ...]:
    """Give the facts of a file of facts; raises BadInput as `rule_book_from` does."""
    tables, reading, _ = _tables(FactsDocument, document, facts)
    found = facts_from(tables.fact, reading)
    reading.stop_if_any()
    return found


def declared_facts(document: RuleBookText, facts: Mapping[str, Fact]) -> tuple[Fact, ...]:
    """Give what facts of a rule book can be read, for the books above it; its problems are told elsewhere."""
    try:
        tables, reading, _ = _tables(BookDocument, document, facts)
        return facts_from(tables.fact, reading)
    except BadInput:
        return ()


def _tables(
    model: type[_Model], document: RuleBookText, facts: Mapping[str, Fact]
) -> tuple[_Model, Reading, frozenset[str]]:
    """What reads of the tables, the reading with the problems so far, and the entries that have some."""
    for kind, most in (("clause", MOST_CLAUSES), ("fact", MOST_FACTS)):
        entries = document.tables.get(kind)
        if isinstance(entries, list) and len(entries) > most:
            raise BadInput(document.problem(kind, f"{len(entries):,} entries", f"{most:,} at most"))
    _refuse_long_lists(document)
    try:
        tables, problems, damaged = salvaged(model, document)
    except BadInput as error:
        raise BadInput(*(_written_too_low(problem) for problem in error.problems)) from None
    said = [_written_too_low(problem) for problem in problems]
    return tables, Reading(document=document, facts=facts, problems=said, of_form=len(said)), damaged


def _refuse_long_lists(document: RuleBookText) -> None:
    open_ones: list[tuple[str, object]] = [
        (f"{kind}.{place}" if isinstance(value, list) else kind, entry)
        for kind, value in document.tables.items()
        for place, entry in enumerate(value if isinstance(value, list) else [value], 1)
    ]
    if len(document.tables) > MOST_LISTED:
        open_ones = [("", document.tables)]
    while open_ones:
        path, value = open_ones.pop()
        if not isinstance(value, (dict, list)):
            continue
        if len(value) > MOST_LISTED:
            raise BadInput(document.problem(path, f"{len(value):,} entries", f"{MOST_LISTED} at most"))
        named = value.items() if isinstance(value, dict) else enumerate(value, 1)
        open_ones += [(f"{path}.{name}", inner) for name, inner in named]


def _written_too_low(problem: Problem) -> Problem:
    """A field of the clause written below [clause.expires] has become one of that table: say so."""
    field = re.search(r"expires\.(\w+)$", problem.where)
    if field and field[1] in ClauseTable.model_fields and problem.found == "a field of an unknown name":
        cure = f"If {field[1]} belongs to the clause, write it above [clause.expires]."
        return Problem(where=problem.where, found=problem.found, expected=problem.expected, cure=cure)
    return problem


def _check_head(head: HeadTable, reading: Reading) -> None:
    reading.check_table(head, "book")
    name = reading.document.name.rpartition("/")[2].removesuffix(".toml")
    if head.id and not ID.fullmatch(head.id):
        reading.refuse("book.id", shown(head.id), "small letters a to z, digits, - and _, 80 at most")
    elif head.id and head.id != name:
        cure = f"Rename the file to {head.id}.toml, or write id = {name!r}."
        reading.refuse("book.id", shown(head.id), f"the file's own name, {name!r}", cure)
    for field in ("valid_from", "valid_to"):
        day = getattr(head, field)
        if day is not None and not 1900 <= day.year <= 2200:
            reading.refuse(f"book.{field}", day, "a day from 1900 to 2200")
    if head.valid_from and head.valid_to and head.valid_to < head.valid_from:
        found = f"{head.valid_to}, before valid_from {head.valid_from}"
        reading.refuse("book.valid_to", found, "a last day on or after the first", "Swap the two days.")
    for id in head.builds_on or []:
        if not ID.fullmatch(id):
            reading.refuse("book.builds_on", shown(id), "ids of rule books, such as national_club")
    if len(set(head.builds_on or [])) < len(head.builds_on or []):
        reading.refuse("book.builds_on", ", ".join(head.builds_on or []), "each book once")


def _clause(table: ClauseTable, path: str, reading: Reading) -> Clause | None:
    known = len(reading.problems)
    reading.check_table(table, path)
    if table.id and not ID.fullmatch(table.id):
        reading.refuse(f"{path}.id", shown(table.id), "small letters a to z, digits, - and _, 80 at most")
    if table.known in _FROM_ELSEWHERE and not (table.source or "").strip():
        reading.refuse(
            f"{path}.source", "nothing", f"where the figure was read, as it is known = {table.known!r}"
        )
    if (table.verified_on is None) != (not is_visible(table.verified_by or "")):
        reading.refuse(f"{path}.verified_on", "one of verified_on, verified_by", "both, or neither")
    proof = _proof(table, path, reading)
    act, target = _act(table, path, reading)
    applies_if = None
    if table.applies_if is not None:
        applies_if = reading.condition(f"{path}.applies_if", table.applies_if)
    check: Check | None = None
    named: tuple[Named, ...] = ()
    if act != "waives":
        check, named = check_from(table, path, reading)
    elif any(getattr(table, name) not in (None, []) for name in _CHECK_FIELDS):
        reading.refuse(path, "a check beside waives", "waives alone, which says what no longer applies")
    named = (*named, *facts_named(applies_if))
    if len(reading.problems) > known:
        return None
    reading.checked(path, "", lambda where: check_instances(named, reading.facts, where))
    return Clause(
        id=str(table.id),
        group=str(table.group),
        title=str(table.title),
        requirement=str(table.requirement),
        reference=str(table.reference),
        severity=Severity(table.severity or Severity.ADVICE),
        read=Read(table.known or Read.OWN),
        source=table.source or "",
        check=check,
        applies_if=applies_if,
        facts=tuple(dict.fromkeys(one.fact for one in named)),
        proof=proof,
        wants_photograph=bool(table.photograph),
        renewed_after_accident=bool(table.renewed_after_accident),
        act=act,
        on=target,
        caution=table.caution or "",
        cure=table.cure or "",
        verified_on=table.verified_on,
        verified_by=table.verified_by or "",
        line=reading.document.line_of(path) or 0,
    )


_CHECK_FIELDS = ("value", "holds", "recommended", "tube", "shown", "expires")


def _proof(table: ClauseTable, path: str, reading: Reading) -> tuple[Form, ...]:
    forms = []
    for word in table.proof or []:
        if word in list(Form):
            forms.append(Form(word))
        else:
            reading.refuse(
                f"{path}.proof", shown(word), f"one of {', '.join(Form)}", did_you_mean(word, Form)
            )
    return tuple(dict.fromkeys(forms))


def _act(table: ClauseTable, path: str, reading: Reading) -> tuple[Act, str]:
    written = [act for act in ACTS if getattr(table, act) is not None]
    if len(written) > 1:
        reading.refuse(path, " and ".join(written), f"one of {', '.join(ACTS)} at most")
    if not written:
        return "adds", ""
    act = written[0]
    target = str(getattr(table, act)).strip()
    match = _TARGET.fullmatch(target)
    if match is None:
        expected = "book:clause of a book below, such as international:shoulder-strap-angle"
        reading.refuse(f"{path}.{act}", shown(target), expected)
    return act, target


def _refuse_twice(tables: BookDocument, reading: Reading) -> None:
    first: dict[str, str] = {}
    for place, table in enumerate(tables.clause, 1):
        path = f"clause.{place}"
        if table.id and table.id in first:
            expected = (
                f"an id for one clause, used in line {reading.document.line_of(first[table.id])} already"
            )
            reading.refuse(f"{path}.id", repr(table.id), expected)
        elif table.id:
            first[table.id] = path
