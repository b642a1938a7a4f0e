"""What can be done so that an item lasts: pace, parts, ducts, cooler, fuel and stops, in sizes to be had."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.brakes import AxleBrake, Pad
from tintop.car.car import Car
from tintop.car.cooling import Cooling
from tintop.car.numbers import with_number
from tintop.event import Event, Race, Stop
from tintop.race.items import item_of
from tintop.race.lasting import Lasts, racing_lap_time
from tintop.race.march import RaceTrace

_SHORTEST_STAND = 120.0  # taken for an added stop when none is planned [s]
_LEAST_OIL_CORE = 0.02  # face of a small oil cooler [m²], common practice, no source
_SMALL_OIL_COOLER = 100.0  # [W/K], from memory: 5 to 8 kW at 60 K between oil and air
_LITRE = 1e-3
_PAD_STEP = 0.5e-3
_PACE_STEP = 0.01
_FLUID_STEP = 5.0
_TENTH = 0.1

Changed = tuple[Car, Event]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One number that can be moved from `before` to at most `most`, on a grid of `step` from `origin`.

    `step` has the sign of the way; 0 means it is done or not done. `say` gives the deed for a value reached.
    `is_on_the_lap`: the flying lap itself changes with it. `adds`: it adds to what there is, where the
    others lessen what is used or how hot it gets.
    """

    number: str
    unit: str
    before: float
    most: float
    step: float
    origin: float
    apply: Callable[[float], Changed]
    say: Callable[[float], str]
    is_on_the_lap: bool = False
    adds: bool = False

    def reaching(self, value: float) -> float:
        """The next size on the grid that reaches a value, no further than the most."""
        if self.step == 0.0:
            return self.most
        size = self.origin + self.step * math.ceil((value - self.origin) / self.step - 1e-9)
        return min(size, self.most) if self.step > 0.0 else max(size, self.most)


def levers(car: Car, event: Event, trace: RaceTrace, lasts: Lasts) -> list[Lever]:
    """What can be done for an item of a marched race."""
    name = lasts.item
    axle = "front" if name.startswith("front") else "rear"
    if name == "fuel":
        return [*_start_fuel(car, event), _fuel_stop(car, event, trace), _throttle(car, event)]
    if name.endswith("pads"):
        return [
            _stop_for(car, event, lasts, trace, f"new {axle} pads"),
            _thicker_pad(car, event, axle),
            _slower_pad(car, event, axle),
            _duct(car, event, axle),
            _throttle(car, event),
        ]
    if name.endswith("disc temperature"):
        return [_duct(car, event, axle), _throttle(car, event)]
    if name.endswith("disc thickness"):
        return [_throttle(car, event)]
    if name == "brake fluid":
        return [_fluid(car, event, lasts), _duct(car, event, "front"), _throttle(car, event)]
    if name.endswith("tread"):
        return [_stop_for(car, event, lasts, trace, "new tyres"), _pace(car, event)]
    if name.endswith("tyre heat"):
        return [_pace(car, event)]
    if name == "coolant":
        return [
            _cooling(car, event, "radiator_conductance", "W/K", 2.5, "a radiator that cools {:.0f} % more"),
            _air(car, event, "the radiator"),
            _throttle(car, event),
        ]
    return [
        _oil_cooler(car, event),
        _air(car, event, "radiator and cooler"),
        _cooling(car, event, "sump_conductance", "W/K", 3.0, "lead {:.0f} % more air over the sump"),
        _throttle(car, event),
    ]


def _with_race(event: Event, race: Race) -> Event:
    return replace(event, race=race)


def _pace(car: Car, event: Event) -> Lever:
    now = event.race.grip_used
    return Lever(
        number="race.grip_used",
        unit="",
        before=now,
        most=0.8 * now,
        step=-_PACE_STEP,
        origin=now,
        apply=lambda value: (car, _with_race(event, replace(event.race, grip_used=value))),
        say=lambda _value: "leave more in hand in the corners",
        is_on_the_lap=True,
    )


def _throttle(car: Car, event: Event) -> Lever:
    return Lever(
        number="engine.torques",
        unit="",
        before=1.0,
        most=0.7,
        step=-_PACE_STEP,
        origin=1.0,
        apply=lambda value: (with_number(car, "engine.torques", value), event),
        say=lambda _value: "lift early and short-shift",
        is_on_the_lap=True,
    )


def _cooling(car: Car, event: Event, field: str, unit: str, factor: float, deed: str) -> Lever:
    now = float(getattr(car.cooling, field))
    path = f"cooling.{field}"
    return Lever(
        number=path,
        unit=unit,
        before=now,
        most=factor * now,
        step=_TENTH * now,
        origin=now,
        apply=lambda value: (with_number(car, path, value), event),
        say=lambda value: deed.format(_more(value, now)),
    )


def _air(car: Car, event: Event, what: str) -> Lever:
    deed = f"duct and seal {what} so that {{:.0f}} % more air goes through"
    return _cooling(car, event, "air_speed_share", "", 2.5, deed)


def _more(value: float, now: float) -> float:
    return 100.0 * (value / now - 1.0)


def _axle(car: Car, axle: str) -> AxleBrake:
    return car.brakes.front if axle == "front" else car.brakes.rear


def _with_axle(car: Car, axle: str, new: AxleBrake) -> Car:
    brakes = replace(car.brakes, front=new) if axle == "front" else replace(car.brakes, rear=new)
    return replace(car, brakes=brakes)


def _with_pad(car: Car, axle: str, pad: Pad) -> Car:
    return _with_axle(car, axle, replace(_axle(car, axle), pad=pad))


def _thicker_pad(car: Car, event: Event, axle: str) -> Lever:
    pad = _axle(car, axle).pad
    return Lever(
        number=f"brakes.{axle}.pad.thickness",
        unit="m",
        before=pad.thickness,
        most=min(pad.thickness + 0.010, 0.04),
        step=_PAD_STEP,
        origin=0.0,
        apply=lambda value: (_with_pad(car, axle, replace(pad, thickness=value)), event),
        say=lambda value: (
            f"start on {axle} pads of {value * 1e3:.1f} mm or more, if the caliper takes them: "
            f"{pad.thickness * 1e3:.1f} mm on the car now"
        ),
        adds=True,
    )


def _slower_pad(car: Car, event: Event, axle: str) -> Lever:
    pad = _axle(car, axle).pad
    return Lever(
        number=f"brakes.{axle}.pad.wear_rate",
        unit="m3/J",
        before=pad.wear_rate,
        most=0.2 * pad.wear_rate,
        step=-_TENTH * pad.wear_rate,
        origin=pad.wear_rate,
        apply=lambda value: (_with_pad(car, axle, replace(pad, wear_rate=value)), event),
        say=lambda value: (
            f"{axle} pads of a kind that wears {-_more(value, pad.wear_rate):.0f} % slower "
            f"at {pad.wear_temp:.0f} °C: ask the maker"
        ),
    )


def _duct(car: Car, event: Event, axle: str) -> Lever:
    """More air to disc and caliper alike."""
    brake = _axle(car, axle)

    def apply(value: float) -> Changed:
        share = value / brake.air_cooling
        changed = replace(brake, air_cooling=value, caliper_to_air=min(share * brake.caliper_to_air, 200.0))
        return _with_axle(car, axle, changed), event

    return Lever(
        number=f"brakes.{axle}.air_cooling",
        unit="W/K",
        before=brake.air_cooling,
        most=min(2.5 * brake.air_cooling, 200.0),
        step=_TENTH * brake.air_cooling,
        origin=brake.air_cooling,
        apply=apply,
        say=lambda value: (
            f"larger ducts to the {axle} brakes: {_more(value, brake.air_cooling):.0f} % more cooling"
        ),
    )


def _fluid(car: Car, event: Event, lasts: Lasts) -> Lever:
    brakes = car.brakes

    def apply(value: float) -> Changed:
        fresh = replace(brakes, fluid_boiling_dry=max(value, brakes.fluid_boiling_wet), fluid_wetness=0.0)
        return replace(car, brakes=fresh), event

    return Lever(
        number="brakes.fluid_boiling_dry",
        unit="°C",
        before=brakes.fluid_boiling,
        most=min(max(lasts.used + 120.0, brakes.fluid_boiling), 330.0),
        step=_FLUID_STEP,
        origin=0.0,
        apply=apply,
        say=lambda value: (
            f"bleed in fresh fluid that boils at {value:.0f} °C or more: "
            f"{brakes.fluid_boiling:.0f} °C in the car now"
        ),
        adds=True,
    )


def _oil_cooler(car: Car, event: Event) -> Lever:
    cooling: Cooling = car.cooling
    now = cooling.oil_core_conductance

    def apply(value: float) -> Changed:
        face = max(cooling.oil_core_face_area, _LEAST_OIL_CORE)
        return replace(
            car, cooling=replace(cooling, oil_core_face_area=face, oil_core_conductance=value)
        ), event

    def say(value: float) -> str:
        if now > 0.0:
            return f"fit an oil cooler that cools {_more(value, now):.0f} % more"
        large = "a large" if value > 2.0 * _SMALL_OIL_COOLER else "an"
        return f"fit {large} oil cooler: there is none now"

    return Lever(
        number="cooling.oil_core_conductance",
        unit="W/K",
        before=now,
        most=max(2.0 * now, 3.0 * _SMALL_OIL_COOLER),
        step=0.25 * now if now > 0.0 else _SMALL_OIL_COOLER,
        origin=now,
        apply=apply,
        say=say,
    )


def _stand(race: Race) -> float:
    return max([stop.standing for stop in race.stops], default=_SHORTEST_STAND)


def _start_fuel(car: Car, event: Event) -> list[Lever]:
    """More fuel at the start, as far as the tank holds it."""
    race = event.race
    now = race.start_fuel_volume
    if car.tank.volume - now < 0.5 * _LITRE:
        return []
    return [
        Lever(
            number="race.start_fuel_volume",
            unit="m3",
            before=now,
            most=car.tank.volume,
            step=0.5 * _LITRE,
            origin=now,
            apply=lambda value: (car, _with_race(event, replace(race, start_fuel_volume=value))),
            say=lambda value: (
                f"start with {value / _LITRE:.1f} L, {(value - now) / _LITRE:.1f} L more"
                + (": the tank is full then" if value >= car.tank.volume else "")
            ),
            is_on_the_lap=True,
            adds=True,
        )
    ]


def _fuel_stop(car: Car, event: Event, trace: RaceTrace) -> Lever:
    """Fuel at the last stop that comes while the reserve is still aboard, planned or added."""
    race = event.race
    short = np.flatnonzero(trace.fuel_left / car.fuel.density < item_of("fuel").close)
    laps_before = int(short[0]) if short.size else trace.laps - 1
    ends = trace.clock - trace.stop_time
    latest = float(ends[laps_before - 1]) - 1.0 if laps_before > 0 else 0.0
    latest = min(latest, race.duration - 1.0)
    planned = [stop for stop in race.stops if stop.at <= latest]
    now = planned[-1].fuel_volume if planned else 0.0

    def apply(value: float) -> Changed:
        if planned:
            old = planned[-1]
            stops = tuple(replace(stop, fuel_volume=value) if stop is old else stop for stop in race.stops)
        else:
            stops = (*race.stops, Stop(at=max(latest, 0.0), standing=_stand(race), fuel_volume=value))
        return car, _with_race(event, replace(race, stops=stops))

    def say(value: float) -> str:
        litres = f"{value / _LITRE:.1f} L"
        if not planned:
            return f"a stop for {litres} of fuel"
        more = f"{(value - now) / _LITRE:.1f} L more"
        return f"put in {litres} at the planned stop, {more}, if the regulations allow it"

    return Lever(
        number="race.stops.fuel_volume",
        unit="m3",
        before=now,
        most=car.tank.volume,
        step=0.5 * _LITRE,
        origin=now,
        apply=apply,
        say=say,
        adds=True,
    )


def _stop_for(car: Car, event: Event, lasts: Lasts, trace: RaceTrace, parts: str) -> Lever:
    """New pads or tyres at a planned stop before they are gone, else at a stop of its own."""
    race = event.race
    gone = race.duration if lasts.runs_out_at_s is None else lasts.runs_out_at_s
    planned = [stop for stop in race.stops if stop.at < gone]
    pads, tyres = parts.endswith("pads"), parts == "new tyres"
    at = (
        planned[-1].at if planned else max(min(0.5 * race.duration, gone - 2.0 * racing_lap_time(trace)), 0.0)
    )

    def apply(_value: float) -> Changed:
        if planned:
            stops = tuple(
                replace(stop, new_pads=stop.new_pads or pads, new_tyres=stop.new_tyres or tyres)
                if stop is planned[-1]
                else stop
                for stop in race.stops
            )
        else:
            added = Stop(at=at, standing=_stand(race), new_pads=pads, new_tyres=tyres)
            stops = (*race.stops, added)
        return car, _with_race(event, replace(race, stops=stops))

    counted = ", counted no better than what is on the car now"
    deed = f"{parts} at the planned stop, in the time it stands" if planned else f"a stop for {parts}"
    return Lever(
        number="race.stops.at",
        unit="s",
        before=at,
        most=at,
        step=0.0,
        origin=at,
        apply=apply,
        say=lambda _value: deed + counted,
    )
