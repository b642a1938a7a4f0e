"""The inspection for an event as the pages need it: findings by fact, books by clause, what is proven."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tintop.garage import inspection as garage_inspection
from tintop.garage.inspection import InspectedCar
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import facts_of
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.meetings import meetings
from tintop.rules.book import Clause, RuleBook
from tintop.rules.evidence import Evidence, Proven
from tintop.rules.facts import Fact, FactKey
from tintop.rules.findings import WORST_FIRST, Finding, Inspection
from tintop.web.kept import kept
from tintop.web.page import Visit
from tintop.web.pages.run_sheet import meeting_named


def meeting_of(visit: Visit, event: str) -> MeetingPlanned | None:
    """The event named, or the next one; 404 for a name nobody planned."""
    return meeting_named(visit.garage, event).planned if event else visit.garage.next_meeting()


def meeting_before(garage: Garage, meeting: MeetingPlanned) -> MeetingPlanned | None:
    """The event before another, by its first day."""
    found = kept(garage, "meetings", meetings)
    earlier = [each.planned for each in found if each.planned.first_day < meeting.first_day]
    return max(earlier, key=lambda each: each.first_day, default=None)


@dataclass(frozen=True, kw_only=True)
class Inspected:
    """One event's inspection with what the pages look up in it."""

    car: InspectedCar
    facts: Mapping[str, Fact]  # those of the books, or every one there is while no book is named

    @property
    def inspection(self) -> Inspection:
        """What was found."""
        return self.car.inspection

    @property
    def proven(self) -> Mapping[FactKey, Proven]:
        """What is proven, by fact and instance."""
        return self.car.evidence.proven

    @property
    def fallen(self) -> Mapping[FactKey, str]:
        """Why facts once recorded are proven no longer."""
        return self.car.evidence.fallen

    @cached_property
    def clauses(self) -> Mapping[str, tuple[RuleBook, Clause]]:
        """Every clause of the stack by "book:id"."""
        return {
            f"{book.id}:{clause.id}": (book, clause)
            for book in self.inspection.books
            for clause in book.clauses
        }

    @cached_property
    def by_fact(self) -> Mapping[str, tuple[Finding, ...]]:
        """The findings that use a fact, worst first."""
        found: dict[str, list[Finding]] = {}
        for finding in self.inspection.findings:
            for name in self.names_in(finding):
                found.setdefault(name, []).append(finding)
        return {name: tuple(sorted(each, key=_badness)) for name, each in found.items()}

    def names_in(self, finding: Finding) -> tuple[str, ...]:
        """The facts a finding rests on or misses, over all the clauses that were heard."""
        heard = [self.clauses[each.clause][1] for each in finding.heard if each.clause in self.clauses]
        named = [name for clause in (finding.clause, *heard) for name in clause.facts]
        keys = (*finding.missing, *(key for each in finding.heard for key in each.missing))
        missing = [key.fact for key in keys]
        return tuple(name for name in dict.fromkeys((*named, *missing)) if name in self.facts)


def inspected(garage: Garage, meeting: MeetingPlanned) -> Inspected:
    """The inspection of the car for an event; BadInput when a book cannot be read or laid on the others."""
    car = garage_inspection.inspected(garage, meeting)
    return garage.remember(
        f"looked up {meeting.meeting}",
        id(car),
        lambda: Inspected(car=car, facts=car.facts or facts_of(garage)),
    )


def nothing_inspected(garage: Garage) -> Inspected:
    """What is known while no event names a book: the facts, and nothing proven."""
    none = Inspection(first_day=date.min, last_day=date.min, books=(), findings=(), cautions=())
    car = InspectedCar(inspection=none, evidence=Evidence(proven={}, fallen={}), facts={})
    return Inspected(car=car, facts=facts_of(garage))


def _badness(finding: Finding) -> int:
    return WORST_FIRST.index(finding.ruling)
