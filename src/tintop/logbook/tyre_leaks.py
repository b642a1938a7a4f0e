"""Is one tyre losing air? Cold pressures of the logbook against time, and against the other three tyres."""

import math
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner, Measure, Reading, SessionRun
from tintop.physics.constants import ICE_POINT
from tintop.physics.tyre_pressure import DAY, GAUGE_ERROR, SEA_LEVEL_PRESSURE, LeakRate, leak_rate

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
TEMP_ERROR = 3.0  # of the tyre's air against what was written down, standard uncertainty [K]; an estimate
ORDINARY_LOSS = 0.001 / DAY  # of absolute pressure by seeping through rubber; common practice, no source
_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
_AGAINST_THREE = 1.2  # spread of a reading less the median of three others ÷ that of one reading
_REFERENCE = 20.0
LEAST_LEAK = 0.01e5  # lost a day [Pa] from which a tyre is said to leak; common practice, no source
_STEP = 4.0  # standard uncertainties up from one reading to the next: air was put in


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """Cold pressures read at one moment [s]: corner → Pa gauge; the tyres' temperature [°C], None unknown."""

    time: float
    pressures: Mapping[Corner, float]
    temp: float | None
    tyres: str = ""


class LeakFinding(StrEnum):
    """What the readings of one tyre say."""

    LEAKS = "leaks"
    HOLDS = "holds, as far as the gauge can tell"
    UNKNOWN = "too few readings"


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreLeak:
    """One tyre: pressure lost a day [Pa] with its 95 % range, over so many days, against what by `basis`."""

    corner: Corner
    finding: LeakFinding
    rate: float
    low: float
    high: float
    readings: int
    days: float
    basis: str


def cold_occasions(book: Logbook, day: date) -> tuple[Occasion, ...]:
    """Every moment at which cold pressures were read, oldest first; the air of the session is the tyres'."""
    runs = {run.session: run for _, run in book.of(SessionRun)}
    found: dict[tuple[date, str, str], dict[Corner, float]] = {}
    for entry, reading in book.of(Reading):
        if entry.day <= day and reading.measure is Measure.PRESSURE_COLD and reading.corner in _CORNERS:
            found.setdefault((entry.day, entry.clock, reading.session), {})[reading.corner] = reading.value
    occasions = []
    for (on, clock, session), pressures in found.items():
        run = runs.get(session)
        occasions.append(
            Occasion(
                time=on.toordinal() * DAY + _seconds(clock),
                pressures=pressures,
                temp=run.air_temp if run else None,
                tyres=run.tyres if run else "",
            )
        )
    return tuple(sorted(occasions, key=lambda each: each.time))


def _seconds(clock: str) -> float:
    hours, _, minutes = clock.partition(":")
    if not (hours.isdecimal() and minutes.isdecimal()):
        return 0.5 * DAY
    return 3600.0 * int(hours) + 60.0 * int(minutes)


def tyre_leaks(
    occasions: Sequence[Occasion],
    *,
    air_pressure: float = SEA_LEVEL_PRESSURE,
    gauge_error: float = GAUGE_ERROR,
) -> tuple[TyreLeak, TyreLeak, TyreLeak, TyreLeak]:
    """Judge each of the tyres last fitted, since air was last put into it.

    Against the other three where they were read too: what the gauge, the weather and seeping do to all four
    drops out. By itself, brought to one temperature, where they were not. A tyre that is let down a little
    between two readings looks like one that leaks: only the owner knows which.
    """
    fitted = next((each.tyres for each in reversed(occasions) if each.tyres), "")
    of_these = [each for each in occasions if each.tyres in ("", fitted)]
    first, second, third, fourth = (
        _judged(corner, of_these, air_pressure, gauge_error) for corner in _CORNERS
    )
    return first, second, third, fourth


def _judged(
    corner: Corner, occasions: Sequence[Occasion], air_pressure: float, gauge_error: float
) -> TyreLeak:
    family = [_against_family(corner, each, air_pressure) for each in occasions]
    if sum(one is not None for one in family) >= 2:
        kept: Sequence[tuple[Occasion, float]] = [
            (each, one) for each, one in zip(occasions, family, strict=True) if one is not None
        ]
        error, basis, allowed = _AGAINST_THREE * gauge_error, "against the other three", 0.0
    else:
        kept = [(each, _alone(each.pressures[corner], each, air_pressure)) for each in occasions
                if corner in each.pressures and each.temp is not None]  # fmt: skip
        error, basis, allowed = gauge_error, "by itself, brought to one temperature", ORDINARY_LOSS
    if len(kept) < 2:
        return _unknown(corner, len(kept))
    level = statistics.median(
        each.pressures[corner] + air_pressure for each, _ in kept if corner in each.pressures
    )
    share = error / level
    if allowed:
        share = math.hypot(share, TEMP_ERROR / (_REFERENCE + ICE_POINT))
    kept = _since_air_was_put_in(kept, share)
    found = leak_rate([each.time for each, _ in kept], [math.exp(one) for _, one in kept], share)
    if found is None:
        return _unknown(corner, len(kept))
    return _told(corner, found, level, kept[-1][0].time - kept[0][0].time, basis, allowed)


def _told(
    corner: Corner, found: LeakRate, level: float, seconds: float, basis: str, allowed: float
) -> TyreLeak:
    a_day = level * DAY
    low, high = (found.share + sign * _RANGE * found.uncertainty for sign in (-1.0, 1.0))
    return TyreLeak(
        corner=corner,
        finding=LeakFinding.LEAKS
        if low > allowed and found.share * a_day >= LEAST_LEAK
        else LeakFinding.HOLDS,
        rate=found.share * a_day,
        low=low * a_day,
        high=high * a_day,
        readings=found.readings,
        days=seconds / DAY,
        basis=basis,
    )


def _unknown(corner: Corner, readings: int) -> TyreLeak:
    return TyreLeak(
        corner=corner, finding=LeakFinding.UNKNOWN, rate=0.0, low=-math.inf, high=math.inf,
        readings=readings, days=0.0, basis="two readings of one filling are needed",
    )  # fmt: skip


def _alone(pressure: float, occasion: Occasion, air_pressure: float) -> float:
    assert occasion.temp is not None
    return math.log((pressure + air_pressure) * (_REFERENCE + ICE_POINT) / (occasion.temp + ICE_POINT))


def _against_family(corner: Corner, occasion: Occasion, air_pressure: float) -> float | None:
    others = [
        math.log(pressure + air_pressure) for where, pressure in occasion.pressures.items() if where != corner
    ]
    if corner not in occasion.pressures or len(others) < 3:
        return None
    return math.log(occasion.pressures[corner] + air_pressure) - statistics.median(others)


def _since_air_was_put_in(
    kept: Sequence[tuple[Occasion, float]], error: float
) -> Sequence[tuple[Occasion, float]]:
    """The last readings in a row with no step up beyond the error."""
    steps = [place for place in range(1, len(kept)) if kept[place][1] - kept[place - 1][1] > _STEP * error]
    return kept[steps[-1] if steps else 0 :]
