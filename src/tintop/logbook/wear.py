"""Pads, discs and tread: how quickly they wear by their readings, what is left after the next event."""

import math
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum

from tintop.logbook.amounts import title_of
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, PartToday, build_on
from tintop.logbook.entries import Area, Corner, Measure
from tintop.logbook.least_squares import line_through, student_factor
from tintop.logbook.running import Running, running_until
from tintop.logbook.thickness import Series, series_of, thickness_readings

READING_DOUBT = 0.1e-3  # standard uncertainty of a thickness by a vernier in the pits [m]; an estimate
SETS_THAT_LEAD = 2  # sets of a family whose wear is known, from which on their history leads; own choice
_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution


class WearState(StrEnum):
    """What wear says of a part at the end of the next event, worst first; a failed part says only that."""

    FAILED = "failed"
    WORN = "at its least already"
    RUNS_OUT = "reaches its least before the event is over"
    CLOSE = "may reach its least before the event is over"
    UNKNOWN = "unknown"
    LASTS = "lasts the event"


Four = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastWear:
    """What a race forecast takes off [m] in `running` [s], at FL FR RL RR, by what is measured.

    `doubt` is the standard uncertainty of it as a share, in the same order.
    """

    running: float
    used: Mapping[Measure, Four]
    doubt: Mapping[Measure, Four] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRate:
    """Thickness lost per running time [m/s] with its range (about 95 %), and how it is known.

    `sets` counts the parts whose readings it stands on, 0 for a forecast; `is_own` if this very part's.
    """

    rate: float
    low: float
    high: float
    basis: str
    sets: int = 0
    is_own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Remains:
    """What is left of a thickness [m] with its range, never below nothing."""

    left: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """One worn part at its deciding place; thicknesses [m], None where nothing tells.

    `thickness` is today's: the last reading less the wear of what was driven since. `rate` is the part's
    own, or that of two sets of its family or more; with less history, the worse of what there is and the
    forecast's. `at_end` with its range is what is left after `planned_running` [s] more, never below
    nothing; `lasts` the running [s] until the least thickness, None if it does not wear. `forecast` is what
    the race forecast leaves, where history leads. `read`, `read_on` and `entry` give the reading it stands
    on, None for a part never measured.
    """

    part: str
    name: str
    family: str
    area: Area
    corner: Corner
    measure: Measure
    state: WearState
    place: str = ""
    corners: tuple[Corner, ...] = ()  # that the place may belong to
    readings: int = 0
    read: float | None = None
    read_on: date | None = None
    entry: int | None = None
    thickness: float | None = None
    new: float | None = None
    least: float | None = None
    rate: WearRate | None = None
    own_rate: WearRate | None = None  # of this part, or else of its family
    forecast_rate: WearRate | None = None
    driven_since: float = 0.0  # running since it was read [s]
    planned_running: float = 0.0
    at_end: float | None = None
    at_end_low: float | None = None
    at_end_high: float | None = None
    lasts: float | None = None
    forecast: Remains | None = None
    why_unknown: str = ""

    @property
    def is_contradicted(self) -> bool:
        """Whether history says that it lasts, and the race forecast that it reaches its least."""
        says_short = self.forecast is not None and self.least is not None and self.forecast.left <= self.least
        return says_short and self.state is WearState.LASTS

    @property
    def where(self) -> str:
        """The place it was measured at, without the corner that the part itself has."""
        return self.place.removeprefix(self.corner).strip(" ,") if self.corner else self.place

    @property
    def title(self) -> str:
        """The part's name, with the corner where it has one."""
        return title_of(self.name, self.corner)


def wears(
    book: Logbook, day: date, planned_running: float, forecast: ForecastWear | None = None
) -> tuple[Wear, ...]:
    """Every part on the car that wears, worst first, after `planned_running` [s] more."""
    return wears_of(book, build_on(book, day), running_until(book, day), planned_running, forecast)


def wears_of(
    book: Logbook,
    build: Build,
    running: Running,
    planned_running: float,
    forecast: ForecastWear | None = None,
) -> tuple[Wear, ...]:
    """As `wears`, from folds already made."""
    found = [
        min(places, key=_judged_worst)
        for places in wears_by_place(book, build, running, planned_running, forecast)
    ]
    order = {state: place for place, state in enumerate(WearState)}
    return tuple(sorted(found, key=lambda wear: (order[wear.state], _spare(wear), wear.part)))


def wears_by_place(
    book: Logbook,
    build: Build,
    running: Running,
    planned_running: float = 0.0,
    forecast: ForecastWear | None = None,
) -> tuple[tuple[Wear, ...], ...]:
    """The wear of every part on the car that wears, one for each place it was measured at."""
    read = thickness_readings(book, build.day, running)
    measured: dict[str, tuple[Measure, list[_Place]]] = {}
    quickest: dict[str, dict[str, WearRate]] = {}
    for name, part in build.by_name.items():
        measure, series = series_of(part, read, running)
        if measure is None:
            continue
        places = [(each, rate_of(each)) for each in series]
        measured[name] = measure, places
        if rates := [rate for _, rate in places if rate is not None]:
            quickest.setdefault(part.part.family, {})[name] = max(rates, key=lambda rate: rate.rate)
    found = []
    for part in build.fitted:
        name = part.part.part
        if name in measured:
            measure, places = measured[name]
            alike = quickest.get(part.part.family, {})
            own = alike.get(name)
            others = (
                replace(own, basis=f"its quickest place, by {own.basis}")
                if own is not None
                else family_rate(list(alike.values()))
            )
            found.append(_wears(part, measure, places, others, planned_running, forecast))
    return tuple(found)


_Place = tuple[Series, WearRate | None]


def _spare(wear: Wear) -> float:
    if wear.at_end is None or wear.least is None:
        return 0.0
    return wear.at_end - wear.least


def rate_of(series: Series) -> WearRate | None:
    """The wear rate of one place by least squares through its points; None with fewer than two.

    The range is the larger of what the scatter of the points and the doubt of a single reading make of it.
    """
    line = line_through(series.running, series.thickness)
    if line is None:
        return None
    half = _RANGE * READING_DOUBT / line.spread_x
    if line.slope_error is not None:
        half = max(half, student_factor(line.points - 2) * line.slope_error)
    slope = -line.slope
    return WearRate(
        rate=max(slope, 0.0),
        low=max(slope - half, 0.0),
        high=max(slope + half, 0.0),
        basis=f"its own {line.points} thicknesses",
        sets=1,
        is_own=True,
    )


def family_rate(worst: Sequence[WearRate]) -> WearRate | None:
    """The wear rate to expect of one more part of a family, from those of its parts at their quickest place.

    It is their mean, with the range of one more (or of the only one there was); None without any.
    """
    if not worst:
        return None
    mean = statistics.fmean(each.rate for each in worst)
    half = statistics.fmean(each.high - each.rate for each in worst)
    if len(worst) > 1:
        scatter = statistics.stdev(each.rate for each in worst)
        spread = student_factor(len(worst) - 1) * scatter * math.sqrt(1.0 + 1.0 / len(worst))
        half = max(half, spread)
    parts = "part" if len(worst) == 1 else "parts"
    return WearRate(
        rate=mean,
        low=max(mean - half, 0.0),
        high=mean + half,
        basis=f"{len(worst)} earlier {parts} of its family",
        sets=len(worst),
    )


def _forecast_rate(
    forecast: ForecastWear | None, measure: Measure, corners: tuple[Corner, ...]
) -> WearRate | None:
    if forecast is None or measure not in forecast.used or forecast.running <= 0.0:
        return None
    names = ("FL", "FR", "RL", "RR")
    doubt = forecast.doubt.get(measure, (0.0, 0.0, 0.0, 0.0))
    rates = [
        (forecast.used[measure][k] / forecast.running, doubt[k]) for k in range(4) if names[k] in corners
    ]
    rate, share = max(rates)
    return WearRate(
        rate=rate,
        low=max(rate * (1.0 - _RANGE * share), 0.0),
        high=rate * (1.0 + _RANGE * share),
        basis="the race forecast",
    )


def _leads(history: WearRate | None) -> bool:
    """Whether history is enough to stand on without the race forecast."""
    return history is not None and (history.is_own or history.sets >= SETS_THAT_LEAD)


def _judged_by(history: WearRate | None, forecast: WearRate | None) -> WearRate | None:
    if history is None or forecast is None or _leads(history):
        return history or forecast
    worse, other = (forecast, history) if forecast.rate > history.rate else (history, forecast)
    return WearRate(
        rate=worse.rate,
        low=min(history.low, forecast.low),
        high=max(history.high, forecast.high),
        basis=f"{worse.basis} ({other.basis}: {other.rate * 3.6e6:.2f} mm/h)",
        sets=worse.sets,
    )


def _remains(now: float, last: float, rate: WearRate, since: float, planned: float) -> Remains:
    left = now - rate.rate * planned
    gauge, driven = _RANGE * READING_DOUBT, since + planned
    low = left - math.hypot(gauge, (rate.high - rate.rate) * driven)
    high = min(left + math.hypot(gauge, (rate.rate - rate.low) * driven), last)
    return Remains(left=max(left, 0.0), low=max(low, 0.0), high=max(high, left, 0.0))


def _wears(
    part: PartToday,
    measure: Measure,
    places: list[_Place],
    others: WearRate | None,  # where a place has no rate of its own
    planned: float,
    forecast: ForecastWear | None,
) -> tuple[Wear, ...]:
    why = "it was never measured, and its thickness as new is not known"
    return tuple(_at(part, measure, series, own or others, planned, forecast) for series, own in places) or (
        _unknown(part, measure, planned, why),
    )


def _judged_worst(wear: Wear) -> tuple[float, float]:
    thickness = wear.thickness if wear.thickness is not None else math.inf
    return wear.at_end if wear.at_end is not None else thickness, thickness


def _at(
    part: PartToday,
    measure: Measure,
    series: Series,
    own: WearRate | None,
    planned: float,
    forecast: ForecastWear | None,
) -> Wear:
    coming = _forecast_rate(forecast, measure, series.corners)
    rate = _judged_by(own, coming)
    past = own or coming
    since = series.running_now - series.running[-1]
    last = series.thickness[-1]
    least = part.part.thickness_least
    now = last - past.rate * since if past is not None else (last if since == 0.0 else None)
    now = max(now, 0.0) if now is not None else None
    remains = forecast_remains = lasts = None
    if rate is not None and now is not None:
        remains = _remains(now, last, rate, since, planned)
        if coming is not None and _leads(own):
            forecast_remains = _remains(now, last, coming, since, planned)
        if least is not None and rate.rate > 0.0:
            lasts = max(now - least, 0.0) / rate.rate
    at_end, low = (remains.left, remains.low) if remains else (None, None)
    state, why = _state(least, last, now, at_end, low)
    if part.failed:
        state, why = WearState.FAILED, ""
    return Wear(
        part=part.part.part,
        name=part.part.name,
        family=part.part.family,
        area=part.area,
        corner=part.corner,
        measure=measure,
        state=state,
        place=series.title,
        corners=series.corners,
        readings=series.readings,
        read=last if series.readings else None,
        read_on=series.read_on,
        entry=series.entry,
        thickness=now,
        new=part.part.thickness_new,
        least=least,
        rate=rate,
        own_rate=own,
        forecast_rate=coming,
        driven_since=since,
        planned_running=planned,
        at_end=at_end,
        at_end_low=low,
        at_end_high=remains.high if remains else None,
        lasts=lasts,
        forecast=forecast_remains,
        why_unknown=why,
    )


def _state(
    least: float | None, last: float, now: float | None, at_end: float | None, low: float | None
) -> tuple[WearState, str]:
    if least is None:
        return WearState.UNKNOWN, "the least thickness at which it is changed is not known"
    if last <= least or (now is not None and now <= least):
        return WearState.WORN, ""
    if at_end is None or low is None:
        return WearState.UNKNOWN, "how quickly it wears is not known: measure it again after running"
    if at_end <= least:
        return WearState.RUNS_OUT, ""
    return (WearState.CLOSE if low <= least else WearState.LASTS), ""


def _unknown(part: PartToday, measure: Measure, planned: float, why: str) -> Wear:
    return Wear(
        part=part.part.part,
        name=part.part.name,
        family=part.part.family,
        area=part.area,
        corner=part.corner,
        measure=measure,
        state=WearState.FAILED if part.failed else WearState.UNKNOWN,
        new=part.part.thickness_new,
        least=part.part.thickness_least,
        planned_running=planned,
        why_unknown=why,
    )
