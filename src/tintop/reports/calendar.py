"""Days to keep in mind as an iCalendar file (RFC 5545): whole days, each with alarms some days before."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import MAXYEAR, date, datetime, timedelta

from tintop.errors import refuse

ALARMS = (60, 14)  # [day] before a date; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarDay:
    """One event or date; `last` counts in, `alarms` are days before the first.

    `key` stays the same from one file to the next, whatever else moves.
    """

    key: str
    title: str
    first: date
    last: date
    words: str = ""
    place: str = ""
    alarms: tuple[int, ...] = ALARMS


def calendar_text(days: Sequence[CalendarDay], *, title: str, owner: str, written_at: datetime) -> str:
    """The days as the text of an iCalendar file, by date; `owner` keeps keys of one garage from another's.

    The same days written at the same moment give the same text. Raises BadInput for a key that comes twice,
    a last day before the first or past the year 9998, and a moment without its time zone.
    """
    from icalendar import Alarm, Calendar, Event

    if written_at.tzinfo is None:
        raise refuse("moment of writing", written_at, "a moment with its time zone")
    _refuse_twice(days)
    calendar = Calendar()
    calendar.add("prodid", "-//tintop//dates of a car//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", title)
    for day in sorted(days, key=lambda each: (each.first, each.key)):
        if day.last < day.first:
            raise refuse(day.title, f"a last day {day.last} before the first", "the first day or later")
        if day.last.year == MAXYEAR:
            raise refuse(day.title, day.last, f"a day before the year {MAXYEAR}")
        event = Event()
        event.add("uid", _uid(owner, day.key))
        event.add("dtstamp", written_at)
        event.add("dtstart", day.first)
        event.add("dtend", day.last + timedelta(days=1))  # RFC 5545, 3.6.1: the end is not part of it
        event.add("summary", day.title)
        event.add("transp", "TRANSPARENT")
        for name, text in (("description", day.words), ("location", day.place)):
            if text:
                event.add(name, text)
        for before in day.alarms:
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", f"In {before} days: {day.title}")
            alarm.add("trigger", timedelta(days=-before))
            event.add_component(alarm)
        calendar.add_component(event)
    return str(calendar.to_ical().decode("utf-8"))


def _refuse_twice(days: Iterable[CalendarDay]) -> None:
    seen: set[str] = set()
    for day in days:
        if day.key in seen:
            raise refuse(day.title, f"the key {day.key!r} a second time", "a key that comes once")
        seen.add(day.key)


def _uid(owner: str, key: str) -> str:
    """A name no other garage's date has, the same in every file; nobody's name in it (RFC 7986, 5.3)."""
    from uuid import NAMESPACE_URL, uuid5

    return f"{uuid5(NAMESPACE_URL, f'tintop:{owner}:{key}')}@tintop"
