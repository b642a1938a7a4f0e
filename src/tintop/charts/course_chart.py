"""How values went, against days or hours: points with their doubt, lines and stairs, limits, a key."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from html import escape
from itertools import pairwise
from typing import Literal

from tintop.charts.ink import BLUE, INK, MOSS, OCHRE, PAPER, PENCIL, PLUM, RULE, RUST
from tintop.charts.strips import Bound, even_ticks
from tintop.charts.svg import line, sheet, text

_WIDTH, _LEFT, _RIGHT, _TOP, _FOOT = 760.0, 58.0, 18.0, 40.0, 26.0
_ROW, _LETTER, _SIZE = 19.0, 7.4, 13.0
_MARK = 4.2

Mark = Literal["dot", "square", "triangle", "diamond", "none"]
_COLOURS = (INK, BLUE, RUST, MOSS, PLUM, OCHRE)
_DASHES = ("", "8 3", "2 3", "9 3 2 3", "14 4", "5 2 5 6")
_MARKS: tuple[Mark, ...] = ("dot", "square", "triangle", "diamond")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a course is drawn: never by colour alone."""

    colour: str
    dash: str
    mark: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Values at places, oldest first; `doubts` are half ranges drawn as bars, stairs hold to the next place.

    A course without a line is points alone.
    """

    words: str
    look: Look
    places: tuple[float, ...]
    values: tuple[float, ...]
    doubts: tuple[float, ...] = ()
    is_stepped: bool = False
    has_line: bool = True


def look_of(place: int) -> Look:
    """Give the look of the course at a place: colour, dashes and mark all differ from its neighbours'."""
    return Look(
        colour=_COLOURS[place % len(_COLOURS)],
        dash=_DASHES[place % len(_DASHES)],
        mark=_MARKS[place % len(_MARKS)],
    )


def month_ticks(first: date, last: date, most: int = 12) -> tuple[tuple[float, str], ...]:
    """The first of each month between two days, or of every second, third and so on, with its year once."""
    months = range(first.year * 12 + first.month - 1, last.year * 12 + last.month)
    every = next(step for step in (1, 2, 3, 6, 12, 24, 60, 120, 12_000) if len(months) / step <= most)
    ticks: list[tuple[float, str]] = []
    year = 0
    for month in months:
        day = date(month // 12, month % 12 + 1, 1)
        if day < first or month % every:
            continue
        ticks.append((float(day.toordinal()), f"{day:%b}" if day.year == year else f"{day:%b %Y}"))
        year = day.year
    return tuple(ticks)


def course_svg(
    name: str,
    title: str,
    unit: str,
    courses: Sequence[Course],
    ticks: Sequence[tuple[float, str]],
    *,
    span: tuple[float, float],
    bounds: Sequence[Bound] = (),
    axis_words: str = "",
    height: float = 250.0,
) -> str:
    """Draw courses over one axis from `span[0]` to `span[1]`; `ticks` are places with their words."""
    said = [value for course in courses for value in course.values] + [bound.value for bound in bounds]
    low, high = min(said, default=0.0), max(said, default=1.0)
    room = 0.08 * (high - low) or 1.0
    low, high = low - room, high + room
    rows = _key_rows(courses)
    top = _TOP + _ROW * len(rows)
    frame = _Frame(first=span[0], last=max(span[1], span[0] + 1e-9), low=low, high=high, top=top, deep=height)
    body = [
        text(_LEFT, 20.0, f"{title} [{unit}]" if unit else title, size=15, is_bold=True),
        *(part for place, row in enumerate(rows) for part in _key(row, 38.0 + _ROW * place)),
        *_grid(frame, ticks, axis_words),
        *(part for bound in bounds for part in _bound(frame, bound)),
        *(part for course in courses for part in _drawn(frame, course)),
    ]
    description = "; ".join(
        f"{course.words}: " + ", ".join(f"{value:.4g}" for value in course.values) for course in courses
    )
    return sheet(
        name,
        title,
        f"{description}. Unit {unit}.",
        _WIDTH,
        top + height + _FOOT + (_ROW if axis_words else 0.0),
        body,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    first: float
    last: float
    low: float
    high: float
    top: float
    deep: float

    def at(self, place: float, value: float) -> tuple[float, float]:
        across = (place - self.first) / (self.last - self.first)
        up = (value - self.low) / (self.high - self.low)
        return _LEFT + across * (_WIDTH - _LEFT - _RIGHT), self.top + (1.0 - up) * self.deep


def _key_rows(courses: Sequence[Course]) -> list[list[tuple[float, Course]]]:
    rows: list[list[tuple[float, Course]]] = [[]]
    x = _LEFT
    for course in courses:
        wide = 44.0 + _LETTER * len(course.words)
        if rows[-1] and x + wide > _WIDTH - _RIGHT:
            rows.append([])
            x = _LEFT
        rows[-1].append((x, course))
        x += wide + 12.0
    return rows if len(courses) > 1 else []


def _key(row: Sequence[tuple[float, Course]], y: float) -> list[str]:
    drawn = []
    for x, course in row:
        if course.has_line:
            drawn.append(line([(x, y), (x + 32.0, y)], course.look.colour, 1.8, course.look.dash))
        drawn.append(_mark(x + 16.0, y, course.look))
        drawn.append(text(x + 39.0, y + 4.5, course.words, size=_SIZE))
    return drawn


def _grid(frame: _Frame, ticks: Sequence[tuple[float, str]], words: str) -> list[str]:
    drawn = []
    for value in even_ticks(frame.low, frame.high, 6):
        x, y = frame.at(frame.first, value)
        drawn.append(line([(x, y), (_WIDTH - _RIGHT, y)], RULE, 1.0))
        drawn.append(
            text(x - 8.0, y + 4.5, f"{value:g}".replace("-", "−"), size=_SIZE, colour=PENCIL, anchor="end")
        )
    bottom = frame.top + frame.deep
    drawn.append(line([(_LEFT, bottom), (_WIDTH - _RIGHT, bottom)], PENCIL, 1.0))
    for place, said in ticks:
        if not frame.first <= place <= frame.last:
            continue
        x, _ = frame.at(place, frame.low)
        drawn.append(line([(x, bottom), (x, bottom + 5.0)], PENCIL, 1.0))
        anchor = "end" if x > _WIDTH - 50.0 else "middle"
        drawn.append(text(x, bottom + 19.0, said, size=_SIZE, colour=PENCIL, anchor=anchor))
    if words:
        drawn.append(text(_WIDTH - _RIGHT, bottom + 37.0, words, size=_SIZE, colour=PENCIL, anchor="end"))
    return drawn


def _bound(frame: _Frame, bound: Bound) -> list[str]:
    x, y = frame.at(frame.first, bound.value)
    return [
        line([(x, y), (_WIDTH - _RIGHT, y)], bound.colour, 1.4, "1.6 2.4"),
        text(x + 4.0, y - 5.0, bound.words, size=_SIZE, colour=bound.colour),
    ]


def _drawn(frame: _Frame, course: Course) -> list[str]:
    places = [frame.at(place, value) for place, value in zip(course.places, course.values, strict=True)]
    drawn = []
    if course.has_line and len(places) > 1:
        path = places
        if course.is_stepped:
            path = [places[0]]
            for (_, before), (x, y) in pairwise(places):
                path += [(x, before), (x, y)]
        drawn.append(line(path, course.look.colour, 1.8, course.look.dash))
    for place, value, doubt in zip(course.places, course.values, course.doubts, strict=False):
        drawn.append(
            line([frame.at(place, value - doubt), frame.at(place, value + doubt)], course.look.colour, 1.4)
        )
    for (x, y), value in zip(places, course.values, strict=True):
        drawn.append(_mark(x, y, course.look, f"{course.words}: {value:.4g}"))
    return drawn


def _mark(x: float, y: float, look: Look, said: str = "") -> str:
    r = _MARK
    match look.mark:
        case "none":
            return ""
        case "dot":
            shape = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r}"'
        case "square":
            shape = _polygon(x, y, ((-r, -r), (r, -r), (r, r), (-r, r)))
        case "triangle":
            shape = _polygon(x, y, ((0.0, -1.3 * r), (1.2 * r, r), (-1.2 * r, r)))
        case "diamond":
            shape = _polygon(x, y, ((0.0, -1.4 * r), (1.4 * r, 0.0), (0.0, 1.4 * r), (-1.4 * r, 0.0)))
    title = f"<title>{escape(said)}</title>" if said else ""
    name = shape.split(" ", 1)[0].removeprefix("<")
    return f'{shape} fill="{look.colour}" stroke="{PAPER}" stroke-width="1">{title}</{name}>'


def _polygon(x: float, y: float, corners: Sequence[tuple[float, float]]) -> str:
    places = " ".join(f"{x + across:.1f},{y + down:.1f}" for across, down in corners)
    return f'<polygon points="{places}"'
