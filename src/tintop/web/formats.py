"""Values as the page writes them: money, dates, times, quantities in the owner's units."""

import math
import unicodedata
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from tintop.answer import Figure
from tintop.logbook.entries import Counter
from tintop.units import unit_named

THIN = "\u202f"
MINUS = "\u2212"

_YEAR, _YEARS_FROM = 365.25, 730.0  # days
_FIGURE_UNITS = {"m3": ("L", 1e3, 1), "m": ("mm", 1e3, 1), "m/s": ("km/h", 3.6, 0), "J": ("MJ", 1e-6, 0)}


def number(value: float | None, digits: int = 0) -> str:
    """Write a number with thin spaces between thousands; a dash for none."""
    if value is None or not math.isfinite(value):
        return "–"
    return f"{value:,.{digits}f}".replace(",", THIN).replace("-", MINUS)


def money(cents: int | float | None, currency: str = "", digits: int = 0) -> str:
    """Write hundredths as money."""
    if cents is None:
        return "–"
    sign = MINUS if cents < 0 else ""
    return f"{sign}{currency}{number(abs(cents) / 100.0, digits)}"


def day(value: date | str | None) -> str:
    """Write a day as "Sat 20 June 2026"; text given is read as ISO."""
    if not value:
        return "–"
    found = date.fromisoformat(value[:10]) if isinstance(value, str) else value
    return f"{found:%a} {found.day} {found:%B} {found.year}"


def short_day(value: date | None) -> str:
    """Write a day as "20 Jun 26"."""
    return f"{value.day} {value:%b} {value:%y}" if value else "–"


def moment(value: str) -> str:
    """Write an ISO moment as "20 Jun 26, 14:05" in local time."""
    found = datetime.fromisoformat(value).astimezone()
    return f"{short_day(found.date())}, {found:%H:%M}"


def lap_time(seconds: float | None, digits: int = 2) -> str:
    """Write a lap time as "1:43.20"."""
    if seconds is None or not math.isfinite(seconds):
        return "–"
    scale = 10**digits
    minutes, rest = divmod(round(seconds * scale), 60 * scale)
    width = 3 + digits if digits else 2
    return f"{minutes}:{rest / scale:0{width}.{digits}f}"


def hours(seconds: float | None) -> str:
    """Write a time as "2 h 05 min"."""
    if seconds is None or not math.isfinite(seconds):
        return "–"
    minutes = round(seconds / 60.0)
    sign, minutes = ("", minutes) if minutes >= 0 else (MINUS, -minutes)
    if minutes < 60:
        return f"{sign}{minutes} min"
    return f"{sign}{minutes // 60} h {minutes % 60:02d} min"


def quantity(value: float | None, unit: str, digits: int = 1, of: str | None = None) -> str:
    """Write an SI value in a named unit with so many decimals, such as "32.0 psi"."""
    if value is None or not math.isfinite(value):
        return "–"
    found = unit_named(unit, of)
    return f"{number((value - found.offset) / found.factor, digits)}{THIN}{found.name}"


def figure(value: float, of: Figure) -> str:
    """Write one value of a figure in the unit an owner reads."""
    if of.unit == "s":
        return lap_time(value) if "lap" in of.name and value > 20.0 else hours(value)
    if of.unit == "cents":
        return money(value)
    if len(of.unit) == 1 and unicodedata.category(of.unit) == "Sc":
        return money(100.0 * value, of.unit)
    if of.unit == "m" and abs(value) >= 10.0:
        return f"{number(value / 1000.0, 0 if abs(value) >= 1e5 else 1)}{THIN}km"
    if of.unit == "d":
        return f"{number(value)}{THIN}days"
    if of.unit in ("laps", "clauses"):
        return number(value)
    if of.unit in ("share", "probability", "1", "") and 0.0 <= value <= 1.0:
        return f"{number(100.0 * value)}{THIN}%"
    name, factor, digits = _FIGURE_UNITS.get(of.unit, (of.unit, 1.0, 1))
    if of.unit == "m3" and abs(value) < 0.005:
        digits = 2
    return f"{number(value * factor, digits)}{THIN}{name}".strip()


def counted(value: float, counter: str) -> str:
    """Write an amount of a part's life in the unit of its counter."""
    match Counter(counter):
        case Counter.RUNNING:
            return hours(value)
        case Counter.DISTANCE:
            return f"{number(value / 1000.0)}{THIN}km"
        case Counter.AGE:
            return age(value)
        case Counter.LAPS | Counter.HEAT_CYCLES:
            return f"{number(value)}{THIN}{counter}"


def age(days: float) -> str:
    """Write an age in days, from two years on in years."""
    if abs(days) < _YEARS_FROM:
        return f"{number(days)}{THIN}day{'' if round(abs(days)) == 1 else 's'}"
    years = round(days / _YEAR, 1)
    return f"{number(years, 0 if years == round(years) else 1)}{THIN}years"


def left(value: float, counter: str) -> str:
    """Write what is left of a limit; what it is past, as so much short."""
    return f"{counted(-value, counter)} short" if value < 0.0 else counted(value, counter)


def several(count: int, one: str, many: str) -> str:
    """Write a count with its noun: "1 entry", "2 entries"."""
    return f"{number(count)} {one if count == 1 else many}"


FILTERS: Mapping[str, Callable[..., Any]] = {
    "number": number,
    "money": money,
    "day": day,
    "short_day": short_day,
    "moment": moment,
    "lap_time": lap_time,
    "hours": hours,
    "quantity": quantity,
    "figure": figure,
    "counted": counted,
    "left": left,
    "age": age,
    "several": several,
    "sign": lambda verdict: verdict.sign,
}
