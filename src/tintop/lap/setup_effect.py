"""What a set-up does: lap, balance, comfort, tyre load variation, hot pressures, and which wheels lock first.

The lap is driven with an empty tank, as everywhere a flying lap is predicted. Symbols and equations:
docs/theory/setup_search.md.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, hot_pressure
from tintop.car.chassis import Chassis, End
from tintop.car.damping import damper_of
from tintop.car.lock_order import LockOrder, lock_order, usual_ask
from tintop.car.ride_quality import ROAD_FOR, RideQuality, grip_kept, ride_quality
from tintop.car.road_tread import tread_on_road
from tintop.car.setup import Purpose, Setup
from tintop.car.tyres import Tyre
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.known import Known
from tintop.lap.balance import LimitBalance, limit_balance
from tintop.lap.bump_travel import least_travel_left
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap, lap_timer
from tintop.lap.trace import LapTrace
from tintop.lap.vehicle import GRAVITY
from tintop.physics.road_profile import RoadClass
from tintop.physics.tread_wear import cornering_stiffness

CORNERING = (
    3.0  # lateral acceleration from which a place counts as a corner [m/s²]; common practice, no source
)
GRIPS = tuple(1.0 + 0.002 * step for step in range(-3, 4))  # measured: see the theory
_SLOW = 20.0  # [m/s] where a path has no corner
CIRCUIT_ROAD = ROAD_FOR[Purpose.DRY].road_class


Ride = Callable[[Car, Chassis, Setup, RoadClass, float], RideQuality | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the laps are driven: path, weather, the surface of the circuit, speed [m/s] of a usual corner."""

    path: Path
    weather: Weather
    surface: RoadClass
    corner_speed: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """The car with a set-up on it, and what remains of its grip on an uneven surface."""

    car: Car
    grip_kept: tuple[float, float]  # front and rear
    ride: RideQuality | None  # on the circuit

    @property
    def conditions(self) -> Conditions:
        """The lap's conditions with this grip."""
        front, rear = self.grip_kept
        return Conditions(grip=(front, front, rear, rear))


@dataclass(frozen=True, slots=True, kw_only=True)
class Quick:
    """What a search asks of every set-up: lap [s], limit balance, and how far it is from what must not be.

    `lock_margin` is the front share of the braking in hand: negative = the rear wheels lock first.
    `bump_left` [m] is the bump travel left at the hardest place of the lap, negative = a wheel touches its
    stop. `roll` [rad] is the body's at the limit of a steady corner; `outer_lean` [rad] the camber to the
    road of the outer wheel at the hardest corners, positive = leaning outwards, for who asks.
    """

    lap_time: float
    balance: float
    lock_margin: float
    bump_left: float
    roll: float = 0.0
    outer_lean: float = -math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupEffect:
    """All of it; wheels in the order FL FR RL RR.

    `mean_lap_time` is that of laps on a little less and more grip: set-ups are compared by it. `balance` is
    the mean over the lap's corners by time of front minus rear grip used; `limit` the balance of a steady
    corner at a usual speed; both positive = understeer. `hot_pressures` [Pa gauge] with their distance from
    target, None where there is no target. `load_variation` is dynamic tyre load r.m.s. ÷ static of front and
    rear on the circuit; comfort is the weighted acceleration [m/s²] on circuit and road; None where the
    dampers are unknown. `road_wear` is the depth that a metre of road takes off the worse inner edge of front
    and rear [m/m], within a factor of three. `lock` is that of the brakes' page, on its usual road;
    `bump_left` [m] the bump travel left at the hardest place of the lap with the set-up's fuel aboard,
    negative = a wheel touches its stop.
    """

    lap: LapTrace
    mean_lap_time: float
    balance: float
    limit: LimitBalance
    lock: LockOrder
    bump_left: float
    hot_pressures: tuple[float, float, float, float]
    pressure_off: tuple[float | None, ...]
    load_variation: tuple[float, float] | None
    grip_kept: tuple[float, float]
    comfort_circuit: float | None
    comfort_road: float | None
    road_wear: tuple[float, float]

    @property
    def lap_time(self) -> float:
        """Time of the flying lap [s]."""
        return self.lap.lap_time


def ride_where_known(
    car: Car, chassis: Chassis, setup: Setup, road: RoadClass, speed: float
) -> RideQuality | None:
    """The ride, or None where an end's dampers are not described: nothing is made up."""
    if any(damper_of(chassis, setup, end) is None for end in End):
        return None
    return ride_quality(car, chassis, setup, road, speed)


def remembering(ride: Ride = ride_where_known) -> Ride:
    """The same ride, asked once of all set-ups that differ in nothing it feels."""
    felt: dict[object, RideQuality | None] = {}

    def remembered(
        car: Car, chassis: Chassis, setup: Setup, road: RoadClass, speed: float
    ) -> RideQuality | None:
        clicks = tuple((corner.bump, corner.rebound) for corner in setup.corners)
        loads = (setup.ballast, setup.fuel_volume, setup.tyres, setup.purpose)
        key = (id(car), id(chassis), setup.front, setup.rear, clicks, loads, road, speed)
        if key not in felt:
            felt[key] = ride(car, chassis, setup, road, speed)
        return felt[key]

    return remembered


def place_for(
    car: Car,
    path: Path,
    weather: Weather,
    surface: RoadClass = CIRCUIT_ROAD,
    corner_speed: float | None = None,
) -> Place:
    """The place with its usual corner speed: that of the car's own lap, the mean over the time in corners."""
    if corner_speed is None:
        lap = flying_lap(car, path, weather)
        spent = _corner_time(lap)
        corner_speed = float(np.dot(lap.speed, spent) / np.sum(spent)) if np.any(spent) else _SLOW
    return Place(path=path, weather=weather, surface=surface, corner_speed=corner_speed)


def fitted(car: Car, chassis: Chassis, setup: Setup, place: Place, ride: Ride = ride_where_known) -> Fitted:
    """The car with the set-up on it at a place; BadInput as car_with_setup."""
    return fitted_with(
        car, chassis, setup, place, ride(car, chassis, setup, place.surface, place.corner_speed)
    )


def fitted_with(car: Car, chassis: Chassis, setup: Setup, place: Place, felt: RideQuality | None) -> Fitted:
    """As `fitted`, with the ride found before."""
    with_setup = car_with_setup(car, chassis, setup, place.weather)
    with_setup = replace(
        with_setup,
        tyre_front=_scrubbing(with_setup.tyre_front, setup, End.FRONT),
        tyre_rear=_scrubbing(with_setup.tyre_rear, setup, End.REAR),
    )
    return Fitted(car=with_setup, grip_kept=grip_kept_by(with_setup, felt), ride=felt)


def grip_kept_by(car: Car, felt: RideQuality | None) -> tuple[float, float]:
    """Share of its grip that each axle keeps on an uneven surface at its static load; 1 where unknown."""
    if felt is None:
        return 1.0, 1.0
    weight = car.masses.without_fuel * GRAVITY
    front, rear = 0.5 * weight * car.masses.front_share, 0.5 * weight * (1.0 - car.masses.front_share)
    return (
        grip_kept(car.tyre_front, front, felt.load_variation_front),
        grip_kept(car.tyre_rear, rear, felt.load_variation_rear),
    )


def quick_effect(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    place: Place,
    ride: Ride = ride_where_known,
    grips: tuple[float, ...] = GRIPS,
) -> Quick:
    """What a search asks, in a few milliseconds; `grips` as mean_lap_time."""
    found = fitted(car, chassis, setup, place, ride)
    limit = limit_balance(found.car, place.weather, place.corner_speed, found.conditions)
    return Quick(
        lap_time=mean_lap_time(found.car, found.grip_kept, place, grips),
        balance=limit.balance,
        lock_margin=locking(found.car, setup, place.weather).margin,
        bump_left=least_travel_left(car, chassis, setup, place.path, place.weather),
        roll=limit.roll,
    )


def mean_lap_time(
    car: Car, grip: tuple[float, float], place: Place, grips: tuple[float, ...] = GRIPS
) -> float:
    """Mean time [s] of several laps on a little less and a little more than this grip of front and rear.

    One lap alone jumps by hundredths where a gear change falls before or after a corner; their mean does not.
    """
    times = [
        lap_timer(car, place.weather, Conditions(grip=(g * grip[0],) * 2 + (g * grip[1],) * 2))(place.path)
        for g in grips
    ]
    return sum(times) / len(times)


def setup_effect(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    path: Path,
    weather: Weather,
    *,
    place: Place | None = None,
    ride: Ride = ride_where_known,
    known: Mapping[str, Known] | None = None,
) -> SetupEffect:
    """Everything a set-up does on a path in such a weather, by a whole lap; BadInput as car_with_setup.

    `place` spares looking for the usual corner speed, and keeps it the same for set-ups to be compared.
    `known` gives the car's uncertainties, for how sure it is which axle locks first.
    """
    place = place or place_for(car, path, weather)
    found = fitted(car, chassis, setup, place, ride)
    lap = flying_lap(found.car, path, weather, found.conditions)
    limit = limit_balance(found.car, weather, place.corner_speed, found.conditions)
    spent = _corner_time(lap)
    balance = float(np.dot(lap.channel("balance"), spent) / np.sum(spent)) if np.any(spent) else 0.0
    felt, road = found.ride, ROAD_FOR[Purpose.ROAD]
    on_road = ride(car, chassis, setup, road.road_class, road.speed)
    wheels = [
        (chassis.at(end), corner, found.car.tyre_front if end is End.FRONT else found.car.tyre_rear)
        for end in End
        for corner in setup.pair(end)
    ]
    hot = [hot_pressure(axle, corner, weather) for axle, corner, _ in wheels]
    targets = [tyre.pressure_hot for _, _, tyre in wheels]
    return SetupEffect(
        lap=lap,
        mean_lap_time=mean_lap_time(found.car, found.grip_kept, place),
        balance=balance,
        limit=limit,
        lock=locking(found.car, setup, weather, known),
        bump_left=least_travel_left(car, chassis, setup, path, weather),
        hot_pressures=(hot[0], hot[1], hot[2], hot[3]),
        pressure_off=tuple(
            None if target is None else one - target for one, target in zip(hot, targets, strict=True)
        ),
        load_variation=(felt.load_variation_front, felt.load_variation_rear) if felt else None,
        grip_kept=found.grip_kept,
        comfort_circuit=felt.comfort if felt else None,
        comfort_road=on_road.comfort if on_road else None,
        road_wear=(
            tread_on_road(found.car, chassis, setup, End.FRONT).inner,
            tread_on_road(found.car, chassis, setup, End.REAR).inner,
        ),
    )


def locking(car: Car, setup: Setup, weather: Weather, known: Mapping[str, Known] | None = None) -> LockOrder:
    """Which axle of the car with its set-up on locks first on such a road; source as lock_order."""
    return lock_order(car, usual_ask(car, setup.purpose, weather.wetness), known)


def toe_drag(tyre: Tyre, toe: float) -> float:
    """Rolling resistance added by a wheel's own toe [rad], as a share of its load.

    The part along the road of the side force of so little slip is that force times the toe. Source: as
    cornering_stiffness.
    """
    return cornering_stiffness(tyre.friction_lateral, 1.0, tyre.slide_slip) * toe**2


def _scrubbing(tyre: Tyre, setup: Setup, end: End) -> Tyre:
    added = sum(toe_drag(tyre, corner.toe) for corner in setup.pair(end)) / 2.0
    return replace(tyre, rolling_resistance=min(tyre.rolling_resistance + added, 0.06))


def _corner_time(lap: LapTrace) -> np.ndarray:
    in_corner: np.ndarray = np.where(np.abs(lap.lateral_acceleration) >= CORNERING, lap.segment_time, 0.0)
    return in_corner


def without_gear_changes(car: Car) -> Car:
    """The car whose gear changes take no time: its lap alone moves smoothly with every number."""
    return replace(car, gearbox=replace(car.gearbox, shift_time=0.0))
