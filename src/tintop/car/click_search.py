"""Every click a car's dampers have, rated on a road by tyre load variation and comfort; SI."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.chassis import Chassis, Damper, DamperSide, End
from tintop.car.damping import (
    SHAFT_SPEED,
    TOP_SPEED,
    WHEEL_SPEEDS,
    critical_of,
    damper_of,
    wheel_force,
)
from tintop.car.ride_quality import Ridden, RideQuality, ridden
from tintop.car.setup import Setup
from tintop.errors import refuse
from tintop.physics.damper_curves import equivalent_damping
from tintop.physics.ride_comfort import VERTICAL, weighted_rms
from tintop.physics.ride_frequency import FREQUENCIES, RideCar
from tintop.physics.road_profile import RoadClass

FloatArray = NDArray[np.float64]

BODY_COUNTS = 4.0
"""How often the body's swing counts beside what the road does to the tyres: the driver waits for it.

Set so that a saloon on a smooth dry circuit asks for a damping ratio between 0.6 and 0.7, as the trade has it
(common practice, no source); the wet and the road follow from their own roughness, grip and speed.
"""
AS_GOOD = 0.02  # of the least, within which clicks count as equally good
_BALANCE = 0.05  # what the balance of strokes counts; small, no source
_GRID = np.geomspace(0.04, 4.0, 12)  # dampings mapped, by critical
_SPEEDS = np.geomspace(0.003, 1.5, 28)  # of the suspension, r.m.s. [m/s]
_SWEEPS, _STEPS, _SETTLED = 6, 30, 1e-3


_Reading = Callable[[FloatArray, FloatArray], tuple[FloatArray, FloatArray, FloatArray, FloatArray]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clicks:
    """Clicks of one end from full soft; one knob turns both alike."""

    bump: int
    rebound: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """A choice of clicks as it rides: `variation` of tyre loads, the swing counted up; `comfort` [m/s²]."""

    front: Clicks
    rear: Clicks
    variation: float
    comfort: float

    def at(self, end: End) -> Clicks:
        """Clicks of one end."""
        return self.front if end is End.FRONT else self.rear


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is looked for: a per cent of comfort by one of load variation, and the balance of strokes."""

    comfort_worth: float
    rebound_to_bump: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best clicks, and every one rated: each pair of clicks of an end with the other end at its best."""

    best: Rated
    rated: tuple[Rated, ...]
    also: tuple[Rated, ...]
    as_good: Mapping[tuple[End, str], tuple[int, int]]  # lowest and highest click that does as well, by knob


@dataclass(frozen=True, slots=True, kw_only=True)
class EndClicks:
    """One end's clicks, and the plain damping of each by the speed it meets."""

    pairs: tuple[Clicks, ...]
    dampings: FloatArray  # (pairs, speeds)
    ratios: FloatArray  # of rebound to bump, by pair


def best_clicks(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    road: RoadClass,
    speed: float,
    wanted: Wanted,
    ends: Mapping[End, EndClicks] | None = None,
    also: tuple[tuple[Clicks, Clicks], ...] = (),
) -> Found:
    """Search all clicks of both ends, one end against the other until neither moves.

    Least is ln(load variation) + worth × ln(comfort) + 0.05 × ln(rebound to bump, by what is wanted)². Many
    pairs damp alike: the last term, small, says which of them. `ends` saves working out the clicks again,
    `also` are clicks, front and rear, to be rated beside them. Raises BadInput where dampers are unknown.
    """
    on = ridden(car, chassis, setup, road, speed)
    ends = clicks_of_ends(on.ride, chassis, setup) if ends is None else ends
    read = _map(on)
    chosen = dict.fromkeys(End, 0)
    for _ in range(_SWEEPS):
        before = dict(chosen)
        for end in End:
            variation, comfort = _rate(read, ends, chosen, end)
            merit = np.log(variation) + wanted.comfort_worth * np.log(comfort)
            off = np.log(np.maximum(ends[end].ratios, 1e-6) / wanted.rebound_to_bump)
            chosen[end] = int(np.argmin(merit + _BALANCE * off**2))
        if chosen == before:
            break
    ratings = {end: _rate(read, ends, chosen, end) for end in End}
    rated = tuple(
        _rated(ends, {**chosen, end: place}, float(variation), float(comfort))
        for end, (variations, comforts) in ratings.items()
        for place, (variation, comfort) in enumerate(zip(variations, comforts, strict=True))
    )
    best_place = chosen[End.FRONT]
    variations, comforts = ratings[End.FRONT]
    return Found(
        best=_rated(ends, chosen, float(variations[best_place]), float(comforts[best_place])),
        rated=rated,
        also=tuple(_rated_pair(read, ends, front, rear) for front, rear in also),
        as_good=_as_good(ends, chosen, ratings, wanted.comfort_worth),
    )


def _rated_pair(read: _Reading, ends: Mapping[End, EndClicks], front: Clicks, rear: Clicks) -> Rated:
    places = {End.FRONT: ends[End.FRONT].pairs.index(front), End.REAR: ends[End.REAR].pairs.index(rear)}
    one = {
        end: replace(ends[end], pairs=(ends[end].pairs[place],), dampings=ends[end].dampings[[place]])
        for end, place in places.items()
    }
    variation, comfort = _rate(read, one, dict.fromkeys(End, 0), End.FRONT)
    return _rated(one, dict.fromkeys(End, 0), float(variation[0]), float(comfort[0]))


def with_clicks(setup: Setup, front: Clicks, rear: Clicks) -> Setup:
    """The set-up with other clicks, left and right alike."""
    changed = setup.with_pair(End.FRONT, bump=front.bump, rebound=front.rebound)
    return changed.with_pair(End.REAR, bump=rear.bump, rebound=rear.rebound)


def rated_as(ride: RideCar, quality: RideQuality, front: Clicks, rear: Clicks) -> Rated:
    """The rating of clicks whose ride is known."""
    share = ride.static_share_front
    square = share * (quality.road_variation_front**2 + (BODY_COUNTS * quality.swing_front) ** 2)
    square += (1.0 - share) * (quality.road_variation_rear**2 + (BODY_COUNTS * quality.swing_rear) ** 2)
    return Rated(front=front, rear=rear, variation=math.sqrt(square), comfort=quality.comfort)


def clicks_of_ends(ride: RideCar, chassis: Chassis, setup: Setup) -> Mapping[End, EndClicks]:
    """Every click of both ends with its plain damping; BadInput where an end's dampers are unknown."""
    return {end: _clicks_of_end(ride, chassis, setup, end) for end in End}


def _clicks_of_end(ride: RideCar, chassis: Chassis, setup: Setup, end: End) -> EndClicks:
    damper = damper_of(chassis, setup, end)
    if damper is None:
        raise refuse(f"{end} dampers", "none described", "force curves, or a damping ratio for each click")
    ratio, critical = chassis.at(end).damper_motion_ratio, critical_of(ride, end)
    bump = _halves(damper.bump, ratio, critical)
    rebound = _halves(damper.rebound, ratio, critical)
    pairs = pairs_of(damper)
    rows = [
        (bump[_row(damper.bump, each.bump)], rebound[_row(damper.rebound, each.rebound)]) for each in pairs
    ]
    slow = int(np.searchsorted(_SPEEDS, SHAFT_SPEED / ratio))
    return EndClicks(
        pairs=pairs,
        dampings=np.array([0.5 * (one + other) for one, other in rows]),
        ratios=np.array([other[slow] / max(one[slow], 1e-9) for one, other in rows]),
    )


def pairs_of(damper: Damper) -> tuple[Clicks, ...]:
    """Every pair of clicks from the lowest to the highest measured; of one knob, every click."""
    rebounds = _all(damper.rebound)
    if damper.is_linked:
        return tuple(Clicks(bump=click, rebound=click) for click in rebounds)
    return tuple(Clicks(bump=one, rebound=other) for one, other in product(_all(damper.bump), rebounds))


def _all(side: DamperSide) -> range:
    return range(side.clicks[0], side.clicks[-1] + 1)


def _row(side: DamperSide, click: int) -> int:
    return min(max(click, side.clicks[0]), side.clicks[-1]) - side.clicks[0]


def _halves(side: DamperSide, motion_ratio: float, critical: float) -> FloatArray:
    """Plain damping of one direction by itself, a row a click: (clicks, speeds)."""
    still = len(WHEEL_SPEEDS) // 2
    rows = []
    for click in _all(side):
        half = wheel_force(side, float(click), WHEEL_SPEEDS[still:], motion_ratio, critical)
        rows.append(equivalent_damping(np.concatenate([-half[:0:-1], half]), TOP_SPEED, _SPEEDS))
    return np.array(rows)


def _map(on: Ridden) -> _Reading:
    """Load variation, comfort and both speeds at any two dampings, from a map in their logarithms."""
    from scipy.interpolate import RectBivariateSpline

    ride, frequencies = on.ride, FREQUENCIES[::2]
    front = _GRID * critical_of(ride, End.FRONT)
    rear = _GRID * critical_of(ride, End.REAR)
    answer, swing = on.at(front[:, None], rear[None, :], frequencies)
    share = ride.static_share_front
    variation = np.sqrt(
        share * (answer.load_front**2 + (BODY_COUNTS * swing.load_front) ** 2) / ride.static_load_front**2
        + (1.0 - share)
        * (answer.load_rear**2 + (BODY_COUNTS * swing.load_rear) ** 2)
        / ride.static_load_rear**2
    )
    comfort = weighted_rms(frequencies, answer.seat, VERTICAL)
    speeds = (
        np.hypot(answer.speed_front, swing.speed_front),
        np.hypot(answer.speed_rear, swing.speed_rear),
    )
    at_front, at_rear = np.log(front), np.log(rear)
    splines = [RectBivariateSpline(at_front, at_rear, np.log(each)) for each in (variation, comfort, *speeds)]

    def read(
        damping_front: FloatArray, damping_rear: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        x = np.log(np.clip(damping_front, front[0], front[-1]))
        y = np.log(np.clip(damping_rear, rear[0], rear[-1]))
        one, two, three, four = (np.exp(each.ev(x, y)) for each in splines)
        return one, two, three, four

    return read


def _rate(
    read: _Reading, ends: Mapping[End, EndClicks], chosen: Mapping[End, int], varied: End
) -> tuple[FloatArray, FloatArray]:
    """Load variation and comfort of every pair of one end, the other end as chosen."""
    count = len(ends[varied].pairs)
    places = {
        end: np.arange(count) if end is varied else np.full(count, chosen[end])
        for end in (End.FRONT, End.REAR)
    }
    logs = np.log(_SPEEDS)
    speeds = {end: np.full(count, 0.1) for end in places}
    dampings: dict[End, FloatArray] = {}
    for _ in range(_STEPS):
        before = speeds
        for end, place in places.items():
            at = np.clip(np.interp(np.log(speeds[end]), logs, np.arange(len(logs))), 0.0, len(logs) - 1.001)
            index = at.astype(int)
            known = ends[end].dampings
            low, high = known[place, index], known[place, index + 1]
            dampings[end] = low + (at - index) * (high - low)
        variation, comfort, front, rear = read(dampings[End.FRONT], dampings[End.REAR])
        speeds = {End.FRONT: front, End.REAR: rear}
        if all(np.allclose(speeds[end], before[end], rtol=_SETTLED) for end in End):
            break
    return variation, comfort


def _rated(
    ends: Mapping[End, EndClicks], chosen: Mapping[End, int], variation: float, comfort: float
) -> Rated:
    return Rated(
        front=ends[End.FRONT].pairs[chosen[End.FRONT]],
        rear=ends[End.REAR].pairs[chosen[End.REAR]],
        variation=variation,
        comfort=comfort,
    )


def _as_good(
    ends: Mapping[End, EndClicks],
    chosen: Mapping[End, int],
    ratings: Mapping[End, tuple[FloatArray, FloatArray]],
    worth: float,
) -> dict[tuple[End, str], tuple[int, int]]:
    """By knob, the other knobs as chosen: the lowest and highest click that does as well."""
    found = {}
    for end, (variation, comfort) in ratings.items():
        merit = np.log(variation) + worth * np.log(comfort)
        near = merit <= merit.min() + AS_GOOD
        best = ends[end].pairs[chosen[end]]
        good = [pair for pair, is_near in zip(ends[end].pairs, near, strict=True) if is_near]
        one_knob = all(pair.bump == pair.rebound for pair in ends[end].pairs)
        bumps = [pair.bump for pair in good if one_knob or pair.rebound == best.rebound]
        rebounds = [pair.rebound for pair in good if one_knob or pair.bump == best.bump]
        found[end, "bump"] = (min(bumps), max(bumps))
        found[end, "rebound"] = (min(rebounds), max(rebounds))
    return found


def knobs_of_no_matter(chassis: Chassis, setup: Setup, found: Found) -> tuple[str, ...]:
    """A sentence for each knob of which any click is as good on that road."""
    said = []
    for end in End:
        damper = damper_of(chassis, setup, end)
        if damper is None:
            continue
        for knob, side in (("bump", damper.bump), ("rebound", damper.rebound)):
            low, high = found.as_good[end, knob]
            if side.most_clicks == 0 or (damper.is_linked and knob == "bump"):
                continue
            if low <= side.clicks[0] and high >= side.clicks[-1]:
                said.append(
                    f"{end.value.capitalize()} {knob} does not matter here: {low} to {high} are as good."
                )
    return tuple(said)


def knobs_at_the_end(chassis: Chassis, setup: Setup, found: Found) -> tuple[str, ...]:
    """Knobs whose best click is the last there is: other valving might do better."""
    said = []
    for end in End:
        damper = damper_of(chassis, setup, end)
        assert damper is not None
        for knob, side in (("bump", damper.bump), ("rebound", damper.rebound)):
            if side.most_clicks == 0 or side.ratios:
                continue
            low, high = found.as_good[end, knob]
            if low >= side.clicks[-1]:
                said.append(f"{end.capitalize()} {knob} is best at full hard: it may want other valving.")
            elif high <= side.clicks[0]:
                said.append(f"{end.capitalize()} {knob} is best at full soft: it may want other valving.")
    return tuple(said)
