"""What a set-up costs of tread on the road: the worse wheel of each end, at its inner edge."""

from tintop.car.car import Car
from tintop.car.chassis import Chassis, End
from tintop.car.setup import Setup
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.tread_wear import SPIN_KEPT, TreadWear, road_wear

WITHIN = 3.0  # the estimate is this many times too much or too little; see physics.tread_wear


def tread_on_road(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    end: End,
    more_camber: float = 0.0,
    spin_kept: float = SPIN_KEPT,
) -> TreadWear:
    """Depth lost per metre [m/m] by the wheel of an end whose inner edge goes first.

    `car` has the set-up on it; `more_camber` is added to both wheels [rad]. Source: as road_wear.
    """
    masses = car.masses
    share = masses.front_share if end is End.FRONT else 1.0 - masses.front_share
    tyre = car.tyre_front if end is End.FRONT else car.tyre_rear
    return max(
        (
            road_wear(
                load=0.5 * masses.without_fuel * STANDARD_GRAVITY * share,
                camber=corner.camber + more_camber,
                toe=corner.toe,
                friction=tyre.friction_lateral,
                slide_slip=tyre.slide_slip,
                wear_rate=tyre.wear_rate,
                radius=tyre.radius,
                tyre_rate=chassis.at(end).tyre_rate,
                spin_kept=spin_kept,
            )
            for corner in setup.pair(end)
        ),
        key=lambda wear: wear.inner,
    )
