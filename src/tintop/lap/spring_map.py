"""Springs or bars of both ends in every pair there is: the balance and the lap of each, by a full lap.

Laps are driven with an empty tank, as everywhere a flying lap is predicted, and gear changes take no time: a
lap jumps by hundredths where one falls before or after a corner, which would hide what a bar does.
"""

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import Chassis, End, Offer
from tintop.car.setup import NO_BAR, Setup, bar_in_hole
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.lap.balance import LimitBalance, limit_balance
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_time
from tintop.lap.setup_effect import (
    CIRCUIT_ROAD,
    Place,
    fitted,
    mean_lap_time,
    place_for,
    remembering,
    without_gear_changes,
)
from tintop.lap.trace import LapTrace

_CORNERING = 0.7  # of the most lateral acceleration of a lap, from which it is cornering hard


class Varied(StrEnum):
    """What a map varies at both ends."""

    SPRINGS = "springs"
    BARS = "bars"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One part for one end, or one hole of its bar: words, price as offered, the set-up's end with it on.

    `stiffness` orders the choices: a spring's rate, a bar's roll stiffness.
    """

    end: End
    words: str
    stiffness: float
    offer: Offer
    setting: tuple[tuple[str, str | int], ...]

    def on(self, setup: Setup) -> Setup:
        """The set-up with this choice made."""
        return replace(setup, **{self.end.value: replace(setup.at(self.end), **dict(self.setting))})  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A set-up tried: its lap without gear changes [s], and its balance in a steady corner."""

    lap_time: float
    balance: LimitBalance


Fit = Callable[[Setup], tuple[Car, Conditions]]
Trial = Callable[[Setup], Tried]


def smooth_fit(car: Car, chassis: Chassis, weather: Weather) -> Fit:
    """The car with a set-up on it on a road without bumps; BadInput as car_with_setup."""
    return lambda setup: (car_with_setup(car, chassis, setup, weather), Conditions())


def rough_fit(car: Car, chassis: Chassis, path: Path, weather: Weather) -> Fit:
    """As `smooth_fit`, with what a circuit's bumps leave of the grip where the dampers are known."""
    place = place_for(car, path, weather)
    ride = remembering()

    def fit(setup: Setup) -> tuple[Car, Conditions]:
        found = fitted(car, chassis, setup, place, ride)
        return found.car, found.conditions

    return fit


def trial_on(fit: Fit, path: Path, weather: Weather, speed: float) -> Trial:
    """Try set-ups by a whole lap of a path without gear changes; their balance at a steady speed [m/s]."""

    def tried(setup: Setup) -> Tried:
        car, conditions = fit(setup)
        return Tried(
            lap_time=lap_time(without_gear_changes(car), path, weather, conditions),
            balance=limit_balance(car, weather, speed, conditions),
        )

    return tried


def gain_by_whole_laps(
    fit: Fit, before: Setup, after: Setup, path: Path, weather: Weather, speed: float
) -> float:
    """Seconds a lap gained from one set-up to the other, gear changes and all: the mean of several laps."""
    place = Place(path=path, weather=weather, surface=CIRCUIT_ROAD, corner_speed=speed)
    times = []
    for setup in (before, after):
        car, conditions = fit(setup)
        times.append(mean_lap_time(car, (conditions.grip[0], conditions.grip[2]), place))
    return times[0] - times[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One pair: the set-up with it, its lap and balance, how the lap stands to that of now, what it costs.

    `cost_cents` of what is not owned, None without a price; `is_now` where nothing changes.
    """

    front: Choice
    rear: Choice
    setup: Setup
    tried: Tried
    difference: float
    cost_cents: int | None
    is_owned: bool
    is_now: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringMap:
    """All pairs, front by front, softest first; `fronts` × `rears` in that order."""

    varied: Varied
    fronts: tuple[Choice, ...]
    rears: tuple[Choice, ...]
    cells: tuple[Cell, ...]
    now: Tried

    def cell(self, front: int, rear: int) -> Cell:
        """The pair of the front's and the rear's choice counted from 0."""
        return self.cells[front * len(self.rears) + rear]


def choices(chassis: Chassis, end: End, varied: Varied) -> tuple[Choice, ...]:
    """What may be fitted at an end, softest first; a bar that is owned may be unhooked."""
    axle = chassis.at(end)
    if varied is Varied.SPRINGS:
        found = [
            Choice(
                end=end,
                words=spring.name,
                stiffness=spring.rate,
                offer=spring.offer,
                setting=(("spring", spring.name),),
            )
            for spring in axle.springs
        ]
    else:
        found = [
            Choice(
                end=end,
                words=bar_in_hole(bar.name, hole),
                stiffness=bar.stiffness(hole),
                offer=bar.offer,
                setting=(("bar", bar.name), ("bar_hole", hole)),
            )
            for bar in axle.bars
            for hole in range(0 if bar.offer.is_owned else 1, len(bar.roll_stiffness) + 1)
            if bar.name != NO_BAR or not hole
        ]
    return tuple(sorted(found, key=lambda choice: choice.stiffness))


def spring_map(
    chassis: Chassis,
    setup: Setup,
    trial: Trial,
    varied: Varied,
    progress: Callable[[float], None] | None = None,
) -> SpringMap:
    """Try every pair of choices for front and rear; `progress` hears the share done and may raise to stop."""
    fronts, rears = (choices(chassis, end, varied) for end in (End.FRONT, End.REAR))
    tell = progress or (lambda _share: None)
    now = trial(setup)
    cells = []
    for count, (front, rear) in enumerate(itertools.product(fronts, rears)):
        tell(count / (len(fronts) * len(rears)))
        wanted = rear.on(front.on(setup))
        tried = now if wanted == setup else trial(wanted)
        cells.append(
            Cell(
                front=front,
                rear=rear,
                setup=wanted,
                tried=tried,
                difference=tried.lap_time - now.lap_time,
                cost_cents=cost_of(front, rear),
                is_owned=front.offer.is_owned and rear.offer.is_owned,
                is_now=wanted == setup,
            )
        )
    tell(1.0)
    return SpringMap(varied=varied, fronts=fronts, rears=rears, cells=tuple(cells), now=now)


def cost_of(*parts: Choice) -> int | None:
    """What the parts not owned cost together [cents]; None where one has no price."""
    prices = [0 if part.offer.is_owned else part.offer.price_cents for part in parts]
    return None if None in prices else sum(price for price in prices if price is not None)


def cornering_speed(lap: LapTrace) -> float:
    """The usual speed of hard cornering on a lap [m/s]: the median by time."""
    side = np.abs(lap.lateral_acceleration)
    hard = side >= _CORNERING * float(side.max())
    speed, spent = lap.speed[hard], lap.segment_time[hard]
    order = np.argsort(speed)
    summed = np.cumsum(spent[order])
    return float(speed[order][np.searchsorted(summed, 0.5 * summed[-1])])
