"""How much of every limited life is used, and what the next event will use of it."""

import math
import statistics
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.logbook.amounts import title_of
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, PartToday, build_on
from tintop.logbook.counters import Count, count_of, drives_of, places_of, sum_of
from tintop.logbook.entries import Area, Corner, Counter, LifeLimit, PlannedSession, SessionRun
from tintop.logbook.meetings import Meeting, MeetingState, meetings
from tintop.logbook.running import HEAT_CYCLE_LAPS, Running, running_until


class LifeState(StrEnum):
    """Where a life stands, worst first; a failed part stands at FAILED by every limit, whatever is left."""

    FAILED = "failed"
    OVERDUE = "overdue"
    DUE_BEFORE_END = "due before the event is over"
    UNKNOWN = "unknown"
    DUE_SOON = "due soon"
    GOOD = "within its limit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """The lap expected at an event: time [s], length [m] and mean speed [m/s]; None when nothing tells."""

    lap_time: float | None = None
    lap_length: float | None = None
    speed: float | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComingUse:
    """What an event will still use; None where it cannot be told. Age is the days to its last day."""

    distance: float | None
    running: float
    laps: float | None
    heat_cycles: float
    age: float
    basis: str

    def of(self, counter: Counter) -> float | None:
        """The use of one counter in its unit."""
        return {
            Counter.DISTANCE: self.distance,
            Counter.RUNNING: self.running,
            Counter.LAPS: self.laps,
            Counter.HEAT_CYCLES: self.heat_cycles,
            Counter.AGE: self.age,
        }[counter]


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """One limit of one fitted part; all amounts in the unit of the limit's counter.

    `next_use` is what the next event will still use, None when that cannot be told; `reached_in` the
    running [s] to come after which a limit in running time is reached. `why_unknown` says what is missing.
    """

    part: str
    name: str
    family: str
    area: Area
    corner: Corner
    limit: LifeLimit
    used: float
    left: float
    next_use: float | None
    state: LifeState
    inspected_on: date | None = None
    reached_in: float | None = None
    why_unknown: str = ""

    @property
    def title(self) -> str:
        """The part's name, with the corner where it has one."""
        return title_of(self.name, self.corner)


def pace_of(book: Logbook, meeting: Meeting, day: date) -> Pace:
    """The lap to expect from the garage's own sessions: at this circuit, or else at its mean speed anywhere.

    Sessions on a wet road count like others. Without any session the pace is not known.
    """
    circuits = {each.planned.meeting: each.planned.circuit for each in meetings(book, day)}
    runs = [
        run
        for entry, run in book.of(SessionRun)
        if entry.day <= day and run.laps > 0 and run.duration > 0.0 and run.distance > 0.0
    ]
    circuit = meeting.planned.circuit
    here = [run for run in runs if circuit and circuits.get(run.meeting) == circuit]
    if here:
        return Pace(
            lap_time=statistics.median(run.duration / run.laps for run in here),
            lap_length=statistics.median(run.distance / run.laps for run in here),
            speed=_mean_speed(here),
            basis=f"median lap of {len(here)} own sessions at this circuit",
        )
    if runs:
        return Pace(speed=_mean_speed(runs), basis=f"mean speed of {len(runs)} own sessions elsewhere")
    return Pace(basis="no session in the book yet")


def _mean_speed(runs: list[SessionRun]) -> float:
    return sum(run.distance for run in runs) / sum(run.duration for run in runs)


def coming_use(meeting: Meeting, day: date, pace: Pace, sessions: Iterable[PlannedSession]) -> ComingUse:
    """What these sessions of an event, and the road there and home, will use from a day on."""
    running = laps = 0.0
    cycles = 0
    for session in sessions:
        running += session.duration
        if pace.lap_time:
            expected = math.ceil(session.duration / pace.lap_time)
            laps += expected
            cycles += int(expected >= HEAT_CYCLE_LAPS)
        else:
            cycles += 1
    distance: float | None = meeting.road_left
    if pace.lap_time and pace.lap_length:
        distance = laps * pace.lap_length + meeting.road_left
    elif running > 0.0:
        distance = running * pace.speed + meeting.road_left if pace.speed else None
    return ComingUse(
        distance=distance,
        running=running,
        laps=laps if pace.lap_time or running == 0.0 else None,
        heat_cycles=float(cycles),
        age=float(max((meeting.planned.last_day - day).days, 0)),
        basis=pace.basis,
    )


def lives(book: Logbook, day: date, pace: Pace | None = None) -> tuple[Life, ...]:
    """Every limit of every part on the car, worst first; `pace` is the lap expected at the next event."""
    build, running = build_on(book, day), running_until(book, day)
    upcoming = [each for each in meetings(book, day) if each.state is not MeetingState.PAST]
    return lives_of(book, build, running, upcoming, pace)


def lives_of(
    book: Logbook, build: Build, running: Running, upcoming: list[Meeting], pace: Pace | None = None
) -> tuple[Life, ...]:
    """As `lives`, from folds already made; `upcoming` holds the next event and those after it."""
    day = build.day
    uses: list[ComingUse] = []
    for meeting in upcoming[:2]:
        expected = pace if pace is not None and not uses else pace_of(book, meeting, day)
        uses.append(coming_use(meeting, day, expected, meeting.still_planned))
    found: list[Life] = []
    for each in build.fitted:
        if each.part.limits:
            count = count_of(each, running, day)
            found += [_life(each, limit, count, running, day, uses) for limit in each.part.limits]
    order = {state: place for place, state in enumerate(LifeState)}
    return tuple(sorted(found, key=lambda life: (order[life.state], _share_left(life), life.part)))


def _share_left(life: Life) -> float:
    return (life.left - (life.next_use or 0.0)) / life.limit.limit


def _life(
    part: PartToday, limit: LifeLimit, count: Count, running: Running, day: date, uses: list[ComingUse]
) -> Life:
    used, inspected_on, why_unknown = _used(part, limit, count, running, day)
    left = limit.limit - used
    next_use = uses[0].of(limit.counter) if uses else 0.0
    if next_use is None:
        why_unknown = why_unknown or f"what the event will use in {limit.counter} is not known"
    return Life(
        part=part.part.part,
        name=part.part.name,
        family=part.part.family,
        area=part.area,
        corner=part.corner,
        limit=limit,
        used=used,
        left=left,
        next_use=next_use,
        state=LifeState.FAILED if part.failed else _state(limit.counter, left, uses, why_unknown),
        inspected_on=inspected_on,
        reached_in=max(left, 0.0) if limit.counter is Counter.RUNNING else None,
        why_unknown=why_unknown,
    )


def _state(counter: Counter, left: float, uses: list[ComingUse], why_unknown: str) -> LifeState:
    if left < 0.0 or (left == 0.0 and counter is not Counter.AGE):
        return LifeState.OVERDUE
    next_use = (uses[0].of(counter) if uses else 0.0) or 0.0
    if left < next_use:
        return LifeState.DUE_BEFORE_END
    if why_unknown:
        return LifeState.UNKNOWN
    if not uses:
        return LifeState.GOOD
    after = uses[1].of(counter) if len(uses) > 1 else None
    if counter is Counter.AGE:
        is_soon = after is not None and left < after
    else:
        is_soon = left < next_use + (after if after is not None else next_use)
    return LifeState.DUE_SOON if is_soon else LifeState.GOOD


def _used(
    part: PartToday, limit: LifeLimit, count: Count, running: Running, day: date
) -> tuple[float, date | None, str]:
    """What is used of a limit, since when an inspection counts, and why that is not sure."""
    if limit.action == "inspect" and part.inspected:
        when, clock = max(part.inspected)
        if limit.counter is Counter.AGE:
            return float((day - when).days), when, ""
        place = running.place_of(when, clock)
        return sum_of(drives_of(part, running, place)).of(limit.counter), when, ""
    return count.of(limit.counter), None, _unsure(part, limit.counter, count)


def _unsure(part: PartToday, counter: Counter, count: Count) -> str:
    before = part.part.counted_before
    if counter in before or (counter is Counter.AGE and part.part.made is not None):
        return ""
    if part.part.came_with_car:
        unknown = "the day it was made" if counter is Counter.AGE else f"its {counter} before"
        return f"it was there when the car was bought; {unknown} is not known"
    if counter is Counter.AGE and count.age == 0.0 and not part.fittings:
        return "neither the day it was made nor that it was fitted is known"
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToOrder:
    """A part to have in hand before a day: which, why, and at what price it was last bought."""

    part: str
    name: str
    family: str
    needed_by: date
    why: str
    price_cents: int | None
    price_of: str  # the part that price was paid for
    spare: str = ""  # a like part on the shelf that has never run, if there is one
    spare_name: str = ""


def to_order(
    build: Build, running: Running, wanted: Iterable[tuple[str, str]], needed_by: date
) -> tuple[ToOrder, ...]:
    """What to order: `wanted` gives (part, why).

    The price is what the last part of its family bought cost, or its list price where nothing was paid. A
    like part on the shelf that has never run is named as the spare, once; a used one is no spare.
    """
    spares: dict[str, list[str]] = {}
    for each in build.shelf:
        is_used = each.part.came_with_car or each.part.counted_before or places_of(each, running)
        if not is_used and not each.failed:
            spares.setdefault(each.part.family, []).append(each.part.part)
    prices: dict[str, tuple[int, str]] = {}
    for each in sorted(build.by_name.values(), key=lambda each: (each.added_on, each.entry)):
        if price := each.part.price_cents or each.part.list_price_cents:
            prices[each.part.family] = (price, each.part.part)
    found: dict[str, ToOrder] = {}
    for name, why in wanted:
        if name in found or name not in build.by_name:
            continue
        part = build.by_name[name].part
        cents, priced = prices.get(part.family, (None, ""))
        shelf = spares.get(part.family, [])
        found[name] = ToOrder(
            part=name,
            name=part.name,
            family=part.family,
            needed_by=needed_by,
            why=why,
            price_cents=cents,
            price_of=priced,
            spare=(spare := shelf.pop(0) if shelf else ""),
            spare_name=build.by_name[spare].part.name if spare else "",
        )
    return tuple(found.values())
