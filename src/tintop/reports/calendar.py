"""Days to keep in mind as an iCalendar file (RFC 5545): whole days, each with alarms some days before."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import MAXYEAR, date, datetime, timedelta

from tintop.errors import refuse
from tintop.logbook.season import CHECK_COSTS, DueDate, Season, price_in_words

CAUTION = "Worked out by your rule books and the label as recorded; the label and the regulations come first."
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

    The same days written at the same moment give the same text. Raises BadInput for no day at all (a calendar
    holds one thing or more: RFC 5545, 3.6), a key that comes twice,
    a last day before the first or past the year 9998, and a moment without its time zone.
    """
    from icalendar import Alarm, Calendar, Event

    if written_at.tzinfo is None:
        raise refuse("moment of writing", written_at, "a moment with its time zone")
    if not days:
        raise refuse("calendar", "no date and no event", "one or more")
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


def days_of(
    season: Season,
    currency: str = "£",
    *,
    places: Mapping[str, str] | None = None,
    shows_money: bool = True,
) -> tuple[CalendarDay, ...]:
    """The coming events and every last good day of a season; prices only where `shows_money`.

    `places` are the names of the circuits, by the event's short name; without, the event's own stands.
    """
    names = {event.meeting: event.name for event in season.events}
    events = [
        CalendarDay(
            key=f"event {event.meeting}",
            title=event.name,
            first=event.first_day,
            last=event.last_day,
            words="\n".join(f"{_due_words(due)}: {due.title}" for due in season.due_for(event.meeting)),
            place=(places or {}).get(event.meeting, event.name),
        )
        for event in season.events
    ]
    dates = [
        CalendarDay(
            key=f"date {due.id}",
            title=f"{due.title}: {'last day in force' if due.edition else 'last good day'}",
            first=due.expires,
            last=due.expires,
            words="\n".join(_words(due, names.get(due.due_for, ""), currency, shows_money)),
        )
        for due in season.dates
        if due.expires is not None
    ]
    return (*events, *dates)


def _due_words(due: DueDate) -> str:
    if due.edition:
        return "Not in force on all of its days"
    if due.hit is not None:
        return f"Before it, {due.hit_words}"
    return "Runs out before it is over"


def _words(due: DueDate, event: str, currency: str, shows_money: bool) -> Iterator[str]:
    yield due.rule
    if due.hit_words:
        yield f"{due.hit_words[0].upper()}{due.hit_words[1:]}."
    elif event:
        yield f"Does not last {event}."
    if due.to_do:
        yield due.to_do
    if due.part_name and shows_money:
        yield f"{due.part_name}: {price_in_words(due, currency)}. {CHECK_COSTS}"
    yield CAUTION
