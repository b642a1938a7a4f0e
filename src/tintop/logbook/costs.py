"""Money: what running the car has cost and will cost this season, by event, hour, lap, kind and month.

The price of the car itself is kept apart from running it, and of running it racing from build and tools.
Sales, and shares others pay, are negative. Only cost lines count; prices written with parts and support do
not, so that nothing is counted twice.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import CostKind, CostPaid, SessionRun
from tintop.logbook.jobs import Job
from tintop.logbook.lives import ToOrder
from tintop.logbook.meetings import Meeting, meetings

RACING_KINDS = frozenset(
    {
        CostKind.ENTRY,
        CostKind.FUEL,
        CostKind.TYRES,
        CostKind.BRAKES,
        CostKind.FLUIDS,
        CostKind.TRAVEL,
        CostKind.INSURANCE,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """What was driven: running and race time [s], and laps."""

    running: float = 0.0
    racing: float = 0.0
    laps: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingCost:
    """What an event has cost, and is still to cost; sums in cents."""

    meeting: str
    name: str
    first_day: date
    paid_cents: int
    planned_cents: int
    by_kind: Mapping[CostKind, int]
    driven: Driven

    @property
    def per_race_hour_cents(self) -> float | None:
        """What it paid for one hour of race; None without a race."""
        return self.paid_cents * 3600.0 / self.driven.racing if self.driven.racing else None

    @property
    def per_lap_cents(self) -> float | None:
        """What it paid for one lap of any session; None without laps."""
        return self.paid_cents / self.driven.laps if self.driven.laps else None


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    """One cost with the day and number of its entry."""

    day: date
    entry: int
    cost: CostPaid


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """The money up to a day; sums in cents. A season is a calendar year.

    `paid_cents` is running the car since the book began: the sum of `by_kind`, of `by_month`, and of what
    the meetings paid with `other_cents`. `season_racing_cents` is what the season paid for events and for
    what racing uses up, of an event or none; the rest is build and tools. `per_race_hour_cents` divides
    racing by the season's hours of race, `per_lap_cents` by all its laps; None where nothing was driven.
    """

    day: date
    year: int
    car_cents: int
    paid_cents: int
    sold_cents: int  # of paid_cents, what came in; negative
    other_cents: int  # of paid_cents, what belongs to no event
    by_kind: Mapping[CostKind, int]
    by_month: Mapping[str, int]  # "2026-05"
    by_meeting: tuple[MeetingCost, ...]
    season_paid_cents: int
    season_racing_cents: int
    season_by_kind: Mapping[CostKind, int]
    season_planned: tuple[CostLine, ...]
    season_planned_cents: int
    season_driven: Driven
    per_race_hour_cents: float | None
    per_lap_cents: float | None
    parts_due: tuple[ToOrder, ...] = ()
    parts_planned: frozenset[str] = frozenset()  # named by a planned cost
    parts_due_cents: int = 0
    jobs_to_pay: tuple[Job, ...] = ()
    jobs_cents: int = 0
    unpriced: tuple[str, ...] = field(default=())  # due parts whose price nothing tells

    @property
    def season_build_cents(self) -> int:
        """What the season paid for build and tools."""
        return self.season_paid_cents - self.season_racing_cents

    @property
    def season_to_come_cents(self) -> int:
        """What the season is still to cost, as far as it is known."""
        return self.season_planned_cents + self.parts_due_cents + self.jobs_cents


def costs_on(book: Logbook, day: date, parts_due: Iterable[ToOrder] = (), jobs: Iterable[Job] = ()) -> Costs:
    """The money at the end of a day; `parts_due` and open `jobs` are added to what is to come.

    A planned cost stays to come until its entry is corrected by what was paid. A job's cost is left out when
    its part is due anyway, or a planned cost names its part or is of the same words; a due part costs nothing
    more when a planned cost names it or a spare of it is on the shelf.
    """
    seasons: dict[str, int] = {}
    by_meeting: dict[str, _MeetingSums] = {}
    known = meetings(book, day)
    for meeting in known:
        seasons[meeting.planned.meeting] = meeting.planned.first_day.year
        by_meeting[meeting.planned.meeting] = _MeetingSums()
    car = sold = other = racing = 0
    by_kind: dict[CostKind, int] = {}
    by_month: dict[tuple[int, int], int] = {}
    season: dict[CostKind, int] = {}
    planned: list[CostLine] = []
    for entry, cost in book.of(CostPaid):
        kind, cents = cost.cost_kind, cost.cents
        if cost.is_planned:
            if kind is not CostKind.CAR and seasons.get(cost.meeting, entry.day.year) == day.year:
                planned.append(CostLine(day=entry.day, entry=entry.number, cost=cost))
            if cost.meeting in by_meeting and kind is not CostKind.CAR:
                by_meeting[cost.meeting].planned += cents
            continue
        when = entry.day
        if when > day:
            continue
        if kind is CostKind.CAR:
            car += cents
            continue
        by_kind[kind] = by_kind.get(kind, 0) + cents
        month = (when.year, when.month)
        by_month[month] = by_month.get(month, 0) + cents
        if cents < 0:
            sold += cents
        if when.year == day.year:
            season[kind] = season.get(kind, 0) + cents
            if cost.meeting in by_meeting or kind in RACING_KINDS:
                racing += cents
        sums = by_meeting.get(cost.meeting)
        if sums is None:
            other += cents
        else:
            sums.paid += cents
            sums.by_kind[kind] = sums.by_kind.get(kind, 0) + cents
    driven = _driven(
        run for entry, run in book.of(SessionRun) if entry.day.year == day.year and entry.day <= day
    )
    season_paid = sum(season.values())
    due = tuple(parts_due)
    counted_parts = {line.cost.part for line in planned if line.cost.part}
    counted_words = {line.cost.what.strip().casefold() for line in planned}
    due_names = {each.part for each in due}
    to_pay = tuple(
        job
        for job in jobs
        if job.is_open
        and job.job.cost_cents is not None
        and job.job.part not in due_names | counted_parts
        and job.job.title.strip().casefold() not in counted_words
    )
    to_buy = [each for each in due if not each.spare and each.part not in counted_parts]
    return Costs(
        day=day,
        year=day.year,
        car_cents=car,
        paid_cents=sum(by_kind.values()),
        sold_cents=sold,
        other_cents=other,
        by_kind=dict(sorted(by_kind.items(), key=lambda each: -each[1])),
        by_month={f"{year}-{month:02d}": by_month[year, month] for year, month in sorted(by_month)},
        by_meeting=tuple(_meeting_cost(each, by_meeting[each.planned.meeting]) for each in known),
        season_paid_cents=season_paid,
        season_racing_cents=racing,
        season_by_kind=dict(sorted(season.items(), key=lambda each: -each[1])),
        season_planned=tuple(sorted(planned, key=lambda line: (line.day, line.entry))),
        season_planned_cents=sum(line.cost.cents for line in planned),
        season_driven=driven,
        per_race_hour_cents=racing * 3600.0 / driven.racing if driven.racing else None,
        per_lap_cents=racing / driven.laps if driven.laps else None,
        parts_due=due,
        parts_planned=frozenset(counted_parts),
        parts_due_cents=sum(each.price_cents or 0 for each in to_buy),
        jobs_to_pay=to_pay,
        jobs_cents=sum(job.job.cost_cents or 0 for job in to_pay),
        unpriced=tuple(each.name for each in to_buy if each.price_cents is None),
    )


@dataclass(slots=True)
class _MeetingSums:
    paid: int = 0
    planned: int = 0
    by_kind: dict[CostKind, int] = field(default_factory=dict)


def _meeting_cost(meeting: Meeting, sums: _MeetingSums) -> MeetingCost:
    return MeetingCost(
        meeting=meeting.planned.meeting,
        name=meeting.planned.name,
        first_day=meeting.planned.first_day,
        paid_cents=sums.paid,
        planned_cents=sums.planned,
        by_kind=dict(sorted(sums.by_kind.items(), key=lambda each: -each[1])),
        driven=_driven(meeting.sessions),
    )


def _driven(runs: Iterable[SessionRun]) -> Driven:
    running = racing = 0.0
    laps = 0
    for run in runs:
        running += run.duration
        laps += run.laps
        if run.session_kind == "race":
            racing += run.duration
    return Driven(running=running, racing=racing, laps=laps)
