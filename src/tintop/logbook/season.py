"""What runs out over the coming events by the rules, before which event, and what a new one costs."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from tintop.logbook.amounts import written_money
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, build_on
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.lives import to_order
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.running import running_until
from tintop.rules.book import Clause, RuleBook, Severity
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import FactKey
from tintop.rules.figures import write_day
from tintop.rules.findings import IN_FORCE, Heard, Inspection, Ruling
from tintop.rules.rulings import facts_proven

CHECK_COSTS = "What a check or a service costs is not known."


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDate:
    """One thing with a last good day by a rule, such as a belt; `rule` names clause, book and edition.

    `expires` is None for a label that cannot be read, which counts as expired, and for an edition not yet in
    force. `due_for` is the short name of the first coming event it does not last, empty if it lasts them all.
    `hit` is the day of a hard hit since which it was not proven anew: then its date proves nothing. `part` is
    the one whose own label bears the date; a certificate is renewed without it. `cents` is what the last part
    of its family cost, None if no part or no price is known, by its list if `is_list_price`; `price_of` names
    that one, `spare` a like part that never ran.
    """

    id: str  # "book:clause", with its instance: "book:clause[left]"
    title: str
    expires: date | None
    rule: str
    to_do: str = ""
    stops_racing: bool = True
    due_for: str = ""
    hit: date | None = None
    edition: str = ""  # of a rule book: when it is in force
    part: str = ""
    part_name: str = ""
    cents: int | None = None
    price_of: str = ""
    is_list_price: bool = False
    spare: str = ""

    @property
    def until_words(self) -> str:
        """What is to be said instead of a date that is not known; empty where it is."""
        if self.expires is not None:
            return ""
        return self.edition or "cannot be read: counts as expired"

    @property
    def hit_words(self) -> str:
        """That it is to be proven anew after a hard hit; empty where it is not."""
        return f"to be proven anew since the hard hit of {write_day(self.hit)}" if self.hit else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The coming events and all dates, soonest first; `unread` says of events why they have no inspection."""

    events: tuple[MeetingPlanned, ...]
    dates: tuple[DueDate, ...]
    unread: Mapping[str, str] = field(default_factory=dict)

    def due_for(self, meeting: str) -> tuple[DueDate, ...]:
        """What runs out before an event is over, and not before an earlier one."""
        return tuple(each for each in self.dates if each.due_for == meeting)

    def cents_for(self, meeting: str) -> int:
        """What new ones of that cost as far as prices are known; each part once, none that has a spare."""
        prices = {each.part: each.cents or 0 for each in self.due_for(meeting) if not each.spare}
        return sum(prices.values())

    def unpriced_for(self, meeting: str) -> tuple[DueDate, ...]:
        """What runs out before an event with no price known and no spare at hand; an edition has none."""
        due = (each for each in self.due_for(meeting) if not each.edition)
        return tuple(each for each in due if each.cents is None and not each.spare)


def season(
    book: Logbook,
    day: date,
    inspections: Mapping[str, Inspection],
    unread: Mapping[str, str] | None = None,
) -> Season:
    """Fold the inspections of the coming events, by their short names; a date counts to the first it misses.

    Books of different events may end the same thing on different days: each event goes by its own.
    """
    events = tuple(each.planned for each in meetings(book, day) if each.state is not MeetingState.PAST)
    found: dict[str, DueDate] = {}
    for event in events:
        for due in dates_of(inspections[event.meeting]) if event.meeting in inspections else ():
            is_due = due.expires is None or due.expires < event.last_day or due.hit is not None
            before = found.get(due.id)
            if before is None or (is_due and not before.due_for):
                found[due.id] = replace(due, due_for=event.meeting if is_due else "")
    last_days = {event.meeting: event.last_day for event in events}
    return Season(
        events=events,
        dates=tuple(sorted(_priced(book, day, found.values(), last_days), key=_soonest_first)),
        unread=dict(unread or {}),
    )


def _soonest_first(due: DueDate) -> tuple[bool, date, str]:
    """Editions not in force before all else: no date holds that is worked out by them."""
    return not due.edition, due.expires or date.min, due.id


def dates_of(inspection: Inspection) -> Iterator[DueDate]:
    """The sooner date of every requirement and instance that has one, by the clause it comes from.

    An edition that is not in force on all days of the event is one of them.
    """
    yield from _editions(inspection)
    old = _not_proven_anew(inspection)
    clauses = {
        f"{book.id}:{clause.id}": (book, clause) for book in inspection.books for clause in book.clauses
    }
    for finding in inspection.findings:
        ends: dict[str, Heard] = {}
        for heard in finding.heard:
            is_unreadable = heard.expires is None and heard.ruling is Ruling.EXPIRES
            if heard.ruling is Ruling.NOT_APPLICABLE or (heard.expires is None and not is_unreadable):
                continue
            before = ends.get(heard.each)
            if before is None or (heard.expires or date.min) < (before.expires or date.min):
                ends[heard.each] = heard
        for each, heard in ends.items():
            rule_book, clause = clauses[heard.clause]
            yield DueDate(
                id=f"{finding.id}[{each}]" if each else finding.id,
                title=f"{clause.title}, {each}" if each else clause.title,
                expires=heard.expires,
                rule=rule_in_words(rule_book, clause),
                to_do=clause.cure,
                stops_racing=clause.severity is Severity.STOPS,
                hit=inspection.accident if old & _named(heard.evidence) else None,
                part=next((one.part for one in heard.evidence if one.form is Form.LABEL and one.part), ""),
            )


def _editions(inspection: Inspection) -> Iterator[DueDate]:
    """The books that are not in force on every day of the event."""
    findings = {each.id: each for each in inspection.findings}
    for book in inspection.books:
        if (finding := findings.get(f"{book.id}:{IN_FORCE}")) is None:
            continue
        until = f"to {write_day(book.valid_to)}" if book.valid_to else "on"
        in_force = f"in force from {write_day(book.valid_from)} {until}"
        is_to_come = book.valid_from > inspection.first_day
        yield DueDate(
            id=finding.id,
            title=f"Rule book: {book.title}",
            expires=None if is_to_come else book.valid_to,
            rule=f"{book.edition}{', your copy' if book.is_own_copy else ''}, {in_force}",
            to_do=finding.to_do,
            edition=in_force,
        )


def _not_proven_anew(inspection: Inspection) -> frozenset[FactKey | str]:
    """Facts and parts of clauses that ask for proof anew after a hit, and have none since the last."""
    hit, found = inspection.accident, set[FactKey | str]()
    clauses = {f"{book.id}:{clause.id}": clause for book in inspection.books for clause in book.clauses}
    for heard in (each for finding in inspection.findings for each in finding.heard):
        clause = clauses.get(heard.clause)
        if hit is None or clause is None or not clause.renewed_after_accident:
            continue
        facts = {key.fact for key in facts_proven(clause.check)}
        found |= _named(
            each for each in heard.evidence if each.key.fact in facts and not each.counts_after(hit)
        )
    return frozenset(found)


def _named(proofs: Iterable[Proven]) -> set[FactKey | str]:
    """What proofs are about: their facts, and their parts by short name."""
    return {name for proof in proofs for name in (proof.key, proof.part) if name}


def rule_in_words(book: RuleBook, clause: Clause) -> str:
    """A clause by its number, its book and the edition, without which nobody can look it up."""
    own = ", your copy" if book.is_own_copy else ""
    return f"{clause.reference}, {book.title}, {book.edition}{own}"


def _priced(
    book: Logbook, day: date, dates: Iterable[DueDate], last_days: Mapping[str, date]
) -> Iterator[DueDate]:
    build, running = build_on(book, day), running_until(book, day)
    for due in dates:
        part = build.by_name.get(due.part)
        if part is None:
            yield due
            continue
        needed_by = last_days.get(due.due_for, day)
        ordered = to_order(build, running, [(due.part, due.title)], needed_by)[0]
        yield replace(
            due,
            part_name=part.title,
            cents=ordered.price_cents,
            price_of=ordered.price_of,
            is_list_price=_is_list_price(build, ordered.price_of),
            spare=ordered.spare,
        )


def _is_list_price(build: Build, name: str) -> bool:
    priced = build.by_name.get(name)
    return priced is not None and not priced.part.price_cents


def price_in_words(due: DueDate, currency: str) -> str:
    """What a new one costs: that is all a price says, whatever a check or a service would cost."""
    if due.spare:
        return "a like one is on the shelf"
    if due.cents is None:
        return "price of a new one not known"
    how = "list price" if due.is_list_price else "last paid"
    return f"a new one, {how} {written_money(due.cents, currency)}"
