"""How far the owner's own tyres warmed at each corner, from cold and hot pressures of his sessions."""

import statistics
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner, MeetingPlanned
from tintop.logbook.sessions import Session, sessions
from tintop.physics.tyre_pressure import SEA_LEVEL_PRESSURE, temp_at_pressure

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_LEAST_LAPS = 4  # fewer, and the tyres were not warm; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenRise:
    """Rise of one tyre's air above the day's [K]: mean, standard deviation of a session, and how many."""

    corner: Corner
    rise: float
    spread: float | None  # None with one session
    sessions: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenRises:
    """What was seen at the four corners, whether at this circuit, and when last."""

    corners: tuple[SeenRise, SeenRise, SeenRise, SeenRise]
    is_here: bool
    is_wet: bool
    last: date


def seen_rises(
    book: Logbook,
    day: date,
    *,
    circuit: str,
    is_wet: bool,
    air_pressure: float = SEA_LEVEL_PRESSURE,
) -> SeenRises | None:
    """Give the rises of sessions at a circuit up to a day, or of all others without any; None for neither.

    Counts sessions of four laps or more, dry or wet as asked, with the day's air and both pressures of all
    four corners; the cold ones are taken as read at the day's air. Air bled in between makes a rise read low.
    Source: ideal gas law at constant volume.
    """
    circuits = {planned.meeting: planned.circuit for _, planned in book.of(MeetingPlanned)}
    found = [
        (session, rises)
        for session in sessions(book, day)
        if session.run.is_wet == is_wet
        and session.run.laps >= _LEAST_LAPS
        and (rises := _rises(session, air_pressure)) is not None
    ]
    here = [each for each in found if circuit and circuits.get(each[0].run.meeting) == circuit]
    counted = here or found
    if not counted:
        return None
    by_corner = zip(*(rises for _, rises in counted), strict=True)
    first, second, third, fourth = (
        SeenRise(
            corner=corner,
            rise=statistics.fmean(values),
            spread=statistics.stdev(values) if len(values) > 1 else None,
            sessions=len(values),
        )
        for corner, values in zip(_CORNERS, by_corner, strict=True)
    )
    return SeenRises(
        corners=(first, second, third, fourth),
        is_here=bool(here),
        is_wet=is_wet,
        last=max(session.day for session, _ in counted),
    )


def _rises(session: Session, air_pressure: float) -> list[float] | None:
    air = session.run.air_temp
    corners = {each.corner: each for each in session.corners}
    if air is None or set(corners) != set(_CORNERS):
        return None
    rises = []
    for corner in _CORNERS:
        cold, hot = corners[corner].pressure_cold, corners[corner].pressure_hot
        if cold is None or hot is None:
            return None
        rises.append(temp_at_pressure(cold, air, hot, air_pressure) - air)
    return rises
