"""How the body of a car leans in a corner, and by which way each axle's load moves; SI."""

from dataclasses import dataclass

from tintop.car.car import Car
from tintop.errors import refuse
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.load_transfer import AxleMoments, axle_moments


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyRoll:
    """A car with its fuel in a steady corner: masses [kg], lengths [m], roll [rad/(m/s²)], axle moments.

    `sprung_rear_share` of the sprung mass stands on the rear axle; `arm` is its height above the roll axis;
    `roll_per_acceleration` counts the lean of the body's own weight.
    """

    mass: float
    cg_to_front: float
    cg_height: float
    sprung_mass: float
    sprung_rear_share: float
    arm: float
    roll_per_acceleration: float
    front: AxleMoments
    rear: AxleMoments

    @property
    def front_share(self) -> float:
        """Front axle's share of all the load moved."""
        return self.front.transfer / (self.front.transfer + self.rear.transfer)


def body_roll(car: Car, fuel_mass: float = 0.0) -> BodyRoll:
    """Give the roll and the load transfer of a car; BadInput for one that falls over under its own weight.

    Source: W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 18 (from memory).
    """
    masses, dimensions, suspension = car.masses, car.dimensions, car.suspension
    without_fuel = masses.without_fuel
    mass = without_fuel + fuel_mass
    dry_cg = (1.0 - masses.front_share) * dimensions.wheelbase
    cg_to_front = (without_fuel * dry_cg + fuel_mass * masses.tank_behind_front_axle) / mass
    cg_height = (without_fuel * masses.cg_height + fuel_mass * masses.tank_height) / mass

    unsprung = masses.unsprung_front + masses.unsprung_rear
    sprung = mass - unsprung
    unsprung_moment = (
        masses.unsprung_front * car.tyre_front.radius + masses.unsprung_rear * car.tyre_rear.radius
    )
    sprung_height = (mass * cg_height - unsprung_moment) / sprung
    sprung_to_front = (mass * cg_to_front - masses.unsprung_rear * dimensions.wheelbase) / sprung
    rear_share = sprung_to_front / dimensions.wheelbase
    axis_height = (
        1.0 - rear_share
    ) * suspension.roll_centre_height_front + rear_share * suspension.roll_centre_height_rear
    arm = sprung_height - axis_height
    stiffness = (
        suspension.roll_stiffness_front + suspension.roll_stiffness_rear - sprung * STANDARD_GRAVITY * arm
    )
    if stiffness <= 0.0:
        raise refuse(
            "suspension.roll_stiffness",
            "a car that falls over under its own weight",
            "stiffer springs or bars",
        )
    roll_per_acceleration = sprung * arm / stiffness
    return BodyRoll(
        mass=mass,
        cg_to_front=cg_to_front,
        cg_height=cg_height,
        sprung_mass=sprung,
        sprung_rear_share=rear_share,
        arm=arm,
        roll_per_acceleration=roll_per_acceleration,
        front=axle_moments(
            roll_stiffness=suspension.roll_stiffness_front,
            roll_per_acceleration=roll_per_acceleration,
            sprung_mass=sprung * (1.0 - rear_share),
            roll_centre_height=suspension.roll_centre_height_front,
            unsprung_mass=masses.unsprung_front,
            unsprung_height=car.tyre_front.radius,
            track=dimensions.track_front,
        ),
        rear=axle_moments(
            roll_stiffness=suspension.roll_stiffness_rear,
            roll_per_acceleration=roll_per_acceleration,
            sprung_mass=sprung * rear_share,
            roll_centre_height=suspension.roll_centre_height_rear,
            unsprung_mass=masses.unsprung_rear,
            unsprung_height=car.tyre_rear.radius,
            track=dimensions.track_rear,
        ),
    )
