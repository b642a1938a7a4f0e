"""Cold pressures of the four tyres for hot targets, followed through the sessions of a day; SI, °C."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tintop.car.chassis import CORNERS
from tintop.car.tread_doubts import MOST_MINUTES
from tintop.checks import require, within
from tintop.errors import refuse
from tintop.physics.constants import ICE_POINT
from tintop.physics.tyre_pressure import (
    GAUGE_ERROR,
    SEA_LEVEL_PRESSURE,
    pressure_gauge_at,
    seconds_to_fall,
)
from tintop.units import unit_named

WARMER = 8.0  # how much a morning warms, of the question what then [K]
RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
STEPS = {"psi": 0.5, "bar": 0.05, "kPa": 5.0}  # to which gauges are set
_DIGITS = {"psi": 1, "bar": 2, "kPa": 0}
_PSI = unit_named("psi").factor  # by which a cooling tyre may fall until it is read [Pa]
_NEARLY_ALL = 0.97  # of the rise: a session long enough
_PACKING = 3600.0  # from the flag to the drive home [s]
_LEAST, _MOST = 0.8e5, 4.5e5  # of a cold or hot pressure worth setting [Pa]

Four = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rise:
    """By how much a tyre's air warms above the day's when hot [K], its standard uncertainty, and by what."""

    value: float
    uncertainty: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One session of the day: the air then [°C], laps to its reading, share of the full rise after them."""

    name: str
    air_temp: float
    laps: int
    share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureDay:
    """What is asked: hot targets [Pa gauge], rises, how warm the tyres' air is now, and the day's stages.

    `set_air_pressure` is the air outside where the tyres are set, `air_pressure` at the circuit [Pa].
    `home` are the road's cold pressures; `rain` the rises on a wet road, `rain_targets` of the wet tyres;
    `home_tyres` names them where they are not those driven on, so stand cold. `unit` is that of the gauge;
    `also` is a second unit to say pressures in, '' for none; `is_for_road` that the targets are cold ones.
    `sheet` are the cold pressures that the sheet of the set-up `sheet_name` has.
    `cooling` each tyre's time constant standing [s], which may be as much as `cooling_doubt` times shorter.
    """

    targets: Four
    target_basis: str
    rises: tuple[Rise, Rise, Rise, Rise]
    tyres_at: float
    stages: tuple[Stage, ...]
    cooling: Four
    air_pressure: float = SEA_LEVEL_PRESSURE
    set_air_pressure: float = SEA_LEVEL_PRESSURE
    humidity: float = 0.5
    unit: str = "psi"
    also: str = ""
    is_for_road: bool = False
    home: Four | None = None
    home_tyres: str = ""
    cooling_doubt: float = 1.0
    rain: tuple[Rise, Rise, Rise, Rise] | None = None
    rain_targets: Four | None = None
    sheet: Four | None = None
    sheet_name: str = ""

    def __post_init__(self) -> None:
        require(bool(self.stages), "sessions", "none", "one or more")
        require(self.unit in STEPS, "unit of the gauge", self.unit, "one of " + ", ".join(STEPS))
        for corner, target in zip(CORNERS, self.targets, strict=True):
            kind = "cold" if self.is_for_road else "hot"
            within(target / 1e5, _LEAST / 1e5, _MOST / 1e5, f"{kind} target {corner}", "bar")
        for corner, rise in zip(CORNERS, self.rises, strict=True):
            within(rise.value, 0.0, 150.0, f"rise {corner}", "K")
        within(self.tyres_at, -25.0, 80.0, "temperature of the tyres", "°C")
        for stage in self.stages:
            within(stage.air_temp, -25.0, 55.0, f"air, {stage.name}", "°C")
            within(stage.share, 0.05, 1.0, f"share of the rise, {stage.name}", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerCold:
    """One tyre: what to set on the gauge, the exact figure and its 95 % range, and what it comes to hot."""

    corner: str
    to_set: float
    exact: float
    low: float
    high: float
    hot_temp: float
    comes_to: float
    target: float
    rise: Rise


@dataclass(frozen=True, slots=True, kw_only=True)
class StagePlan:
    """At the end of a session: hot pressures as they come, what to bleed or pump to, cold before the next.

    `to` is None where nothing is to be done; `deed` says what in words, `because` why; `cold_next` is what a
    tyre that is left alone reads cold before the next session; `read_within` [s] of coming in, by when as
    much as `lost_by_then` [Pa] may be gone; `cold_after` [s] standing.
    """

    stage: Stage
    comes_to: Four
    to: Four | None
    deed: str
    because: str
    cold_next: Four | None
    read_within: float
    lost_by_then: float
    cold_after: float


def gauge_step(unit: str) -> float:
    """The step [Pa] in which gauges of a unit are set."""
    return STEPS[unit] * unit_named(unit).factor


def rounded(pressure: float, unit: str) -> float:
    """A pressure [Pa] to the step in which gauges of a unit are set."""
    step = gauge_step(unit)
    return round(pressure / step) * step


def written(pressure: float, unit: str) -> str:
    """A pressure in the gauge's unit: half psi, hundredths of a bar, whole kPa."""
    return f"{pressure / unit_named(unit).factor:.{_DIGITS[unit]}f} {unit}"


def written_twice(pressure: float, day: PressureDay) -> str:
    """A pressure in the gauge's unit, and in the second one where one was asked for."""
    other = f" ({written(pressure, day.also)})" if day.also and day.also != day.unit else ""
    return f"{written(pressure, day.unit)}{other}"


def _four(values: Iterable[float]) -> Four:
    first, second, third, fourth = values
    return first, second, third, fourth


def _cold(day: PressureDay, target: float, hot_temp: float) -> float:
    """Cold pressure to set now for a hot target at the circuit."""
    return pressure_gauge_at(target, hot_temp, day.tyres_at, day.air_pressure, day.set_air_pressure)


def cold_corners(day: PressureDay) -> tuple[CornerCold, ...]:
    """What to set at each corner for the first session; BadInput where nothing worth setting would do."""
    return tuple(_corner(day, place, day.stages[0]) for place in range(4))


def _corner(day: PressureDay, place: int, stage: Stage) -> CornerCold:
    rise, target = day.rises[place], day.targets[place]
    hot_temp = stage.air_temp + stage.share * rise.value
    exact = _cold(day, target, hot_temp)
    to_set = rounded(exact, day.unit)
    if not _LEAST <= to_set <= _MOST:
        raise refuse(
            f"cold pressure {CORNERS[place]}",
            f"{written(to_set, day.unit)} for {written(target, day.unit)} hot",
            f"{written(_LEAST, day.unit)} to {written(_MOST, day.unit)}",
            "Look at the target, the temperature of the tyres and their unit.",
        )
    by_rise = (exact + day.set_air_pressure) / (hot_temp + ICE_POINT) * stage.share * rise.uncertainty
    doubt = RANGE * math.hypot(by_rise, GAUGE_ERROR)
    return CornerCold(
        corner=CORNERS[place],
        to_set=to_set,
        exact=exact,
        low=exact - doubt,
        high=exact + doubt,
        hot_temp=hot_temp,
        comes_to=pressure_gauge_at(to_set, day.tyres_at, hot_temp, day.set_air_pressure, day.air_pressure),
        target=target,
        rise=rise,
    )


def _hot(day: PressureDay, stage: Stage, place: int) -> float:
    return stage.air_temp + stage.share * day.rises[place].value


def day_plan(day: PressureDay, corners: Sequence[CornerCold]) -> tuple[StagePlan, ...]:
    """Follow the air in each tyre from session to session, letting out what the next one does not want."""
    held = [(each.to_set, day.tyres_at, day.set_air_pressure) for each in corners]
    rows = []
    for number, stage in enumerate(day.stages):
        hot = [_hot(day, stage, place) for place in range(4)]
        comes_to = [
            pressure_gauge_at(pressure, temp, hot[place], outside, day.air_pressure)
            for place, (pressure, temp, outside) in enumerate(held)
        ]
        held = [(comes_to[place], hot[place], day.air_pressure) for place in range(4)]
        following = day.stages[number + 1] if number + 1 < len(day.stages) else None
        to, deed, because = None, "the last session: read, write down, nothing to bleed", ""
        cold_next = None
        if following is not None:
            wanted = [
                pressure_gauge_at(day.targets[k], _hot(day, following, k), hot[k], day.air_pressure)
                for k in range(4)
            ]
            moves = [
                wanted[k] - comes_to[k] if abs(wanted[k] - comes_to[k]) > gauge_step(day.unit) else 0.0
                for k in range(4)
            ]
            left = [rounded(wanted[k], day.unit) if moves[k] else comes_to[k] for k in range(4)]
            to = _four(left) if any(moves) else None
            deed = _deed(moves, following)
            because = _because(day, stage, following, hot, moves) if any(moves) else ""
            held = [(left[k], hot[k], day.air_pressure) for k in range(4)]
            cold_next = _four(
                pressure_gauge_at(left[k], hot[k], following.air_temp, day.air_pressure) for k in range(4)
            )
        rows.append(_row(day, stage, hot, comes_to, to, (deed, because), cold_next))
    return tuple(rows)


def _row(
    day: PressureDay,
    stage: Stage,
    hot: Sequence[float],
    comes_to: Sequence[float],
    to: Four | None,
    said: tuple[str, str],
    cold_next: Four | None,
) -> StagePlan:
    per_kelvin = [(comes_to[k] + day.air_pressure) / (hot[k] + ICE_POINT) for k in range(4)]
    above = [hot[k] - stage.air_temp for k in range(4)]
    quickest = [day.cooling[k] / day.cooling_doubt for k in range(4)]
    within_time = min(
        60.0 * MOST_MINUTES,
        *(seconds_to_fall(hot[k], stage.air_temp, quickest[k], _PSI / per_kelvin[k]) for k in range(4)),
    )
    lost = max(per_kelvin[k] * above[k] * -math.expm1(-within_time / quickest[k]) for k in range(4))
    cold_after = max(
        day.cooling[k] * math.log(max(above[k] * per_kelvin[k] / (0.5 * _PSI), 1.0)) for k in range(4)
    )
    return StagePlan(
        stage=stage,
        comes_to=_four(comes_to),
        to=to,
        deed=said[0],
        because=said[1],
        cold_next=cold_next,
        read_within=within_time,
        lost_by_then=lost,
        cold_after=cold_after,
    )


def _deed(moves: Sequence[float], following: Stage) -> str:
    down = [corner for corner, move in zip(CORNERS, moves, strict=True) if move < 0.0]
    up = [corner for corner, move in zip(CORNERS, moves, strict=True) if move > 0.0]
    parts = ([f"bleed {', '.join(down)}"] if down else []) + ([f"put air into {', '.join(up)}"] if up else [])
    return f"{' and '.join(parts)}, for {following.name}" if parts else f"leave all four for {following.name}"


def _because(
    day: PressureDay, stage: Stage, following: Stage, hot: Sequence[float], moves: Sequence[float]
) -> str:
    """Why air goes in or out though the target stays: the tyres are warmer or cooler by the next reading."""
    place = max(range(4), key=lambda k: abs(moves[k]))
    then, rise = _hot(day, following, place), day.rises[place].value
    is_short = following.share < min(stage.share, _NEARLY_ALL)
    so = (
        "cooler air reads less, so it takes more of it to come to the same target"
        if then < hot[place]
        else "warmer air reads more, so it takes less of it to come to the same target"
    )
    when = "short" if is_short else "read later"
    return (
        f"{following.name} is {when}: its {following.laps} laps warm the air in {CORNERS[place]} by "
        f"{following.share * rise:.0f} K{f' of {rise:.0f} K' if is_short else ''}, to "
        f"{then:.0f} °C, and it has {hot[place]:.0f} °C after {stage.name}: {so}"
    )


def on_a_warmer_day(day: PressureDay, corner: CornerCold) -> tuple[float, float]:
    """Hot pressure of the first setting on a day that warms, and what to bleed to there."""
    comes_to = pressure_gauge_at(
        corner.to_set, day.tyres_at, corner.hot_temp + WARMER, day.set_air_pressure, day.air_pressure
    )
    bleed_to = pressure_gauge_at(corner.target, corner.hot_temp + WARMER, corner.hot_temp, day.air_pressure)
    return comes_to, bleed_to


def in_the_rain(day: PressureDay) -> Four | None:
    """Cold pressures to set for the hot targets on a wet road; None where the rise there is not known."""
    if day.rain is None:
        return None
    targets, air = day.rain_targets or day.targets, day.stages[0].air_temp
    return _four(rounded(_cold(day, targets[k], air + day.rain[k].value), day.unit) for k in range(4))


def home_an_hour_after(day: PressureDay) -> tuple[Four, Four] | None:
    """The road's cold pressures as the tyres driven on read an hour after the flag, to be set there and then:
    by the quickest and the slowest they may cool. None where the road has tyres of its own.
    """
    if day.home is None or day.home_tyres:
        return None
    last = day.stages[-1]

    def warm(place: int, home: float, doubt: float) -> float:
        left = math.exp(-_PACKING * doubt / day.cooling[place])
        temp = last.air_temp + last.share * day.rises[place].value * left
        return rounded(pressure_gauge_at(home, last.air_temp, temp, day.air_pressure), day.unit)

    least, most = (
        _four(warm(place, home, doubt) for place, home in enumerate(day.home))
        for doubt in (day.cooling_doubt, 1.0)
    )
    return least, most
