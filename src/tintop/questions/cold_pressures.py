"""What cold pressures this morning, what to bleed to and when, and what for the road home?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tintop.answer import Answer, Figure, Verdict
from tintop.car.chassis import CORNERS
from tintop.car.pressure_plan import (
    RANGE,
    CornerCold,
    Four,
    PressureDay,
    StagePlan,
    cold_corners,
    day_plan,
    home_an_hour_after,
    in_the_rain,
    on_a_warmer_day,
    written,
    written_twice,
)
from tintop.logbook.tyre_leaks import LeakFinding, TyreLeak
from tintop.physics.tyre_pressure import GAUGE_ERROR, loose_water_growth, moist_air_growth
from tintop.units import format_quantity

CAUTIONS = (
    "Never below the least cold pressure of the tyre's maker, nor above the most written on its wall.",
    "The gas law moves a pressure with its temperature; which hot one is right, treads and stopwatch tell.",
)
_TYRE_VOLUME = 0.030  # [m³], of an ordinary size, for what water in it adds; an estimate
_SPOON_OF_WATER = 5e-3  # [kg]


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdPressures:
    """The answer with the four corners, the plan of the day, a day that warms, the rain, and the way home.

    `warmer_comes_to` is what the first setting comes to hot on a day 8 K warmer; `warmer_bleed_to` what to
    bleed to after the first session when the day is going to warm so; `home_warm` the least and the most that
    the road's pressures may read an hour after the flag. Pressures [Pa gauge].
    """

    answer: Answer
    day: PressureDay
    corners: tuple[CornerCold, ...]
    plan: tuple[StagePlan, ...]
    warmer_comes_to: Four
    warmer_bleed_to: Four
    rain_cold: Four | None
    home_warm: tuple[Four, Four] | None
    leaks: tuple[TyreLeak, ...]


def cold_pressures(day: PressureDay, leaks: tuple[TyreLeak, ...] = ()) -> ColdPressures:
    """Work out the day; BadInput for a target that no cold pressure worth setting reaches."""
    corners = cold_corners(day)
    plan = () if day.is_for_road else day_plan(day, corners)
    first, second, third, fourth = (on_a_warmer_day(day, each) for each in corners)
    return ColdPressures(
        answer=_for_the_road(day, corners, leaks) if day.is_for_road else _answer(day, corners, plan, leaks),
        day=day,
        corners=corners,
        plan=plan,
        warmer_comes_to=(first[0], second[0], third[0], fourth[0]),
        warmer_bleed_to=(first[1], second[1], third[1], fourth[1]),
        rain_cold=in_the_rain(day),
        home_warm=home_an_hour_after(day),
        leaks=leaks,
    )


def _answer(
    day: PressureDay, corners: Sequence[CornerCold], plan: Sequence[StagePlan], leaks: Sequence[TyreLeak]
) -> Answer:
    first = day.stages[0]
    leaking = [leak for leak in leaks if leak.finding is LeakFinding.LEAKS]
    weakest = max(corners, key=lambda each: each.high - each.low)
    return Answer(
        question="What cold pressures this morning, and how much do I bleed?",
        verdict=Verdict.FOUND,
        sentence=f"Set cold: {_corner_words(day, corners)}; tyres at {day.tyres_at:.0f} °C, for {first.name} "
        f"in air of {first.air_temp:.0f} °C.",
        figures=_figures(day, corners),
        why=(
            *against_the_sheet(day, corners),
            f"Hot target {day.target_basis}.",
            f"Most in doubt: {weakest.corner}, whose air is taken to warm by {weakest.rise.value:.0f} K "
            f"± {RANGE * weakest.rise.uncertainty:.0f} K ({weakest.rise.basis}).",
            *(f"After {each.stage.name}, {each.deed}: {each.because}." for each in plan if each.because),
            _moisture(day, corners[0]),
        ),
        next_thing=_next_thing(day, plan[0], leaking),
        cautions=(*(_leak_caution(leak, day.unit) for leak in leaking), *CAUTIONS, _one_gauge(day)),
        works=("Picard2008",),
        working={"set_at_C": day.tyres_at, "humidity": day.humidity},
    )


def is_other_than_sheet(day: PressureDay, corners: Sequence[CornerCold]) -> bool:
    """Whether a corner's pressure of today is another number than the sheet's, as a gauge reads it."""
    return day.sheet is not None and any(
        written(each.to_set, day.unit) != written(kept, day.unit)
        for each, kept in zip(corners, day.sheet, strict=True)
    )


def against_the_sheet(day: PressureDay, corners: Sequence[CornerCold]) -> tuple[str, ...]:
    """What the set-up's sheet has where today's is another number, and why; none without a sheet."""
    if day.sheet is None:
        return ()
    if not is_other_than_sheet(day, corners):
        return (f"The sheet {day.sheet_name} has the same cold pressures.",)
    other = [
        (each, kept)
        for each, kept in zip(corners, day.sheet, strict=True)
        if written(each.to_set, day.unit) != written(kept, day.unit)
    ]
    said = ", ".join(
        f"{each.corner} {written(kept, day.unit)}, today {written(each.to_set, day.unit)}"
        for each, kept in other
    )
    rises = sorted(each.rise.value for each, _ in other)
    warmed = f"{rises[0]:.0f} K" if rises[-1] - rises[0] < 1.0 else f"{rises[0]:.0f} to {rises[-1]:.0f} K"
    return (
        f"The sheet {day.sheet_name} says {said}: because from tyres at {day.tyres_at:.0f} °C, warmed by "
        f"{warmed}, today's come to the hot target.",
    )


def _for_the_road(day: PressureDay, corners: Sequence[CornerCold], leaks: Sequence[TyreLeak]) -> Answer:
    """The road's pressures are cold ones: nothing is worked back from a hot target."""
    leaking = [leak for leak in leaks if leak.finding is LeakFinding.LEAKS]
    air = day.stages[0].air_temp
    is_warm = abs(day.tyres_at - air) >= 1.0
    temps = f", for air of {air:.0f} °C, while the tyres have {day.tyres_at:.0f} °C" if is_warm else ""
    return Answer(
        question="What cold pressures for the road?",
        verdict=Verdict.FOUND,
        sentence=f"For the road, cold: {_corner_words(day, corners)}; no hot target, nothing to bleed.",
        figures=_figures(day, corners),
        why=(f"Cold target {day.target_basis}{temps}.",),
        next_thing=_soapy(leaking)
        if leaking
        else "Set them before the drive, the tyres cold; a driven one reads more: leave it until it is cold.",
        cautions=(
            *(_leak_caution(leak, day.unit) for leak in leaking),
            "The sticker in the door or the handbook says the road's pressures for this car and load; "
            "it goes before this sheet.",
            _one_gauge(day),
        ),
        works=("Picard2008",),
        working={"set_at_C": day.tyres_at},
    )


def _corner_words(day: PressureDay, corners: Sequence[CornerCold]) -> str:
    return ", ".join(f"{each.corner} {written_twice(each.to_set, day)}" for each in corners)


def _figures(day: PressureDay, corners: Sequence[CornerCold]) -> tuple[Figure, ...]:
    gauge = f"gauge ± {_fine(RANGE * GAUGE_ERROR, day.unit)}"
    return tuple(
        Figure(
            name=f"cold {each.corner}",
            value=each.exact,
            low=each.low,
            high=each.high,
            unit="Pa",
            basis=f"gas law; {each.rise.basis}; {gauge}",
        )
        for each in corners
    )


def _one_gauge(day: PressureDay) -> str:
    apart = _fine(GAUGE_ERROR, day.unit)
    return f"One gauge, held the same way each time: another one may read {apart} apart."


def _fine(pressure: float, unit: str) -> str:
    """A small pressure, one digit finer than gauges are set."""
    return format_quantity(pressure, unit, 2)


def _moisture(day: PressureDay, corner: CornerCold) -> str:
    cold, hot, absolute = day.tyres_at, corner.hot_temp, corner.exact + day.set_air_pressure
    moist = moist_air_growth(day.humidity, cold, hot, absolute, day.set_air_pressure)
    spoon = loose_water_growth(_SPOON_OF_WATER, _TYRE_VOLUME, cold, hot, absolute)
    return (
        f"Air of {100.0 * day.humidity:.0f} % humidity adds {_fine(max(moist, 0.0), day.unit)} when hot; "
        f"{1e3 * _SPOON_OF_WATER:.0f} g of water out of an undrained compressor add {_fine(spoon, day.unit)}."
    )


def _leak_caution(leak: TyreLeak, unit: str) -> str:
    low, high = (written(one, unit).removesuffix(f" {unit}") for one in (leak.low, leak.high))
    return (
        f"{leak.corner} loses {written(leak.rate, unit)} a day ({low} to {high} {unit}; {leak.readings} "
        f"readings in {leak.days:.0f} days, {leak.basis}). Unless you let air out of it yourself, it leaks, "
        "and a tyre that leaks is not raced on."
    )


def _next_thing(day: PressureDay, first: StagePlan, leaking: Sequence[TyreLeak]) -> str:
    if leaking:
        return _soapy(leaking)
    when = (
        f"Set them cold; come in after {first.stage.laps} laps of {first.stage.name} without a cool-down lap"
    )
    read = f"treads first, then all four pressures, within {max(1, math.floor(first.read_within / 60.0))} min"
    if first.to is None:
        return f"{when}, {read}, and write them down."
    told = ", ".join(f"{c} {written_twice(p, day)}" for c, p in zip(CORNERS, first.to, strict=True))
    return f"{when}, {read}, then {first.deed}: {told} hot. Why: {first.because}."


def _soapy(leaking: Sequence[TyreLeak]) -> str:
    names = ", ".join(leak.corner for leak in leaking)
    return f"Soapy water on valve, bead and tread of {names} before anything else; read it again tomorrow."
