"""Due dates: what runs out before which event, what replacing it costs, and the same as a calendar file."""

from dataclasses import replace
from datetime import UTC, datetime

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.charts.due_strip import DueBar, DueEvent, Grade, due_strip_svg
from tintop.errors import TintopError
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.season import DueDate, Season, season
from tintop.reports.calendar import CalendarDay, calendar_text
from tintop.rules.findings import Inspection
from tintop.web.inspected import inspected
from tintop.web.kept import kept
from tintop.web.page import Visit, Visitor, show

router = APIRouter()
_WIDE, _NARROW = 1100.0, 380.0


@router.get("/legal/dates")
def due_dates(visit: Visitor) -> Response:
    """What runs out before which event, as a strip and in words."""
    found = season_of(visit)
    bars = [
        DueBar(title=due.title, until=due.expires, grade=_grade(found, due))
        for due in found.dates
        if due.expires
    ]
    events = [DueEvent(name=each.name, day=each.last_day) for each in found.events]
    today = visit.garage.today()
    return show(
        visit,
        "due_dates.html",
        season=found,
        by_event=[(each, found.due_for(each.meeting)) for each in found.events],
        later=[due for due in found.dates if not due.due_for],
        names={each.meeting: each.name for each in found.events},
        wide=due_strip_svg(bars, events, today, width=_WIDE, name="due-wide"),
        narrow=due_strip_svg(bars, events, today, width=_NARROW, name="due-narrow"),
    )


@router.get("/legal/dates.ics")
def calendar(visit: Visitor) -> Response:
    """The same days as a calendar file, each with alarms before it."""
    found = season_of(visit)
    days = [
        *(
            CalendarDay(
                key=f"event {each.meeting}", title=each.name, first=each.first_day, last=each.last_day
            )
            for each in found.events
        ),
        *(
            CalendarDay(
                key=f"due {due.id}",
                title=f"{due.title}: last good day",
                first=due.expires,
                last=due.expires,
                words=f"{due.rule}. {due.to_do}".strip(),
            )
            for due in found.dates
            if due.expires
        ),
    ]
    text = calendar_text(
        days,
        title=visit.garage.settings.title,
        owner=visit.garage.settings.title,
        written_at=datetime.now(UTC),
    )
    return Response(
        text,
        media_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="due-dates.ics"'},
    )


def season_of(visit: Visit) -> Season:
    """The coming events with what runs out; a reader sees no prices."""
    garage = visit.garage
    inspections: dict[str, Inspection] = {}
    unread: dict[str, str] = {}
    for each in kept(garage, "meetings", meetings):
        if each.state is MeetingState.PAST:
            continue
        try:
            inspections[each.planned.meeting] = inspected(garage, each.planned).inspection
        except TintopError as error:
            unread[each.planned.meeting] = str(error)
    found = season(garage.book, garage.today(), inspections, unread)
    if visit.may_write:
        return found
    return replace(found, dates=tuple(replace(due, cents=None, price_of="") for due in found.dates))


def _grade(found: Season, due: DueDate) -> Grade:
    if not due.due_for:
        return "good"
    return "late" if found.events and due.due_for == found.events[0].meeting else "soon"
