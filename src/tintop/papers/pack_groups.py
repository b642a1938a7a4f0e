"""Groups of the scrutineering pack: clauses that belong together, with the photographs that prove them."""

import re
from collections.abc import Iterator, Mapping, Sequence

from tintop.papers.content import listed, plain
from tintop.papers.pack_content import Exhibit, PackGroup, PackPicture
from tintop.papers.pack_lines import (
    Shown,
    lacks_evidence,
    line_of,
    missing_line_of,
    reason_of,
)
from tintop.papers.stand import day_words
from tintop.rules.evidence import Paper, Proven
from tintop.rules.findings import WORST_FIRST, Finding, Inspection, Ruling

TITLES: Mapping[str, str] = {
    "papers": "Papers",
    "cage": "Safety cage",
    "seat": "Seat and head restraint",
    "harness": "Harness",
    "kit": "Drivers' equipment",
    "fire": "Extinguishers and bulkheads",
    "fuel": "Fuel, oil and lines",
    "electrics": "Electrics",
    "lights": "Lights",
    "towing": "Towing eyes",
    "body": "Body and glass",
    "tyres": "Tyres and wheels",
    "mass": "Mass",
    "power": "Power",
    "numbers": "Numbers and decals",
    "noise": "Noise",
    "running": "Running gear",
    "road": "The drive there",
}
_NOT_PRINTED = "not printed here"
_MOST_CLAUSES = 4  # named under a picture
_NUMBERED = re.compile(
    r"(.*[^0-9])(0|[1-9][0-9]*)"
)  # "series regulations 6.1": what it begins with, its last number


def in_groups(inspection: Inspection) -> dict[str, tuple[Finding, ...]]:
    """The findings by group, in the order the pack has them."""
    found = {each.clause.group for each in inspection.findings}
    order = [*(name for name in TITLES if name in found), *sorted(found - set(TITLES))]
    return {name: tuple(each for each in inspection.findings if each.clause.group == name) for name in order}


def papers_of(inspection: Inspection) -> tuple[Paper, ...]:
    """Every photograph and paper the evidence names, once, in the order the pack shows them."""
    found: dict[str, Paper] = {}
    for findings in in_groups(inspection).values():
        for finding in _applying(findings):
            for proof in finding.evidence:
                for paper in proof.papers:
                    found.setdefault(paper.digest, paper)
    return tuple(found.values())


def groups_of(shown: Shown, exhibits: Mapping[str, Exhibit]) -> Iterator[PackGroup]:
    """Every group; a photograph stands in the first that names it, and is a number in the others."""
    placed: set[str] = set()
    for name, findings in in_groups(shown.inspection).items():
        applying = _applying(findings)
        rested = _rested(applying)
        new = {digest: found for digest, found in rested.items() if digest not in placed}
        placed |= set(new)
        books = {each.book.id for each in findings}
        yield PackGroup(
            title=group_title(name),
            counts=counts_of(findings),
            books=tuple(
                (shown.letter(book), f"{plain(book.title)}, {plain(book.edition)}")
                for book in shown.inspection.books
                if book.id in books
            ),
            lines=tuple(line_of(shown, each) for each in applying if not lacks_evidence(each)),
            missing=tuple(missing_line_of(shown, each) for each in applying if lacks_evidence(each)),
            not_applicable=tuple(
                _not_applicable(shown, each) for each in findings if each.ruling is Ruling.NOT_APPLICABLE
            ),
            pictures=tuple(
                PackPicture(
                    number=shown.numbers[digest],
                    svg=exhibits[digest].svg,
                    caption=_caption(shown, *found),
                )
                for digest, found in new.items()
                if digest in exhibits and exhibits[digest].svg
            ),
            not_printed=tuple(
                (shown.numbers[digest], f"{_caption(shown, *found)}: {_why_not(exhibits, digest)}")
                for digest, found in new.items()
                if digest not in exhibits or not exhibits[digest].svg
            ),
        )


def _not_applicable(shown: Shown, finding: Finding) -> tuple[str, str]:
    """Clause and reason; of one waived, the clause of the book below and what waives it."""
    rule = shown.rule(finding.book, finding.clause)
    if finding.clause.act == "waives" and finding.id in shown.clauses:
        book, waived = shown.clauses[finding.id]
        return f"{plain(waived.title)}, {shown.rule(book, waived)}", f"waived by {rule}"
    return f"{plain(finding.clause.title)}, {rule}", reason_of(shown, finding)


def group_title(name: str) -> str:
    """The title of a group's chapter."""
    return TITLES.get(name, plain(name).capitalize())


def counts_of(findings: Sequence[Finding]) -> tuple[tuple[str, int], ...]:
    """Signs of the verdicts with how many there are, worst first."""
    counted = ((ruling.sign, sum(each.ruling is ruling for each in findings)) for ruling in WORST_FIRST)
    return tuple((sign, count) for sign, count in counted if count)


def _applying(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Those that apply, worst first; what is met by a figure from memory before what passes."""
    found = [each for each in findings if each.ruling is not Ruling.NOT_APPLICABLE]
    return tuple(sorted(found, key=lambda each: (each.ruling is Ruling.PASS, each.is_unverified)))


_Rested = tuple[Paper, list[Proven], list[Finding]]


def _rested(findings: Sequence[Finding]) -> dict[str, _Rested]:
    """What rests on each paper, by its digest: the proofs kept with it, and their findings."""
    found: dict[str, _Rested] = {}
    for finding in findings:
        for proof in finding.evidence:
            for paper in proof.papers:
                _, proofs, rested = found.setdefault(paper.digest, (paper, [], []))
                if proof not in proofs:
                    proofs.append(proof)
                if finding not in rested:
                    rested.append(finding)
    return found


def _caption(shown: Shown, paper: Paper, proofs: Sequence[Proven], findings: Sequence[Finding]) -> str:
    """What a picture shows, for which clauses; who kept it on which day: "Numbers: 6.1 to 6.5 [D]; owner"."""
    asked = list(dict.fromkeys(shown.ask(each.key) for each in proofs))
    groups = dict.fromkeys(group_title(each.clause.group) for each in findings)
    shows = asked[0] if len(asked) == 1 else ", ".join(groups)
    books: dict[str, list[str]] = {}
    for each in findings:
        books.setdefault(shown.letter(each.book), []).append(plain(each.clause.reference))
    clauses = [f"{in_ranges(references)} [{letter}]" for letter, references in sorted(books.items())]
    who = ", ".join(dict.fromkeys(shown.own(plain(each.who)) for each in proofs if each.who))
    days = ", ".join(dict.fromkeys(day_words(each.day) for each in proofs))
    kept = ", ".join(filter(None, (who, days)))
    return "; ".join(filter(None, (f"{shows}: {', '.join(clauses)}", kept, shown.named(paper.name))))


def in_ranges(references: Sequence[str]) -> str:
    """Numbers of clauses in few words: what they begin with alike once, the last numbers as ranges."""
    by_head: dict[str, list[int]] = {}
    others: list[str] = []
    for each in dict.fromkeys(references):
        if match := _NUMBERED.fullmatch(each):
            by_head.setdefault(match[1], []).append(int(match[2]))
        else:
            others.append(each)
    said = [_ranges(head, numbers) for head, numbers in by_head.items()]
    return listed((*said, *others), _MOST_CLAUSES)


def _ranges(head: str, numbers: Sequence[int]) -> str:
    """ "art. 6.1–6.3, 6.5": the words before the number once, the number whole each time."""
    runs: list[list[int]] = []
    for each in sorted(numbers):
        if runs and each == runs[-1][-1] + 1:
            runs[-1].append(each)
        else:
            runs.append([each])
    tail = head.rpartition(" ")[2]
    ends = (dict.fromkeys((run[0], run[-1])) for run in runs)
    return head.removesuffix(tail) + ", ".join("–".join(f"{tail}{each}" for each in end) for end in ends)


def _why_not(exhibits: Mapping[str, Exhibit], digest: str) -> str:
    return exhibits[digest].why_not if digest in exhibits else _NOT_PRINTED
