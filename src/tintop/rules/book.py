"""A rule book as a value: clauses with their figures, where each figure was read, and how it is checked."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Literal

from tintop.rules.evidence import Form
from tintop.rules.expression import Expression
from tintop.rules.facts import Fact, FactKey, Tube
from tintop.rules.placeholders import is_visible


class Severity(StrEnum):
    """What it means to miss a clause."""

    STOPS = "stops you racing"
    MEND = "must be mended"
    ADVICE = "advice"


class Read(StrEnum):
    """How a figure came into the book."""

    READ = "read"  # in the regulation's own text
    QUOTED = "quoted"  # in the regulation as quoted or summarised by others
    MEMORY = "memory"  # recalled, not read: never gives a pass
    COMPUTED = "computed"  # from figures that are given
    OWN = "own"  # the book's own rule, such as an invented series'


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """A value against limits; each limit is itself an expression, so that one may depend on another figure.

    A recommended limit missed while the mandatory one is met gives "advised against".
    """

    value: Expression
    at_least: Expression | None = None
    at_most: Expression | None = None
    recommended_at_least: Expression | None = None
    recommended_at_most: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Holds:
    """A condition that has to hold, and one that is recommended."""

    holds: Expression | None = None
    recommended: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeRow:
    """Tubes allowed while a quantity (such as the class mass) is up to a figure; None for any."""

    up_to: Expression | None
    tubes: tuple[Tube, ...]
    written: tuple[str, ...]  # as the book writes them


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedTubes:
    """A tube against listed pairs: outside diameter and wall both at least those of one pair.

    Rows are in rising order of `up_to`; `by` is the quantity that picks the row.
    """

    tube: Expression
    rows: tuple[TubeRow, ...]
    by: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OneOf:
    """Words that have to be on a list."""

    value: Expression
    words: tuple[str, ...]


class ExpiryKind(StrEnum):
    """How the last good day follows from what a label bears."""

    LABEL_YEAR = "end of the label's year"  # + years, if given
    YEAR_MADE = "end of the year made"  # + years
    MONTH_MADE = "end of the month made"  # + years
    TO_THE_DAY = "to the day"  # + years and months; a day the month has not becomes its last
    MONTH_END = "to the day, month's end kept"  # the same, and from a month's last day to a month's last day
    EXTENDABLE = "extendable once"  # + years, and once more when certified again
    WITHDRAWN = "standard withdrawn"  # a calendar date by standard
    LABEL_DAY = "as the label says"  # the last day of what is printed
    NO_LIFE = "no life limit"  # inspection only
    HOMOLOGATION_END = "homologation ended"  # the maker may build no more; use may go on: never expires
    LABEL_THERE = "label there and readable"  # no date: a missing label counts as expired


@dataclass(frozen=True, slots=True, kw_only=True)
class Expiry:
    """A date by rule from the date a label bears; the event's last day has to be on or before it.

    `earliest_of` are further facts whose dates end it sooner, such as the maker's own.
    `extended_from` is the fact of the second certificate, `extension_years` what it adds: counted from the
    certificate, and never past the first end plus as much.
    `until` gives, for WITHDRAWN, the last day by standard named by `standard`; None for no end.
    """

    kind: ExpiryKind
    marked: FactKey | None = None
    years: int = 0
    months: int = 0
    earliest_of: tuple[FactKey, ...] = ()
    extended_from: FactKey | None = None
    extension_years: int = 0
    standard: FactKey | None = None
    until: Mapping[str, date | None] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """Facts that have to be on record, whatever their value: a photograph, a number, a certificate."""

    facts: tuple[FactKey, ...]


Check = Limits | Holds | ListedTubes | OneOf | Expiry | Shown
Act = Literal["adds", "tightens", "replaces", "waives"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """One clause. `act` says what it does to the clause `on` of a book below ("international:strap-angle").

    `facts` are all facts the check and its condition name; where they have instances, each is checked.
    `proof` are the forms of evidence of which any one will do; empty for any form.
    `renewed_after_accident`: evidence older than the last hard hit does not count.
    """

    id: str
    group: str
    title: str
    requirement: str
    reference: str
    severity: Severity
    read: Read
    source: str = ""
    check: Check | None = None  # None for a clause that waives
    applies_if: Expression | None = None
    facts: tuple[str, ...] = ()
    proof: tuple[Form, ...] = ()
    wants_photograph: bool = False
    renewed_after_accident: bool = False
    act: Act = "adds"
    on: str = ""
    caution: str = ""
    cure: str = ""  # what to do when it is not met
    verified_on: date | None = None
    verified_by: str = ""
    line: int = 0  # in the book's file

    @property
    def is_verified(self) -> bool:
        """Whether its figure may give a pass."""
        return self.read is not Read.MEMORY or (self.verified_on is not None and is_visible(self.verified_by))


@dataclass(frozen=True, slots=True, kw_only=True)
class Departure:
    """How far an own copy stands from the book as shipped: clauses that differ, those of them milder."""

    differing: int
    milder: int
    has_other_days: bool = False  # it is in force on other days


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """One edition of one rule book. `builds_on` are the ids of the books it stands on, lowest first."""

    id: str
    title: str
    edition: str
    jurisdiction: str
    valid_from: date
    valid_to: date | None = None
    builds_on: tuple[str, ...] = ()
    clauses: tuple[Clause, ...] = ()
    facts: tuple[Fact, ...] = ()  # those it declares itself
    cautions: tuple[str, ...] = ()
    name: str = ""  # the document it was read from
    is_own_copy: bool = False  # the garage's own document, not as shipped
    is_partial: bool = False  # holds only some of its regulations' figures: alone it makes no car legal
    digest: str = ""
    departure: Departure | None = None  # of the garage's own copy from the shipped book of its id

    def clause(self, id: str) -> Clause | None:
        """The clause of an id."""
        return next((clause for clause in self.clauses if clause.id == id), None)
