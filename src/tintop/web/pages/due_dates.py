"""Due dates: what runs out before which event, what a new one costs, and the same as a calendar file."""

from dataclasses import replace
from datetime import UTC, datetime

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.charts.due_strip import DueBar, DueEvent, Grade, due_strip_svg
from tintop.garage.inspection import places_of
from tintop.garage.inspection import season_of as garage_season
from tintop.logbook.season import CHECK_COSTS, DueDate, Season, price_in_words
from tintop.reports.calendar import calendar_text, days_of
from tintop.web.page import Visit, Visitor, show

router = APIRouter()
_WIDE, _NARROW = 1100.0, 380.0


@router.get("/legal/dates")
def due_dates(visit: Visitor) -> Response:
    """What runs out before which event, as a strip and in words."""
    found = season_of(visit)
    bars = [
        DueBar(
            title=f"{due.title}{', to be proven anew' if due.hit else ''}",
            until=due.expires,
            grade=_grade(found, due),
        )
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
        price_in_words=price_in_words,
        check_costs=CHECK_COSTS,
        names={each.meeting: each.name for each in found.events},
        wide=due_strip_svg(bars, events, today, width=_WIDE, name="due-wide"),
        narrow=due_strip_svg(bars, events, today, width=_NARROW, name="due-narrow"),
    )


@router.get("/legal/dates.ics")
def calendar(visit: Visitor) -> Response:
    """The same days as a calendar file, each with alarms before it."""
    found = season_of(visit)
    settings = visit.garage.settings
    text = calendar_text(
        days_of(
            found,
            settings.currency,
            places=places_of(visit.garage, found),
            shows_money=visit.may_write,
        ),
        title=f"{settings.title}: dates",
        owner=settings.title,
        written_at=datetime.now(UTC),
    )
    return Response(
        text,
        media_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="due-dates.ics"'},
    )


def season_of(visit: Visit) -> Season:
    """The coming events with what runs out; a reader sees no prices."""
    found = garage_season(visit.garage)
    if visit.may_write:
        return found
    return replace(found, dates=tuple(replace(due, cents=None, price_of="") for due in found.dates))


def _grade(found: Season, due: DueDate) -> Grade:
    if not due.due_for:
        return "good"
    return "late" if found.events and due.due_for == found.events[0].meeting else "soon"
