"""A race over its clock: temperatures with their limits, fuel and mass, what is left, and lap times."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from tintop.car.car import Car
from tintop.charts.ink import BLUE, FRONT, INK, PENCIL, REAR, ROAD, RUST, Stroke
from tintop.charts.plate import drawn, head, key, plate, svg_text
from tintop.event import Event
from tintop.lap.trace import FloatArray
from tintop.race.lasting import greasy_temp
from tintop.race.march import LapKind, RaceTrace

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HOUR = 3600.0
_COOLANT = Stroke(word="coolant", colour=BLUE, line="-", marker="o")
_OIL = Stroke(word="oil", colour=RUST, line=(0.0, (5.0, 1.8)), marker="s")
_LIMIT_LINE: dict[str, Any] = {"linewidth": 1.1, "linestyle": (0.0, (1.2, 1.6))}


def temperatures_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw the hottest of each lap of discs, fluid, treads, coolant and oil, each with its limit, as SVG text."""
    brakes, cooling = car.brakes, car.cooling
    subtitle = f"{car.name}: the hottest of each lap, the hotter wheel of each axle, °C"
    with plate((1.45, 1.3, 1.45, 1.45), event.name, subtitle) as (figure, panels):
        discs, fluid, treads, engine = panels
        _pair(discs, trace, _axles(trace.disc_temp_peak, np.max), (FRONT, REAR))
        _limits(discs, (brakes.front.disc_temp_limit, brakes.rear.disc_temp_limit), (FRONT, REAR), "limit")
        head(discs, "Brake discs", "°C")
        _pair(fluid, trace, _axles(trace.fluid_temp_peak, np.max), (FRONT, REAR))
        _limits(fluid, (brakes.fluid_boiling,), (FRONT,), "boils at")
        head(fluid, "Brake fluid in the calipers", "°C")
        _pair(treads, trace, _axles(trace.tread_temp_working, np.max), (FRONT, REAR))
        _limits(
            treads, (greasy_temp(car.tyre_front), greasy_temp(car.tyre_rear)), (FRONT, REAR), "greasy above"
        )
        head(treads, "Tyre treads at work", "°C")
        _pair(engine, trace, (trace.coolant_temp_peak, trace.oil_temp_peak), (_COOLANT, _OIL))
        _limits(engine, (cooling.coolant_limit, cooling.oil_limit), (_COOLANT, _OIL), "limit")
        head(engine, "Coolant and oil", "°C")
        _race_clock(panels, event, trace)
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
        event.name,
        f"{car.name}: {burned:.1f} L burned, {rate:.1f} L an hour",
        large=f"{left[-1]:+.1f} L left",
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
        _race_clock(panels, event, trace)
        dry = "" if trace.dry_at is None else f" The tank is dry at {clock_words(trace.dry_at)}."
        return svg_text(
            figure,
            "fuel",
            f"{event.name}: fuel and mass over the race",
            f"{burned:.1f} L burned, {rate:.1f} L an hour, {left[-1]:.1f} L usable at the end.{dry}",
        )


def wear_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw the thinner pad, disc and tread of each axle with the minimum of each, as SVG text."""
    front, rear = car.brakes.front, car.brakes.rear
    with plate(
        (1.45, 1.3, 1.45),
        event.name,
        f"{car.name}: what is left of pads, discs and treads, the worse wheel of each axle",
    ) as (figure, panels):
        rows = (
            (
                "Friction material of the pads",
                trace.pad_thickness,
                front.pad.thickness_minimum,
                rear.pad.thickness_minimum,
            ),
            (
                "Brake discs, thickness",
                trace.disc_thickness,
                front.disc_thickness_minimum,
                rear.disc_thickness_minimum,
            ),
            (
                "Tread depth",
                trace.tread_depth,
                car.tyre_front.tread_depth_minimum,
                car.tyre_rear.tread_depth_minimum,
            ),
        )
        said = []
        for panel, (words, depth, front_least, rear_least) in zip(panels, rows, strict=True):
            _pair(panel, trace, _axles(1e3 * depth, np.min), (FRONT, REAR))
            _limits(panel, (1e3 * front_least, 1e3 * rear_least), (FRONT, REAR), "minimum")
            head(panel, words, "mm")
            said.append(
                f"{words.lower()}: front {1e3 * depth[-1, :2].min():.1f} mm, minimum {1e3 * front_least:.1f} mm, "
                f"rear {1e3 * depth[-1, 2:].min():.1f} mm, minimum {1e3 * rear_least:.1f} mm"
            )
        _race_clock(panels, event, trace)
        return svg_text(
            figure, "wear", f"{event.name}: wear over the race", "At the flag: " + "; ".join(said) + "."
        )


def laps_svg(car: Car, event: Event, trace: RaceTrace) -> str:
    """Draw the time of each racing lap with stops and neutralised laps marked, and the tyres' grip, as SVG text."""
    hours = trace.clock / _HOUR
    racing = trace.kind != LapKind.SAFETY_CAR
    shown = racing if np.any(racing) else np.ones_like(racing)
    quickest = float(trace.lap_time[shown].min())
    subtitle = f"{car.name}: quickest lap {lap_words(quickest)}, {len(trace.stops_made)} stop{'s' * (len(trace.stops_made) != 1)}"
    with plate((2.1, 1.2), event.name, subtitle, large=f"{trace.laps} laps") as (figure, panels):
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
        _pair(grip, trace, [100.0 * axle for axle in _axles(trace.grip, np.min)], (FRONT, REAR))
        head(grip, "Grip of the tyres, share of their best", "%")
        _race_clock(panels, event, trace)
        return svg_text(
            figure,
            "laps",
            f"{event.name}: lap times",
            f"{trace.laps} laps, quickest {lap_words(quickest)}, slowest racing lap {lap_words(high)}; stops after lap "
            + (", ".join(str(lap) for lap, _ in trace.stops_made) or "none")
            + ".",
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


def _pair(
    panel: "Axes", trace: RaceTrace, lines: Sequence[FloatArray], strokes: tuple[Stroke, Stroke]
) -> None:
    for values, stroke in zip(lines, strokes, strict=True):
        panel.plot(trace.clock / _HOUR, values, **drawn(stroke), marker=stroke.marker, markersize=2.4)
    panel.margins(y=0.12)
    key(panel)


def _limits(panel: "Axes", limits: Sequence[float], strokes: Sequence[Stroke], words: str) -> None:
    """Limits as dotted lines with their words: one where both axles have the same."""
    alike = len(set(np.round(limits, 6))) == 1
    digits = 0 if max(limits) >= 60.0 else 1
    for place, (limit, stroke) in enumerate(zip(limits, strokes, strict=True)):
        if alike and place > 0:
            break
        panel.axhline(limit, color=INK if alike else stroke.colour, **_LIMIT_LINE)
        panel.annotate(
            f"{words} {limit:.{digits}f}" if alike else f"{stroke.word} {words} {limit:.{digits}f}",
            (1.0 if place == 0 else 0.5, limit),
            xycoords=("axes fraction", "data"),
            xytext=(-2, 2.5),
            textcoords="offset points",
            ha="right",
            fontsize=9.5,
            color=INK if alike else stroke.colour,
        )
    low, high = panel.get_ylim()
    panel.set_ylim(
        min(low, *limits) if words != "minimum" else min(low, min(limits) - 0.06 * (high - min(limits))), high
    )
    if max(limits) >= panel.get_ylim()[1]:
        panel.set_ylim(top=max(limits))
    low, high = panel.get_ylim()
    panel.set_ylim(low, high + 0.14 * (high - low))


def _race_clock(panels: Sequence["Axes"], event: Event, trace: RaceTrace) -> None:
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
    for place, panel in enumerate(panels):
        for period in periods:
            first, end = starts[period[0]] / _HOUR, trace.clock[period[-1]] / _HOUR
            panel.axvspan(first, end, facecolor=ROAD, linewidth=0.0, zorder=0)
            if place == 0:
                _mark(panel, 0.5 * (first + end), "safety car")
        for lap, stop in trace.stops_made:
            at = trace.clock[lap - 1] / _HOUR
            panel.axvline(at, color=PENCIL, linewidth=1.0, linestyle=(0.0, (6.0, 3.0)))
            if place == 0:
                _mark(panel, at, f"stop, lap {lap}" if stop.standing else "stop")


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
        bbox={"facecolor": "#fcfbf7", "edgecolor": "none", "pad": 0.6},
    )
