"""What the scrutineering pack holds before it is set: cover, what is open, groups of clauses, pictures."""

from dataclasses import dataclass
from datetime import date

from tintop.papers.content import Chapter, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Exhibit:
    """A photograph or paper as it can be printed: a picture as SVG, or why there is none."""

    svg: str = ""
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PackProof:
    """One piece of evidence: form, day and who; instrument, serial, part and pictures; what was found."""

    head: str
    aside: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PackLine:
    """One clause: verdict, requirement, rule, figures, evidence; why and what to do where it is not met.

    `instances` are rows of which, sign, value, margin where the clause was checked for several.
    """

    sign: str
    word: str
    degree: str  # such as "may stop the car"; empty where it is met
    is_open: bool  # not met, or not proven; one met by a figure from memory is not marked
    title: str
    requirement: str
    rule: str
    figures: tuple[tuple[str, str], ...]
    instances: tuple[tuple[str, str, str, str], ...]
    proofs: tuple[PackProof, ...]
    applies: str  # what was recorded that makes it apply
    reason: str
    to_do: str
    caution: str
    also: tuple[str, ...]  # what other books say of the same


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingLine:
    """One clause without evidence, or with part of it: what is not recorded."""

    sign: str
    degree: str
    title: str
    requirement: str
    rule: str
    missing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PackPicture:
    """One photograph with its number, what it shows, clause, day."""

    number: int
    svg: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PackGroup:
    """The clauses of one group, open ones first; its photographs, and the papers that are not printed.

    `missing` are those without evidence, in short.
    """

    title: str
    counts: tuple[tuple[str, int], ...]  # sign and how many
    books: tuple[tuple[str, str], ...]  # letter; title, edition
    lines: tuple[PackLine, ...]
    missing: tuple[MissingLine, ...]
    not_applicable: tuple[tuple[str, str], ...]
    pictures: tuple[PackPicture, ...]
    not_printed: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLine:
    """One clause not met or not proven, as the summary has it."""

    sign: str
    word: str
    title: str
    reason: str
    doing: str
    rule: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenPart:
    """Open clauses of one kind: in full, or by name where evidence is missing.

    `names` are rows of group, clauses that may stop the car, the others.
    """

    title: str
    note: str = ""
    lines: tuple[OpenLine, ...] = ()
    names: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrutineerPack:
    """The pack for the scrutineer: finished text throughout."""

    title: str
    event: str
    days: str
    edition: str
    day: date  # on which it was made
    question: str
    sign: str
    verdict: str
    sentence: str
    accident: str
    broken: tuple[str, ...]  # known to have failed and still on the car; no clause speaks of it
    counts: tuple[tuple[str, str, int], ...]  # sign, word, how many
    stops: tuple[tuple[str, str], ...]  # sign; what stops the car, on the cover
    facts: tuple[tuple[str, str], ...]
    by_hand: tuple[str, ...]
    books: Table
    open: tuple[OpenPart, ...]
    groups: tuple[PackGroup, ...]
    chapters: tuple[Chapter, ...]  # cage, labels, dates
    cautions: tuple[str, ...]
