"""How many turns of the bias device is it to where the front is proven first?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from tintop.car.brake_balance import BrakeAsk, turned
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import BiasDevice, BrakeBias, Chassis, Item
from tintop.car.lock_order import LockOrder, least_safe, lock_order, usual_ask
from tintop.car.setup import Setup
from tintop.event import Weather
from tintop.known import Known

QUARTER = 0.25  # of a turn, to which turns are told where the chassis states no step


@dataclass(frozen=True, slots=True, kw_only=True)
class SetBrakes:
    """A car with its set-up on, its bias device at so many turns by the document.

    `known` is what is known of car and chassis.
    """

    car: Car
    bias: BrakeBias = field(default_factory=BrakeBias)
    turns: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)
    step: float = QUARTER

    @property
    def braked(self) -> Car:
        """The car to work with: as least_safe."""
        return least_safe(self.car, self.known)

    def at(self, turns: float) -> "SetBrakes":
        """The same car with its device at other turns by the document."""
        brakes = turned(self.car.brakes, self.bias, turns - self.turns)
        return replace(self, car=replace(self.car, brakes=brakes), turns=turns)

    def order(self, ask: BrakeAsk) -> LockOrder:
        """What the rule says of it as it stands."""
        return lock_order(self.car, ask, self.known)


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnsToMake:
    """Turns of the device from where it stands; positive gives the front more. `at` = by the document.

    `reached` is False where the device has no such room: `turns` then goes to its end. `found` is what the
    same rule says with the turns made.
    """

    turns: float
    at: float
    reached: bool
    found: LockOrder

    @property
    def margin(self) -> float:
        """The least in hand with the turns made."""
        return self.found.margin


def turns_for(brakes: SetBrakes, ask: BrakeAsk, rearmost: float = -math.inf) -> TurnsToMake | None:
    """The rearmost setting, no further back than `rearmost`, at which the rule says yes.

    None without a device. More front than needed brakes worse, not safer. Where no setting passes it is the
    device's front end.
    """
    bias, step = brakes.bias, brakes.step
    if bias.device is BiasDevice.NONE or bias.share_per_turn <= 0.0:
        return None
    first, last = math.ceil(bias.least_turns / step - 1e-9), math.floor(bias.most_turns / step + 1e-9)
    places = {place * step for place in range(first, last + 1)} | {brakes.turns, bias.most_turns}
    for at in sorted(each for each in places if each >= rearmost):
        found = brakes.at(at).order(ask)
        if found.margin >= found.needed:
            return TurnsToMake(turns=at - brakes.turns, at=at, reached=True, found=found)
    end = max(places)
    return TurnsToMake(turns=end - brakes.turns, at=end, reached=False, found=brakes.at(end).order(ask))


def turns_on_each(
    brakes: SetBrakes, asks: Mapping[str, BrakeAsk], may_go_rearward: bool
) -> dict[str, TurnsToMake | None]:
    """Turns for each road, none further back than keeps the front first on all: a road may dry."""
    free = {road: turns_for(brakes, ask) for road, ask in asks.items()}
    wanted = [each.at for each in free.values() if each is not None]
    rearmost = min(brakes.turns, max(wanted)) if may_go_rearward and wanted else brakes.turns
    return {road: turns_for(brakes, ask, rearmost) for road, ask in asks.items()}


def set_brakes(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    known: Mapping[str, Known] | None = None,
    chassis_known: Mapping[str, Known] | None = None,
) -> SetBrakes:
    """The brakes of a car that has the set-up on already."""
    steps = [one.step for one in chassis.adjusters if one.item is Item.BRAKE_BIAS and one.step > 0.0]
    return SetBrakes(
        car=car,
        bias=chassis.bias,
        turns=setup.brake_bias_turns,
        known={**(known or {}), **(chassis_known or {})},
        step=steps[0] if steps else QUARTER,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontFirstNeed:
    """What a set-up's own road asks of its brakes: `turns` to the front, never to the rear, and `at` then.

    `found` is what the rule says of it there. Without a device no turns.
    """

    turns: float
    at: float
    found: LockOrder

    def demanded(self, measured: float) -> float:
        """What a search may demand of its own measure of the margin, that being `measured` at these turns."""
        spare = self.found.margin - self.found.needed
        if self.found.margin < 0.0:
            return measured - self.found.margin
        return measured if self.turns > 0.0 else measured - max(spare, 0.0)


def front_first_need(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    weather: Weather,
    known: Mapping[str, Known] | None = None,
    chassis_known: Mapping[str, Known] | None = None,
) -> FrontFirstNeed:
    """The turns that the brakes' answer asks for; `car` without a set-up. BadInput as car_with_setup."""
    brakes = set_brakes(car_with_setup(car, chassis, setup, weather), chassis, setup, known, chassis_known)
    ask = usual_ask(brakes.car, setup.purpose, weather.wetness)
    turns = turns_for(brakes, ask, brakes.turns)
    if turns is None:
        return FrontFirstNeed(turns=0.0, at=brakes.turns, found=brakes.order(ask))
    return FrontFirstNeed(turns=turns.turns, at=turns.at, found=turns.found)
