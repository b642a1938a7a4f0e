"""The findings of an inspection sorted as the page shows them, and the words that go with them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tintop.rules.book import Clause, Read, Severity
from tintop.rules.evidence import Proven
from tintop.rules.facts import Fact, FactKey
from tintop.rules.figures import write_value
from tintop.rules.findings import Finding, Ruling
from tintop.web.clause_links import clause_links
from tintop.web.formats import short_day
from tintop.web.inspected import Inspected

_READ: Mapping[Read, str] = {
    Read.READ: "read in the regulation itself",
    Read.QUOTED: "read in the regulation as quoted by others",
    Read.MEMORY: "from memory: nobody has read it, so it gives no pass",
    Read.COMPUTED: "computed from figures of the book",
    Read.OWN: "the book's own rule",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorted:
    """Findings under the headings of the page."""

    stops: tuple[Finding, ...]
    expires: tuple[Finding, ...]
    mend: tuple[Finding, ...]
    no_evidence: tuple[Finding, ...]
    not_enough: tuple[Finding, ...]
    unverified: tuple[tuple[str, tuple[Finding, ...]], ...]
    advised: tuple[Finding, ...]
    passes: tuple[tuple[str, tuple[Finding, ...]], ...]
    not_applicable: tuple[Finding, ...]

    @property
    def unverified_count(self) -> int:
        """How many are met but for a figure from memory."""
        return sum(len(findings) for _group, findings in self.unverified)

    @property
    def not_proven_count(self) -> int:
        """How many are not proven, for whatever reason."""
        return len(self.no_evidence) + len(self.not_enough) + self.unverified_count


def sorted_findings(findings: Iterable[Finding]) -> Sorted:
    """Sort findings under the headings; those that would stop the car first under each."""
    found = sorted(findings, key=lambda each: each.clause.severity is not Severity.STOPS)
    by = {ruling: tuple(each for each in found if each.ruling is ruling) for ruling in Ruling}
    open_ones = [each for each in by[Ruling.NOT_PROVEN] if not each.is_unverified]
    return Sorted(
        stops=tuple(each for each in by[Ruling.FAIL] if each.stops_racing),
        expires=by[Ruling.EXPIRES],
        mend=tuple(each for each in by[Ruling.FAIL] if not each.stops_racing),
        no_evidence=tuple(each for each in open_ones if each.missing),
        not_enough=tuple(each for each in open_ones if not each.missing),
        unverified=_by_group(each for each in by[Ruling.NOT_PROVEN] if each.is_unverified),
        advised=by[Ruling.ADVISED],
        passes=_by_group(by[Ruling.PASS]),
        not_applicable=by[Ruling.NOT_APPLICABLE],
    )


def _by_group(findings: Iterable[Finding]) -> tuple[tuple[str, tuple[Finding, ...]], ...]:
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.clause.group, []).append(finding)
    return tuple((group, tuple(each)) for group, each in found.items())


def reason_of(title: str, reason: str) -> str:
    """A reason without the title that stands above it already; an instance it names stays."""
    if not reason.startswith(title):
        return reason
    rest = reason.removeprefix(title).removeprefix(":").removeprefix(",").strip()
    return f"{rest[:1].upper()}{rest[1:]}" or reason


def like(findings: Sequence[Finding], group: str, text: str) -> tuple[Finding, ...]:
    """The findings of a group that have every word of a text somewhere in them."""
    words = text.casefold().split()
    return tuple(
        each
        for each in findings
        if (not group or each.clause.group == group) and all(word in _said(each) for word in words)
    )


def _said(finding: Finding) -> str:
    clause = finding.clause
    said = (
        clause.title, clause.requirement, clause.reference, clause.id, clause.group, clause.cure, finding.id,
        finding.reason, finding.ruling.value, finding.value, finding.limit, finding.book.title, *clause.facts,
    )  # fmt: skip
    return " ".join(said).casefold()


def read_words(clause: Clause) -> str:
    """How a clause's figure is known, and who verified it."""
    words = _READ[clause.read]
    if clause.read is Read.MEMORY and clause.verified_on is not None and clause.verified_by:
        words = f"from memory; read and verified by {clause.verified_by}, {short_day(clause.verified_on)}"
    return f"{words}; {clause.source}" if clause.source else words


def ask_of(facts: Mapping[str, Fact], key: FactKey) -> str:
    """What is asked for, and of which instance."""
    fact = facts.get(key.fact)
    ask = fact.ask if fact is not None else key.fact
    return f"{ask}, {key.each}" if key.each else ask


def value_words(facts: Mapping[str, Fact], proof: Proven) -> str:
    """The value of a proof with its ±, in the unit it is usually written in."""
    fact = facts.get(proof.key.fact)
    return write_value(fact, proof.value, proof.error) if fact is not None else proof.written or "recorded"


class Typed(dict[str, str]):
    """What was typed by field; empty for a field nothing was typed into."""

    def __missing__(self, _name: str) -> str:
        return ""


def words_for(found: Inspected) -> dict[str, Any]:
    """What the templates ask about findings and proofs."""
    findings = found.inspection.findings
    return {
        "blank": Typed(),
        "conditions_open": sum(any(each.is_open for each in finding.heard) for finding in findings),
        "ask_of": lambda key: ask_of(found.facts, key),
        "value_words": lambda proof: value_words(found.facts, proof),
        "clause_of": lambda name: found.clauses.get(name, (None, None)),
        "read_words": read_words,
        "reason_of": lambda finding: reason_of(finding.clause.title, finding.reason),
        "heard_reason": lambda title, each: reason_of(
            f"{title}, {each.each}" if each.each else title, each.reason
        ),
        "links_of": lambda finding: clause_links(finding, found.proven),
    }
