"""What runs out when over a season: the last good day of each item, the first event it is too late for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from tintop.rules.book import Severity
from tintop.rules.evidence import Proven
from tintop.rules.findings import Heard, Inspection


@dataclass(frozen=True, slots=True, kw_only=True)
class EventDays:
    """An event by name with its first and last day."""

    name: str
    first_day: date
    last_day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDate:
    """An item that runs out: its last good day, and the first event whose last day that does not reach.

    `clause` ("book:id") is the one that ends it soonest; `days_short` by how many days the event is missed.
    """

    title: str
    each: str
    clause: str
    severity: Severity
    last_good_day: date
    before: EventDays | None = None
    days_short: int = 0
    part: str = ""
    evidence: tuple[Proven, ...] = ()


def due_dates(inspection: Inspection, events: Sequence[EventDays] = ()) -> tuple[DueDate, ...]:
    """Give every item of an inspection that runs out, soonest first.

    Of a requirement the clause that ends soonest counts, for each instance. `events` are the season's, in any
    order; each is missed when its last day is past the last good day.
    """
    found = []
    for finding in inspection.findings:
        soonest: dict[str, Heard] = {}
        for heard in finding.heard:
            known = soonest.get(heard.each)
            if heard.expires is not None and (
                known is None or known.expires is None or heard.expires < known.expires
            ):
                soonest[heard.each] = heard
        found += [
            _due(finding.clause.title, finding.clause.severity, heard, heard.expires, events)
            for heard in soonest.values()
            if heard.expires is not None
        ]
    return tuple(sorted(found, key=lambda due: (due.last_good_day, due.title, due.each)))


def missed(due: Sequence[DueDate], event: EventDays) -> tuple[DueDate, ...]:
    """Give the items that have run out by the last day of an event."""
    return tuple(one for one in due if one.last_good_day < event.last_day)


def _due(
    title: str, severity: Severity, heard: Heard, last_good_day: date, events: Sequence[EventDays]
) -> DueDate:
    late = [event for event in events if event.last_day > last_good_day]
    before = min(late, key=lambda event: (event.last_day, event.first_day), default=None)
    return DueDate(
        title=title,
        each=heard.each,
        clause=heard.clause,
        severity=severity,
        last_good_day=last_good_day,
        before=before,
        days_short=(before.last_day - last_good_day).days if before else 0,
        part=next((proven.part for proven in heard.evidence if proven.part), ""),
        evidence=heard.evidence,
    )
