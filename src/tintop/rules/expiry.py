"""The last good day of what a label bears, by the kind of rule a book names."""

import calendar
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from tintop.rules.book import Expiry, ExpiryKind
from tintop.rules.evaluate import Given, NotKnownError
from tintop.rules.facts import FactKey, FactValue, Marked, Unreadable
from tintop.rules.figures import write_day, write_value

_COUNTS_FROM_A_DAY = (ExpiryKind.TO_THE_DAY, ExpiryKind.MONTH_END)
_COUNTS_FROM_A_MONTH = (*_COUNTS_FROM_A_DAY, ExpiryKind.MONTH_MADE, ExpiryKind.EXTENDABLE)
_COUNTS_FROM_MADE = (ExpiryKind.YEAR_MADE, ExpiryKind.MONTH_MADE, ExpiryKind.EXTENDABLE)
_ENDLESS = (ExpiryKind.NO_LIFE, ExpiryKind.HOMOLOGATION_END, ExpiryKind.LABEL_THERE)


@dataclass(frozen=True, slots=True, kw_only=True)
class LastDay:
    """The last good day, None for no end; the fact whose label cannot be read; the working.

    `latest` is a later day it may also be, where a month is counted from and only the year is known.
    """

    day: date | None
    latest: date | None = None
    unreadable: FactKey | None = None
    working: tuple[str, ...] = ()


def facts_of(expiry: Expiry) -> tuple[FactKey, ...]:
    """Give the facts an expiry rests on; without the second certificate, which need not be there."""
    keys = (expiry.marked, expiry.standard, *expiry.earliest_of)
    return tuple(key for key in keys if key is not None)


def last_good_day(expiry: Expiry, given: Given) -> LastDay:
    """Give the last day on which it may be used.

    Raises NotKnownError for a fact that is missing, a standard the book gives no end for, or a second
    certificate older than what it extends.
    """
    missing = [key for key in map(given.key, facts_of(expiry)) if key not in given.values]
    if missing:
        raise NotKnownError(missing)
    if not facts_of(expiry):
        raise NotKnownError(why="the clause names no label to read")
    labels = [given.key(key) for key in facts_of(expiry)]
    unreadable = next((key for key in labels if _is_unreadable(given.values[key])), None)
    if unreadable is not None and expiry.kind is not ExpiryKind.NO_LIFE:
        return LastDay(day=None, unreadable=unreadable)
    days = list(_days(expiry, given))
    latest = list(_days(expiry, given, is_early=False))
    return LastDay(day=_first(days), latest=_first(latest), working=tuple(line for _, line in days))


def counted_from(expiry: Expiry) -> tuple[FactKey, ...]:
    """Give the facts with the day something was made, checked or certified: what is counted from."""
    is_counted = expiry.kind in _COUNTS_FROM_MADE or (
        expiry.kind in _COUNTS_FROM_A_DAY and bool(expiry.years or expiry.months)
    )
    keys = (expiry.marked if is_counted else None, expiry.extended_from)
    return tuple(key for key in keys if key is not None)


def _first(days: list[tuple[date | None, str]]) -> date | None:
    return min((day for day, _ in days if day is not None), default=None)


def _is_unreadable(value: FactValue) -> bool:
    return isinstance(value, Unreadable) or value is False


def _days(expiry: Expiry, given: Given, is_early: bool = True) -> Iterator[tuple[date | None, str]]:
    """Each day that ends it, with how it was come by; a month not known counts as the first or the last."""
    if expiry.kind is ExpiryKind.WITHDRAWN:
        yield _withdrawn(expiry, given)
    elif expiry.kind in _ENDLESS:
        yield None, _endless(expiry, given)
    elif expiry.marked is not None:
        said = _marked(expiry.marked, given)
        marked = _in_month(expiry.kind, said, is_early)
        day = _counted(expiry, marked)
        month = "" if marked is said else f" counted from {marked.day:%B}, as the month is missing"
        line = f"{_said(expiry.marked, given)}, {expiry.kind}{_life(expiry)}{month}: {write_day(day)}"
        extended = _extended(expiry, given, marked, day, is_early)
        yield (day, line) if extended is None else (extended[0], f"{line}; {extended[1]}")
    for key in expiry.earliest_of:
        day = _marked(key, given).day
        yield day, f"{_said(key, given)}: {write_day(day)}"


def _counted(expiry: Expiry, marked: Marked) -> date:
    months = 12 * expiry.years + expiry.months
    match expiry.kind:
        case ExpiryKind.YEAR_MADE:
            return date(marked.day.year + expiry.years, 12, 31)
        case ExpiryKind.LABEL_YEAR:
            later = add_months(last_day(marked), 12 * expiry.years)
            return later if marked.precision == "day" else _month_end(later)
        case ExpiryKind.MONTH_MADE | ExpiryKind.EXTENDABLE:
            later = add_months(marked.day, months)
            is_to_the_day = expiry.kind is ExpiryKind.EXTENDABLE and marked.precision == "day"
            return later if is_to_the_day else _month_end(later)
        case ExpiryKind.TO_THE_DAY:
            return add_months(first_day(marked), months)
        case ExpiryKind.MONTH_END:
            start = first_day(marked)
            later = add_months(start, months)
            return _month_end(later) if start == _month_end(start) else later
        case _:
            return marked.day


def add_months(day: date, months: int) -> date:
    """Give the same day so many months on; the month's last where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def first_day(marked: Marked) -> date:
    """Give the first day that fits a date as marked: what counts from a day counts from there."""
    match marked.precision:
        case "year":
            return date(marked.day.year, 1, 1)
        case "month":
            return marked.day.replace(day=1)
        case _:
            return marked.day


def last_day(marked: Marked) -> date:
    """Give the last day that fits a date as marked."""
    match marked.precision:
        case "year":
            return date(marked.day.year, 12, 31)
        case "month":
            return _month_end(marked.day)
        case _:
            return marked.day


def _in_month(kind: ExpiryKind, marked: Marked, is_early: bool) -> Marked:
    """A year where a month is counted from, as its first or its last month."""
    if marked.precision != "year" or kind not in _COUNTS_FROM_A_MONTH:
        return marked
    return Marked(day=date(marked.day.year, 1 if is_early else 12, 31), precision="month")


def _month_end(day: date) -> date:
    return day.replace(day=calendar.monthrange(day.year, day.month)[1])


def _extended(
    expiry: Expiry, given: Given, marked: Marked, first_end: date, is_early: bool
) -> tuple[date, str] | None:
    """The end after it was certified again: so long from the certificate, or past the first end at most."""
    if expiry.kind is not ExpiryKind.EXTENDABLE or expiry.extended_from is None:
        return None
    key = given.key(expiry.extended_from)
    if key not in given.values:
        return None
    again = given.values[key]
    if not isinstance(again, Marked):
        return None
    if last_day(again) < first_day(marked):
        raise NotKnownError(why=f"it was certified again ({write_day(again.day)}) before it was made")
    again = _in_month(expiry.kind, again, is_early)
    months = 12 * expiry.extension_years
    by_certificate = add_months(again.day, months)
    if again.precision != "day":
        by_certificate = _month_end(by_certificate)
    day = max(first_end, min(by_certificate, add_months(first_end, months)))
    lasting = f"once more {_years(expiry.extension_years)}: {write_day(day)}"
    return day, f"certified again {write_day(again.day)}, {lasting}"


def _withdrawn(expiry: Expiry, given: Given) -> tuple[date | None, str]:
    if expiry.standard is None or not expiry.until:
        raise NotKnownError(why="the clause names no standard with its end")
    standard = given.values[given.key(expiry.standard)]
    ends = {_plain(name): (name, end) for name, end in expiry.until.items()}
    if not isinstance(standard, str) or _plain(standard) not in ends:
        raise NotKnownError(why=f"{standard} is not on this book's list: {', '.join(expiry.until)}")
    name, end = ends[_plain(standard)]
    return end, f"{name}: {'no end given' if end is None else f'accepted until {write_day(end)}'}"


def _endless(expiry: Expiry, given: Given) -> str:
    said = "; ".join(_said(key, given) for key in facts_of(expiry))
    match expiry.kind:
        case ExpiryKind.NO_LIFE:
            return f"{said}: no life limit, looked over only"
        case ExpiryKind.HOMOLOGATION_END:
            return f"{said}: the maker may build no more after that; use may go on while it is serviced"
        case _:
            return f"{said}: there and readable"


def _marked(key: FactKey, given: Given) -> Marked:
    value = given.values[given.key(key)]
    if not isinstance(value, Marked):
        raise NotKnownError(why=f"{given.facts[key.fact].ask} is no date")
    return value


def _said(key: FactKey, given: Given) -> str:
    fact = given.facts[key.fact]
    return f"{fact.ask} {write_value(fact, given.values[given.key(key)])}"


def _life(expiry: Expiry) -> str:
    parts = [_years(expiry.years)] if expiry.years else []
    parts += [f"{expiry.months} month{'s' if expiry.months != 1 else ''}"] if expiry.months else []
    return f" + {' '.join(parts)}" if parts else ""


def _years(count: int) -> str:
    return f"{count} year{'s' if count != 1 else ''}"


def _plain(standard: str) -> str:
    return "".join(standard.casefold().split())
