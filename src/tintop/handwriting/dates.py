"""A date: which is the day and which the month, which year, and what a month or a year alone means."""

import calendar
import re
from datetime import date, timedelta

from tintop.errors import refuse
from tintop.handwriting.meaning import MONTHS, Ask, Understood, settle, understood_day
from tintop.handwriting.notes import shown, tidy

DAY_FIRST, MONTH_FIRST = "day first", "month first"
_EXPECTED = 'a date such as "12 May 2026" or "2026-05-12"'
_FIRST_YEAR, _LAST_YEAR = 1950, 2100
_NEAR_YEARS = 12  # a month and two-digit year are read so near today; common practice, no source
_ISO = re.compile(r"([0-9]{4})([-/.]?)([0-9]{2})\2([0-9]{2})")
_THREE = re.compile(r"([0-9]{1,2}) ?([-/. ]) ?([0-9]{1,2}) ?\2 ?([0-9]{4}|[0-9]{2})")
_TWO = re.compile(r"([0-9]{1,2}) ?([-/.]) ?([0-9]{1,2})\.?")
_MONTH_YEAR = re.compile(r"([0-9]{1,2}) ?[-/. ] ?([0-9]{4})|([0-9]{4}) ?[-/] ?([0-9]{1,2})")
_YEAR = r"('?[0-9]{2}|[0-9]{4})"
_DAY_MONTH = re.compile(
    rf"([0-9]{{1,2}})(?:st|nd|rd|th)?[ .-]*(?:of )?([a-z]{{3,9}})\.?(?:[ ,.-]*{_YEAR})?", re.IGNORECASE
)
_MONTH_DAY = re.compile(
    rf"([a-z]{{3,9}})\.?[ .-]*([0-9]{{1,2}})(?:st|nd|rd|th)?(?:[ ,]+{_YEAR})?", re.IGNORECASE
)
_MONTH_ALONE = re.compile(rf"([a-z]{{3,9}})\.?[ ,.-]*{_YEAR}", re.IGNORECASE)
_SPOKEN = {"today": 0, "yesterday": -1, "tomorrow": 1}


def read_date(
    text: object, today: date, *, order: str | None = None, is_expiry: bool | None = None
) -> Understood | Ask[Understood]:
    """Read a date.

    `order` is the user's habit ("day first", "month first"). `is_expiry` tells what a month or a year alone
    means: its last day for an expiry, its first for something done, asked when None. A day without a year is
    the next one for an expiry, the last one for something done, the nearest when None.
    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "date", _EXPECTED)
    found = _spoken(tidied, today) or _iso(tidied) or _figures(tidied, today, order)
    found = found or _month_and_year(tidied, today, order, is_expiry) or _named(tidied, today, is_expiry)
    if not found:
        raise refuse("date", shown(tidied), _EXPECTED)
    return settle(tidied, f"Which day is {shown(tidied)}?", found)


def _spoken(text: str, today: date) -> list[Understood]:
    days = _SPOKEN.get(text.casefold())
    if days is None:
        return []
    return [understood_day(today + timedelta(days=days), text, is_guessed=False)]


def _day(year: int, month: int, day: int) -> date | None:
    if not (_FIRST_YEAR <= year <= _LAST_YEAR and 1 <= month <= 12):
        return None
    return date(year, month, day) if 1 <= day <= calendar.monthrange(year, month)[1] else None


def full_year(text: str, today: date) -> int:
    """A year of four digits, or of two the nearest to today."""
    digits = text.strip("'")
    if len(digits) == 4:
        return int(digits)
    century = today.year - today.year % 100
    return min((century + shift + int(digits) for shift in (-100, 0, 100)), key=lambda y: abs(y - today.year))


def _iso(text: str) -> list[Understood]:
    match = _ISO.fullmatch(text)
    day = _day(int(match[1]), int(match[3]), int(match[4])) if match else None
    return [understood_day(day, text, is_guessed=False)] if day else []


def _figures(text: str, today: date, order: str | None) -> list[Understood]:
    """Day, month and year in figures; points are written day first, strokes in either order."""
    match = _THREE.fullmatch(text)
    if match is None:
        return []
    year = full_year(match[4], today)
    one, two = int(match[1]), int(match[3])
    days = [found for found in (_day(year, two, one), _day(year, one, two)) if found]
    is_short = len(match[4]) == 2
    if len(set(days)) < 2:
        return [understood_day(day, text, is_guessed=is_short) for day in days]
    habit = order or (DAY_FIRST if match[2] == "." else None)
    if habit in (DAY_FIRST, MONTH_FIRST):
        return [understood_day(days[0 if habit == DAY_FIRST else 1], text, is_guessed=True, note=f"{habit}")]
    return [understood_day(day, text, is_guessed=True) for day in days]


def _month_and_year(text: str, today: date, order: str | None, is_expiry: bool | None) -> list[Understood]:
    """A year, a month and a year, or a day and a month without year: whatever of these fits."""
    if re.fullmatch(r"[0-9]{4}", text):
        return _period(int(text), None, text, is_expiry)
    match = _MONTH_YEAR.fullmatch(text)
    if match is not None:
        return _period(int(match[2] or match[3]), int(match[1] or match[4]), text, is_expiry)
    match = _TWO.fullmatch(text)
    if match is None:
        return []
    one, two = int(match[1]), int(match[3])
    found = []
    if order != MONTH_FIRST:
        found += _yearless(one, two, text, today, is_expiry)
    if order == MONTH_FIRST or (order is None and match[2] == "/" and one <= 12 and two <= 12):
        found += _yearless(two, one, text, today, is_expiry)
    year = full_year(match[3], today)
    if len(match[3]) == 2 and match[2] != "." and abs(year - today.year) <= _NEAR_YEARS:
        found += _period(year, one, text, is_expiry)
    return found


def _period(year: int, month: int | None, text: str, is_expiry: bool | None) -> list[Understood]:
    first, last = _day(year, month or 1, 1), _day(year, month or 12, 28)
    if first is None or last is None:
        return []
    last = last.replace(day=calendar.monthrange(last.year, last.month)[1])
    name = f"{MONTHS[month - 1]} {year}" if month else f"{year}"
    starts = understood_day(first, text, is_guessed=True, note=f"done in {name}, taken as its first day")
    ends = understood_day(last, text, is_guessed=True, note=f"runs out in {name}, taken as its last day")
    return [starts, ends] if is_expiry is None else [ends] if is_expiry else [starts]


def _yearless(day: int, month: int, text: str, today: date, is_expiry: bool | None) -> list[Understood]:
    around = [found for year in range(today.year - 8, today.year + 9) if (found := _day(year, month, day))]
    if is_expiry is not None:
        around = [found for found in around if (found >= today if is_expiry else found <= today)]
    if not around:
        return []
    nearest = min(around, key=lambda found: abs((found - today).days))
    return [understood_day(nearest, text, is_guessed=True, note="year assumed")]


def _named(text: str, today: date, is_expiry: bool | None) -> list[Understood]:
    """A day with the month in letters, or such a month of a year; "May 26" may be both."""
    found = []
    day_month, month_day = _DAY_MONTH.fullmatch(text), _MONTH_DAY.fullmatch(text)
    if day_month is not None:
        found += _ofmonth_named(day_month[1], day_month[2], day_month[3], text, today, is_expiry)
    if month_day is not None:
        found += _ofmonth_named(month_day[2], month_day[1], month_day[3], text, today, is_expiry)
    alone = _MONTH_ALONE.fullmatch(text)
    month = month_named(alone[1]) if alone else None
    if alone is not None and month is not None:
        found += _period(full_year(alone[2], today), month, text, is_expiry)
    return found


def _ofmonth_named(
    day: str, word: str, year: str | None, text: str, today: date, is_expiry: bool | None
) -> list[Understood]:
    month = month_named(word)
    if month is None:
        return []
    if year is None:
        return _yearless(int(day), month, text, today, is_expiry)
    found = _day(full_year(year, today), month, int(day))
    return [understood_day(found, text, is_guessed=len(year.strip("'")) < 4)] if found else []


def month_named(word: str) -> int | None:
    """The number of a month by its name or the beginning of it; None for no such month."""
    plain = word.casefold()
    for number, name in enumerate(MONTHS, start=1):
        if name.casefold().startswith(plain) or plain == "sept" == name[:4].casefold():
            return number
    return None
