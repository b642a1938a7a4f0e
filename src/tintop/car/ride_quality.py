"""How the car rides with a set-up: tyre load variation, body swing, comfort, frequencies and ratios; SI."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.car.car_with_setup import beyond_the_wheels
from tintop.car.chassis import Chassis, End
from tintop.car.damping import (
    TOP_SPEED,
    DampersKnown,
    clicks_of,
    critical_of,
    damper_of,
    dampers_known,
    wheel_table,
)
from tintop.car.setup import Purpose, Setup
from tintop.car.tyres import Tyre
from tintop.checks import within
from tintop.errors import did_you_mean, refuse
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.damper_curves import equivalent_damping, mean_force
from tintop.physics.ride import wheel_rate
from tintop.physics.ride_comfort import VERTICAL, weighted_rms
from tintop.physics.ride_frequency import (
    FREQUENCIES,
    Handling,
    RideCar,
    RoadAnswer,
    Swing,
    body_swing,
    on_road,
)
from tintop.physics.ride_modes import RideModes, modes_of
from tintop.physics.road_profile import RoadClass

FloatArray = NDArray[np.float64]

SEAT = (0.0, 0.35)  # of the driver, ahead of and beside the sprung mass's centre [m]; estimated
_CHANGES, _LAG = 0.25, 0.2  # of what the driver asks: a second, and s; estimated, no source
_SHARE_ACROSS, _SHARE_ALONG = 0.6, 0.4  # r.m.s. of a lap as share of the tyres' grip; estimated, no source
_ROAD_ACROSS, _ROAD_ALONG = 1.5, 1.0  # r.m.s. of a brisk drive [m/s²]; estimated, no source
_FIRST_SPEED = 0.1  # of the suspension, where the search for its r.m.s. starts [m/s]
_MOST_STEPS, _SETTLED = 30, 1e-4


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """A road by name: its class and the speed [m/s] at which it is driven."""

    name: str
    road_class: RoadClass
    speed: float


ROADS: Mapping[str, Road] = MappingProxyType(
    {
        road.name: road
        for road in (
            Road(name="smooth circuit", road_class=RoadClass.A, speed=36.0),
            Road(name="bumpy circuit", road_class=RoadClass.B, speed=36.0),
            Road(name="motorway", road_class=RoadClass.A, speed=30.0),
            Road(name="B road", road_class=RoadClass.C, speed=22.2),
        )
    }
)  # classes and speeds: common practice, no source
ROAD_FOR: Mapping[Purpose, Road] = MappingProxyType(
    {
        Purpose.ROAD: ROADS["B road"],
        Purpose.DRY: ROADS["smooth circuit"],
        Purpose.WET: ROADS["smooth circuit"],
    }
)


def road_named(text: str, speed: float | None, usual: Road) -> Road:
    """A road by name, or by the letter of its class; the usual one for ''. Its own speed unless one is given.

    BadInput for a name that is neither.
    """
    named = ROADS.get(text.strip())
    letter = text.strip().upper()
    if not text.strip():
        found = usual
    elif named is not None:
        found = named
    elif letter in RoadClass.__members__:
        found = Road(name="road asked for", road_class=RoadClass[letter], speed=usual.speed)
    else:
        there = "; ".join(ROADS)
        raise refuse("road", repr(text), f"one of: {there}; or a class A to H", did_you_mean(text, ROADS))
    return found if speed is None else replace(found, speed=speed)


@dataclass(frozen=True, slots=True, kw_only=True)
class RideQuality:
    """How one set-up rides on one road.

    Variations are r.m.s. of one tyre's load by its load at rest: `road_*` from the road, `swing_*` from the
    body's over- and undershoot under the driver's demands, `load_*` both. `comfort` is the weighted vertical
    r.m.s. at the seat's floor [m/s²]; `travel_*` and `speed_*` r.m.s. of suspension travel [m] and its speed
    [m/s]; `damping_*` the plain damping at one wheel that does as much [N·s/m]; `drawn_down_*` how far the
    mean damper force draws the body down on its springs [m].
    """

    load_variation_front: float
    load_variation_rear: float
    road_variation_front: float
    road_variation_rear: float
    swing_front: float
    swing_rear: float
    comfort: float
    heave_acceleration: float
    pitch_acceleration: float
    roll_acceleration: float
    travel_front: float
    travel_rear: float
    speed_front: float
    speed_rear: float
    damping_front: float
    damping_rear: float
    drawn_down_front: float
    drawn_down_rear: float
    modes: RideModes
    known_front: DampersKnown
    known_rear: DampersKnown


@dataclass(frozen=True, slots=True, kw_only=True)
class Ridden:
    """The car on one road at a speed under a driver: all that damping does not change."""

    ride: RideCar
    roughness: float
    speed: float
    handling: Handling
    pitch_arm: float
    roll_arm: float

    def at(
        self, damping_front: FloatArray, damping_rear: FloatArray, frequencies: FloatArray = FREQUENCIES
    ) -> tuple[RoadAnswer, Swing]:
        """What the road and the driver do to it at dampings [N·s/m at one wheel] of any shape."""
        ride = self.ride
        return (
            on_road(ride, damping_front, damping_rear, self.roughness, self.speed, SEAT, frequencies),
            body_swing(
                ride, damping_front, damping_rear, self.handling, self.pitch_arm, self.roll_arm, frequencies
            ),
        )


def ride_car(car: Car, chassis: Chassis, setup: Setup) -> RideCar:
    """The numbers by which the car rides with a set-up; ballast added counts as spread like the car."""
    masses, dimensions = car.masses, car.dimensions
    unsprung = masses.unsprung_front + masses.unsprung_rear
    whole = masses.without_fuel + setup.ballast - masses.ballast
    fuel = setup.fuel_volume * car.fuel.density
    tank_front = 1.0 - masses.tank_behind_front_axle / dimensions.wheelbase
    sprung_front = whole * masses.front_share - masses.unsprung_front + fuel * tank_front
    sprung = whole - unsprung + fuel
    behind = dimensions.wheelbase * (1.0 - sprung_front / sprung)
    front, rear = chassis.front, chassis.rear
    return RideCar(
        sprung_mass=sprung,
        pitch_inertia=chassis.pitch_inertia,
        roll_inertia=chassis.roll_inertia,
        cg_to_front=behind,
        cg_to_rear=dimensions.wheelbase - behind,
        track_front=dimensions.track_front,
        track_rear=dimensions.track_rear,
        unsprung_front=0.5 * masses.unsprung_front,
        unsprung_rear=0.5 * masses.unsprung_rear,
        wheel_rate_front=wheel_rate(front.spring(setup.front.spring).rate, front.motion_ratio),
        wheel_rate_rear=wheel_rate(rear.spring(setup.rear.spring).rate, rear.motion_ratio),
        bar_front=beyond_the_wheels(front, setup, End.FRONT, dimensions.track_front),
        bar_rear=beyond_the_wheels(rear, setup, End.REAR, dimensions.track_rear),
        tyre_rate_front=front.tyre_rate,
        tyre_rate_rear=rear.tyre_rate,
        tyre_damping_front=front.tyre_damping,
        tyre_damping_rear=rear.tyre_damping,
    )


def handling_for(chassis: Chassis, setup: Setup) -> Handling:
    """What the driver asks: on the circuit a share of what the set-up's tyres grip, dry or wet."""
    if setup.purpose is Purpose.ROAD:
        return Handling(_ROAD_ALONG, _ROAD_ACROSS, _CHANGES, _LAG)
    tyres = chassis.tyres(setup.tyres)
    shares = (tyres.front, tyres.rear)
    wet = [one.friction_wet_share if setup.purpose is Purpose.WET else 1.0 for one in shares]
    along = min(one.friction_longitudinal * share for one, share in zip(shares, wet, strict=True))
    across = min(one.friction_lateral * share for one, share in zip(shares, wet, strict=True))
    return Handling(
        _SHARE_ALONG * along * STANDARD_GRAVITY, _SHARE_ACROSS * across * STANDARD_GRAVITY, _CHANGES, _LAG
    )


def ridden(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    road: RoadClass,
    speed: float,
    handling: Handling | None = None,
) -> Ridden:
    """Put the car on a road; the driver is the purpose's unless given. BadInput for an impossible speed."""
    within(speed, 3.0, 90.0, "speed on the road", "m/s")
    ride, suspension = ride_car(car, chassis, setup), car.suspension
    lean = suspension.roll_centre_height_rear - suspension.roll_centre_height_front
    axis = suspension.roll_centre_height_front + lean * ride.cg_to_front / ride.wheelbase
    return Ridden(
        ride=ride,
        roughness=road.roughness,
        speed=speed,
        handling=handling if handling is not None else handling_for(chassis, setup),
        pitch_arm=car.masses.cg_height,
        roll_arm=max(car.masses.cg_height - axis, 0.0),
    )


def ride_quality(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    road: RoadClass,
    speed: float,
    handling: Handling | None = None,
) -> RideQuality:
    """How the car rides with a set-up on a road class at a speed [m/s], left and right at their mean.

    Curves count as the plain damping that takes as much out of the motion they meet, found by repeating.
    Raises BadInput where an end's dampers are unknown: nothing is made up.
    """
    on = ridden(car, chassis, setup, road, speed, handling)
    tables, known = {}, {}
    for end in End:
        damper = damper_of(chassis, setup, end)
        if damper is None:
            raise refuse(
                f"{end} dampers", "none described", "force curves, or a damping ratio for each click"
            )
        clicks = clicks_of(damper, setup, end)
        tables[end] = wheel_table(damper, clicks, chassis.at(end), critical_of(on.ride, end))
        known[end] = dampers_known(damper, clicks)
    front, rear, answer, swing, speeds = _settled(on, tables[End.FRONT], tables[End.REAR])
    ride = on.ride
    road_front = float(answer.load_front) / ride.static_load_front
    road_rear = float(answer.load_rear) / ride.static_load_rear
    swing_front = float(swing.load_front) / ride.static_load_front
    swing_rear = float(swing.load_rear) / ride.static_load_rear
    return RideQuality(
        load_variation_front=float(np.hypot(road_front, swing_front)),
        load_variation_rear=float(np.hypot(road_rear, swing_rear)),
        road_variation_front=road_front,
        road_variation_rear=road_rear,
        swing_front=swing_front,
        swing_rear=swing_rear,
        comfort=float(weighted_rms(FREQUENCIES, answer.seat, VERTICAL)),
        heave_acceleration=float(answer.heave),
        pitch_acceleration=float(answer.pitch),
        roll_acceleration=float(answer.roll),
        travel_front=float(answer.travel_front),
        travel_rear=float(answer.travel_rear),
        speed_front=speeds[0],
        speed_rear=speeds[1],
        damping_front=front,
        damping_rear=rear,
        drawn_down_front=-mean_force(tables[End.FRONT], TOP_SPEED, speeds[0]) / ride.wheel_rate_front,
        drawn_down_rear=-mean_force(tables[End.REAR], TOP_SPEED, speeds[1]) / ride.wheel_rate_rear,
        modes=modes_of(ride, front, rear),
        known_front=known[End.FRONT],
        known_rear=known[End.REAR],
    )


def _settled(
    on: Ridden, table_front: FloatArray, table_rear: FloatArray
) -> tuple[float, float, RoadAnswer, Swing, tuple[float, float]]:
    """Plain dampings that agree with the speeds they leave; repeated until they hardly move."""
    speeds = (_FIRST_SPEED, _FIRST_SPEED)
    for _ in range(_MOST_STEPS):
        front = float(equivalent_damping(table_front, TOP_SPEED, np.array(speeds[0])))
        rear = float(equivalent_damping(table_rear, TOP_SPEED, np.array(speeds[1])))
        answer, swing = on.at(np.array(front), np.array(rear))
        found = (
            float(np.hypot(answer.speed_front, swing.speed_front)),
            float(np.hypot(answer.speed_rear, swing.speed_rear)),
        )
        moved = max(abs(new - old) / old for new, old in zip(found, speeds, strict=True))
        speeds = found
        if moved < _SETTLED:
            break
    return front, rear, answer, swing, speeds


def grip_kept(tyre: Tyre, load: float, variation: float) -> float:
    """Share of its grip that a tyre keeps where its load [N] varies by `variation` (r.m.s. by mean).

    Mean of mu0·(1 + k·(F − Fr)/Fr)·F over the loads, by its value at the mean load: what a load gains falls
    short of what it loses. Source: expectation of the load law of `car.tyres.Tyre`.
    """
    sensitivity, share = tyre.load_sensitivity, load / tyre.reference_load
    return max(1.0 + sensitivity * share * variation**2 / (1.0 + sensitivity * (share - 1.0)), 0.0)
