"""Thickness readings by part and place, against what the part had run when they were taken."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, clock_of
from tintop.logbook.counters import is_tyre, ran_of
from tintop.logbook.entries import Area, Corner, Counter, Entry, Measure, Reading
from tintop.logbook.running import Running, running_until

_WORDS = (("pad", Measure.PAD_THICKNESS), ("disc", Measure.DISC_THICKNESS), ("tyre", Measure.TREAD_DEPTH))
THICKNESSES = frozenset(measure for _, measure in _WORDS)
ALL_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Thickness [m] at one place of a part against its running [s], oldest first.

    The thickness as new is the first point of a part fitted new. `readings` counts what was measured.
    """

    corner: Corner
    place: str
    corners: tuple[Corner, ...]  # that the place may belong to
    running: tuple[float, ...]
    thickness: tuple[float, ...]
    running_now: float
    readings: int
    read_on: date | None = None
    entry: int | None = None

    @property
    def title(self) -> str:
        """Where it was read, such as "FL, inner pad"."""
        return ", ".join(word for word in (self.corner, self.place) if word)


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One thickness reading and when it was taken: after how many drives, and on which tyres if told."""

    day: date
    clock: str
    drives_over: int
    tyres: str
    entry: Entry
    reading: Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessReadings:
    """Thickness readings: by the part they name; those that name none by measure and corner, by day.

    Those taken after a session that names its tyres stand under them once more.
    """

    named: Mapping[str, Sequence[Taken]]
    unnamed: Mapping[tuple[Measure, Corner], Sequence[Taken]]
    on_tyres: Mapping[str, Sequence[Taken]]


def thickness_readings(book: Logbook, day: date, running: Running | None = None) -> ThicknessReadings:
    """Thickness readings up to the end of a day; one that names neither part nor corner is of no use.

    `running` spares gathering the drives anew where they are at hand.
    """
    running = running_until(book, day) if running is None else running
    named: dict[str, list[Taken]] = {}
    unnamed: dict[tuple[Measure, Corner], list[Taken]] = {}
    on_tyres: dict[str, list[Taken]] = {}
    for entry, reading in book.of(Reading):
        if reading.measure not in THICKNESSES or entry.day > day:
            continue
        taken = _taken(entry, reading, running)
        if reading.part:
            named.setdefault(reading.part, []).append(taken)
        elif reading.corner:
            unnamed.setdefault((reading.measure, reading.corner), []).append(taken)
            if taken.tyres:
                on_tyres.setdefault(taken.tyres, []).append(taken)
    for readings in unnamed.values():
        readings.sort(key=lambda each: each.day)
    return ThicknessReadings(named=named, unnamed=unnamed, on_tyres=on_tyres)


def _taken(entry: Entry, reading: Reading, running: Running) -> Taken:
    clock = clock_of(entry.clock)
    drives_over = running.place_of(entry.day, clock, reading.session)
    session = running.place_of_session.get(reading.session)
    drive = running.drives[session] if session is not None else None
    return Taken(
        day=drive.day if drive else entry.day,
        clock=drive.clock if drive else clock,
        drives_over=drives_over,
        tyres=drive.tyres if drive else "",
        entry=entry,
        reading=reading,
    )


def corners_covered(area: Area, corner: Corner) -> tuple[Corner, ...]:
    """The corners a part sits at: its own, its axle's, or all four."""
    if corner:
        return (corner,)
    if area is Area.FRONT_AXLE:
        return ("FL", "FR")
    if area is Area.REAR_AXLE:
        return ("RL", "RR")
    return ALL_CORNERS


def measure_of(part: PartToday, read: ThicknessReadings) -> Measure | None:
    """What is measured of a part: told by the readings that name it, or else by the words of its family."""
    if named := read.named.get(part.part.part):
        return named[-1].reading.measure
    family = part.part.family.casefold()
    return next((measure for word, measure in _WORDS if word in family), None)


def series_of(
    part: PartToday, read: ThicknessReadings, running: Running
) -> tuple[Measure | None, tuple[Series, ...]]:
    """What is measured of a part, and its thickness by place; no series if nothing tells a thickness."""
    measure = measure_of(part, read)
    if measure is None:
        return None, ()
    ran = ran_of(part, running)
    points: dict[tuple[Corner, str], list[tuple[float, Entry, Reading]]] = {}
    for taken in (*read.named.get(part.part.part, ()), *_unnamed(part, measure, read)):
        reading = taken.reading
        if reading.measure is measure:
            point = (ran.before(taken.drives_over), taken.entry, reading)
            points.setdefault((reading.corner, reading.place), []).append(point)
    new = _as_new(part)
    covered = corners_covered(part.area, part.corner)
    if not points:
        if new is None:
            return measure, ()
        return measure, (
            Series(
                corner="",
                place="",
                corners=covered,
                running=(0.0,),
                thickness=(new,),
                running_now=ran.now,
                readings=0,
            ),
        )
    return measure, tuple(
        _series(key, sorted(found, key=_when), new, covered, ran.now) for key, found in sorted(points.items())
    )


def _when(point: tuple[float, Entry, Reading]) -> tuple[float, date, str, int]:
    running, entry, _ = point
    return running, entry.day, entry.clock, entry.number


def _series(
    key: tuple[Corner, str],
    points: list[tuple[float, Entry, Reading]],
    new: float | None,
    covered: tuple[Corner, ...],
    running_now: float,
) -> Series:
    corner, place = key
    last = points[-1][1]
    running = [each[0] for each in points]
    thickness = [each[2].value for each in points]
    if new is not None and running[0] > 0.0:
        running.insert(0, 0.0)
        thickness.insert(0, new)
    return Series(
        corner=corner,
        place=place,
        corners=(corner,) if corner else covered,
        running=tuple(running),
        thickness=tuple(thickness),
        running_now=running_now,
        readings=len(points),
        read_on=last.day,
        entry=last.number,
    )


def _as_new(part: PartToday) -> float | None:
    """The thickness a part began with, if it came new."""
    is_used = part.part.came_with_car or any(
        part.part.counted_before.get(counter, 0.0) > 0.0
        for counter in (Counter.RUNNING, Counter.DISTANCE, Counter.LAPS)
    )
    return None if is_used else part.part.thickness_new


def _unnamed(part: PartToday, measure: Measure, read: ThicknessReadings) -> Iterator[Taken]:
    """The readings that name no part and were of this one: it was on the car, at that corner, just then."""
    covered = corners_covered(part.area, part.corner)
    for taken in read.on_tyres.get(part.part.part, ()):
        if taken.reading.measure is measure and taken.reading.corner in covered:
            yield taken
    counts_named_only = is_tyre(part)
    for corner in ALL_CORNERS:
        readings = read.unnamed.get((measure, corner), ())
        found: dict[int, Taken] = {}
        for stay in part.fittings:
            if corner not in corners_covered(stay.area, stay.corner):
                continue
            for taken in _between(readings, stay.since, stay.until):
                is_counted = taken.tyres and (counts_named_only or taken.tyres == part.part.part)
                if not is_counted and stay.covers(taken.day, taken.clock):
                    found[taken.entry.number] = taken
        yield from found.values()


def _between(readings: Sequence[Taken], first: date, last: date | None) -> Sequence[Taken]:
    begin = bisect_left(readings, first, key=_day_of)
    end = bisect_right(readings, last, key=_day_of) if last is not None else len(readings)
    return readings[begin:end]


def _day_of(taken: Taken) -> date:
    return taken.day
