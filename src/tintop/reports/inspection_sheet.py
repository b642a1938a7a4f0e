"""The inspection of a car for an event as a sheet and as plain content."""

from collections.abc import Iterator, Sequence
from typing import Any

from tintop.answer import Answer
from tintop.questions.is_it_legal import clause_content, is_partial, partly
from tintop.reports.sheet import Sheet, Table
from tintop.rules.evidence import Proven
from tintop.rules.findings import WORST_FIRST, Finding, Inspection, Ruling

_MET = (Ruling.PASS, Ruling.NOT_APPLICABLE)


def inspection_sheet(answer: Answer, inspection: Inspection, has_all: bool = False) -> Sheet:
    """The inspection for reading: what is not met, worst first; dates; books.

    `has_all` lists what is met too.
    """
    open_or_missed = [each for each in inspection.findings if each.ruling not in _MET]
    unverified = [each for each in open_or_missed if each.is_unverified]
    met = [each for each in inspection.findings if each.ruling in _MET]
    tables = [
        Table(
            title="Not met, or not proven",
            columns=("", "found", "rule", "to do"),
            rows=[_open_row(each) for each in open_or_missed if not each.is_unverified],
        ),
        Table(
            title="Met by figures from memory, which prove nothing until you have looked them up",
            columns=("", "found", "rule"),
            rows=[_open_row(each)[:3] for each in unverified],
        ),
        Table(
            title="Dates",
            columns=("last good day", "of", "days after the event"),
            rows=[_date_row(each, inspection) for each in _dated(inspection)],
        ),
        Table(
            title="Rule books, the lowest first",
            columns=("", "book", "edition", "in force"),
            rows=[
                (
                    book.id,
                    f"{book.title}{' (your copy)' if book.is_own_copy else ''}"
                    f"{' (some figures only)' if book.is_partial else ''}",
                    book.edition,
                    f"{book.valid_from.isoformat()} to {book.valid_to.isoformat() if book.valid_to else '…'}",
                )
                for book in inspection.books
            ],
        ),
    ]
    if has_all:
        tables.insert(
            2,
            Table(
                title="Met, or not applicable",
                columns=("", "found", "rule", "to spare", "proof"),
                rows=[_met_row(each) for each in met],
            ),
        )
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            counted(inspection),
            f"{partly(inspection).capitalize()}, which make no car legal." if is_partial(inspection) else "",
            f"Next: {answer.next_thing}" if answer.next_thing else "",
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def counted(inspection: Inspection) -> str:
    """How many clauses there are of each verdict, worst first."""
    counts = [(ruling, len(inspection.of(ruling))) for ruling in WORST_FIRST]
    return f"{', '.join(f'{count} {ruling}' for ruling, count in counts if count) or 'no clause'}."


def inspection_content(answer: Answer, inspection: Inspection) -> dict[str, Any]:
    """The inspection as plain content, every clause; SI."""
    return {
        "verdict": str(answer.verdict),
        "sentence": answer.sentence,
        "next_thing": answer.next_thing,
        "counts": {str(ruling): len(inspection.of(ruling)) for ruling in WORST_FIRST},
        "stops_racing": [each.id for each in inspection.stops_racing],
        "left_open": [each.id for each in inspection.left_open],
        "cautions": list(answer.cautions),
        **answer.working,
        "clauses": [clause_content(each) for each in inspection.findings],
    }


def exit_code(inspection: Inspection) -> int:
    """1 when something stops the car; 3 when what would is not proven, broken or not inspected; 0 else."""
    if inspection.stops_racing:
        return 1
    is_open = inspection.left_open or inspection.broken or is_partial(inspection)
    is_applied = any(each.ruling is not Ruling.NOT_APPLICABLE for each in inspection.findings)
    return 3 if is_open or not is_applied else 0


def _open_row(finding: Finding) -> tuple[str, ...]:
    return f"{finding.ruling.sign} {_stopping(finding)}", finding.reason, _rule(finding), finding.to_do


def _stopping(finding: Finding) -> str:
    if finding.stops_racing:
        return f"{finding.ruling}, stops the car"
    return f"{finding.ruling}, may stop the car" if finding.leaves_open else str(finding.ruling)


def _rule(finding: Finding) -> str:
    """The clause by number and the id of its book; the edition stands in the table of books."""
    known = "" if finding.clause.is_verified else ", from memory"
    return f"{finding.clause.reference}, {finding.book.id}{known}"


def _met_row(finding: Finding) -> tuple[str, ...]:
    spare = finding.margin.written if finding.margin and finding.ruling is Ruling.PASS else ""
    return finding.ruling.sign, finding.reason, _rule(finding), spare, proofs_in_words(finding.evidence)


def proofs_in_words(evidence: Sequence[Proven]) -> str:
    """What a finding rests on, in a few words."""
    said = (
        f"{proof.form}, {proof.day.isoformat()}{f', entry {proof.entry}' if proof.entry else ''}"
        for proof in evidence
    )
    return "; ".join(dict.fromkeys(said))


def _dated(inspection: Inspection) -> Iterator[Finding]:
    dated = [each for each in inspection.findings if each.expires is not None]
    yield from sorted(dated, key=lambda each: (each.expires or inspection.last_day, each.id))


def _date_row(finding: Finding, inspection: Inspection) -> tuple[str, ...]:
    assert finding.expires is not None
    days = (finding.expires - inspection.last_day).days
    return finding.expires.isoformat(), finding.clause.title, f"{days:+d}" if days < 0 else str(days)
