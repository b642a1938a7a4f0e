"""What the car is built of on a day, what lies on the shelf, and what became of the rest.

A part is on the car from the day it was fitted to the day it came off. Without a clock, a part fitted counts
from the start of its day and one taken off to the end of it, so that neither misses a session it may have
run in; where one part makes way for another the change stands before the day's running, or after it when
the part that came off failed that day.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from tintop.logbook.amounts import title_of
from tintop.logbook.book import Logbook
from tintop.logbook.entries import (
    Area,
    Corner,
    Entry,
    Fate,
    PaperAdded,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
)

START_OF_DAY, END_OF_DAY = "00:00", "24:00"
_AREA_OF_CORNER: Mapping[str, Area] = {
    "FL": Area.FRONT_LEFT,
    "FR": Area.FRONT_RIGHT,
    "RL": Area.REAR_LEFT,
    "RR": Area.REAR_RIGHT,
}
_CORNER_OF_AREA: Mapping[Area, Corner] = {
    Area.FRONT_LEFT: "FL",
    Area.FRONT_RIGHT: "FR",
    Area.REAR_LEFT: "RL",
    Area.REAR_RIGHT: "RR",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """One stay of a part on the car; `until` is None while it is still there."""

    area: Area
    corner: Corner
    since: date
    since_clock: str
    entry: int  # that put it on
    until: date | None = None
    until_clock: str = END_OF_DAY
    until_entry: int | None = None  # that took it off

    def covers(self, day: date, clock: str) -> bool:
        """Whether the part was on the car then; a moment without a clock counts if it may have been."""
        if day < self.since or (self.until is not None and day > self.until):
            return False
        if day == self.since and (self.since_clock == END_OF_DAY or (clock and clock < self.since_clock)):
            return False
        return not (
            day == self.until and (self.until_clock == START_OF_DAY or (clock and clock >= self.until_clock))
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PartToday:
    """A part as it stands on a day: where it is or was last, its stays on the car, failures and papers.

    `failed` holds what went wrong and has not been mended since: only an inspection that says in words what
    was found, after the failure, ends one.
    """

    part: PartAdded
    entry: int  # number of the entry that added it
    added_on: date
    area: Area
    corner: Corner
    fittings: tuple[Fitting, ...] = ()
    inspected: tuple[tuple[date, str], ...] = ()  # day and clock of every inspection
    failed: tuple[PartFailed, ...] = ()
    fate: Fate | None = None  # of a part that is off the car
    gone_on: date | None = None
    reason: str = ""
    papers: tuple[PaperAdded, ...] = ()

    @property
    def is_fitted(self) -> bool:
        """Whether it is on the car."""
        return bool(self.fittings) and self.fittings[-1].until is None

    @property
    def since(self) -> date | None:
        """The day its present stay on the car began."""
        return self.fittings[-1].since if self.is_fitted else None

    @property
    def title(self) -> str:
        """Its name, with the corner where it has one."""
        return title_of(self.part.name, self.corner)


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """The car's parts on a day; `unknown` names parts fitted or taken off that were never added."""

    day: date
    fitted: tuple[PartToday, ...]
    shelf: tuple[PartToday, ...]
    gone: tuple[PartToday, ...]
    unknown: tuple[str, ...] = ()
    by_name: Mapping[str, PartToday] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartEvent:
    """One thing that happened to a part, in words."""

    day: date
    clock: str
    entry: int
    who: str
    what: str


def build_on(book: Logbook, day: date) -> Build:
    """The build at the end of a day, parts in the order of the areas as one walks round the car."""
    known = parts_on(book, day)
    order = {area: place for place, area in enumerate(Area)}
    walk = sorted(known.values(), key=lambda each: (order[each.area], each.corner, each.part.part))
    mentioned = {fitted.part for entry, fitted in book.of(PartFitted) if entry.day <= day} | {
        removed.part for entry, removed in book.of(PartRemoved) if entry.day <= day
    }
    return Build(
        day=day,
        fitted=tuple(each for each in walk if each.is_fitted),
        shelf=tuple(each for each in walk if not each.is_fitted and each.fate in (None, Fate.KEPT)),
        gone=tuple(each for each in walk if not each.is_fitted and each.fate not in (None, Fate.KEPT)),
        unknown=tuple(sorted(mentioned - set(known))),
        by_name=known,
    )


def parts_on(book: Logbook, day: date) -> dict[str, PartToday]:
    """Every part known by the end of a day, by its short name."""
    added: dict[str, tuple[Entry, PartAdded]] = {}
    moves: dict[str, list[_Move]] = {}
    for entry, part in book.of(PartAdded):
        if entry.day > day:
            continue
        added[part.part] = (entry, part)
        if part.came_with_car:
            moves.setdefault(part.part, []).append(_Move(entry=entry, on=True, corner=part.corner))
    failures: dict[str, list[tuple[Entry, PartFailed]]] = {}
    for entry, failure in book.of(PartFailed):
        if entry.day <= day:
            failures.setdefault(failure.part, []).append((entry, failure))
    for move, name in _moves(book, day, failures):
        moves.setdefault(name, []).append(move)
    inspections: dict[str, list[tuple[Entry, PartInspected]]] = {}
    for entry, inspected in book.of(PartInspected):
        if entry.day <= day:
            inspections.setdefault(inspected.part, []).append((entry, inspected))
    papers: dict[str, list[PaperAdded]] = {}
    for entry, paper in book.of(PaperAdded):
        if entry.day <= day and paper.about:
            papers.setdefault(paper.about, []).append(paper)
    return {
        name: _part_today(
            entry,
            part,
            moves.get(name, []),
            tuple((when.day, clock_of(when.clock)) for when, _ in inspections.get(name, ())),
            _not_mended(book, failures.get(name, []), inspections.get(name, [])),
            tuple(papers.get(name, ())),
        )
        for name, (entry, part) in added.items()
    }


def part_history(book: Logbook, part: str) -> tuple[PartEvent, ...]:
    """All that happened to a part, oldest first."""
    told: list[PartEvent] = []

    def tell(entry: Entry, what: str) -> None:
        told.append(PartEvent(day=entry.day, clock=entry.clock, entry=entry.number, who=entry.who, what=what))

    for entry, added in book.of(PartAdded):
        if added.part == part:
            tell(entry, "there when the car was bought" if added.came_with_car else "added")
    for entry, fitted in book.of(PartFitted):
        if fitted.part == part:
            at = f" at {fitted.corner}" if fitted.corner else ""
            tell(entry, f"fitted{at}" + (f" in place of {fitted.replaces}" if fitted.replaces else ""))
        elif fitted.replaces == part:
            tell(entry, f"made way for {fitted.part}")
    for entry, removed in book.of(PartRemoved):
        if removed.part == part:
            tell(entry, _with_reason(f"taken off, {removed.fate}", removed.reason))
    for entry, inspected in book.of(PartInspected):
        if inspected.part == part:
            tell(entry, _with_reason("inspected", inspected.found))
    for entry, failure in book.of(PartFailed):
        if failure.part == part:
            tell(entry, _with_reason(f"failed: {failure.what}", failure.consequence))
    return tuple(sorted(told, key=lambda event: (event.day, clock_of(event.clock), event.entry)))


def clock_of(written: str) -> str:
    """A clock such as "9:05" as "09:05", so that clocks sort; empty stays empty."""
    return written.strip().zfill(5) if written.strip() else ""


def _with_reason(what: str, reason: str) -> str:
    return f"{what}: {reason}" if reason else what


@dataclass(frozen=True, slots=True, kw_only=True)
class _Move:
    entry: Entry
    on: bool
    corner: Corner = ""
    fate: Fate = Fate.KEPT
    reason: str = ""
    is_change: bool = False  # one part made way for another
    is_after_running: bool = False


def _moves(
    book: Logbook, day: date, failures: Mapping[str, list[tuple[Entry, PartFailed]]]
) -> Iterator[tuple[_Move, str]]:
    said_removed = {(removed.part, entry.day) for entry, removed in book.of(PartRemoved)}
    for entry, fitted in book.of(PartFitted):
        if entry.day > day:
            continue
        failed_today = any(when.day == entry.day for when, _ in failures.get(fitted.replaces, ()))
        yield (
            _Move(entry=entry, on=True, corner=fitted.corner, is_after_running=failed_today),
            fitted.part,
        )
        if fitted.replaces and (fitted.replaces, entry.day) not in said_removed:
            fate = Fate.FAILED if failed_today else Fate.KEPT
            reason = f"made way for {fitted.part}"
            yield (
                _Move(
                    entry=entry,
                    on=False,
                    fate=fate,
                    reason=reason,
                    is_change=True,
                    is_after_running=failed_today,
                ),
                fitted.replaces,
            )
    changed = {(fitted.replaces, entry.day) for entry, fitted in book.of(PartFitted) if fitted.replaces}
    for entry, removed in book.of(PartRemoved):
        if entry.day <= day:
            failed_today = any(when.day == entry.day for when, _ in failures.get(removed.part, ()))
            yield (
                _Move(
                    entry=entry,
                    on=False,
                    fate=removed.fate,
                    reason=removed.reason,
                    is_change=(removed.part, entry.day) in changed,
                    is_after_running=failed_today,
                ),
                removed.part,
            )


def _part_today(
    entry: Entry,
    part: PartAdded,
    moves: list[_Move],
    inspected: tuple[tuple[date, str], ...],
    failed: tuple[PartFailed, ...],
    papers: tuple[PaperAdded, ...],
) -> PartToday:
    stays: list[Fitting] = []
    fate: Fate | None = None
    gone_on: date | None = None
    reason = ""
    is_on = False
    for move in _in_order(moves):
        if is_on:
            stays[-1] = _ended(stays[-1], move)
        if move.on:
            corner = move.corner or part.corner or _CORNER_OF_AREA.get(part.area, "")
            stays.append(
                Fitting(
                    area=_AREA_OF_CORNER.get(corner, part.area),
                    corner=corner,
                    since=move.entry.day,
                    since_clock=clock_of(move.entry.clock)
                    or (END_OF_DAY if move.is_after_running else START_OF_DAY),
                    entry=move.entry.number,
                )
            )
            fate, gone_on, reason = None, None, ""
        else:
            fate, gone_on, reason = move.fate, move.entry.day, move.reason
        is_on = move.on
    last = stays[-1] if stays else None
    corner = last.corner if last else part.corner or _CORNER_OF_AREA.get(part.area, "")
    return PartToday(
        part=part,
        entry=entry.number,
        added_on=entry.day,
        area=last.area if last else _AREA_OF_CORNER.get(corner, part.area),
        corner=corner,
        fittings=tuple(stays),
        inspected=inspected,
        failed=failed,
        fate=fate,
        gone_on=gone_on,
        reason=reason,
        papers=papers,
    )


def _not_mended(
    book: Logbook, failures: list[tuple[Entry, PartFailed]], inspections: list[tuple[Entry, PartInspected]]
) -> tuple[PartFailed, ...]:
    told = [when for when, inspected in inspections if inspected.found.strip()]
    return tuple(
        failure for when, failure in failures if not any(_is_after(book, good, when) for good in told)
    )


def _is_after(book: Logbook, later: Entry, earlier: Entry) -> bool:
    """Whether one entry tells of a later moment: by day, then by clock, then by which was first written."""
    if later.day != earlier.day:
        return later.day > earlier.day
    clocks = clock_of(later.clock), clock_of(earlier.clock)
    if all(clocks) and clocks[0] != clocks[1]:
        return clocks[0] > clocks[1]
    return _first_written(book, later) > _first_written(book, earlier)


def _first_written(book: Logbook, entry: Entry) -> int:
    """The number under which an entry was first written, before any correction of it."""
    while entry.corrects is not None and (before := book.entry(entry.corrects)) is not None:
        entry = before
    return entry.number


def _ended(stay: Fitting, move: _Move) -> Fitting:
    clock = clock_of(move.entry.clock)
    if not clock:
        is_change = (move.on or move.is_change) and not move.is_after_running
        clock = START_OF_DAY if is_change and move.entry.day > stay.since else END_OF_DAY
    return replace(stay, until=move.entry.day, until_clock=clock, until_entry=move.entry.number)


def _in_order(moves: list[_Move]) -> Iterator[_Move]:
    """Moves by day; within a day by clock, and where none is written as makes sense: off what is on first."""
    by_day: dict[date, list[_Move]] = {}
    for move in moves:
        by_day.setdefault(move.entry.day, []).append(move)
    is_on = False
    for day in sorted(by_day):
        waiting = by_day[day]
        came = is_on

        def when(move: _Move, came: bool = came) -> tuple[str, bool, int]:
            first = not move.on if came else move.on
            clock = clock_of(move.entry.clock) or (START_OF_DAY if first else END_OF_DAY)
            return clock, not first, move.entry.number

        for move in sorted(waiting, key=when):
            yield move
            is_on = move.on
