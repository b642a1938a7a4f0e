"""What would make it last: each remedy is a changed car or plan, found by marching the race again."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.brakes import AxleBrake, Pad
from tintop.car.car import Car
from tintop.car.cooling import Cooling
from tintop.car.numbers import with_number
from tintop.circuit.circuit import Path
from tintop.errors import TintopError
from tintop.event import Event, Race, Stop
from tintop.race.items import Item, item_of
from tintop.race.lasting import Lasts, least_margin
from tintop.race.march import LapKind, RaceTrace, march_regardless

_MARCHES = 5
_SHORTEST_STAND = 120.0  # taken for an added stop when none is planned [s]
_LEAST_OIL_CORE = 0.02  # face of a small oil cooler [m²], common practice, no source

Changed = tuple[Car, Event]


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One change, just large enough for the item to last with its usual reserve.

    `number` is the path or quantity changed, from `before` to `after` in `unit`; `margin` is the item's least
    margin then, in its own unit; `lap_time_cost` is what it adds to a racing lap [s] and `laps` what the race
    then counts. `is_enough` False: even this, the most tried, does not make it last with the reserve.
    """

    item: str
    change: str
    number: str
    before: float
    after: float
    unit: str
    margin: float
    lap_time_cost: float
    laps: int
    is_enough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lever:
    change: str
    number: str
    unit: str
    before: float
    most: float
    apply: Callable[[float], Changed]


def remedies(
    car: Car,
    path: Path,
    event: Event,
    trace: RaceTrace,
    judged: tuple[Lasts, ...],
    *,
    progress: Callable[[float], None] | None = None,
) -> tuple[Remedy, ...]:
    """Find what would make each item last that does not, or is close: pace, part, duct, cooler or stop.

    Each remedy stands alone. The reserve aimed at is the margin below which an item is called close.
    """
    wanting = [each for each in judged if not each.does_last or each.is_close]
    tasks = [(item_of(each.item), lever) for each in wanting for lever in _levers(car, event, trace, each)]
    found = []
    for number, (item, lever) in enumerate(tasks, 1):
        remedy = _solve(car, path, trace, item, lever)
        if remedy is not None:
            found.append(remedy)
        if progress is not None:
            progress(number / len(tasks))
    return tuple(found)


def racing_lap_time(trace: RaceTrace) -> float:
    """Mean time of the racing laps, the first two and slow ones left out where others remain [s]."""
    racing = trace.kind != float(LapKind.SAFETY_CAR)
    if np.count_nonzero(racing) > 4:
        racing = racing & (np.arange(trace.laps) >= 2)
    return float(np.mean(trace.lap_time[racing] if np.any(racing) else trace.lap_time))


def _solve(car: Car, path: Path, trace: RaceTrace, item: Item, lever: _Lever) -> Remedy | None:
    """Least use of a lever, 0 to 1 of its most, that brings the margin to the reserve: false position."""

    def marched(share: float) -> tuple[float, RaceTrace] | None:
        try:
            changed_car, changed_event = lever.apply(lever.before + share * (lever.most - lever.before))
            after = march_regardless(changed_car, path, changed_event)
        except TintopError:
            return None
        return least_margin(changed_car, after, item) - item.close, after

    low, short = 0.0, least_margin(car, trace, item) - item.close
    most = marched(1.0)
    if most is None:
        return None
    high, (over, best) = 1.0, most
    if over < 0.0:
        return _remedy(item, lever, trace, best, 1.0, over) if over > 0.5 * short else None
    tolerance = max(0.1 * item.close, 1e-9)
    for _ in range(_MARCHES):
        if over <= tolerance or lever.before == lever.most:
            break
        share = low + (high - low) * min(max(-short / (over - short), 0.1), 0.9)
        trial = marched(share)
        if trial is None:
            break
        if trial[0] >= 0.0:
            high, (over, best) = share, trial
        else:
            low, short = share, trial[0]
    return _remedy(item, lever, trace, best, high, over)


def _remedy(
    item: Item, lever: _Lever, trace: RaceTrace, after: RaceTrace, share: float, over: float
) -> Remedy:
    return Remedy(
        item=item.name,
        change=lever.change,
        number=lever.number,
        before=lever.before,
        after=lever.before + share * (lever.most - lever.before),
        unit=lever.unit,
        margin=over + item.close,
        lap_time_cost=racing_lap_time(after) - racing_lap_time(trace),
        laps=after.laps,
        is_enough=over >= 0.0,
    )


def _levers(car: Car, event: Event, trace: RaceTrace, lasts: Lasts) -> list[_Lever]:
    name = lasts.item
    axle = "front" if name.startswith("front") else "rear"
    if name == "fuel":
        return [_throttle(car, event), _fuel_stop(car, event, trace)]
    if name.endswith("pads"):
        return [
            _throttle(car, event),
            _thicker_pad(car, event, axle),
            _slower_pad(car, event, axle),
            _duct(car, event, axle),
            _stop_for(car, event, lasts, trace, "new pads"),
        ]
    if name.endswith("disc temperature"):
        return [_throttle(car, event), _duct(car, event, axle)]
    if name.endswith("disc thickness"):
        return [_throttle(car, event)]
    if name == "brake fluid":
        return [_throttle(car, event), _fluid(car, event, lasts), _duct(car, event, "front")]
    if name.endswith("tread"):
        return [_pace(car, event), _stop_for(car, event, lasts, trace, "new tyres")]
    if name.endswith("tyre heat"):
        return [_pace(car, event)]
    if name == "coolant":
        return [
            _throttle(car, event),
            _number(car, event, "a larger radiator", "cooling.radiator_conductance", "W/K", 2.5),
            _number(
                car,
                event,
                "more air through the radiator: duct and seals",
                "cooling.air_speed_share",
                "",
                2.5,
            ),
        ]
    return [
        _throttle(car, event),
        _oil_cooler(car, event),
        _number(
            car,
            event,
            "more air through radiator and cooler: duct and seals",
            "cooling.air_speed_share",
            "",
            2.5,
        ),
        _number(car, event, "more air over the sump", "cooling.sump_conductance", "W/K", 3.0),
    ]


def _with_race(event: Event, race: Race) -> Event:
    return replace(event, race=race)


def _pace(car: Car, event: Event) -> _Lever:
    now = event.race.grip_used
    return _Lever(
        change="a slower pace: less of the grip used",
        number="race.grip_used",
        unit="",
        before=now,
        most=0.8 * now,
        apply=lambda value: (car, _with_race(event, replace(event.race, grip_used=value))),
    )


def _throttle(car: Car, event: Event) -> _Lever:
    return _Lever(
        change="a slower pace: lifting early and short-shifting, as if the engine gave less",
        number="engine.torques",
        unit="",
        before=1.0,
        most=0.7,
        apply=lambda value: (with_number(car, "engine.torques", value), event),
    )


def _number(car: Car, event: Event, change: str, path: str, unit: str, factor: float) -> _Lever:
    part, field = path.split(".")
    now = float(getattr(getattr(car, part), field))
    return _Lever(
        change=change,
        number=path,
        unit=unit,
        before=now,
        most=factor * now,
        apply=lambda value: (with_number(car, path, value), event),
    )


def _axle(car: Car, axle: str) -> AxleBrake:
    return car.brakes.front if axle == "front" else car.brakes.rear


def _with_axle(car: Car, axle: str, new: AxleBrake) -> Car:
    brakes = replace(car.brakes, front=new) if axle == "front" else replace(car.brakes, rear=new)
    return replace(car, brakes=brakes)


def _with_pad(car: Car, axle: str, pad: Pad) -> Car:
    return _with_axle(car, axle, replace(_axle(car, axle), pad=pad))


def _thicker_pad(car: Car, event: Event, axle: str) -> _Lever:
    pad = _axle(car, axle).pad
    return _Lever(
        change=f"thicker {axle} pads, if the caliper takes them",
        number=f"brakes.{axle}.pad.thickness",
        unit="m",
        before=pad.thickness,
        most=min(pad.thickness + 0.010, 0.04),
        apply=lambda value: (_with_pad(car, axle, replace(pad, thickness=value)), event),
    )


def _slower_pad(car: Car, event: Event, axle: str) -> _Lever:
    pad = _axle(car, axle).pad
    return _Lever(
        change=f"{axle} pads of another kind, that wear no faster than this at {pad.wear_temp:.0f} °C",
        number=f"brakes.{axle}.pad.wear_rate",
        unit="m3/J",
        before=pad.wear_rate,
        most=0.2 * pad.wear_rate,
        apply=lambda value: (_with_pad(car, axle, replace(pad, wear_rate=value)), event),
    )


def _duct(car: Car, event: Event, axle: str) -> _Lever:
    """More air to disc and caliper alike."""
    brake = _axle(car, axle)

    def apply(value: float) -> Changed:
        share = value / brake.air_cooling
        changed = replace(brake, air_cooling=value, caliper_to_air=min(share * brake.caliper_to_air, 200.0))
        return _with_axle(car, axle, changed), event

    return _Lever(
        change=f"more duct to the {axle} brakes",
        number=f"brakes.{axle}.air_cooling",
        unit="W/K",
        before=brake.air_cooling,
        most=min(2.5 * brake.air_cooling, 200.0),
        apply=apply,
    )


def _fluid(car: Car, event: Event, lasts: Lasts) -> _Lever:
    brakes = car.brakes

    def apply(value: float) -> Changed:
        fresh = replace(brakes, fluid_boiling_dry=max(value, brakes.fluid_boiling_wet), fluid_wetness=0.0)
        return replace(car, brakes=fresh), event

    return _Lever(
        change="fresh fluid that boils no lower than this",
        number="brakes.fluid_boiling_dry",
        unit="°C",
        before=brakes.fluid_boiling,
        most=min(max(lasts.used + 120.0, brakes.fluid_boiling), 330.0),
        apply=apply,
    )


def _oil_cooler(car: Car, event: Event) -> _Lever:
    cooling: Cooling = car.cooling

    def apply(value: float) -> Changed:
        face = max(cooling.oil_core_face_area, _LEAST_OIL_CORE)
        return replace(
            car, cooling=replace(cooling, oil_core_face_area=face, oil_core_conductance=value)
        ), event

    return _Lever(
        change="a larger oil cooler" if cooling.oil_core_conductance > 0.0 else "an oil cooler",
        number="cooling.oil_core_conductance",
        unit="W/K",
        before=cooling.oil_core_conductance,
        most=cooling.oil_core_conductance + 300.0,
        apply=apply,
    )


def _stand(race: Race) -> float:
    return max([stop.standing for stop in race.stops], default=_SHORTEST_STAND)


def _fuel_stop(car: Car, event: Event, trace: RaceTrace) -> _Lever:
    """Fuel at the last stop that comes while the reserve is still aboard, planned or added."""
    race = event.race
    short = np.flatnonzero(trace.fuel_left / car.fuel.density < item_of("fuel").close)
    laps_before = int(short[0]) if short.size else trace.laps - 1
    ends = trace.clock - trace.stop_time
    latest = float(ends[laps_before - 1]) - 1.0 if laps_before > 0 else 0.0
    latest = min(latest, race.duration - 1.0)
    planned = [stop for stop in race.stops if stop.at <= latest]
    now = planned[-1].fuel_volume if planned else 0.0
    lacking = item_of("fuel").close - float(np.min(trace.fuel_left)) / car.fuel.density

    def apply(value: float) -> Changed:
        if planned:
            old = planned[-1]
            stops = tuple(replace(stop, fuel_volume=value) if stop is old else stop for stop in race.stops)
        else:
            stops = (*race.stops, Stop(at=max(latest, 0.0), standing=_stand(race), fuel_volume=value))
        return car, _with_race(event, replace(race, stops=stops))

    return _Lever(
        change="more fuel at the planned stop" if planned else "a stop for fuel",
        number="race.stops.fuel_volume",
        unit="m3",
        before=now,
        most=min(now + 1.3 * lacking, car.tank.volume),
        apply=apply,
    )


def _stop_for(car: Car, event: Event, lasts: Lasts, trace: RaceTrace, parts: str) -> _Lever:
    """New pads or tyres at a planned stop before they are gone, else at a stop of its own."""
    race = event.race
    gone = race.duration if lasts.runs_out_at_s is None else lasts.runs_out_at_s
    planned = [stop for stop in race.stops if stop.at < gone]
    pads, tyres = parts == "new pads", parts == "new tyres"
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

    return _Lever(
        change=f"{parts} at the planned stop" if planned else f"a stop for {parts}",
        number="race.stops.at",
        unit="s",
        before=at,
        most=at,
        apply=apply,
    )
