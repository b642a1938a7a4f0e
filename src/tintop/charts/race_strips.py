"""The strips of a race against its laps: lap time, temperatures, wear and fuel, with limits and stops."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from tintop.car.car import Car
from tintop.charts.ink import BLUE, FRONT, INK, REAR, RUST, Stroke
from tintop.charts.lap_strips import rounded
from tintop.charts.race_charts import lap_words
from tintop.charts.strips import (
    Axis,
    Bound,
    Curve,
    DrawnStrip,
    Strip,
    draw_strip,
    even_ticks,
    with_room,
)
from tintop.lap.trace import FloatArray
from tintop.race.lasting import greasy_temp
from tintop.race.march import LapKind, RaceTrace

_LAP_TIME = Stroke(word="lap time", colour=INK, line="-", marker="o")
_FUEL = Stroke(word="usable fuel", colour=INK, line="-", marker="o")
_COOLANT = Stroke(word="coolant", colour=BLUE, line="-", marker="o")
_WORN = (Bound(words="minimum", value=0.0),)
_OIL = Stroke(word="oil", colour=RUST, line=(0.0, (5.0, 1.8)), marker="s")


def race_axis(trace: RaceTrace) -> Axis:
    """The laps from 1, those behind a safety car shaded, stops marked at the lap they ended."""
    laps = np.arange(1.0, trace.laps + 1.0)
    slow = np.flatnonzero(trace.kind == float(LapKind.SAFETY_CAR))
    periods = np.split(slow, np.flatnonzero(np.diff(slow) > 1) + 1) if slow.size else []
    last = float(max(trace.laps, 2))
    return Axis(
        words="lap",
        places=laps,
        first=1.0,
        last=last,
        ticks=tuple((tick, f"{tick:.0f}") for tick in even_ticks(1.0, last, 8) if tick == round(tick)),
        shades=tuple(
            (max(1.0, float(period[0]) + 0.5), min(last, float(period[-1]) + 1.5)) for period in periods
        ),
        stops=tuple((float(lap), f"stop, lap {lap}") for lap, _ in trace.stops_made),
    )


def race_strips_of(car: Car, trace: RaceTrace) -> tuple[Strip, ...]:
    """What each strip of a race shows; temperatures are the hottest of each lap, wear the worse wheel's."""
    brakes, cooling = car.brakes, car.cooling
    front, rear = brakes.front, brakes.rear
    racing = trace.kind != float(LapKind.SAFETY_CAR)
    shown = trace.lap_time[racing] if np.any(racing) else trace.lap_time
    low, high = with_room((shown,), 0.12)
    litres = 1e3 * trace.fuel_left / car.fuel.density
    return (
        Strip(
            name="lap-time",
            heading="Lap time without stops",
            unit="min:s",
            curves=(Curve(name="lap time", stroke=_LAP_TIME, values=np.clip(trace.lap_time, None, high)),),
            low=low,
            high=high,
            ticks=even_ticks(low, high, 4),
            height=84.0,
            written=_clock,
        ),
        _strip(
            "fuel",
            "Usable fuel left",
            "L",
            (Curve(name="fuel", stroke=_FUEL, values=litres),),
            (Bound(words="dry", value=0.0),),
        ),
        _axles(
            "discs",
            "Brake discs",
            "°C",
            trace.disc_temp_peak,
            np.max,
            _pair("limit", front.disc_temp_limit, rear.disc_temp_limit),
        ),
        _axles(
            "fluid",
            "Brake fluid",
            "°C",
            trace.fluid_temp_peak,
            np.max,
            (Bound(words=f"boils at {brakes.fluid_boiling:.0f}", value=brakes.fluid_boiling),),
        ),
        _axles(
            "treads",
            "Tyre treads at work",
            "°C",
            trace.tread_temp_working,
            np.max,
            _pair("greasy above", greasy_temp(car.tyre_front), greasy_temp(car.tyre_rear)),
        ),
        _strip(
            "engine",
            "Coolant and oil",
            "°C",
            (
                Curve(name="coolant", stroke=_COOLANT, values=trace.coolant_temp_peak),
                Curve(name="oil", stroke=_OIL, values=trace.oil_temp_peak),
            ),
            (
                Bound(
                    words=f"coolant limit {cooling.coolant_limit:.0f}",
                    value=cooling.coolant_limit,
                    colour=BLUE,
                ),
                Bound(words=f"oil limit {cooling.oil_limit:.0f}", value=cooling.oil_limit),
            ),
        ),
        *(
            _axles(name, heading, "mm", 1e3 * (depth - np.repeat(least, 2)), np.min, _WORN)
            for name, heading, depth, least in (
                (
                    "pads",
                    "Pads left",
                    trace.pad_thickness,
                    (front.pad.thickness_minimum, rear.pad.thickness_minimum),
                ),
                (
                    "disc-wear",
                    "Discs left",
                    trace.disc_thickness,
                    (front.disc_thickness_minimum, rear.disc_thickness_minimum),
                ),
                (
                    "tread-depth",
                    "Tread left",
                    trace.tread_depth,
                    (car.tyre_front.tread_depth_minimum, car.tyre_rear.tread_depth_minimum),
                ),
            )
        ),
    )


def race_strips(car: Car, trace: RaceTrace) -> tuple[DrawnStrip, ...]:
    """Draw the strips of a race."""
    axis = race_axis(trace)
    return tuple(draw_strip(strip, axis) for strip in race_strips_of(car, trace))


def race_readings(car: Car, trace: RaceTrace) -> dict[str, Any]:
    """What the cursor reads out at each lap, as plain content."""
    kinds = {LapKind.RACE: "racing", LapKind.TRAFFIC: "behind another car", LapKind.SAFETY_CAR: "safety car"}
    stops = {lap for lap, _ in trace.stops_made}
    strips = race_strips_of(car, trace)
    columns = [
        {
            "name": curve.name,
            "label": curve.name
            if len(strip.curves) == 1 or strip.name == "engine"
            else f"{strip.heading.lower()} {curve.name}",
            "unit": "" if strip.written else strip.unit,
            "values": rounded(_values(trace, curve), _digits_of(strip)),
            **({"written": [strip.written(each) for each in _values(trace, curve)]} if strip.written else {}),
        }
        for strip in strips
        for curve in strip.curves
    ]
    axis = race_axis(trace)
    return {
        "axis": {"label": "lap", "unit": "", "first": axis.first, "last": axis.last},
        "places": [float(lap) for lap in axis.places],
        "columns": columns,
        "words": [
            kinds[LapKind(int(kind))] + (", then a stop" if lap in stops else "")
            for lap, kind in enumerate(trace.kind, 1)
        ],
        "words_label": "",
    }


def _clock(seconds: float) -> str:
    return lap_words(seconds, digits=1)


def _values(trace: RaceTrace, curve: Curve) -> FloatArray:
    return trace.lap_time if curve.name == "lap time" else curve.values


def _digits_of(strip: Strip) -> int:
    return {"°C": 0, "mm": 2, "min:s": 2}.get(strip.unit, 1)


def _axles(
    name: str,
    heading: str,
    unit: str,
    wheels: FloatArray,
    worse: Callable[..., Any],
    bounds: Sequence[Bound],
) -> Strip:
    curves = tuple(
        Curve(name=stroke.word, stroke=stroke, values=worse(wheels[:, part], axis=1))
        for stroke, part in ((FRONT, slice(0, 2)), (REAR, slice(2, 4)))
    )
    return _strip(name, heading, unit, curves, tuple(bounds))


def _strip(name: str, heading: str, unit: str, curves: tuple[Curve, ...], bounds: tuple[Bound, ...]) -> Strip:
    low, high = with_room([*(curve.values for curve in curves), *(bound.value for bound in bounds)])
    return Strip(
        name=name,
        heading=heading,
        unit=unit,
        curves=curves,
        low=low,
        high=high + 0.1 * (high - low),
        ticks=even_ticks(low, high, 4),
        bounds=bounds,
    )


def _pair(words: str, front: float, rear: float) -> tuple[Bound, ...]:
    """One line where both axles share a limit, else one each."""
    if abs(front - rear) < 1e-6:
        return (Bound(words=f"{words} {_amount(front)}", value=front),)
    one = Bound(words=f"front {words} {_amount(front)}", value=front, colour=FRONT.colour)
    return (one, replace(one, words=f"rear {words} {_amount(rear)}", value=rear, colour=REAR.colour))


def _amount(value: float) -> str:
    return f"{value:.0f}" if value >= 50.0 else f"{value:.1f}"
