"""The car on the scales: corner weights, and the height of the centre of gravity."""

import math
from typing import NamedTuple


class CornerWeights(NamedTuple):
    """Readings of the four scales, all in one unit."""

    front_left: float
    front_right: float
    rear_left: float
    rear_right: float

    @property
    def total(self) -> float:
        """Sum of the four."""
        return sum(self)

    @property
    def front_share(self) -> float:
        """Share on the front axle."""
        return (self.front_left + self.front_right) / self.total

    @property
    def left_share(self) -> float:
        """Share on the left wheels."""
        return (self.front_left + self.rear_left) / self.total

    @property
    def cross_share(self) -> float:
        """Share on front right and rear left together."""
        return (self.front_right + self.rear_left) / self.total


def slope_of_lift(wheelbase: float, lift: float) -> float:
    """Give the tangent of the car's tilt with one axle's hubs lifted [m], over the shortened base.

    Source: geometry.
    """
    return lift / math.sqrt(wheelbase**2 - lift**2)


def cg_height_from_lift(
    weight: float, wheelbase: float, hub_height: float, lift: float, front_gain: float
) -> float:
    """Give the height of the centre of gravity [m] from what the front scales gain with the rear lifted.

    weight and front_gain [N]; lengths [m]; suspension locked, hubs of both axles at one height when level.
    Source: W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 18 (from memory).
    """
    return hub_height + front_gain * wheelbase / (weight * slope_of_lift(wheelbase, lift))


def front_load_lifted(
    weight: float, wheelbase: float, cg_to_front: float, cg_height: float, hub_height: float, lift: float
) -> float:
    """Give the front axle load [N] with the rear hubs lifted: statics of the tilted car, in N and m.

    Source: inverse of cg_height_from_lift.
    """
    level = weight * (wheelbase - cg_to_front) / wheelbase
    return level + weight * (cg_height - hub_height) * slope_of_lift(wheelbase, lift) / wheelbase


def cg_height_per_scale_error(weight: float, wheelbase: float, lift: float) -> float:
    """Give how far the height moves per error of the front scales [m/N]. Source: as cg_height_from_lift."""
    return wheelbase / (weight * slope_of_lift(wheelbase, lift))


def to_even_cross(corners: CornerWeights) -> float:
    """Give the weight to move from front left and rear right each to the other diagonal, for 50 % cross.

    Axle and side sums stay. Source: statics.
    """
    return 0.5 * (0.5 * corners.total - corners.front_right - corners.rear_left)


def with_cross_moved(corners: CornerWeights, moved: float) -> CornerWeights:
    """Give the readings after a weight has moved to the front right and rear left. Source: statics."""
    return CornerWeights(
        corners.front_left - moved,
        corners.front_right + moved,
        corners.rear_left + moved,
        corners.rear_right - moved,
    )


def cg_left_of_middle(corners: CornerWeights, track_front: float, track_rear: float) -> float:
    """Give how far the centre of gravity lies left of the middle [m], from the tracks [m].

    Source: statics.
    """
    front = 0.5 * track_front * (corners.front_left - corners.front_right)
    rear = 0.5 * track_rear * (corners.rear_left - corners.rear_right)
    return (front + rear) / corners.total
