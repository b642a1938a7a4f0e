"""Which final drive, tyre radius and rev limit suit the circuits of the season, by whole laps."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car, DrivenAxle
from tintop.car.chassis import Chassis
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of, with_number
from tintop.car.setup import Setup
from tintop.errors import BadInput, refuse
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.gearing import (
    Gear,
    Gearing,
    Round,
    StraightEnd,
    compared,
    gears_of,
    setups_to_compare,
)
from tintop.lap.setup_search import LAP_NOISE
from tintop.lap.spring_map import smooth_fit
from tintop.lap.spring_steps import spread
from tintop.owner_units import MINUS
from tintop.physics.gearing import engine_speed_at, inertia_load_share, turns_per_kilometre

RPM = math.pi / 30.0
FEWER = 500.0 * RPM  # of a rev limit to spare the engine [rad/s]
_WIND = 5.0  # against and with the car [m/s]; a breezy day, common practice, no source
_SLIP = 0.02  # of the driven tyres at the end of a straight, at most; common practice, no source
_DOUBTS = (
    "aero.drag_area",
    "engine.torques",
    "gearbox.shift_time",
    "tyre_front.friction_longitudinal",
    "tyre_rear.friction_longitudinal",
    "tyre_front.radius",
    "masses.car",
)
CAUTIONS = (
    "A rev limit is the engine builder's to set. Over-revving on a missed downshift passes every limiter.",
    "Engine speeds stand on the rolling radius: measure it by rolling the car ten turns at race pressure.",
    "A final drive is work inside a gearbox: bearings, preload, backlash to the maker's figures, new oil.",
    "Ratios, final drive and tyre size may be fixed by the class: the regulations and the scrutineer decide.",
)
WORKS = (
    "Milliken1995",
    "Brayshaw2005",
    "ISO1585",
    "Heywood1988",
    "JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory)",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineSpeeds:
    """The end of one straight: engine speed on a still day, with the wind against and with the car [rad/s].

    The ends of the range count the wind, the doubt about the rolling radius and, on top, slip of the tyres.
    """

    circuit: str
    end: StraightEnd
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GearingAnswer:
    """The answer, and all it stands on.

    `ranked` are the gearings with the car's own rev limit, the quickest first; `now` the one of the set-up;
    `fewer` the same with 500 rpm less; `gain` what the best one gains over all circuits with its range [s].
    """

    answer: Answer
    gears: tuple[Gear, ...]
    ranked: tuple[Gearing, ...]
    now: Gearing
    fewer: Gearing
    gain: tuple[float, float, float]
    engine_speeds: tuple[EngineSpeeds, ...]


def which_gearing(
    described: DescribedCar,
    chassis: Chassis,
    setup: Setup,
    rounds: Mapping[str, Round],
    *,
    more: Sequence[float] = (),
    progress: Callable[[float], None] | None = None,
) -> GearingAnswer:
    """Answer for a set-up round the circuits of `rounds`; `more` final drives beside those of the chassis.

    BadInput as car_with_setup, and for no circuit.
    """
    if not rounds:
        raise refuse("circuits", "none", "at least one to drive round")
    tell = progress or (lambda _share: None)
    weather = next(iter(rounds.values())).weather
    fit = smooth_fit(described.car, chassis, weather)
    ranked = compared(
        fit, setups_to_compare(chassis, setup, more), (None,), rounds, setup, lambda share: tell(0.8 * share)
    )
    now = next(one for one in ranked if one.is_now)
    car, _ = fit(setup)
    (fewer,) = compared(fit, (setup,), (car.engine.limiter_speed - FEWER,), rounds, setup)
    best = ranked[0]
    gain = now.behind - best.behind
    chosen = replace(setup, final_drive=best.final_drive, tyres=best.tyres)
    half = _half_range(described, chassis, (setup, chosen), rounds) if chosen != setup else 0.0
    speeds = _engine_speeds(described, car, now, rounds)
    tell(1.0)
    found = (gain, gain - half, gain + half)
    is_sure = gain > max(half, LAP_NOISE * len(rounds))
    return GearingAnswer(
        answer=Answer(
            question="Which gearing?",
            verdict=Verdict.FOUND,
            sentence=_sentence(now, best, found, is_sure, len(rounds)),
            figures=_figures(now, fewer, found, speeds, len(rounds)),
            why=_why(car, now, fewer, ranked, rounds),
            next_thing=_next_thing(now, best, is_sure, speeds),
            cautions=CAUTIONS,
            works=WORKS,
        ),
        gears=gears_of(car, weather),
        ranked=ranked,
        now=now,
        fewer=fewer,
        gain=found,
        engine_speeds=speeds,
    )


def driven_radius(car: Car) -> float:
    """Rolling radius [m] of the tyres that drive; the front's where both axles do."""
    return (car.tyre_rear if car.driven_axle is DrivenAxle.REAR else car.tyre_front).radius


def gearing_words(one: Gearing) -> str:
    """A gearing in words."""
    return f"{one.final_drive:g} on {one.tyres}"


def _half_range(
    described: DescribedCar, chassis: Chassis, setups: tuple[Setup, Setup], rounds: Mapping[str, Round]
) -> float:
    """Half the 95 % range of the gain over all circuits [s]: laps of both with each doubt, a lap's noise."""
    weather = next(iter(rounds.values())).weather

    def gain(car: Car) -> float:
        fit = smooth_fit(car, chassis, weather)
        before, after = (
            sum(lap_time(fitted, one.path, one.weather, conditions) for one in rounds.values())
            for fitted, conditions in map(fit, setups)
        )
        return before - after

    cars = _doubted(described)
    return math.hypot(
        spread(gain(described.car), tuple(gain(car) for car in cars)), LAP_NOISE * math.sqrt(len(rounds))
    )


def _doubted(described: DescribedCar) -> list[Car]:
    numbers = numbers_of(described.car)
    found = []
    for path in _DOUBTS:
        known = described.known.get(path)
        if known is None or path not in numbers or not known.uncertainty:
            continue
        try:
            found.append(with_number(described.car, path, numbers[path] + known.uncertainty))
        except BadInput:
            found.append(with_number(described.car, path, numbers[path] - known.uncertainty))
    return found


def _engine_speeds(
    described: DescribedCar, car: Car, now: Gearing, rounds: Mapping[str, Round]
) -> tuple[EngineSpeeds, ...]:
    """The fastest straight's end of each circuit, with wind, radius and slip."""
    driven = "tyre_rear" if car.driven_axle is DrivenAxle.REAR else "tyre_front"
    known = described.known.get(f"{driven}.radius")
    radius = driven_radius(car)
    doubt = 1.96 * known.uncertainty / radius if known else 0.0
    found = []
    for name, lap in now.laps.items():
        end = lap.longest
        if end is None:
            continue
        against, with_it = (
            _fastest(car, rounds[name], share) for share in (_headwind(end.speed), _headwind(end.speed, -1.0))
        )
        ratio = end.engine_speed / end.speed
        ceiling = car.engine.limiter_speed
        found.append(
            EngineSpeeds(
                circuit=name,
                end=end,
                low=min(against * ratio * (1.0 - doubt), end.engine_speed),
                high=min(
                    max(
                        engine_speed_at(with_it, 1.0, 1.0, 1.0 / ratio, _SLIP) * (1.0 + doubt),
                        end.engine_speed,
                    ),
                    ceiling,
                ),
            )
        )
    return tuple(found)


def _headwind(speed: float, way: float = 1.0) -> float:
    """What a wind against the car makes of its drag at a speed."""
    return (1.0 + way * _WIND / speed) ** 2


def _fastest(car: Car, one: Round, drag_share: float) -> float:
    windy = replace(car, aero=replace(car.aero, drag_area=drag_share * car.aero.drag_area))
    return float(flying_lap(windy, one.path, one.weather).speed.max())


def _sentence(
    now: Gearing, best: Gearing, gain: tuple[float, float, float], is_sure: bool, circuits: int
) -> str:
    over = "over a lap of each circuit" if circuits > 1 else "a lap"
    if best.is_now:
        return f"{gearing_words(now)}, which is on the car, is the quickest of those compared {over}."
    words = f"{gearing_words(best)} is {gain[0]:.2f} s quicker {over} than {gearing_words(now)} on the car"
    room = f"{gain[1]:+.2f} to {gain[2]:+.2f} s, 19 times in 20".replace("-", MINUS)
    return f"{words} ({room})." if is_sure else f"{words} ({room}): within the doubt."


def _figures(
    now: Gearing,
    fewer: Gearing,
    gain: tuple[float, float, float],
    speeds: tuple[EngineSpeeds, ...],
    circuits: int,
) -> tuple[Figure, ...]:
    def plain(name: str, value: float, unit: str, basis: str) -> Figure:
        return Figure(name=name, value=value, low=value, high=value, unit=unit, basis=basis)

    over = f"sum of one lap on each of {circuits} circuits"
    found = [
        Figure(
            name="gained by the quickest gearing",
            value=gain[0],
            low=gain[1],
            high=gain[2],
            unit="s",
            basis=f"{over}, by whole laps; range from the doubt about drag, power, grip, shifts and mass",
        ),
        plain(
            "lost with 500 rpm less",
            sum(_mean_laps(fewer)) - sum(_mean_laps(now)),
            "s",
            f"{over}, by whole laps; no range computed",
        ),
        plain(
            "on the limiter",
            sum(lap.limiter_time for lap in now.laps.values()),
            "s",
            f"{over}; a shift missed by a tenth is not in it",
        ),
    ]
    found += [
        Figure(
            name=f"engine speed at the end of the straight, {one.circuit}",
            value=one.end.engine_speed / RPM,
            low=one.low / RPM,
            high=one.high / RPM,
            unit="rpm",
            basis=f"before {one.end.before} in gear {one.end.gear}; {3.6 * _WIND:.0f} km/h of wind against "
            f"and with, up to {100.0 * _SLIP:.0f} % of slip, the rolling radius",
        )
        for one in speeds
    ]
    return tuple(found)


def _mean_laps(one: Gearing) -> list[float]:
    return [lap.mean_lap_time for lap in one.laps.values()]


def _why(
    car: Car, now: Gearing, fewer: Gearing, ranked: tuple[Gearing, ...], rounds: Mapping[str, Round]
) -> tuple[str, ...]:
    def quickest_on(name: str) -> Gearing:
        return min(ranked, key=lambda one: one.laps[name].mean_lap_time)

    spread_of_all = ranked[-1].behind - ranked[0].behind
    less = 1.0 - inertia_load_share(fewer.limiter_speed, now.limiter_speed)

    def fuel(one: Gearing) -> float:
        return sum(lap.fuel for lap in one.laps.values())

    radius = driven_radius(car)
    costs = sum(_mean_laps(fewer)) - sum(_mean_laps(now))
    return (
        *(f"quickest on {name}: {gearing_words(quickest_on(name))}" for name in rounds),
        f"from the quickest to the slowest compared lie {spread_of_all:.2f} s over all of them",
        f"500 rpm less costs {costs:.2f} s over all of them, takes {100.0 * less:.0f} % off the inertia "
        "loads of pistons and rods at the limit and changes the fuel by "
        f"{100.0 * (fuel(fewer) / fuel(now) - 1.0):+.1f} %; what that is worth in hours of this "
        "engine's life is unknown",
        f"the rev limit is {car.engine.limiter_speed / RPM:.0f} rpm, on a rolling radius of "
        f"{1e3 * radius:.0f} mm ({turns_per_kilometre(radius):.0f} turns a kilometre)",
    )


def _next_thing(now: Gearing, best: Gearing, is_sure: bool, speeds: tuple[EngineSpeeds, ...]) -> str:
    if not best.is_now and is_sure:
        return (
            f"Fit {gearing_words(best)}; then read the tachometer at the end of the longest straight against "
            "what is expected here."
        )
    fastest = max(speeds, key=lambda one: one.end.speed, default=None)
    if fastest is None:
        return f"Leave {gearing_words(now)}."
    return (
        f"Leave {gearing_words(now)}. Read the tachometer before {fastest.end.before} of {fastest.circuit}: "
        f"{fastest.low / RPM:.0f} to {fastest.high / RPM:.0f} rpm is expected; outside of it the rolling "
        "radius, the drag or the power is not what was written."
    )
