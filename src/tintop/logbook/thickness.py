"""Thickness readings by part and place, against what the part had run when they were taken."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, clock_of
from tintop.logbook.counters import running_before, was_on
from tintop.logbook.entries import Area, Corner, Counter, Entry, Measure, Reading
from tintop.logbook.running import Running

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
class ThicknessReadings:
    """Thickness readings: by the part they name, and those that name none by measure and corner."""

    named: Mapping[str, Sequence[tuple[Entry, Reading]]]
    unnamed: Mapping[tuple[Measure, Corner], Sequence[tuple[Entry, Reading]]]


def thickness_readings(book: Logbook, day: date) -> ThicknessReadings:
    """Thickness readings up to the end of a day; one that names neither part nor corner is of no use."""
    named: dict[str, list[tuple[Entry, Reading]]] = {}
    unnamed: dict[tuple[Measure, Corner], list[tuple[Entry, Reading]]] = {}
    for entry, reading in book.of(Reading):
        if reading.measure in THICKNESSES and entry.day <= day:
            if reading.part:
                named.setdefault(reading.part, []).append((entry, reading))
            elif reading.corner:
                unnamed.setdefault((reading.measure, reading.corner), []).append((entry, reading))
    return ThicknessReadings(named=named, unnamed=unnamed)


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
        return named[-1][1].measure
    family = part.part.family.casefold()
    return next((measure for word, measure in _WORDS if word in family), None)


def series_of(
    part: PartToday, read: ThicknessReadings, running: Running
) -> tuple[Measure | None, tuple[Series, ...]]:
    """What is measured of a part, and its thickness by place; no series if nothing tells a thickness."""
    measure = measure_of(part, read)
    if measure is None:
        return None, ()
    before = running_before(part, running)
    points: dict[tuple[Corner, str], list[tuple[float, Entry, Reading]]] = {}
    for entry, reading in (*read.named.get(part.part.part, ()), *_unnamed(part, measure, read, running)):
        if reading.measure is not measure:
            continue
        place = running.place_of(entry.day, clock_of(entry.clock), reading.session)
        points.setdefault((reading.corner, reading.place), []).append((before[place], entry, reading))
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
                running_now=before[-1],
                readings=0,
            ),
        )
    return measure, tuple(
        _series(key, sorted(found, key=_when), new, covered, before[-1])
        for key, found in sorted(points.items())
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


def _unnamed(
    part: PartToday, measure: Measure, read: ThicknessReadings, running: Running
) -> Iterator[tuple[Entry, Reading]]:
    """The readings that name no part and were of this one: it was on the car, at that corner, just then."""
    for corner in ALL_CORNERS:
        stays = [stay for stay in part.fittings if corner in corners_covered(stay.area, stay.corner)]
        for entry, reading in read.unnamed.get((measure, corner), ()):
            place = running.place_of_session.get(reading.session)
            if place is None:
                if any(stay.covers(entry.day, clock_of(entry.clock)) for stay in stays):
                    yield entry, reading
                continue
            drive = running.drives[place]
            is_named = drive.tyres == part.part.part and corner in corners_covered(part.area, part.corner)
            was_there = any(stay.covers(drive.day, drive.clock) for stay in stays)
            if is_named or (was_there and was_on(part, drive)):
                yield entry, reading
