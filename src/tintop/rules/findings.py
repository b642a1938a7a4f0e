"""What an inspection finds, clause by clause: verdict, reason, margin, evidence, and what to do next."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.rules.book import Clause, RuleBook, Severity
from tintop.rules.evidence import Proven
from tintop.rules.facts import FactKey

IN_FORCE = "in-force"  # the clause every book has of itself: its edition holds on the days of the event


class Ruling(StrEnum):
    """The verdict on one clause; nothing is a pass by default."""

    PASS = "pass"
    FAIL = "fail"
    EXPIRES = "expires before the event"
    NOT_PROVEN = "not proven"
    ADVISED = "advised against"
    NOT_APPLICABLE = "not applicable"

    @property
    def sign(self) -> str:
        """The sign that stands beside the word, the same on page and paper."""
        return _SIGNS[self]


_SIGNS = {
    Ruling.PASS: "✓",
    Ruling.FAIL: "✗",
    Ruling.EXPIRES: "†",
    Ruling.NOT_PROVEN: "?",
    Ruling.ADVISED: "≈",
    Ruling.NOT_APPLICABLE: "–",
}
WORST_FIRST = (
    Ruling.FAIL, Ruling.EXPIRES, Ruling.NOT_PROVEN, Ruling.ADVISED, Ruling.PASS, Ruling.NOT_APPLICABLE,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """How far a value lies on the good side of the nearest limit, in SI (days for dates); negative: beyond.

    `share` is the margin over the limit, None where the limit is zero or a date.
    """

    amount: float
    quantity: str
    written: str
    share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What one clause says of one instance: its verdict and how it came to it.

    `is_unverified`: all figures are met, but one is from memory, so the verdict is "not proven".
    `is_open`: it is not known whether the clause applies at all.
    """

    clause: str  # "book:id"
    each: str
    ruling: Ruling
    severity: Severity
    reason: str
    value: str = ""
    limit: str = ""
    margin: Margin | None = None
    expires: date | None = None
    evidence: tuple[Proven, ...] = ()
    missing: tuple[FactKey, ...] = ()
    is_unverified: bool = False
    is_open: bool = False
    working: tuple[str, ...] = ()  # the figures put into the formula, line by line
    to_do: str = ""  # of what is not proven, and nothing missing

    @property
    def stops_racing(self) -> bool:
        """Whether it stops the car from racing as it stands: failed or expired, and the clause says so."""
        return self.ruling in (Ruling.FAIL, Ruling.EXPIRES) and self.severity is Severity.STOPS

    @property
    def leaves_open(self) -> bool:
        """Whether a clause that stops racing is not proven."""
        return self.ruling is Ruling.NOT_PROVEN and self.severity is Severity.STOPS


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The finding on one requirement over all books that speak of it; `decided_by` names the clause."""

    id: str  # "book:id" of the lowest clause
    clause: Clause  # the one that decided
    book: RuleBook  # its book
    ruling: Ruling
    reason: str
    decided_by: str
    value: str = ""
    limit: str = ""
    margin: Margin | None = None
    expires: date | None = None
    evidence: tuple[Proven, ...] = ()
    missing: tuple[FactKey, ...] = ()
    is_unverified: bool = False
    to_do: str = ""
    heard: tuple[Heard, ...] = ()

    @property
    def stops_racing(self) -> bool:
        """Whether any clause heard stops the car from racing as it stands, failed or expired."""
        return any(one.stops_racing for one in self._said)

    @property
    def leaves_open(self) -> bool:
        """Whether any clause heard that stops racing is not proven."""
        return any(one.leaves_open for one in self._said)

    @property
    def _said(self) -> tuple[Heard, ...]:
        """Its own verdict, and that of every clause heard for it."""
        own = Heard(
            clause=self.decided_by,
            each="",
            ruling=self.ruling,
            reason=self.reason,
            severity=self.clause.severity,
        )
        return (own, *self.heard)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """All findings for an event under a stack of books, worst first, then in the order of the walk-round.

    `broken` is no clause: what is known to have failed and is still on the car, each as "part: what failed".
    """

    first_day: date
    last_day: date
    books: tuple[RuleBook, ...]  # lowest first
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]
    accident: date | None = None
    broken: tuple[str, ...] = ()

    def of(self, ruling: Ruling) -> tuple[Finding, ...]:
        """Findings of one verdict."""
        return tuple(finding for finding in self.findings if finding.ruling is ruling)

    @property
    def stops_racing(self) -> tuple[Finding, ...]:
        """What stops the car from racing."""
        return tuple(finding for finding in self.findings if finding.stops_racing)

    @property
    def left_open(self) -> tuple[Finding, ...]:
        """What would stop the car and is not proven."""
        return tuple(finding for finding in self.findings if finding.leaves_open)
