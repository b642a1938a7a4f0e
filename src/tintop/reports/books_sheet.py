"""Rule books for reading: the list of them, the clauses of one, and how a check is said."""

from collections.abc import Sequence
from typing import Any

from tintop.reports.sheet import Sheet, Table
from tintop.rules.book import Clause, RuleBook
from tintop.rules.changes import Change, ClauseChange
from tintop.rules.facts import Fact
from tintop.rules.writing_checks import check_lines
from tintop.rules.writing_expressions import write_expression

PARTLY = "It holds only some of its regulations' figures ({clauses} clauses): alone it makes no car legal."
_ACTS = {"adds": "", "tightens": "tightens", "replaces": "in place of", "waives": "waives"}


def books_sheet(books: Sequence[RuleBook]) -> Sheet:
    """The books there are: edition, when in force, clauses, and how many figures are not verified."""
    rows = [
        (
            book.id,
            book.title,
            book.edition,
            in_force(book),
            str(len(book.clauses)),
            str(sum(not clause.is_verified for clause in book.clauses)),
            ", ".join(book.builds_on),
            ("your own" if book.is_own_copy else "shipped")
            + (", some figures only" if book.is_partial else ""),
        )
        for book in books
    ]
    columns = ("id", "title", "edition", "in force", "clauses", "not verified", "builds on", "")
    return Sheet(
        title="Rule books",
        sentences=(),
        tables=(Table(title="Rule books", columns=columns, rows=rows),),
        cautions=_cautions(books),
    )


def book_sheet(book: RuleBook) -> Sheet:
    """One book: its clauses with check, severity and reference."""
    rows = [(clause.id, *_clause_row(clause)) for clause in book.clauses]
    whose = "Your own text" if book.is_own_copy else "As shipped"
    stands = f"; stands on {', '.join(book.builds_on)}" if book.builds_on else ""
    return Sheet(
        title=book.title,
        sentences=(
            f"{book.title}, edition {book.edition}: {book.jurisdiction}.",
            f"{whose}, in force {in_force(book)}{stands}.",
            *([PARTLY.format(clauses=len(book.clauses))] if book.is_partial else []),
        ),
        tables=(Table(title="Clauses", columns=_CLAUSE_COLUMNS, rows=rows),) if rows else (),
        cautions=book.cautions,
    )


def stack_sheet(books: Sequence[RuleBook]) -> Sheet:
    """Several books on one another, lowest first: the clauses of each, group by group."""
    groups = dict.fromkeys(clause.group for book in books for clause in book.clauses)
    tables = (
        Table(
            title=group.capitalize(),
            columns=_CLAUSE_COLUMNS,
            rows=[
                (f"{book.id}: {clause.id}", *_clause_row(clause))
                for book in books
                for clause in book.clauses
                if clause.group == group
            ],
        )
        for group in groups
    )
    return Sheet(
        title=books[-1].title,
        sentences=(f"The lowest first: {', '.join(f'{book.title}, {book.edition}' for book in books)}.",),
        tables=tuple(tables),
        cautions=_cautions(books),
    )


_CLAUSE_COLUMNS = ("clause", "what (reference)", "check", "if missed")


def _clause_row(clause: Clause) -> tuple[str, str, str]:
    missed = str(clause.severity) if clause.act != "waives" else ""
    return (
        f"{clause.title} ({clause.reference})",
        clause_check(clause),
        f"{missed}{'' if clause.is_verified else '; from memory, not verified'}",
    )


def books_content(books: Sequence[RuleBook]) -> list[dict[str, Any]]:
    """The list of books as plain content."""
    return [
        {
            "id": book.id,
            "title": book.title,
            "edition": book.edition,
            "jurisdiction": book.jurisdiction,
            "valid_from": book.valid_from.isoformat(),
            "valid_to": book.valid_to.isoformat() if book.valid_to else None,
            "builds_on": list(book.builds_on),
            "clauses": len(book.clauses),
            "not_verified": sum(not clause.is_verified for clause in book.clauses),
            "is_own_copy": book.is_own_copy,
            "is_partial": book.is_partial,
            "cautions": list(book.cautions),
        }
        for book in books
    ]


def book_content(book: RuleBook) -> dict[str, Any]:
    """One book with its clauses as plain content."""
    return books_content([book])[0] | {
        "clauses": [
            {
                "id": clause.id,
                "group": clause.group,
                "title": clause.title,
                "requirement": clause.requirement,
                "reference": clause.reference,
                "severity": clause.severity.value,
                "known": clause.read.value,
                "source": clause.source,
                "is_verified": clause.is_verified,
                "act": clause.act,
                "on": clause.on,
                "check": "; ".join(check_lines(clause.check)),
                "applies_if": write_expression(clause.applies_if) if clause.applies_if else "",
                "facts": list(clause.facts),
                "caution": clause.caution,
                "cure": clause.cure,
            }
            for clause in book.clauses
        ]
    }


def changes_sheet(
    old: RuleBook, new: RuleBook, changes: Sequence[ClauseChange], on_record: frozenset[str] | None = None
) -> Sheet:
    """What differs between two editions, clause by clause; `on_record` are the facts a car has on record."""
    columns = ("clause", "", "what", "touches" if on_record is None else "touches, of what is on record")
    rows = [
        (
            f"{change.id}: {change.title}",
            change.change.value,
            "\n".join(change.lines),
            ", ".join(name for name in change.facts if on_record is None or name in on_record),
        )
        for change in changes
    ]
    counts = [f"{sum(one.change is kind for one in changes)} {kind}" for kind in Change]
    return Sheet(
        title="Changes",
        sentences=(
            f"From {old.title}, edition {old.edition}, to {new.title}, edition {new.edition}: "
            f"{', '.join(counts)}.",
        ),
        tables=(Table(title="Clauses", columns=columns, rows=rows),) if rows else (),
        cautions=new.cautions,
    )


def changes_content(
    changes: Sequence[ClauseChange], on_record: frozenset[str] | None = None
) -> list[dict[str, Any]]:
    """The same as plain content."""
    return [
        {
            "id": change.id,
            "title": change.title,
            "change": change.change.value,
            "lines": list(change.lines),
            "facts": list(change.facts),
        }
        | ({} if on_record is None else {"on_record": [name for name in change.facts if name in on_record]})
        for change in changes
    ]


def facts_sheet(facts: Sequence[Fact]) -> Sheet:
    """What is recorded of a car: name, question, kind with its unit or words, and instances."""
    rows = [(fact.name, fact.ask, _kind(fact), _each(fact)) for fact in facts]
    table = Table(title="Facts", columns=("fact", "asks", "kind", "each"), rows=rows)
    return Sheet(title="Facts", sentences=(), tables=(table,), cautions=())


def facts_content(facts: Sequence[Fact]) -> list[dict[str, Any]]:
    """The same as plain content."""
    return [
        {
            "name": fact.name,
            "ask": fact.ask,
            "kind": fact.kind.value,
            "quantity": fact.quantity,
            "unit": fact.unit,
            "choices": list(fact.choices),
            "each": fact.each if isinstance(fact.each, str) else list(fact.each),
            "station": fact.station.value,
            "how": fact.how,
        }
        for fact in facts
    ]


def _kind(fact: Fact) -> str:
    if fact.choices:
        return " / ".join(fact.choices)
    unit = f" in {fact.unit}" if fact.unit else ""
    return f"{fact.kind}, {fact.quantity}{unit}" if fact.quantity else fact.kind.value


def _each(fact: Fact) -> str:
    return fact.each if isinstance(fact.each, str) else ", ".join(fact.each)


def in_force(book: RuleBook) -> str:
    """When a book is in force, such as "2026-01-01 to 2026-12-31"."""
    return f"{book.valid_from} to {book.valid_to}" if book.valid_to else f"from {book.valid_from}"


def clause_check(clause: Clause) -> str:
    """What a clause checks, when, and what it does to a clause below."""
    parts = [*check_lines(clause.check)]
    if clause.applies_if is not None:
        parts.append(f"if {write_expression(clause.applies_if)}")
    if clause.on:
        parts.append(f"{_ACTS[clause.act]} {clause.on}")
    return "; ".join(part for part in parts if part)


def _cautions(books: Sequence[RuleBook]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(book.cautions[0] for book in books if book.cautions))
