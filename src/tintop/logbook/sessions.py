"""Sessions as they were driven, with their readings, lap statistics and fuel."""

import statistics
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner, Measure, Reading, SessionRun

CLEAN_LAP = 1.07  # a lap within this of the best is clean; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerReadings:
    """What was read at one corner: pressures [Pa gauge] and tread temperatures [°C]; None where not read."""

    corner: Corner
    pressure_cold: float | None = None
    pressure_hot: float | None = None
    tread_inner: float | None = None
    tread_middle: float | None = None
    tread_outer: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """One session with what was read; laps [s], fuel [m³]; None where the book does not tell."""

    run: SessionRun
    day: date
    entry: int
    readings: tuple[Reading, ...] = ()
    corners: tuple[CornerReadings, ...] = ()
    best_lap: float | None = None
    clean_laps: int = 0
    median_lap: float | None = None  # of clean laps
    fuel_used: float | None = None
    fuel_per_lap: float | None = None
    fuel_per_hour: float | None = None  # [m³/h]


def sessions(book: Logbook, day: date) -> tuple[Session, ...]:
    """Every session up to the end of a day, oldest first."""
    read: dict[str, list[Reading]] = {}
    for entry, reading in book.of(Reading):
        if entry.day <= day and reading.session:
            read.setdefault(reading.session, []).append(reading)
    return tuple(
        _session(entry.number, entry.day, run, tuple(read.get(run.session, ())))
        for entry, run in book.of(SessionRun)
        if entry.day <= day
    )


def _session(number: int, day: date, run: SessionRun, readings: tuple[Reading, ...]) -> Session:
    times = [time for time in run.lap_times if time > 0.0]
    best = min([*times, *([run.best_lap] if run.best_lap else [])], default=None)
    clean = [time for time in times if best is not None and time <= CLEAN_LAP * best]
    used = None
    if run.fuel_before is not None and run.fuel_after is not None:
        used = run.fuel_before + (run.fuel_added or 0.0) - run.fuel_after
    return Session(
        run=run,
        day=day,
        entry=number,
        readings=readings,
        corners=_corners(readings),
        best_lap=best,
        clean_laps=len(clean),
        median_lap=statistics.median(clean) if clean else None,
        fuel_used=used,
        fuel_per_lap=used / run.laps if used is not None and run.laps else None,
        fuel_per_hour=used / (run.duration / 3600.0) if used is not None and run.duration else None,
    )


def _corners(readings: tuple[Reading, ...]) -> tuple[CornerReadings, ...]:
    """The last reading of each kind at each corner."""
    last: dict[tuple[Corner, Measure], float] = {}
    for reading in readings:
        last[reading.corner, reading.measure] = reading.value
    corners: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
    return tuple(
        CornerReadings(
            corner=corner,
            pressure_cold=last.get((corner, Measure.PRESSURE_COLD)),
            pressure_hot=last.get((corner, Measure.PRESSURE_HOT)),
            tread_inner=last.get((corner, Measure.TREAD_TEMP_INNER)),
            tread_middle=last.get((corner, Measure.TREAD_TEMP_MIDDLE)),
            tread_outer=last.get((corner, Measure.TREAD_TEMP_OUTER)),
        )
        for corner in corners
        if any(where == corner for where, _ in last)
    )
