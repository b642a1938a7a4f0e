"""What lasts the race and what does not: fuel, pads, discs, fluid, tyres, coolant and oil, with margins."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.tyres import Tyre
from tintop.event import Event
from tintop.physics.many_races import GREASY_SHARE
from tintop.race.items import ITEMS, Item
from tintop.race.march import LapKind, RaceTrace
from tintop.race.odds import Odds

FloatArray = NDArray[np.float64]

_FRONT, _REAR = slice(0, 2), slice(2, 4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasts:
    """One item over the race as planned; SI, temperatures in °C.

    `used` is what is gone of a consumable, or the highest temperature; `limit` what there is, or may be;
    `margin` is the least there was left, below zero where it does not last, and `runs_out_at_s` the clock of
    that. `good_for_s` is how long a consumable lasts at this race's mean rate. `probability` that it
    lasts comes with its standard error when races were drawn, None otherwise.
    """

    item: str
    unit: str
    used: float
    limit: float
    margin: float
    runs_out_at_s: float | None
    good_for_s: float | None
    is_close: bool
    probability: float | None
    standard_error: float | None

    @property
    def does_last(self) -> bool:
        """Whether it lasts the race as planned."""
        return self.margin >= 0.0


def lasting(car: Car, event: Event, trace: RaceTrace, odds: Odds | None = None) -> tuple[Lasts, ...]:
    """Judge every item of a marched race, in the order of `race.items.ITEMS`."""
    left = left_over_race(car, trace)
    limits = _limits(car, event)
    return tuple(
        _judge(item, left[:, place], limits[place], car, event, trace, odds)
        for place, item in enumerate(ITEMS)
    )


def first_to_run_out(judged: tuple[Lasts, ...]) -> Lasts | None:
    """Give the item that does not last and goes first; None when all last."""
    gone = [each for each in judged if each.runs_out_at_s is not None]
    return min(gone, key=lambda each: each.runs_out_at_s or 0.0) if gone else None


def least_margin(car: Car, trace: RaceTrace, item: Item) -> float:
    """Give the least margin of one item over the race, in its SI unit."""
    return float(np.min(left_over_race(car, trace)[:, ITEMS.index(item)]))


def racing_lap_time(trace: RaceTrace) -> float:
    """Mean time of the racing laps, the first two and slow ones left out where others remain [s]."""
    racing = trace.kind != float(LapKind.SAFETY_CAR)
    if np.count_nonzero(racing) > 4:
        racing = racing & (np.arange(trace.laps) >= 2)
    return float(np.mean(trace.lap_time[racing] if np.any(racing) else trace.lap_time))


def left_over_race(car: Car, trace: RaceTrace) -> FloatArray:
    """What is left of every item at the end of each lap (laps, items): the worse wheel of an axle counts."""
    brakes = car.brakes
    columns = [trace.fuel_left / car.fuel.density]
    for wheels, axle in ((_FRONT, brakes.front), (_REAR, brakes.rear)):
        columns.append(trace.pad_thickness[:, wheels].min(axis=1) - axle.pad.thickness_minimum)
    for wheels, axle in ((_FRONT, brakes.front), (_REAR, brakes.rear)):
        columns.append(trace.disc_thickness[:, wheels].min(axis=1) - axle.disc_thickness_minimum)
    for wheels, axle in ((_FRONT, brakes.front), (_REAR, brakes.rear)):
        columns.append(axle.disc_temp_limit - trace.disc_temp_peak[:, wheels].max(axis=1))
    columns.append(brakes.fluid_boiling - trace.fluid_temp_peak.max(axis=1))
    for wheels, tyre in ((_FRONT, car.tyre_front), (_REAR, car.tyre_rear)):
        columns.append(trace.tread_depth[:, wheels].min(axis=1) - tyre.tread_depth_minimum)
    for wheels, tyre in ((_FRONT, car.tyre_front), (_REAR, car.tyre_rear)):
        columns.append(greasy_temp(tyre) - trace.tread_temp_working[:, wheels].max(axis=1))
    columns.append(car.cooling.coolant_limit - trace.coolant_temp_peak)
    columns.append(car.cooling.oil_limit - trace.oil_temp_peak)
    return np.stack(columns, axis=1)


def greasy_temp(tyre: Tyre) -> float:
    """Tread temperature above the best at which a twentieth of the grip is gone [°C]."""
    return tyre.temp_best + tyre.temp_span * math.sqrt(GREASY_SHARE)


def _limits(car: Car, event: Event) -> list[float]:
    brakes, tyres = car.brakes, (car.tyre_front, car.tyre_rear)
    axles = (brakes.front, brakes.rear)
    fuel_put_in = sum(stop.fuel_volume for stop in event.race.stops)
    return [
        event.race.start_fuel_volume + fuel_put_in - car.tank.unusable_volume,
        *(axle.pad.thickness - axle.pad.thickness_minimum for axle in axles),
        *(axle.disc_thickness - axle.disc_thickness_minimum for axle in axles),
        *(axle.disc_temp_limit for axle in axles),
        brakes.fluid_boiling,
        *(tyre.tread_depth - tyre.tread_depth_minimum for tyre in tyres),
        *(greasy_temp(tyre) for tyre in tyres),
        car.cooling.coolant_limit,
        car.cooling.oil_limit,
    ]


def _judge(
    item: Item, left: FloatArray, limit: float, car: Car, event: Event, trace: RaceTrace, odds: Odds | None
) -> Lasts:
    margin = float(np.min(left))
    good_for = None
    if item.is_consumable:
        if item.name == "fuel":
            gone = float(np.sum(trace.fuel_burned)) / car.fuel.density
            one_life = event.race.start_fuel_volume - car.tank.unusable_volume
        else:
            gone = -float(np.sum(np.minimum(np.diff(left, prepend=limit), 0.0)))
            one_life = limit
        good_for = one_life * float(trace.clock[-1]) / gone if gone > 0.0 else None
    chance = None if odds is None else odds.of(item.name)
    return Lasts(
        item=item.name,
        unit=item.unit,
        used=limit - margin,
        limit=limit,
        margin=margin,
        runs_out_at_s=trace.dry_at if item.name == "fuel" else _runs_out(item, left, limit, trace),
        good_for_s=good_for,
        is_close=0.0 <= margin < item.close,
        probability=None if chance is None else chance.probability,
        standard_error=None if chance is None else chance.standard_error,
    )


def _runs_out(item: Item, left: FloatArray, limit: float, trace: RaceTrace) -> float | None:
    """Race clock at which an item first goes below zero, within the lap in proportion to what it lost."""
    below = np.flatnonzero(left < 0.0)
    if below.size == 0:
        return None
    lap = int(below[0])
    end = float(trace.clock[lap] - trace.stop_time[lap])
    before = float(left[lap - 1]) if lap > 0 else (limit if item.is_consumable else 0.0)
    share = (0.0 if lap == 0 else 1.0) if before <= 0.0 else before / (before - float(left[lap]))
    return end - float(trace.lap_time[lap]) * (1.0 - share)
