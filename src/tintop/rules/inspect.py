"""The inspection: every requirement of a stack of books put to what is proven of the car, for one event."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from tintop.errors import BadInput
from tintop.rules.book import Clause, Read, RuleBook, Severity
from tintop.rules.checking import check_instances, facts_named
from tintop.rules.conditions import condition_doubted, condition_open, not_applicable
from tintop.rules.evaluate import Decision, Given, NotKnownError, decide
from tintop.rules.evidence import Evidence, Proven
from tintop.rules.expression import Expression, Named
from tintop.rules.facts import Fact, FactKey, Station
from tintop.rules.figures import write_day
from tintop.rules.findings import IN_FORCE, WORST_FIRST, Finding, Heard, Inspection, Ruling
from tintop.rules.ruled import Ruled, not_known
from tintop.rules.rulings import facts_checked, rule
from tintop.rules.stack import PlacedClause, Requirement, Stack
from tintop.rules.what_to_do import BETTER, LOOK_UP, what_to_do
from tintop.rules.worth import doubt_about_condition, only_advises, weighed
from tintop.rules.writing_facts import fits

_SEVEREST_FIRST = (Severity.STOPS, Severity.MEND, Severity.ADVICE)
_WALK_ROUND = tuple(Station)


def inspect(
    stack: Stack, facts: Mapping[str, Fact], evidence: Evidence, first_day: date, last_day: date
) -> Inspection:
    """Inspect a car on what is proven of it, for an event from its first to its last day.

    `facts` are all that the books and the shipped catalogue declare. Nothing passes by default: what is
    missing, too near a limit, proven in another form than asked, or from memory is not proven. Dates are set
    against the last day. Findings stand worst first, then by severity, those met but for an unverified
    figure after the others, then as one walks round the car.
    """
    inspected = _Inspected(
        given=_given(facts, evidence), evidence=evidence, first_day=first_day, last_day=last_day
    )
    findings = [_finding(requirement, inspected) for requirement in stack.requirements]
    findings += [
        _not_in_force(book, first_day, last_day) for book in stack.books if not _in_force(book, inspected)
    ]
    return Inspection(
        first_day=first_day,
        last_day=last_day,
        books=stack.books,
        findings=tuple(sorted(findings, key=lambda finding: _place(finding, facts))),
        cautions=stack.cautions,
        accident=evidence.accident,
        broken=evidence.broken,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Inspected:
    """What one inspection puts every clause to."""

    given: Given
    evidence: Evidence
    first_day: date
    last_day: date


def _given(facts: Mapping[str, Fact], evidence: Evidence) -> Given:
    usable = {
        key: proven
        for key, proven in evidence.proven.items()
        if key.fact in facts and fits(facts[key.fact], proven.value)
    }
    return Given(
        values={key: proven.value for key, proven in usable.items()},
        errors={key: proven.error for key, proven in usable.items() if proven.error > 0.0},
        facts=facts,
        fallen=evidence.fallen,
    )


def _finding(requirement: Requirement, inspected: _Inspected) -> Finding:
    """Hear every clause of a requirement in the order the books stand, and let the worst decide.

    A waiver of which it is not known whether it applies waives nothing, and is named in the reason.
    """
    standing: dict[str, tuple[PlacedClause, list[Heard]]] = {}
    waived: tuple[PlacedClause, Heard] | None = None
    doubted: list[Heard] = []
    for placed in requirement.placed:
        clause = placed.clause
        heard = _hear(placed, inspected)
        if clause.act == "waives":
            if all(one.ruling is Ruling.PASS for one in heard):
                standing.pop(clause.on, None)
                waived = placed, heard[0]
            doubted += [one for one in heard if one.ruling is Ruling.NOT_PROVEN][:1]
            continue
        if clause.act == "replaces" and not any(_is_aside(one) for one in heard):
            standing.pop(clause.on, None)
        standing[placed.name] = (placed, heard)
    if not standing and waived is not None:
        return _waived(requirement, *waived)
    ranked = [
        (one, placed) for placed, heard in reversed(standing.values()) for one in sorted(heard, key=_rank)
    ]
    worst, decider = _deciding(ranked)
    if worst.ruling not in (Ruling.PASS, Ruling.NOT_APPLICABLE):
        others = [one for one, _ in ranked if one.clause != worst.clause and _is_missed(one)]
        also = [one for one in (*others[:1], *doubted) if one.reason not in worst.reason]
        worst = replace(worst, reason="; ".join((worst.reason, *(one.reason for one in also))))
    return _decided(requirement.id, worst, decider, [one for one, _ in ranked], inspected)


def _is_missed(heard: Heard) -> bool:
    return heard.ruling in (Ruling.FAIL, Ruling.EXPIRES)


def _deciding(ranked: list[tuple[Heard, PlacedClause]]) -> tuple[Heard, PlacedClause]:
    """The worst; what is met but for an unverified figure hides no recommendation that is missed."""
    worst, decider = min(ranked, key=lambda pair: _rank(pair[0]))
    advised = next((pair for pair in ranked if pair[0].ruling is Ruling.ADVISED), None)
    if not worst.is_unverified or advised is None:
        return worst, decider
    binding = [pair for pair in ranked if pair[0].is_unverified and not only_advises(pair[1].clause)]
    if not binding:
        return advised
    worst, decider = min(binding, key=lambda pair: _rank(pair[0]))
    missed, clause = advised[0], advised[1].clause
    to_do = f"{clause.cure or BETTER} {LOOK_UP.format(reference=decider.clause.reference)}"
    return (
        replace(worst, reason=f"{worst.reason}; {missed.reason}", is_unverified=False, to_do=to_do),
        decider,
    )


def _is_aside(heard: Heard) -> bool:
    """Whether a clause does not apply, or may not: then what it replaces still stands."""
    return heard.ruling is Ruling.NOT_APPLICABLE or heard.is_open


def _rank(heard: Heard) -> tuple[bool, bool, int, bool, float]:
    """What stops the car first, then what may, then the worst; of equals the nearest to its limit.

    What is met but for an unverified figure comes after what is open or missed.
    """
    margin, near = heard.margin, float("inf")
    if margin is not None:
        near = margin.amount if margin.share is None else margin.share
    may_stop = heard.leaves_open and not heard.is_unverified
    place = WORST_FIRST.index(heard.ruling)
    return not heard.stops_racing, not may_stop, place, heard.is_unverified, near


def _decided(
    id: str, worst: Heard, decider: PlacedClause, heard: list[Heard], inspected: _Inspected
) -> Finding:
    evidence = {proven.key: proven for one in heard for proven in one.evidence}
    alike = [one for one in heard if one.clause == worst.clause and one.ruling is worst.ruling]
    missing = tuple(dict.fromkeys(key for one in alike for key in one.missing))
    ends = [one.expires for one in heard if one.expires is not None]
    return Finding(
        id=id,
        clause=decider.clause,
        book=decider.book,
        ruling=worst.ruling,
        reason=worst.reason,
        decided_by=worst.clause,
        value=worst.value,
        limit=worst.limit,
        margin=worst.margin,
        expires=worst.expires or min(ends, default=None),
        evidence=tuple(evidence.values()),
        missing=missing,
        is_unverified=worst.is_unverified,
        to_do=what_to_do(worst, decider, missing, inspected.given, inspected.evidence),
        heard=tuple(heard),
    )


def _waived(requirement: Requirement, waiver: PlacedClause, heard: Heard) -> Finding:
    return Finding(
        id=requirement.id,
        clause=waiver.clause,
        book=waiver.book,
        ruling=Ruling.NOT_APPLICABLE,
        reason=heard.reason,
        decided_by=waiver.name,
        evidence=heard.evidence,
        heard=(replace(heard, ruling=Ruling.NOT_APPLICABLE),),
    )


def _hear(placed: PlacedClause, inspected: _Inspected) -> list[Heard]:
    """Hear one clause for each of its instances."""
    clause, given = placed.clause, inspected.given
    named = (
        *facts_named(clause.applies_if),
        *(Named(key.fact, key.each) for key in facts_checked(clause.check)),
    )
    instances = check_instances(named, given.facts, placed.name)
    if isinstance(instances, str):
        names = given.values.get(FactKey(instances))
        if not isinstance(names, tuple):
            lacking = not_known(NotKnownError((FactKey(instances),)), given)
            return [
                Heard(
                    clause=placed.name,
                    each="",
                    ruling=Ruling.NOT_PROVEN,
                    severity=clause.severity,
                    reason=f"{clause.title}: {lacking.reason}",
                    missing=lacking.missing,
                )
            ]
        heard = [_hear_one(placed, str(name), named, inspected) for name in names]
        listing = inspected.evidence.proven[FactKey(instances)]
        return [replace(one, evidence=(*one.evidence, listing)) for one in heard]
    return [_hear_one(placed, each, named, inspected) for each in instances or ("",)]


def _hear_one(placed: PlacedClause, each: str, named: tuple[Named, ...], inspected: _Inspected) -> Heard:
    clause = placed.clause
    given = inspected.given
    if each:
        given = replace(given, each=each)
    condition: Decision | None = None
    if clause.applies_if is not None:
        condition = _decide(clause.applies_if, given)
        aside = _aside(clause, clause.applies_if, condition, given, inspected.evidence)
        if aside is not None:
            is_open = aside.ruling is Ruling.NOT_PROVEN
            return replace(_heard(placed, each, aside, (), inspected), is_open=is_open)
    if clause.act == "waives":
        ruled = _waiving(placed)
    elif clause.check is None:
        ruled = Ruled(ruling=Ruling.NOT_PROVEN, reason="the clause has no check")
    else:
        ruled = rule(clause.check, given, inspected.last_day)
    ruled, is_unverified = weighed(clause, ruled, given, inspected.evidence, inspected.last_day)
    return replace(
        _heard(placed, each, ruled, condition.used if condition else (), inspected),
        is_unverified=is_unverified,
    )


def _aside(
    clause: Clause, applies_if: Expression, condition: Decision, given: Given, evidence: Evidence
) -> Ruled | None:
    """What is said of a clause that does not apply, or may not; None where it applies."""
    if condition.truth is None:
        return condition_open(applies_if, condition, given)
    doubt = doubt_about_condition(clause, condition, given, evidence)
    if doubt is not None:
        return condition_doubted(applies_if, condition, given, doubt.why, doubt.to_do)
    return None if condition.truth else not_applicable(applies_if, condition, given)


def _decide(condition: Expression, given: Given) -> Decision:
    try:
        return decide(condition, given)
    except BadInput as refusal:
        return Decision(truth=None, why=(str(refusal).rstrip("."),))


def _waiving(placed: PlacedClause) -> Ruled:
    return Ruled(
        ruling=Ruling.PASS, reason=f"waived by {placed.name} ({placed.clause.reference}, {placed.book.title})"
    )


def _heard(
    placed: PlacedClause, each: str, ruled: Ruled, also: tuple[FactKey, ...], inspected: _Inspected
) -> Heard:
    title = placed.clause.title if not each else f"{placed.clause.title}, {each}"
    used = dict.fromkeys((*ruled.used, *also))
    return Heard(
        clause=placed.name,
        each=each,
        ruling=ruled.ruling,
        severity=placed.clause.severity,
        reason=f"{title}: {ruled.reason}",
        value=ruled.value,
        limit=ruled.limit,
        margin=ruled.margin,
        expires=ruled.expires,
        evidence=tuple(_proofs(used, inspected.evidence)),
        missing=ruled.missing,
        working=ruled.working,
        to_do=ruled.to_do,
    )


def _proofs(keys: Mapping[FactKey, None], evidence: Evidence) -> Iterator[Proven]:
    for key in keys:
        if key in evidence.proven:
            yield evidence.proven[key]


def _in_force(book: RuleBook, inspected: _Inspected) -> bool:
    return book.valid_from <= inspected.first_day and (
        book.valid_to is None or inspected.last_day <= book.valid_to
    )


def _not_in_force(book: RuleBook, first_day: date, last_day: date) -> Finding:
    until = f" to {write_day(book.valid_to)}" if book.valid_to else ""
    days = write_day(first_day)
    if last_day != first_day:
        days = f"{days} to {write_day(last_day)}"
    clause = Clause(
        id=IN_FORCE,
        group="papers",
        title=f"Edition {book.edition} in force",
        requirement="The edition inspected under is the one in force on every day of the event.",
        reference="valid_from, valid_to",
        severity=Severity.STOPS,
        read=Read.OWN,
    )
    return Finding(
        id=f"{book.id}:{IN_FORCE}",
        clause=clause,
        book=book,
        ruling=Ruling.NOT_PROVEN,
        reason=f"{book.title}, {book.edition}: "
        f"in force from {write_day(book.valid_from)}{until}, not on all of {days}",
        decided_by=f"{book.id}:{IN_FORCE}",
        to_do=f"Get the edition of {book.title} that is in force then, and inspect again under it.",
    )


def _place(finding: Finding, facts: Mapping[str, Fact]) -> tuple[int, int, bool, int]:
    keys = facts_checked(finding.clause.check)
    stations = [facts[key.fact].station for key in keys[:1] if key.fact in facts] or [Station.PAPERS]
    return (
        WORST_FIRST.index(finding.ruling),
        _SEVEREST_FIRST.index(finding.clause.severity),
        finding.is_unverified,
        _WALK_ROUND.index(stations[0]),
    )
