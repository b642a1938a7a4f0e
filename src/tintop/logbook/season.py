"""What runs out over the coming events by the rules, before which event, and what replacing it costs."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import build_on
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.lives import to_order
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.running import running_until
from tintop.rules.book import Clause, RuleBook, Severity
from tintop.rules.evidence import Form
from tintop.rules.findings import Heard, Inspection, Ruling


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDate:
    """One thing with a last good day by a rule, such as a belt; `rule` names clause, book and edition.

    `expires` is None for a label that cannot be read, which counts as expired. `due_for` is the short name of
    the first coming event it does not last, empty if it lasts them all. `part` is the one whose own label
    bears the date; a certificate is renewed without it. `cents` is what the last part of its family cost,
    None if no part or no price is known; `price_of` names that one, `spare` a like part that never ran.
    """

    id: str  # "book:clause", with its instance: "book:clause[left]"
    title: str
    expires: date | None
    rule: str
    to_do: str = ""
    stops_racing: bool = True
    due_for: str = ""
    part: str = ""
    part_name: str = ""
    cents: int | None = None
    price_of: str = ""
    spare: str = ""


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
        """What replacing that costs as far as prices are known; each part once, none that has a spare."""
        prices = {each.part: each.cents or 0 for each in self.due_for(meeting) if not each.spare}
        return sum(prices.values())

    def unpriced_for(self, meeting: str) -> tuple[DueDate, ...]:
        """What runs out before an event with no price known and no spare at hand."""
        return tuple(each for each in self.due_for(meeting) if each.cents is None and not each.spare)


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
            is_due = due.expires is None or due.expires < event.last_day
            before = found.get(due.id)
            if before is None or (is_due and not before.due_for):
                found[due.id] = replace(due, due_for=event.meeting if is_due else "")
    last_days = {event.meeting: event.last_day for event in events}
    return Season(
        events=events,
        dates=tuple(sorted(_priced(book, day, found.values(), last_days), key=_soonest_first)),
        unread=dict(unread or {}),
    )


def _soonest_first(due: DueDate) -> tuple[date, str]:
    return due.expires or date.min, due.id


def dates_of(inspection: Inspection) -> Iterator[DueDate]:
    """The sooner date of every requirement and instance that has one, by the clause it comes from."""
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
                part=next((one.part for one in heard.evidence if one.form is Form.LABEL and one.part), ""),
            )


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
            spare=ordered.spare,
        )
