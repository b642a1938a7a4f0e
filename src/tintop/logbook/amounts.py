"""Amounts, money and names of parts as they stand in a sentence."""

from datetime import date

from tintop.logbook.entries import Counter


def amount(value: float, counter: Counter) -> str:
    """Write an amount of a counter as the trade does: km, hours and minutes, laps, cycles, days."""
    match counter:
        case Counter.DISTANCE:
            return f"{value / 1e3:,.0f} km"
        case Counter.RUNNING:
            return f"{value / 3600.0:.1f} h"
        case Counter.LAPS:
            return f"{value:.0f} laps"
        case Counter.HEAT_CYCLES:
            return f"{value:.0f} heat cycles"
        case Counter.AGE:
            return f"{value:.0f} days"


def minutes_of(seconds: float) -> str:
    """Write a time in minutes, from two hours on in hours and minutes."""
    minutes = round(seconds / 60.0)
    return f"{minutes} min" if minutes < 120 else f"{minutes // 60} h {minutes % 60:02d} min"


def millimetres(thickness: float | None) -> str:
    """Write a thickness [m] in millimetres; a dash for none."""
    return "–" if thickness is None else f"{thickness * 1e3:.1f} mm"


def day_in_words(day: date) -> str:
    """A day as it is said: "Sat 5 December", with the year when it is not plain from what is around it."""
    return f"{day:%a} {day.day} {day:%B}"


_WORDS_OF = {"F": "front", "R": "rear"}, {"L": "left", "R": "right"}


def title_of(name: str, corner: str) -> str:
    """A part's name with its corner, unless the name says it already: "Front disc, left" stands for FL."""
    if not corner:
        return name
    said = set(name.replace(",", " ").casefold().split())
    is_said = corner.casefold() in said or {_WORDS_OF[0][corner[0]], _WORDS_OF[1][corner[1]]} <= said
    return name if is_said else f"{name}, {corner}"


def name_within(title: str) -> str:
    """A part's name within a sentence: its first letter small unless the word is all capitals."""
    first = title.split()[0] if title.split() else title
    return title if len(first) > 1 and first.isupper() else with_small_first(title)


def with_small_first(text: str) -> str:
    """A text with its first letter small."""
    return text[:1].lower() + text[1:]


def is_plural(title: str) -> bool:
    """Whether a part's name is a plural, told by its last letter: "front pads (fast road)" is."""
    head = title.split(" (")[0].split(",")[0].strip()
    return head.endswith("s") and not head.endswith(("ss", "us"))


def written_money(cents: float, currency: str, digits: int = 2) -> str:
    """Write hundredths as money, such as "£1,234.50"; a minus stands before the currency."""
    sign = "-" if round(cents, 2 - digits) < 0.0 else ""
    return f"{sign}{currency}{abs(cents) / 100.0:,.{digits}f}"
