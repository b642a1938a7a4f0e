"""Which axle locks first: the usual road and pads that are asked for, and how sure the answer is.

One rule for the brakes' answer, the turns it advises, comparing set-ups and searching them: the least margin
with cold, working and hot pads, held against the largest doubt, that of the bias device's turns among it.
Symbols and equations: docs/theory/brake_balance.md.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, lock_limit, margin_doubt, usual_friction
from tintop.car.car import Car
from tintop.car.setup import Purpose
from tintop.known import Known, Origin

ONE_SIDED = 1.645  # standard uncertainties that 19 of 20 stay below
WET = 0.5  # of the road's wetness, from which it counts as wet
WORKING = "working"
PER_TURN = "bias.share_per_turn"
_VALVE, _BAR = "brakes.rear_valve_share", "brakes.bar_front_share"

# Pads in use, front and rear [°C], where nothing is predicted: common practice, no source.
_USUAL = {Purpose.DRY: (350.0, 230.0), Purpose.WET: (200.0, 130.0), Purpose.ROAD: (120.0, 90.0)}
# Cold pads, how much hotter than working hot ones are, and how hot at most: common practice, no source.
_COLD, _HOTTER, _HOT = 20.0, (250.0, 170.0), (600.0, 400.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LockOrder:
    """Front share in hand before the rear locks first, negative = rear first; its standard uncertainty.

    It is the least over the pads' temperatures, `pads` says with which and `by_pads` has them all; `rate` is
    the braking ÷ gravity at which the first axle locks with those pads.
    """

    margin: float
    doubt: float = 0.0
    pads: str = WORKING
    rate: float = 0.0
    by_pads: Mapping[str, float] = field(default_factory=dict)

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

    @property
    def needed(self) -> float:
        """What is to be in hand for a yes."""
        return max(MARGIN, ONE_SIDED * self.doubt)


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


def pads_of(ask: BrakeAsk) -> dict[str, BrakeAsk]:
    """The same asked with cold, working and hot pads."""
    working = ask.front_temp, ask.rear_temp
    cold = [min(_COLD, one) for one in working]
    hot = [max(one, min(one + more, most)) for one, more, most in zip(working, _HOTTER, _HOT, strict=True)]
    return {
        "cold": replace(ask, front_temp=cold[0], rear_temp=cold[1]),
        WORKING: ask,
        "hot": replace(ask, front_temp=hot[0], rear_temp=hot[1]),
    }


def is_valve_assumed(known: Mapping[str, Known]) -> bool:
    """Whether nobody wrote what the rear valve holds back."""
    return _VALVE in known and known[_VALVE].origin is Origin.ASSUMED


def least_safe(car: Car, known: Mapping[str, Known]) -> Car:
    """The car, a rear valve that nobody wrote taken to hold nothing back."""
    if not is_valve_assumed(known):
        return car
    share = min(car.brakes.rear_valve_share + 1.0 - known[_VALVE].value, 1.0)
    return replace(car, brakes=replace(car.brakes, rear_valve_share=share))


def known_as_set(car: Car, known: Mapping[str, Known]) -> Mapping[str, Known]:
    """What is known of the car, with the doubt that the turns of its bias device bring.

    A share that stands off its document's was moved there by turns, each known no better than the chassis
    says under `bias.share_per_turn`. A valve taken as none has no doubt of its own.
    """
    brakes, per_turn = least_safe(car, known).brakes, known.get(PER_TURN)
    relative = per_turn.uncertainty / per_turn.value if per_turn is not None and per_turn.value else 0.0
    here = dict(known)
    for path, share in ((_VALVE, brakes.rear_valve_share), (_BAR, brakes.bar_front_share)):
        if path in known and share > 0.0:
            is_taken = path == _VALVE and is_valve_assumed(known)
            stood = 1.0 if is_taken else known[path].value
            written = 0.0 if is_taken else known[path].uncertainty
            doubt = math.hypot(written, relative * (share - stood))
            here[path] = replace(known[path], value=share, uncertainty=doubt)
    return here


def lock_order(car: Car, ask: BrakeAsk, known: Mapping[str, Known] | None = None) -> LockOrder:
    """The rule, for a car with its set-up on; `known` gives the uncertainties of car and chassis.

    Source: as brake_balance.
    """
    known = known or {}
    braked, as_set = least_safe(car, known), known_as_set(car, known)
    limits = {pads: lock_limit(braked, one) for pads, one in pads_of(ask).items()}
    worst = min(limits, key=lambda pads: limits[pads].margin)
    return LockOrder(
        margin=limits[worst].margin,
        doubt=max(margin_doubt(braked, one.braked, one.point, as_set) for one in limits.values()),
        pads=worst,
        rate=limits[worst].point.rate,
        by_pads={pads: one.margin for pads, one in limits.items()},
    )
