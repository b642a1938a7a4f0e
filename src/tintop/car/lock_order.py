"""Which axle locks first: the usual road and pads that are asked for, and how sure the answer is."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.answer import Verdict
from tintop.car.brake_balance import (
    MARGIN,
    BrakeAsk,
    BrakeBalance,
    lock_limit,
    margin_doubt,
    usual_friction,
)
from tintop.car.car import Car
from tintop.car.setup import Purpose
from tintop.known import Known

ONE_SIDED = 1.645  # standard uncertainties that 19 of 20 stay below
WET = 0.5  # of the road's wetness, from which it counts as wet

# Pads in use, front and rear [°C], where nothing is predicted: common practice, no source.
_USUAL = {Purpose.DRY: (350.0, 230.0), Purpose.WET: (200.0, 130.0), Purpose.ROAD: (120.0, 90.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class LockOrder:
    """Front share in hand before the rear locks first, negative = rear first; its standard uncertainty."""

    margin: float
    doubt: float = 0.0

    @property
    def verdict(self) -> Verdict:
        """No where the rear locks first; not proven while the doubt is more than what is in hand."""
        if self.margin < 0.0:
            return Verdict.NO
        if self.margin < ONE_SIDED * self.doubt:
            return Verdict.NOT_PROVEN
        return Verdict.CLOSE if self.margin < MARGIN else Verdict.YES

    @property
    def first(self) -> str:
        """Which axle locks first, by calculation."""
        return "rear" if self.margin < 0.0 else "front"


def usual_ask(
    car: Car, purpose: Purpose, wetness: float, fuel_mass: float = 0.0, valve_knee: float = 0.0
) -> BrakeAsk:
    """What is asked of a car with its set-up on: its tyres' grip on such a road, pads as warm as usual there.

    The tank is empty unless fuel is given: less weight at the rear is the less safe side.
    """
    day = Purpose.WET if wetness >= WET else Purpose.ROAD if purpose is Purpose.ROAD else Purpose.DRY
    front, rear = _USUAL[day]
    return BrakeAsk(
        friction=usual_friction(car, wetness),
        front_temp=front,
        rear_temp=rear,
        fuel_mass=fuel_mass,
        valve_knee=valve_knee,
    )


def lock_order(car: Car, ask: BrakeAsk, known: Mapping[str, Known] | None = None) -> LockOrder:
    """The same margin and doubt as brake_balance, without its curves; source as there."""
    limit = lock_limit(car, ask)
    return LockOrder(margin=limit.margin, doubt=margin_doubt(car, limit.braked, limit.point, known or {}))


def order_of(found: BrakeBalance) -> LockOrder:
    """The order that a whole balance found."""
    return LockOrder(margin=found.margin, doubt=found.doubt)
