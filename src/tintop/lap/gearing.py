"""Final drives, tyres and rev limits by whole laps: times, engine speeds at the straights' ends, shifts.

Every lap is driven with an empty tank on the line found for the car, whatever its gearing.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.car import Car
from tintop.car.chassis import Chassis
from tintop.car.setup import Setup
from tintop.circuit.circuit import Circuit, Path
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.lap.setup_effect import CIRCUIT_ROAD, Place, mean_lap_time
from tintop.lap.spring_map import Fit
from tintop.lap.trace import LapTrace, Limit
from tintop.lap.vehicle import numbers_for
from tintop.physics.gearing import drop

_ON_LIMITER = 0.998  # of the limiter's engine speed counts as on it
_FULL = 0.98  # throttle that counts as full
_ABOVE = 5.0  # of a straight's end over the corners about it [m/s]


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightEnd:
    """Where full throttle ends: before which corner, speed [m/s], gear, engine speed [rad/s] and its use."""

    before: str
    distance: float
    speed: float
    gear: int
    engine_speed: float
    limiter_share: float  # engine speed ÷ limiter


@dataclass(frozen=True, slots=True, kw_only=True)
class GearingLap:
    """One car round one circuit: lap [s], time on the limiter and under full throttle [s], shifts, fuel [kg].

    `mean_lap_time` is that of laps on a little less and more grip: one lap jumps by hundredths where a shift
    falls before or after a corner, so gearings are compared by the mean. `mean_engine_speed` over the lap
    [rad/s]; `time_in_gear` [s] from first to top.
    """

    lap_time: float
    mean_lap_time: float
    limiter_time: float
    full_throttle_time: float
    upshifts: int
    fuel: float
    mean_engine_speed: float
    time_in_gear: tuple[float, ...]
    straights: tuple[StraightEnd, ...]

    @property
    def longest(self) -> StraightEnd | None:
        """The fastest end of a straight."""
        return max(self.straights, key=lambda one: one.speed, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gearing:
    """A final drive, tyres by the name of their set and a rev limit [rad/s] on the car; laps by circuit.

    `behind` is the sum over the circuits of seconds a lap behind the quickest gearing compared.
    """

    final_drive: float
    tyres: str
    limiter_speed: float
    laps: Mapping[str, GearingLap]
    behind: float
    is_now: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A circuit of the season, the line through it and its weather."""

    circuit: Circuit
    path: Path
    weather: Weather


def with_rev_limit(car: Car, limiter_speed: float) -> Car:
    """The car with its limiter at another engine speed [rad/s]; BadInput below idling."""
    return replace(car, engine=replace(car.engine, limiter_speed=limiter_speed))


def driven(car: Car, one: Round, conditions: Conditions) -> GearingLap:
    """Drive a lap and read what the gearing made of it."""
    lap = flying_lap(car, one.path, one.weather, conditions)
    spent, engine, gear = lap.segment_time, lap.channel("engine_speed"), lap.channel("gear").astype(int)
    is_pulling = lap.channel("throttle") >= _FULL
    limiter = car.engine.limiter_speed
    place = Place(path=one.path, weather=one.weather, surface=CIRCUIT_ROAD, corner_speed=0.0)
    is_on_limiter = (engine >= _ON_LIMITER * limiter) | (lap.channel("limit") == Limit.LIMITER)
    return GearingLap(
        lap_time=lap.lap_time,
        mean_lap_time=mean_lap_time(car, (conditions.grip[0], conditions.grip[2]), place),
        limiter_time=float(spent @ is_on_limiter),
        full_throttle_time=float(spent @ is_pulling),
        upshifts=int(np.count_nonzero(np.diff(np.append(gear, gear[0])) > 0)),
        fuel=float(lap.per_lap("fuel_flow")),
        mean_engine_speed=float(spent @ engine / lap.lap_time),
        time_in_gear=tuple(float(spent @ (gear == one + 1)) for one in range(len(car.gearbox.ratios))),
        straights=_straights(lap, one.circuit, limiter),
    )


def compared(
    fit: Fit,
    setups: Sequence[Setup],
    limits: Sequence[float | None],
    rounds: Mapping[str, Round],
    now: Setup,
    progress: Callable[[float], None] | None = None,
) -> tuple[Gearing, ...]:
    """Drive each set-up with each rev limit [rad/s], None the car's own, round every circuit; quickest first.

    `progress` hears the share done and may raise to stop.
    """
    tell = progress or (lambda _share: None)
    found: list[Gearing] = []
    tries = [(setup, limit) for setup in setups for limit in limits]
    for count, (setup, limit) in enumerate(tries):
        tell(count / len(tries))
        car, conditions = fit(setup)
        own = car.engine.limiter_speed
        changed = car if limit is None else with_rev_limit(car, limit)
        found.append(
            Gearing(
                final_drive=setup.final_drive,
                tyres=setup.tyres,
                limiter_speed=changed.engine.limiter_speed,
                laps={name: driven(changed, one, conditions) for name, one in rounds.items()},
                behind=0.0,
                is_now=setup == now and changed.engine.limiter_speed == own,
            )
        )
    tell(1.0)
    best = {name: min(one.laps[name].mean_lap_time for one in found) for name in rounds}
    ranked = [
        replace(one, behind=sum(lap.mean_lap_time - best[name] for name, lap in one.laps.items()))
        for one in found
    ]
    return tuple(sorted(ranked, key=lambda one: one.behind))


def setups_to_compare(chassis: Chassis, setup: Setup, more: Sequence[float] = ()) -> tuple[Setup, ...]:
    """The set-up with every final drive there is and those of `more`, and with every tyre set of its kind."""
    kind = chassis.tyres(setup.tyres).front.kind
    drives = sorted({setup.final_drive, *chassis.final_drives, *more})
    names = [one.name for one in chassis.tyre_sets if one.front.kind is kind]
    return tuple(replace(setup, final_drive=drive, tyres=name) for name in names for drive in drives)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """One gear: ratio, speed at the limiter [m/s], where the next is due, engine speed left by the upshift.

    The next gear is due where it pulls more, at the latest at the limiter; None for top gear.
    """

    ratio: float
    speed_at_limiter: float
    shift_speed: float | None
    shift_engine_speed: float | None
    engine_speed_left: float | None


def gears_of(car: Car, weather: Weather) -> tuple[Gear, ...]:
    """Each gear from first to top, on the driven tyres' rolling radius."""
    numbers = numbers_for(car, weather, Conditions())
    driveline, ratios = numbers.driveline, car.gearbox.ratios
    found = []
    for place, ratio in enumerate(ratios):
        engine_ratio = float(driveline.engine_ratio[place])
        shift = shifted = left = None
        if place + 1 < len(ratios):
            shift = float(np.argmax(driveline.best_gear > place) * driveline.speed_step)
            shifted = shift * engine_ratio
            left = shifted * drop(ratio, ratios[place + 1])
        found.append(
            Gear(
                ratio=ratio,
                speed_at_limiter=car.engine.limiter_speed / engine_ratio,
                shift_speed=shift,
                shift_engine_speed=shifted,
                engine_speed_left=left,
            )
        )
    return tuple(found)


def _straights(lap: LapTrace, circuit: Circuit, limiter: float) -> tuple[StraightEnd, ...]:
    """The fastest point between two apexes, where it is well above both; the fastest of them first."""
    n = lap.speed.size
    apexes = sorted(
        {round(corner.apex / circuit.step) % n: corner.number for corner in circuit.corners}.items()
    )
    found = []
    for (begin, _), (end, number) in zip(apexes, apexes[1:] + apexes[:1], strict=True):
        between = np.arange(begin, end if end > begin else end + n) % n
        at = int(between[np.argmax(lap.speed[between])])
        if lap.speed[at] < _ABOVE + max(lap.speed[begin], lap.speed[end]):
            continue
        engine_speed = float(lap.channel("engine_speed")[at])
        found.append(
            StraightEnd(
                before=f"corner {number}",
                distance=float(lap.distance[at]),
                speed=float(lap.speed[at]),
                gear=int(lap.channel("gear")[at]),
                engine_speed=engine_speed,
                limiter_share=engine_speed / limiter,
            )
        )
    return tuple(sorted(found, key=lambda one: -one.speed))
