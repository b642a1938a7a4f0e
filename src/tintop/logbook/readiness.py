"""All that readiness for the next event stands on, folded once."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, build_on
from tintop.logbook.jobs import Jobs, jobs_on
from tintop.logbook.lives import Life, LifeState, Pace, ToOrder, lives_of, to_order
from tintop.logbook.meetings import Meeting, MeetingState, meetings
from tintop.logbook.running import Running, running_until
from tintop.logbook.wear import ForecastWear, Wear, WearState, wears_of

_TO_REPLACE = (LifeState.OVERDUE, LifeState.DUE_BEFORE_END, LifeState.DUE_SOON)
_TO_RENEW = (WearState.WORN, WearState.RUNS_OUT, WearState.CLOSE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Readiness:
    """Build, lives, wear and jobs on a day, for the running the next event still has to come [s].

    `meeting` is None when no event is planned. `orders` are the parts to have in hand: those worn out or out
    of life before the event after the next is over.
    """

    day: date
    build: Build
    running: Running
    meeting: Meeting | None
    planned_running: float
    lives: tuple[Life, ...]
    wears: tuple[Wear, ...]
    jobs: Jobs
    orders: tuple[ToOrder, ...]


def readiness_on(
    book: Logbook, day: date, forecast: ForecastWear | None = None, pace: Pace | None = None
) -> Readiness:
    """Fold what readiness stands on; `forecast` is the race forecast's wear, `pace` the lap expected."""
    build, running = build_on(book, day), running_until(book, day)
    upcoming = [each for each in meetings(book, day) if each.state is not MeetingState.PAST]
    meeting = upcoming[0] if upcoming else None
    planned = sum(each.duration for each in meeting.still_planned) if meeting else 0.0
    lives = lives_of(book, build, running, upcoming, pace)
    wears = wears_of(book, build, running, planned, forecast)
    return Readiness(
        day=day,
        build=build,
        running=running,
        meeting=meeting,
        planned_running=planned,
        lives=lives,
        wears=wears,
        jobs=jobs_on(book, day),
        orders=to_order(
            build,
            running,
            _wanted(build, lives, wears),
            meeting.planned.first_day if meeting is not None else day,
        ),
    )


def _wanted(build: Build, lives: tuple[Life, ...], wears: tuple[Wear, ...]) -> Iterator[tuple[str, str]]:
    for part in build.fitted:
        if part.failed:
            yield part.part.part, "failed"
    for wear in wears:
        if wear.state in _TO_RENEW:
            yield wear.part, str(wear.state)
    for life in lives:
        if life.state in _TO_REPLACE and life.limit.action == "replace":
            yield life.part, str(life.state)
