"""Fuel on the event card: what there is to use, what is used for what, and what is left; the sums agree."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from tintop.car.described import DescribedCar
from tintop.event import DescribedEvent
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.sessions import Session
from tintop.papers.content import plain
from tintop.papers.stand import MINUS, Stand, day_words
from tintop.race.lasting import Lasts
from tintop.race.march import LapKind, RaceTrace
from tintop.race.odds import Odds
from tintop.race.stint_plan import stints_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RaceForecast:
    """The race as predicted for the event."""

    described: DescribedCar
    event: DescribedEvent
    trace: RaceTrace
    judged: tuple[Lasts, ...]
    odds: Odds


def fuel_of(
    stand: Stand, meeting: MeetingPlanned, driven: Sequence[Session], forecast: RaceForecast | None
) -> Iterator[tuple[str, str]]:
    """Lines on fuel: those of the race predicted, and what was measured at this circuit."""
    if forecast is not None:
        yield from _balance(stand, forecast)
        yield from _rates(stand, forecast)
    else:
        yield "predicted", "no race is predicted as things stand"
    yield "own, here", _own(stand, meeting, driven)


def _balance(stand: Stand, forecast: RaceForecast) -> Iterator[tuple[str, str]]:
    """To use = start + put in − out of reach; used = to use − left: reckoned from what is shown."""
    car, trace, race = forecast.described.car, forecast.trace, forecast.event.event.race
    unit = _shown(stand, race.start_fuel_volume)[1]

    def number(value: float) -> Decimal:
        return _shown(stand, value)[0]

    def litres(value: Decimal) -> str:
        return f"{value} {unit}".replace("-", MINUS)

    start, unusable = number(race.start_fuel_volume), number(car.tank.unusable_volume)
    put_in = number(sum(stop.fuel_volume for stop in race.stops))
    left = number(float(trace.fuel_left[-1]) / car.fuel.density)
    in_laps = number(float(trace.fuel_burned.sum()) / car.fuel.density)
    to_use = start + put_in - unusable
    beside = to_use - left - in_laps
    more = f" + {put_in} put in" if put_in else ""
    yield "at the start", f"{litres(start)} in the tank, which holds {litres(number(car.tank.volume))}"
    yield "to use", f"{litres(to_use)} = {start}{more} {MINUS} {unusable} out of the pump's reach"
    room = car.tank.volume - car.tank.unusable_volume
    is_over = any(stint.left + stint.put_in > room for stint in stints_of(trace, car.fuel.density))
    others = "formation lap, standing" + (", no room in the tank" if is_over else "")
    besides = f" + {beside} {others}" if beside > 0 else ""
    yield "used", f"{litres(to_use - left)} = {in_laps} in {trace.laps} laps{besides}"
    low, _, high = (stand.write(each, "volume", 1) for each in forecast.odds.of("fuel").margin)
    yield "left at the flag", litres(left)
    least = next(each for each in forecast.judged if each.item == "fuel").margin
    yield "least left", f"{stand.write(least, 'volume', 1)} ({low} to {high}, 5 to 95 % of races)"


def _shown(stand: Stand, value: float) -> tuple[Decimal, str]:
    """A volume as it is printed: its number to a tenth, and its unit."""
    number, unit = stand.write(value, "volume", 1).replace(MINUS, "-").split(maxsplit=1)
    return Decimal(number), unit


def _rates(stand: Stand, forecast: RaceForecast) -> Iterator[tuple[str, str]]:
    trace, density = forecast.trace, forecast.described.car.fuel.density
    burned = trace.fuel_burned / density
    free = trace.kind == float(LapKind.RACE)
    if np.any(free):
        yield "a lap on a free road", f"{stand.write(float(burned[free].mean()), 'volume', 2)} predicted"
    slow = sum(int(np.sum(trace.kind == float(kind))) for kind in (LapKind.TRAFFIC, LapKind.SAFETY_CAR))
    among = f", {slow} of them in traffic or behind the safety car" if slow else ""
    yield "a lap in the mean", f"{stand.write(float(burned.mean()), 'volume', 2)} of all {trace.laps}{among}"
    hour = float(burned.sum()) * 3600.0 / float(trace.clock[-1])
    yield "an hour", f"{stand.write(hour, 'volume', 1)} predicted"


def _own(stand: Stand, meeting: MeetingPlanned, driven: Sequence[Session]) -> str:
    circuits = {each.planned.meeting: each.planned.circuit for each in stand.meetings}
    measured = [
        each
        for each in driven
        if each.fuel_per_lap is not None and circuits.get(each.run.meeting) == meeting.circuit
    ]
    if not measured or (last := measured[-1]).fuel_per_lap is None:
        return "never measured at this circuit"
    wet = ", wet" if last.run.is_wet else ""
    name = plain(last.run.name)
    mean = stand.write(last.fuel_per_lap, "volume", 2)
    return f"{mean} a lap in the mean of {last.run.laps}, {name}, {day_words(last.day)}{wet}"
