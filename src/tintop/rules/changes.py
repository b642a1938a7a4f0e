"""What differs between two editions of a book, and which of the car's findings that turns."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from tintop.rules.book import Clause, RuleBook
from tintop.rules.figures import write_day
from tintop.rules.findings import WORST_FIRST, Finding, Inspection
from tintop.rules.writing_checks import check_parts
from tintop.rules.writing_expressions import write_expression


class Change(StrEnum):
    """What became of a clause."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClauseChange:
    """One clause that is not as it was; `lines` say what: "at most: 45 deg, now 40 deg"."""

    change: Change
    id: str
    title: str
    lines: tuple[str, ...]
    facts: tuple[str, ...]  # of the car's that it touches


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """A finding that comes out differently under the other edition; None where there is none."""

    id: str
    before: Finding | None
    after: Finding | None

    @property
    def is_worse(self) -> bool:
        """Whether it comes out worse than before."""
        if self.before is None or self.after is None:
            return self.before is None
        return WORST_FIRST.index(self.after.ruling) < WORST_FIRST.index(self.before.ruling)


def changes(old: RuleBook, new: RuleBook) -> tuple[ClauseChange, ...]:
    """Give what differs between two editions, clause by clause as the new one has them, removed ones last."""
    before = {clause.id: clause for clause in old.clauses}
    after = {clause.id: clause for clause in new.clauses}
    found = []
    for id, clause in after.items():
        if id not in before:
            found.append(_change(Change.ADDED, clause, tuple(_all_lines(clause))))
        elif lines := tuple(_differences(before[id], clause)):
            touched = tuple(dict.fromkeys((*before[id].facts, *clause.facts)))
            found.append(_change(Change.CHANGED, clause, lines, touched))
    found += [
        _change(Change.REMOVED, clause, tuple(_all_lines(clause)))
        for id, clause in before.items()
        if id not in after
    ]
    return tuple(found)


def touched(old: Inspection, new: Inspection) -> tuple[Turned, ...]:
    """Give the findings that come out differently in two inspections of one car, worse ones first."""
    before = {finding.id: finding for finding in old.findings}
    after = {finding.id: finding for finding in new.findings}
    turned = [
        Turned(id=id, before=before.get(id), after=after.get(id))
        for id in dict.fromkeys((*after, *before))
        if _outcome(before.get(id)) != _outcome(after.get(id))
    ]
    return tuple(sorted(turned, key=lambda one: not one.is_worse))


def _outcome(finding: Finding | None) -> tuple[object, ...] | None:
    return None if finding is None else (finding.ruling, finding.clause.severity, finding.expires)


def _change(
    change: Change, clause: Clause, lines: tuple[str, ...], facts: tuple[str, ...] | None = None
) -> ClauseChange:
    return ClauseChange(
        change=change,
        id=clause.id,
        title=clause.title,
        lines=lines,
        facts=clause.facts if facts is None else facts,
    )


def _differences(old: Clause, new: Clause) -> Iterator[str]:
    before, after = dict(_parts(old)), dict(_parts(new))
    for name in dict.fromkeys((*before, *after)):
        was, now = before.get(name, ""), after.get(name, "")
        if was != now:
            yield f"{name}: {was or 'nothing'}, now {now or 'nothing'}"


def _all_lines(clause: Clause) -> Iterator[str]:
    return (f"{name}: {text}" for name, text in _parts(clause) if text)


def _parts(clause: Clause) -> Iterator[tuple[str, str]]:
    """A clause part by part, as words."""
    yield "requirement", clause.requirement
    yield "reference", clause.reference
    yield "severity", clause.severity
    yield "applies if", write_expression(clause.applies_if) if clause.applies_if else ""
    yield from check_parts(clause.check)
    yield "proof", " or ".join(clause.proof)
    yield "photograph", "kept with it" if clause.wants_photograph else ""
    yield "after a hard hit", "recorded anew" if clause.renewed_after_accident else ""
    yield "act", f"{clause.act} {clause.on}" if clause.on else ""
    yield "known", clause.read
    yield "verified", f"{write_day(clause.verified_on)} by {clause.verified_by}" if clause.verified_on else ""
    yield "caution", clause.caution
    yield "cure", clause.cure
