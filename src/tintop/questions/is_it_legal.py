"""Is the car legal for the event: does any clause of the rule books stop it, and is each proven?"""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from tintop.answer import Answer, Figure, Verdict
from tintop.logbook.amounts import name_within
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.season import rule_in_words
from tintop.rules.book import RuleBook, Severity
from tintop.rules.findings import Finding, Inspection, Margin, Ruling
from tintop.rules.own_copies import departure_in_words, own_copies_in_words
from tintop.units import UNITS

CAUTIONS = (
    "The scrutineer decides, by the regulations in force on the day; this answer takes the place of neither.",
)
MOST_REASONS = 12
MOST_NAMED = 8
_COUNTED = "clauses"


def is_it_legal(meeting: MeetingPlanned | None = None, inspection: Inspection | None = None) -> Answer:
    """Answer from an inspection; without one, or where no book or clause applied, nothing is proven.

    "no" when a clause that stops the car is missed or runs out before the event is over; "not proven" when
    one of them is open, every book holds only some figures, or something known broken is still on the car;
    "close" when something is to be mended or advised against; else "yes".
    """
    if inspection is None or not inspection.books:
        return _without_inspection(meeting)
    verdict = _verdict(inspection)
    return Answer(
        question="Is it legal?",
        verdict=verdict,
        sentence=_sentence(verdict, meeting, inspection),
        figures=tuple(_figures(verdict, inspection)),
        why=_why(inspection),
        next_thing=_next_thing(inspection),
        cautions=tuple(dict.fromkeys((*inspection.cautions, *CAUTIONS))),
        works=tuple(edition_of(book) for book in inspection.books),
        working=_working(inspection),
    )


def edition_of(book: RuleBook) -> str:
    """A rule book by title and edition, without which nobody can look a clause up."""
    return f"{book.title}, {book.edition}{', your copy' if book.is_own_copy else ''}"


def rule_of(finding: Finding) -> str:
    """The clause that decided: its number, the book, the edition, and whether its figure is from memory."""
    known = "" if finding.clause.is_verified else ", figure from memory, not verified"
    return f"{rule_in_words(finding.book, finding.clause)}{known}"


def _without_inspection(meeting: MeetingPlanned | None) -> Answer:
    named = f"for {meeting.name}" if meeting is not None else "for this event"
    return Answer(
        question="Is it legal?",
        verdict=Verdict.NOT_PROVEN,
        sentence=f"Not proven: no rule book is named {named}.",
        figures=(),
        why=("no rule, of any edition, has been held against this car",),
        next_thing=f"Name the rule books that apply {named}: the drive there, the governing body's, the "
        "series' and the event's own.",
        cautions=CAUTIONS,
    )


def _verdict(inspection: Inspection) -> Verdict:
    applied = [each for each in inspection.findings if each.ruling is not Ruling.NOT_APPLICABLE]
    if inspection.stops_racing:
        return Verdict.NO
    if inspection.left_open or not applied or is_partial(inspection) or inspection.broken:
        return Verdict.NOT_PROVEN
    return Verdict.CLOSE if any(_is_to_mend(each) or _is_advised(each) for each in applied) else Verdict.YES


def is_partial(inspection: Inspection) -> bool:
    """Whether every book inspected by holds only some figures of its regulations."""
    return bool(inspection.books) and all(book.is_partial for book in inspection.books)


def partly(inspection: Inspection) -> str:
    """What that means, in words."""
    count = sum(len(book.clauses) for book in inspection.books)
    books = "these books hold" if len(inspection.books) > 1 else "this book holds"
    return f"{books} only some figures ({_clauses(count)})"


def _is_to_mend(finding: Finding) -> bool:
    is_missed = finding.ruling in (Ruling.FAIL, Ruling.EXPIRES, Ruling.NOT_PROVEN)
    return is_missed and finding.clause.severity is Severity.MEND


def _is_advised(finding: Finding) -> bool:
    is_advice = finding.clause.severity is Severity.ADVICE
    is_missed = finding.ruling in (Ruling.FAIL, Ruling.EXPIRES) and is_advice
    return finding.ruling is Ruling.ADVISED or is_missed


def known_broken(inspection: Inspection) -> str:
    """What has failed and is still on the car, as a sentence; no clause speaks of it. Empty without any."""
    if not inspection.broken:
        return ""
    parts = "; ".join(inspection.broken)
    return f"Known broken and still on the car: {parts}; a scrutineer may stop the car for it."


def _sentence(verdict: Verdict, meeting: MeetingPlanned | None, inspection: Inspection) -> str:
    """The clauses in a sentence, by whose copies of the books, and what is known to be broken."""
    own = own_copies_in_words(inspection.books)
    clauses = _of_clauses(verdict, meeting, inspection)
    return " ".join(filter(None, (clauses, own, known_broken(inspection))))


def _of_clauses(verdict: Verdict, meeting: MeetingPlanned | None, inspection: Inspection) -> str:
    event = f" for {meeting.name}" if meeting is not None else ""
    found = inspection.findings
    match verdict:
        case Verdict.NO:
            stops = inspection.stops_racing
            first = _reason(stops[0])
            if len(stops) == 1:
                return f"Not legal: {first}."
            return f"Not legal: {_clauses(len(stops))} stop you racing, first {first}."
        case Verdict.NOT_PROVEN if not inspection.left_open:
            if is_partial(inspection):
                return f"Not proven: {partly(inspection)}; nothing in them stops the car."
            if any(each.ruling is not Ruling.NOT_APPLICABLE for each in found):
                return "Not proven, though no clause of the books stops it."
            return "Not proven: not one clause of the rule books applied to this car."
        case Verdict.NOT_PROVEN:
            return f"Not proven: {_open_in_words(inspection.left_open)}."
        case Verdict.CLOSE:
            to_mend = [each for each in found if _is_to_mend(each)]
            advised = [each for each in found if _is_advised(each)]
            counts = [
                f"{len(to_mend)} to be mended or proven" if to_mend else "",
                f"{len(advised)} advised against" if advised else "",
            ]
            worst = (to_mend or advised)[0]
            return (
                f"Nothing stops you racing{event}; {' and '.join(filter(None, counts))}, "
                f"first {_reason(worst)}."
            )
    met = len(inspection.of(Ruling.PASS))
    nearest = _nearest(found)
    spare = f"; nearest {name_within(nearest[0].clause.title)}, {nearest[1].written}" if nearest else ""
    return f"Legal{event} by the books inspected: {_clauses(met)} met, each with its proof{spare}."


def _open_in_words(left_open: Sequence[Finding]) -> str:
    unverified = [each for each in left_open if each.is_unverified]
    without = [each for each in left_open if each.missing and not each.is_unverified]
    undecided = len(left_open) - len(unverified) - len(without)
    first = min(left_open, key=_badness)
    said = [
        f"{_clauses(len(without))} that may stop you racing {_have(len(without))} no evidence"
        if without
        else "",
        f"{_clauses(len(unverified))} met only by unverified figures" if unverified else "",
        f"{_clauses(undecided)} cannot be decided by what was recorded" if undecided else "",
    ]
    words = "; ".join(filter(None, said))
    return f"{words}; first {_reason(first)}"


def _reason(finding: Finding) -> str:
    """The reason within a sentence; it names the clause first."""
    return name_within(finding.reason.rstrip("."))


def _clauses(count: int) -> str:
    return f"{count} clause{'' if count == 1 else 's'}"


def _have(count: int) -> str:
    return "has" if count == 1 else "have"


def _nearest(findings: Sequence[Finding]) -> tuple[Finding, Margin] | None:
    """The clause met by a measured value with the least of its limit to spare; what is counted has none."""
    met = [
        (each.margin.share, place, each, each.margin)
        for place, each in enumerate(findings)
        if each.ruling in (Ruling.PASS, Ruling.ADVISED)
        and each.margin
        and each.margin.share is not None
        and each.margin.quantity != "number"
    ]
    return min(met, key=lambda each: each[:2])[2:] if met else None


def _first_expiry(inspection: Inspection) -> tuple[Finding, date] | None:
    """What runs out first once the event is over."""
    later = [
        (each.expires, place, each)
        for place, each in enumerate(inspection.findings)
        if each.expires is not None and each.expires >= inspection.last_day
    ]
    if not later:
        return None
    expires, _place, finding = min(later, key=lambda each: each[:2])
    return finding, expires


def _figures(verdict: Verdict, inspection: Inspection) -> Iterator[Figure]:
    findings = inspection.findings
    stops = _count("clauses that stop you racing", inspection.stops_racing)
    left_open = _count("clauses that may stop you, not proven", inspection.left_open)
    yield from (left_open, stops) if verdict is Verdict.NOT_PROVEN else (stops, left_open)
    yield _count("clauses to be mended or proven", [each for each in findings if _is_to_mend(each)])
    yield _count("clauses advised against", [each for each in findings if _is_advised(each)])
    yield _count("clauses met", inspection.of(Ruling.PASS))
    if nearest := _nearest(findings):
        finding, margin = nearest
        value, unit = _in_unit(margin)
        yield Figure(
            name=f"nearest margin: {name_within(finding.clause.title)}",
            value=value,
            low=value,
            high=value,
            unit=unit,
            basis=rule_of(finding),
        )
    if first := _first_expiry(inspection):
        finding, expires = first
        days = float((expires - inspection.last_day).days)
        yield Figure(
            name=f"from the event to the first date that runs out: {name_within(finding.clause.title)}",
            value=days,
            low=days,
            high=days,
            unit="d",
            basis=f"{expires.isoformat()}, {rule_of(finding)}",
        )


def _count(name: str, findings: Sequence[Finding]) -> Figure:
    count = float(len(findings))
    return Figure(name=name, value=count, low=count, high=count, unit=_COUNTED, basis="counted")


def _in_unit(margin: Margin) -> tuple[float, str]:
    """A margin in its SI unit; an angle in degrees, as it is read off."""
    if margin.quantity == "angle":
        degree = UNITS["angle"][0]
        return margin.amount / degree.factor, degree.name
    units = UNITS.get(margin.quantity, ())
    return margin.amount, next((unit.name for unit in units if unit.factor == 1.0 and not unit.offset), "")


def _why(inspection: Inspection) -> tuple[str, ...]:
    """What is not met, worst first; clauses that only want looking up in one line."""
    ordered = sorted((each for each in inspection.findings if _is_open_or_missed(each)), key=_badness)
    unverified = [each for each in ordered if each.is_unverified]
    rest = [each for each in ordered if not each.is_unverified]
    own = own_copies_in_words(inspection.books)
    said = [one for one in (own.removesuffix("."), known_broken(inspection)) if one]
    said += [f"{each.ruling}: {_reason(each)} ({rule_of(each)})" for each in rest[:MOST_REASONS]]
    if len(rest) > MOST_REASONS:
        said.append(f"and {len(rest) - MOST_REASONS} more, in the inspection")
    if unverified:
        named = [f"{name_within(each.clause.title)} ({each.clause.reference})" for each in unverified]
        more = len(named) - MOST_NAMED
        listed = "; ".join([*named[:MOST_NAMED], *([f"and {more} more"] if more > 0 else [])])
        said.append(
            f"{Ruling.NOT_PROVEN}: {_clauses(len(unverified))} met only by figures from memory: {listed}"
        )
    if is_partial(inspection):
        said.append(f"{Ruling.NOT_PROVEN}: {partly(inspection)}")
    return tuple(said)


def _is_open_or_missed(finding: Finding) -> bool:
    return finding.ruling not in (Ruling.PASS, Ruling.NOT_APPLICABLE)


def _badness(finding: Finding) -> int:
    """What stops the car, lacks evidence, cannot be decided, is only unverified, is to be mended; advice."""
    degrees = (
        finding.stops_racing,
        finding.leaves_open and bool(finding.missing) and not finding.is_unverified,
        finding.leaves_open and not finding.is_unverified,
        finding.leaves_open,
        _is_to_mend(finding),
        _is_advised(finding),
    )
    return degrees.index(True) if True in degrees else len(degrees)


def _next_thing(inspection: Inspection) -> str:
    open_or_missed = [each for each in inspection.findings if _is_open_or_missed(each)]
    if inspection.broken and not inspection.stops_racing:
        return "Mend or replace what is broken before the car moves, and write down what was found."
    if open_or_missed:
        first = min(open_or_missed, key=_badness)
        return first.to_do or first.clause.cure or f"Put right: {name_within(first.clause.title)}."
    if is_partial(inspection):
        return "Hold the car against the regulations themselves, or name a whole book of them."
    if first_expiry := _first_expiry(inspection):
        finding, expires = first_expiry
        return f"Next to run out: {name_within(finding.clause.title)}, on {expires.isoformat()}."
    return "Have the books' own texts and the event's bulletins at hand when the car is presented."


def _working(inspection: Inspection) -> dict[str, Any]:
    """Books and findings as plain values; margins in SI."""
    return {
        "first_day": inspection.first_day.isoformat(),
        "last_day": inspection.last_day.isoformat(),
        "last_hard_hit": inspection.accident.isoformat() if inspection.accident else "",
        "known_broken": list(inspection.broken),
        "books": [
            {
                "id": book.id,
                "title": book.title,
                "edition": book.edition,
                "is_own_copy": book.is_own_copy,
                "departure": departure_in_words(book.departure) if book.departure else "",
                "digest": book.digest,
            }
            for book in inspection.books
        ],
        "clauses": [clause_content(each) for each in inspection.findings],
    }


def clause_content(finding: Finding) -> dict[str, Any]:
    """One finding as plain values: verdict, reason, margin in SI, evidence, the clause that decided."""
    margin = finding.margin
    return {
        "id": finding.id,
        "decided_by": finding.decided_by,
        "title": finding.clause.title,
        "reference": finding.clause.reference,
        "edition": edition_of(finding.book),
        "verdict": str(finding.ruling),
        "severity": str(finding.clause.severity),
        "stops_racing": finding.stops_racing,
        "reason": finding.reason,
        "value": finding.value,
        "limit": finding.limit,
        "margin": {
            "amount": margin.amount,
            "quantity": margin.quantity,
            "written": margin.written,
            "share": margin.share,
        }
        if margin
        else None,
        "expires": finding.expires.isoformat() if finding.expires else None,
        "evidence": [
            {
                "fact": str(proof.key),
                "form": str(proof.form),
                "day": proof.day.isoformat(),
                "who": proof.who,
                "written": proof.written,
                "entry": proof.entry or None,
                "basis": proof.basis,
                "papers": [paper.digest for paper in proof.papers],
            }
            for proof in finding.evidence
        ],
        "missing": [str(key) for key in finding.missing],
        "is_unverified": finding.is_unverified,
        "to_do": finding.to_do,
    }
