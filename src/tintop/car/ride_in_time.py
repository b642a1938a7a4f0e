"""The car driven over a road or a kerb in time: its curves, stops, and wheels off the ground; SI."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.chassis import Chassis, End
from tintop.car.damping import TOP_SPEED, critical_of, damper_of, wheel_table
from tintop.car.ride_quality import SEAT, ride_car
from tintop.car.setup import Setup
from tintop.checks import within
from tintop.errors import refuse
from tintop.physics.ride_comfort import VERTICAL, weighted_rms_of
from tintop.physics.ride_frequency import RideCar
from tintop.physics.road_profile import Kerb, RoadClass, RoadProfile, road_of_class, road_with_kerb

if TYPE_CHECKING:
    from tintop.physics.ride_model import RideRecord, Stops

FloatArray = NDArray[np.float64]

SPEEDS = (3.0, 90.0)  # over a road or a kerb [m/s]
_RUN_IN = 2.0  # before a road counts [s]
_STEP = 0.05  # of a road [m]
_AFTER_KERB = 3.0  # watched after the last wheel left it [s]
_SETTLED = 0.05  # of its load at rest, within which a tyre counts as settled


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadDrive:
    """A drive over a road, corners FL FR RL RR.

    `load_variation` r.m.s. by load at rest; `in_air` and `on_stops` shares of the time without load and on
    the bump stop; `most_travel` [m]; `damper_heat` [W] taken up by each damper; `comfort` as in RideQuality.
    """

    seconds: float
    load_variation: tuple[float, ...]
    in_air: tuple[float, ...]
    on_stops: tuple[float, ...]
    most_travel: tuple[float, ...]
    damper_heat: tuple[float, ...]
    comfort: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KerbStrike:
    """What a kerb does to the car, corners FL FR RL RR.

    `in_air` [s] without load; `most_load` [N]; `most_travel` [m] in bump; `on_stop` whether the bump stop was
    met; `settled` [s] from the last wheel off the kerb until every tyre stays within a twentieth of its load
    at rest, None where they do not within 3 s; `most_felt` the greatest vertical acceleration at the seat
    [m/s²].
    """

    kerb: Kerb
    speed: float
    is_left: bool
    in_air: tuple[float, ...]
    most_load: tuple[float, ...]
    most_travel: tuple[float, ...]
    on_stop: tuple[bool, ...]
    settled: float | None
    most_roll: float
    most_felt: float


def drive_over(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    road: RoadClass,
    speed: float,
    *,
    seconds: float = 30.0,
    seed: int = 1,
) -> RoadDrive:
    """Drive a road of a class, drawn from a seed, with each wheel's own clicks; the first 2 s are left out.

    Raises BadInput for an impossible speed or time, and where an end's dampers are unknown.
    """
    within(seconds, 5.0, 300.0, "time on the road", "s")
    within(speed, *SPEEDS, "speed on the road", "m/s")
    ride = ride_car(car, chassis, setup)
    whole = seconds + _RUN_IN
    length = max(speed * whole + 2.0, 100.0)
    drawn = road_of_class(road, length, 0.5 * (ride.track_front + ride.track_rear), seed=seed, step=_STEP)
    fade = np.clip(np.arange(len(drawn.left)) * drawn.step / (speed * _RUN_IN), 0.0, 1.0)
    profile = RoadProfile(step=drawn.step, left=drawn.left * fade, right=drawn.right * fade)
    record, stops = _driven(ride, chassis, setup, profile, speed, whole)
    counted = record.time >= _RUN_IN
    loads, travel = record.loads[counted], record.travel[counted]
    heat = (record.taken[-1] - record.taken[np.argmax(counted)])[:4] / seconds
    return RoadDrive(
        seconds=seconds,
        load_variation=_four(loads.std(axis=0) / _at_rest(ride)),
        in_air=_four(np.mean(loads <= 0.0, axis=0)),
        on_stops=_four(np.mean(travel > _bump_room(stops), axis=0)),
        most_travel=_four(travel.max(axis=0)),
        damper_heat=_four(heat),
        comfort=weighted_rms_of(record.seat(*SEAT)[counted], record.record_step, VERTICAL),
    )


def kerb_strike(
    car: Car, chassis: Chassis, setup: Setup, kerb: Kerb, speed: float, *, is_left: bool = True
) -> KerbStrike:
    """Run the wheels of one side over a kerb, straight on, from rest on the level.

    Raises BadInput for an impossible speed, and where an end's dampers are unknown.
    """
    within(speed, *SPEEDS, "speed over the kerb", "m/s")
    ride = ride_car(car, chassis, setup)
    run_up = 0.05 * speed
    off = run_up + kerb.length + ride.wheelbase
    profile = road_with_kerb(kerb, run_up=run_up, run_off=1.0, is_left=is_left)
    record, stops = _driven(ride, chassis, setup, profile, speed, off / speed + _AFTER_KERB)
    rest = _at_rest(ride)
    unsettled = np.any(np.abs(record.loads - rest) > _SETTLED * rest, axis=1)
    last = float(record.time[np.nonzero(unsettled)[0][-1]]) if unsettled.any() else 0.0
    travel = record.travel.max(axis=0)
    return KerbStrike(
        kerb=kerb,
        speed=speed,
        is_left=is_left,
        in_air=_four(record.time_in_air()),
        most_load=_four(record.loads.max(axis=0)),
        most_travel=_four(travel),
        on_stop=tuple(bool(one) for one in travel > _bump_room(stops)),
        settled=None if unsettled[-1] else max(last - off / speed, 0.0),
        most_roll=float(np.abs(record.body[:, 2]).max()),
        most_felt=float(np.abs(record.seat(*SEAT)).max()),
    )


def _driven(
    ride: RideCar, chassis: Chassis, setup: Setup, profile: RoadProfile, speed: float, seconds: float
) -> "tuple[RideRecord, Stops]":
    from tintop.physics.ride_model import Stops, ride_over

    front, rear = chassis.front, chassis.rear
    stops = Stops(
        front.bump_travel,
        rear.bump_travel,
        front.droop_travel,
        rear.droop_travel,
        front.bump_stop_rate,
        rear.bump_stop_rate,
    )
    tables = np.stack([table for end in End for table in _own_tables(ride, chassis, setup, end)])
    return ride_over(ride, stops, tables, TOP_SPEED, profile, speed, seconds), stops


def _own_tables(ride: RideCar, chassis: Chassis, setup: Setup, end: End) -> list[FloatArray]:
    """Left and right damper at their own clicks."""
    damper = damper_of(chassis, setup, end)
    if damper is None:
        raise refuse(f"{end} dampers", "none described", "force curves, or a damping ratio for each click")
    return [
        wheel_table(
            damper,
            (corner.rebound if damper.is_linked else corner.bump, corner.rebound),
            chassis.at(end),
            critical_of(ride, end),
        )
        for corner in setup.pair(end)
    ]


def _at_rest(ride: RideCar) -> FloatArray:
    return np.repeat([ride.static_load_front, ride.static_load_rear], 2)


def _bump_room(stops: "Stops") -> FloatArray:
    return np.repeat([stops.bump_front, stops.bump_rear], 2)


def _four(values: FloatArray) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
