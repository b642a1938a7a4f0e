"""Springs and bars of a car with a set-up on it: rates, frequencies, roll, load transfer, droop; SI."""

from dataclasses import dataclass

from tintop.car.body_roll import BodyRoll, body_roll
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean, springs_in_roll
from tintop.car.chassis import AxleChassis, Chassis, End
from tintop.car.setup import Setup
from tintop.event import Weather
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.load_transfer import AxleMoments
from tintop.physics.ride import (
    RideMode,
    bounce_and_pitch,
    force_at_droop,
    ride_frequency,
    ride_rate,
    roll_stiffness_of_springs,
    spring_force,
    wheel_rate,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleSprings:
    """One end: rates [N/m] of one spring, at its wheel and with the tyre; stiffnesses in roll [N·m/rad].

    `sprung_mass` stands on one wheel's spring [kg]; `frequency` is that corner's in heave [Hz]; `moments` are
    what the axle takes of the roll. `static_force` and `droop_force` of one spring [N]; below 0 it is loose
    when the wheel hangs, by `loose_by` [m]; `preload_written` is what the chassis says of it. `bump_left` and
    `droop_left` are wheel travel at this ride height.
    """

    end: End
    spring_rate: float
    wheel_rate: float
    tyre_rate: float
    ride_rate: float
    sprung_mass: float
    frequency: float
    roll_of_springs: float
    roll_of_bar: float
    roll_of_tyres: float
    roll_stiffness: float
    moments: AxleMoments
    static_force: float
    droop_force: float
    preload_written: float
    bump_left: float
    droop_left: float

    @property
    def hung(self) -> float:
        """Roll stiffness of springs and bar together, before the tyres [N·m/rad]."""
        return self.roll_of_springs + self.roll_of_bar

    @property
    def bar_share(self) -> float:
        """The bar's share of what springs and bar hold together."""
        return self.roll_of_bar / self.hung

    @property
    def tyre_share_of_roll(self) -> float:
        """Share of this end's roll that the tyres give, the rest springs and bar."""
        return self.roll_stiffness / self.roll_of_tyres

    @property
    def elastic_share(self) -> float:
        """Share of the load moved that goes through springs, bar and tyres."""
        return self.moments.elastic / (self.moments.transfer * self.moments.track)

    @property
    def loose_by(self) -> float:
        """How far the spring rattles with its wheel hanging [m]; 0 where it stays tight."""
        return max(-self.droop_force / self.spring_rate, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringsAndBars:
    """The whole car: both ends, its ride motions, and its roll with fuel aboard.

    `car` is the car with the set-up on it; `fast`, `slow` are bounce and pitch as they couple;
    `roll_frequency` [Hz].
    """

    car: Car
    body: BodyRoll
    front: AxleSprings
    rear: AxleSprings
    fast: RideMode
    slow: RideMode
    roll_frequency: float

    def at(self, end: End) -> AxleSprings:
        """One end of the car."""
        return self.front if end is End.FRONT else self.rear

    @property
    def roll_gradient(self) -> float:
        """Lean of the body per lateral acceleration of one g [rad]."""
        return self.body.roll_per_acceleration * STANDARD_GRAVITY

    @property
    def front_roll_share(self) -> float:
        """The front's share of the roll stiffness."""
        return self.front.roll_stiffness / (self.front.roll_stiffness + self.rear.roll_stiffness)

    @property
    def frequency_ratio(self) -> float:
        """Rear ride frequency ÷ front; above 1 the rear catches the front up after a bump."""
        return self.rear.frequency / self.front.frequency


def springs_and_bars(car: Car, chassis: Chassis, setup: Setup, weather: Weather) -> SpringsAndBars:
    """Give what the springs and bars of a set-up do, with its fuel aboard; BadInput as car_with_setup.

    Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 5 and 6 (from memory).
    """
    changed = car_with_setup(car, chassis, setup, weather)
    body = body_roll(changed, setup.fuel_volume * changed.fuel.density)
    front = _axle(changed, body, chassis.front, setup, End.FRONT)
    rear = _axle(changed, body, chassis.rear, setup, End.REAR)
    wheelbase = changed.dimensions.wheelbase
    fast, slow = bounce_and_pitch(
        body.sprung_mass,
        chassis.pitch_inertia,
        body.sprung_rear_share * wheelbase,
        (1.0 - body.sprung_rear_share) * wheelbase,
        2.0 * front.ride_rate,
        2.0 * rear.ride_rate,
    )
    stiffness = front.roll_stiffness + rear.roll_stiffness
    stiffness -= body.sprung_mass * STANDARD_GRAVITY * body.arm
    return SpringsAndBars(
        car=changed,
        body=body,
        front=front,
        rear=rear,
        fast=fast,
        slow=slow,
        roll_frequency=ride_frequency(stiffness, chassis.roll_inertia + body.sprung_mass * body.arm**2),
    )


def sprung_corner_mass(body: BodyRoll, end: End) -> float:
    """Sprung mass on one wheel of an end [kg], left and right alike."""
    share = body.sprung_rear_share if end is End.REAR else 1.0 - body.sprung_rear_share
    return 0.5 * share * body.sprung_mass


def _axle(car: Car, body: BodyRoll, axle: AxleChassis, setup: Setup, end: End) -> AxleSprings:
    chosen, is_front = setup.at(end), end is End.FRONT
    track = car.dimensions.track_front if is_front else car.dimensions.track_rear
    rate = axle.spring(chosen.spring).rate
    at_wheel = wheel_rate(rate, axle.motion_ratio)
    with_tyre = ride_rate(at_wheel, axle.tyre_rate)
    mass = sprung_corner_mass(body, end)
    raised = mean(setup, end, "ride_height") - axle.ride_height
    droop = max(axle.droop_travel - raised, 0.0)
    static = spring_force(mass * STANDARD_GRAVITY, axle.motion_ratio)
    return AxleSprings(
        end=end,
        spring_rate=rate,
        wheel_rate=at_wheel,
        tyre_rate=axle.tyre_rate,
        ride_rate=with_tyre,
        sprung_mass=mass,
        frequency=ride_frequency(with_tyre, mass),
        roll_of_springs=springs_in_roll(axle, setup, end, track),
        roll_of_bar=axle.bar(chosen.bar).stiffness(chosen.bar_hole),
        roll_of_tyres=roll_stiffness_of_springs(axle.tyre_rate, track),
        roll_stiffness=(
            car.suspension.roll_stiffness_front if is_front else car.suspension.roll_stiffness_rear
        ),
        moments=body.front if is_front else body.rear,
        static_force=static,
        droop_force=force_at_droop(static, rate, axle.motion_ratio, droop),
        preload_written=axle.spring_preload,
        bump_left=max(axle.bump_travel + raised, 0.0),
        droop_left=droop,
    )
