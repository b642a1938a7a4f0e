"""A race over its clock: temperatures with their limits, fuel and mass, what is left, and lap times."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from tintop.car.car import Car
from tintop.charts.ink import BLUE, FRONT, INK, PAPER, PENCIL, REAR, ROAD, RUST, Stroke
from tintop.charts.plate import drawn, head, key, plate, svg_text
from tintop.event import Event
from tintop.lap.trace import FloatArray
from tintop.race.lasting import greasy_temp
from tintop.race.march import LapKind, RaceTrace

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HOUR = 3600.0
_WORDS_HEIGHT = 17.0  # [point], above a limit's line
_COOLANT = Stroke(word="coolant", colour=BLUE, line="-", marker="o")
_OIL = Stroke(word="oil", colour=RUST, line=(0.0, (5.0, 1.8)), marker="s")
_LIMIT_LINE: dict[str, Any] = {"linewidth": 1.1, "linestyle": (0.0, (1.2, 1.6))}


def temperatures_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw the hottest of each lap, from discs to oil, each with its limit, as SVG text."""
    brakes, cooling = car.brakes, car.cooling
    subtitle = f"{event.name}, the hottest of each lap"
    with plate((1.45, 1.2, 1.3, 0.95, 0.95), "Temperatures over the race", subtitle) as (figure, panels):
        discs, fluid, treads, coolant, oil = panels
        _lines(discs, trace, _axles(trace.disc_temp_peak, np.max), (FRONT, REAR))
        _limits(discs, (brakes.front.disc_temp_limit, brakes.rear.disc_temp_limit), (FRONT, REAR), "limit")
        head(discs, "Brake discs", "°C")
        _lines(fluid, trace, _axles(trace.fluid_temp_peak, np.max), (FRONT, REAR))
        _limits(fluid, (brakes.fluid_boiling,), (FRONT,), "boils at")
        head(fluid, "Brake fluid in the calipers", "°C")
        _lines(treads, trace, _axles(trace.tread_temp_working, np.max), (FRONT, REAR))
        _limits(
            treads, (greasy_temp(car.tyre_front), greasy_temp(car.tyre_rear)), (FRONT, REAR), "greasy above"
        )
        head(treads, "Tyre treads at work", "°C")
        for panel, stroke, peak, limit in (
            (coolant, _COOLANT, trace.coolant_temp_peak, cooling.coolant_limit),
            (oil, _OIL, trace.oil_temp_peak, cooling.oil_limit),
        ):
            _lines(panel, trace, (peak,), (stroke,))
            _limits(panel, (limit,), (stroke,), "limit")
            head(panel, stroke.word.capitalize(), "°C")
        _race_clock(panels, trace)
        said = (
            ("front discs", trace.disc_temp_peak[:, :2].max(), brakes.front.disc_temp_limit),
            ("rear discs", trace.disc_temp_peak[:, 2:].max(), brakes.rear.disc_temp_limit),
            ("brake fluid", trace.fluid_temp_peak.max(), brakes.fluid_boiling),
            ("front treads", trace.tread_temp_working[:, :2].max(), greasy_temp(car.tyre_front)),
            ("rear treads", trace.tread_temp_working[:, 2:].max(), greasy_temp(car.tyre_rear)),
            ("coolant", trace.coolant_temp_peak.max(), cooling.coolant_limit),
            ("oil", trace.oil_temp_peak.max(), cooling.oil_limit),
        )
        return svg_text(
            figure,
            "temperatures",
            f"{event.name}: temperatures over the race",
            "Hottest of the race: "
            + "; ".join(f"{what} {peak:.0f} °C, limit {limit:.0f} °C" for what, peak, limit in said)
            + ".",
        )


def fuel_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw usable fuel left and the mass of the car with its driver at the end of each lap, as SVG text."""
    left = 1e3 * trace.fuel_left / car.fuel.density
    mass = car.masses.without_fuel + trace.fuel_mass
    burned = 1e3 * float(trace.fuel_burned.sum()) / car.fuel.density
    rate = burned / (float(trace.clock[-1]) / _HOUR)
    with plate(
        (1.9, 1.5),
        "Fuel and mass",
        f"{event.name}. {burned:.1f} L burned, {rate:.1f} L an hour",
        large=f"{left[-1]:.1f} L left" if left[-1] >= 0.0 else f"{-left[-1]:.1f} L short",
    ) as (figure, panels):
        fuel, masses = panels
        fuel.axhline(0.0, color=RUST, **_LIMIT_LINE)
        fuel.annotate(
            "dry",
            (0.0, 0.0),
            xycoords=("axes fraction", "data"),
            xytext=(3, 3),
            textcoords="offset points",
            color=RUST,
            fontsize=9.5,
        )
        hours = trace.clock / _HOUR
        fuel.plot(hours, left, color=INK, marker="o", markersize=2.4)
        fuel.set_ylim(bottom=min(0.0, 1.15 * float(left.min())))
        head(fuel, "Usable fuel left at the end of the lap", "L")
        masses.plot(hours, mass, color=INK, marker="o", markersize=2.4)
        head(masses, "Mass with driver and fuel", "kg")
        _race_clock(panels, trace)
        dry = "" if trace.dry_at is None else f" The tank is dry at {clock_words(trace.dry_at)}."
        return svg_text(
            figure,
            "fuel",
            f"{event.name}: fuel and mass over the race",
            f"{burned:.1f} L burned, {rate:.1f} L an hour, {left[-1]:.1f} L usable at the end.{dry}",
        )


def wear_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw what is left above the minimum of the thinner pad, disc and tread of each axle, as SVG text."""
    front, rear = car.brakes.front, car.brakes.rear
    with plate(
        (1.45, 1.3, 1.45),
        "What is left",
        f"{event.name}, the worse wheel of each axle",
    ) as (figure, panels):
        rows = (
            (
                "Pads, above the minimum",
                trace.pad_thickness,
                front.pad.thickness_minimum,
                rear.pad.thickness_minimum,
            ),
            (
                "Brake discs, above the minimum",
                trace.disc_thickness,
                front.disc_thickness_minimum,
                rear.disc_thickness_minimum,
            ),
            (
                "Treads, above the minimum",
                trace.tread_depth,
                car.tyre_front.tread_depth_minimum,
                car.tyre_rear.tread_depth_minimum,
            ),
        )
        said = []
        for panel, (words, depth, front_least, rear_least) in zip(panels, rows, strict=True):
            left = [
                1e3 * (axle - least)
                for axle, least in zip(_axles(depth, np.min), (front_least, rear_least), strict=True)
            ]
            _lines(panel, trace, left, (FRONT, REAR))
            _limits(panel, (0.0,), (FRONT,), "minimum")
            head(panel, words, "mm")
            said.append(f"{words.lower()}: front {left[0][-1]:.2f} mm, rear {left[1][-1]:.2f} mm")
        _race_clock(panels, trace)
        return svg_text(
            figure, "wear", f"{event.name}: wear over the race", "At the flag: " + "; ".join(said) + "."
        )


def laps_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw each racing lap's time, stops and neutralised laps marked, and the tyres' grip, as SVG text."""
    hours = trace.clock / _HOUR
    racing = trace.kind != LapKind.SAFETY_CAR
    shown = racing if np.any(racing) else np.ones_like(racing)
    quickest = float(trace.lap_time[shown].min())
    stops = len(trace.stops_made)
    subtitle = f"{event.name}. Quickest lap {lap_words(quickest)}, {stops} stop{'s' if stops != 1 else ''}"
    with plate((2.1, 1.2), "Lap times", subtitle, large=f"{trace.laps} laps") as (figure, panels):
        times, grip = panels
        for kind, word, marker, colour in (
            (LapKind.RACE, "clear lap", "o", INK),
            (LapKind.TRAFFIC, "behind another car", "^", RUST),
        ):
            here = trace.kind == kind
            if np.any(here):
                times.plot(
                    hours[here],
                    trace.lap_time[here],
                    linestyle="none",
                    marker=marker,
                    color=colour,
                    markersize=4.2,
                    label=word,
                )
        low, high = quickest, float(trace.lap_time[shown].max())
        times.set_ylim(low - 0.1 * (high - low) - 0.2, high + 0.25 * (high - low) + 0.2)
        times.yaxis.set_major_formatter(lambda value, _: lap_words(value, digits=1))
        head(times, "Lap time without stops")
        key(times)
        _lines(grip, trace, [100.0 * axle for axle in _axles(trace.grip, np.min)], (FRONT, REAR))
        head(grip, "Grip of the tyres, share of their best", "%")
        _race_clock(panels, trace)
        return svg_text(
            figure,
            "laps",
            f"{event.name}: lap times",
            f"{trace.laps} laps, quickest {lap_words(quickest)}, slowest racing lap {lap_words(high)}; "
            "stops after lap " + (", ".join(str(lap) for lap, _ in trace.stops_made) or "none") + ".",
        )


def lap_words(seconds: float, digits: int = 2) -> str:
    """Write a lap time as minutes and seconds."""
    whole = round(seconds * 10**digits)
    minutes, rest = divmod(whole, 60 * 10**digits)
    return f"{minutes}:{rest / 10**digits:0{3 + digits}.{digits}f}"


def clock_words(seconds: float) -> str:
    """Write a race clock as hours and minutes."""
    minutes = int(seconds // 60.0)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _axles(wheels: FloatArray, worse: Any) -> tuple[FloatArray, FloatArray]:
    return worse(wheels[:, :2], axis=1), worse(wheels[:, 2:], axis=1)


def _lines(panel: "Axes", trace: RaceTrace, lines: Sequence[FloatArray], strokes: Sequence[Stroke]) -> None:
    for values, stroke in zip(lines, strokes, strict=True):
        panel.plot(trace.clock / _HOUR, values, **drawn(stroke), marker=stroke.marker, markersize=2.4)
    panel.margins(y=0.12)
    if len(lines) > 1:
        key(panel)


def _limits(panel: "Axes", limits: Sequence[float], strokes: Sequence[Stroke], words: str) -> None:
    """Limits as dotted lines with their words: one where both axles have the same, room made for them."""
    alike = len(set(np.round(limits, 6))) == 1
    low, high = panel.get_ylim()
    low, high = min(low, *limits), max(high, *limits)
    tall = float(panel.bbox.height)
    panel.set_ylim(low - 0.04 * (high - low), high + _WORDS_HEIGHT / (tall - _WORDS_HEIGHT) * (high - low))
    for place, (limit, stroke) in enumerate(zip(limits, strokes, strict=True)):
        if alike and place > 0:
            break
        colour = INK if alike else stroke.colour
        amount = f" {limit:.0f}" if limit else ""
        panel.axhline(limit, color=colour, **_LIMIT_LINE)
        panel.annotate(
            f"{words}{amount}" if alike else f"{stroke.word} {words}{amount}",
            (1.0 if place == 0 else 0.5, limit),
            xycoords=("axes fraction", "data"),
            xytext=(-2, 3.5),
            textcoords="offset points",
            ha="right",
            fontsize=9.5,
            color=colour,
            bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.4},
        )


def _race_clock(panels: Sequence["Axes"], trace: RaceTrace) -> None:
    """The shared clock axis, stops and neutralised laps."""
    last = float(trace.clock[-1])
    step = next((size for size in (5, 10, 15, 20, 30, 60, 120, 180) if last / 60.0 / size <= 9), 240)
    panels[-1].set_xlim(0.0, last / _HOUR)
    panels[-1].set_xticks([minutes / 60.0 for minutes in range(0, int(last / 60.0) + 1, step)])
    panels[-1].xaxis.set_major_formatter(lambda value, _: clock_words(_HOUR * value + 0.5))
    panels[-1].set_xlabel("race clock [hours:minutes]")
    slow = np.flatnonzero(trace.kind == LapKind.SAFETY_CAR)
    starts = trace.clock - trace.lap_time - trace.stop_time
    periods = np.split(slow, np.flatnonzero(np.diff(slow) > 1) + 1) if slow.size else []
    low, high = panels[0].get_ylim()
    if slow.size or trace.stops_made:
        panels[0].set_ylim(low - 0.14 * (high - low), high)  # room for the words of `_mark`
    for place, panel in enumerate(panels):
        for period in periods:
            first, end = starts[period[0]] / _HOUR, trace.clock[period[-1]] / _HOUR
            panel.axvspan(first, end, facecolor=ROAD, linewidth=0.0, zorder=0)
            if place == 0:
                _mark(panel, 0.5 * (first + end), "safety car")
        for lap, _ in trace.stops_made:
            at = trace.clock[lap - 1] / _HOUR
            panel.axvline(at, color=PENCIL, linewidth=1.0, linestyle=(0.0, (6.0, 3.0)))
            if place == 0:
                _mark(panel, at, f"stop, lap {lap}")


def _mark(panel: "Axes", at: float, words: str) -> None:
    panel.annotate(
        words,
        (at, 0.0),
        xycoords=("data", "axes fraction"),
        xytext=(0, 4),
        textcoords="offset points",
        ha="center",
        fontsize=9.5,
        color=PENCIL,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.6},
    )
