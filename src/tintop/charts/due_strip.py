"""What runs out when, as a strip of days: a bar for each item to its last good day, a line for each event."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from tintop.charts.course_chart import month_ticks
from tintop.charts.ink import INK, MOSS, OCHRE, PAPER, PENCIL, RULE, RUST
from tintop.charts.svg import line, sheet, text

Grade = Literal["late", "soon", "good"]
_SIGNS: dict[Grade, tuple[str, str, str]] = {
    "late": ("✗", RUST, ""),
    "soon": ("≈", OCHRE, "6 3"),
    "good": ("✓", MOSS, ""),
}
_ROW, _HEAD, _FOOT, _SIDE, _SIZE = 38.0, 64.0, 12.0, 10.0, 13.0
_LETTER = 0.56  # of the size: the mean width of a letter
Place = Callable[[date], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class DueBar:
    """One item and its last good day: late before the next event's end, soon before another's."""

    title: str
    until: date
    grade: Grade


@dataclass(frozen=True, slots=True, kw_only=True)
class DueEvent:
    """One event of the season by its last day; drawn as its number in their order."""

    name: str
    day: date


def due_strip_svg(
    bars: Sequence[DueBar], events: Sequence[DueEvent], today: date, *, width: float, name: str = "due"
) -> str:
    """Draw the items, soonest first, over the season and on for two years at most; empty without one.

    An item that lasts longer is drawn to the strip's end with an arrow; the days stand in words at every bar.
    """
    if not bars:
        return ""
    first = max(
        min([today, *(each.day for each in events)]) - timedelta(days=31), today - timedelta(days=200)
    )
    latest = max([today, *(each.day for each in events), *(bar.until for bar in bars)])
    last = min(latest + timedelta(days=45), today + timedelta(days=730))
    span = max((last - first).days, 1)
    wide = width - 2.0 * _SIDE

    def place(day: date) -> float:
        return _SIDE + wide * min(max((day - first).days / span, 0.0), 1.0)

    height = _HEAD + _ROW * len(bars) + _FOOT
    body = [*_events(events, place, height), *_months(first, last, place, height, int(width / 70.0))]
    body.append(line([(place(today), _HEAD - 14.0), (place(today), height - _FOOT)], INK, 2.0))
    beside = min(place(today) + 4.0, width - 50.0)
    body.append(_on_paper(text(beside, _HEAD - 4.0, "today", size=_SIZE - 2.0, colour=INK)))
    for row, bar in enumerate(sorted(bars, key=lambda each: (each.until, each.title))):
        body += _bar(bar, _HEAD + _ROW * row, place(first), place(bar.until), bar.until > last, width)
    words = "; ".join(f"{bar.title} until {bar.until.isoformat()}" for bar in bars)
    return sheet(name, "What runs out when", words, width, height, body)


def _bar(bar: DueBar, top: float, start: float, end: float, is_beyond: bool, width: float) -> list[str]:
    sign, colour, dash = _SIGNS[bar.grade]
    when = f"{bar.until.day} {bar.until:%b} {bar.until:%Y}"
    most = int((width - 2.0 * _SIDE) / (_SIZE * _LETTER)) - len(when) - 4
    title = bar.title if len(bar.title) <= most else f"{bar.title[: most - 1]}…"
    middle = top + 26.0
    words = f"{sign} {title}, {when}"
    drawn = [
        _on_paper(text(_SIDE, top + 16.0, words, size=_SIZE, colour=INK, is_bold=bar.grade == "late")),
        line([(start, middle), (max(end, start + 1.0), middle)], colour, 7.0, dash),
    ]
    if is_beyond:
        drawn.append(line([(end - 7.0, middle - 6.0), (end, middle), (end - 7.0, middle + 6.0)], colour, 2.0))
    else:
        drawn.append(line([(end, middle - 7.0), (end, middle + 7.0)], colour, 3.0))
    return drawn


def _on_paper(words: str) -> str:
    """Words on a ground of paper, so that no line of a day runs through them."""
    ground = f'stroke="{PAPER}" stroke-width="10" stroke-linejoin="round" paint-order="stroke"'
    return words.replace("<text ", f"<text {ground} ", 1)


def _months(first: date, last: date, place: Place, height: float, most: int) -> list[str]:
    drawn: list[str] = []
    for ordinal, words in month_ticks(first, last, most):
        x = place(date.fromordinal(round(ordinal)))
        drawn.append(line([(x, _HEAD - 22.0), (x, height - _FOOT)], RULE, 1.0))
        drawn.append(_on_paper(text(x + 2.0, _HEAD - 26.0, words, size=_SIZE - 2.0, colour=PENCIL)))
    return drawn


def _events(events: Sequence[DueEvent], place: Place, height: float) -> list[str]:
    drawn: list[str] = []
    for number, each in enumerate(sorted(events, key=lambda one: one.day), start=1):
        x = place(each.day)
        drawn.append(line([(x, 24.0), (x, height - _FOOT)], PENCIL, 1.4, "2 3"))
        drawn.append(text(x, 18.0, str(number), size=_SIZE, colour=INK, is_bold=True, anchor="middle"))
    return drawn
