"""Is the front first with cold, working and hot pads, and how many turns is it to where that is proven?

One rule for the answer, the turns it advises and the search of set-ups: the least margin of the three, held
against the largest doubt, the device's own among it. Symbols and equations: docs/theory/brake_balance.md.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from tintop.answer import Verdict
from tintop.car.brake_balance import MARGIN, BrakeAsk, lock_limit, margin_doubt, turned
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import BiasDevice, BrakeBias, Chassis, Item
from tintop.car.lock_order import ONE_SIDED, LockOrder, usual_ask
from tintop.car.setup import Setup
from tintop.event import Weather
from tintop.known import Known, Origin

WORKING = "working"
QUARTER = 0.25  # of a turn, to which turns are told where the chassis states no step
_COLD = 20.0  # [°C]
_HOTTER, _HOT = (250.0, 170.0), (600.0, 400.0)  # than working, and no more, front and rear [°C];
# common practice, no source
_VALVE, _BAR, _PER_TURN = "brakes.rear_valve_share", "brakes.bar_front_share", "bias.share_per_turn"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetBrakes:
    """A car with its set-up on, its bias device at so many turns by the document, what is known of both."""

    car: Car
    bias: BrakeBias = field(default_factory=BrakeBias)
    turns: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)
    per_turn_doubt: float = 0.0  # standard uncertainty of the share per turn
    step: float = QUARTER

    @property
    def is_valve_assumed(self) -> bool:
        """Whether nobody wrote what the rear valve holds back."""
        return _VALVE in self.known and self.known[_VALVE].origin is Origin.ASSUMED

    @property
    def braked(self) -> Car:
        """The car to work with: a rear valve that nobody wrote holds nothing back, the less safe side."""
        if not self.is_valve_assumed:
            return self.car
        share = min(self.car.brakes.rear_valve_share + 1.0 - self.known[_VALVE].value, 1.0)
        return replace(self.car, brakes=replace(self.car.brakes, rear_valve_share=share))

    @property
    def known_here(self) -> Mapping[str, Known]:
        """What is known of the car, the device's share with the doubt of the turns it was moved by."""
        brakes, off = self.braked.brakes, self.turns * self.per_turn_doubt
        shares = {_VALVE: brakes.rear_valve_share}
        if self.bias.device is BiasDevice.BAR:
            shares[_BAR] = brakes.bar_front_share
        moved = {_VALVE: self.bias.device is BiasDevice.VALVE, _BAR: self.bias.device is BiasDevice.BAR}
        here = dict(self.known)
        for path, share in shares.items():
            there = self.known.get(path)
            if share <= 0.0 or (there is None and not moved[path]):
                continue
            written = there.uncertainty if there and not (path == _VALVE and self.is_valve_assumed) else 0.0
            here[path] = Known(
                value=share,
                uncertainty=math.hypot(written, off if moved[path] else 0.0),
                origin=there.origin if there else Origin.ESTIMATED,
            )
        return here

    def at(self, turns: float) -> "SetBrakes":
        """The same car with its device at other turns by the document."""
        brakes = turned(self.car.brakes, self.bias, turns - self.turns)
        return replace(self, car=replace(self.car, brakes=brakes), turns=turns)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontFirst:
    """The least front share in hand over the pads' temperatures, with which pads, and the largest doubt.

    `rate` is the braking ÷ gravity at which the first axle locks with those pads; `by_pads` the margins.
    """

    margin: float
    doubt: float
    pads: str
    rate: float
    by_pads: Mapping[str, float]

    @property
    def verdict(self) -> Verdict:
        """As of LockOrder: yes only with two points and the doubt in hand, whatever the temperature."""
        return LockOrder(margin=self.margin, doubt=self.doubt).verdict

    @property
    def needed(self) -> float:
        """What is to be in hand for a yes."""
        return max(MARGIN, ONE_SIDED * self.doubt)


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnsToMake:
    """Turns of the device from where it stands; positive gives the front more. `at` = by the document.

    `reached` is False where the device has no such room: `turns` then goes to its end. `found` is what the
    same rule says with the turns made.
    """

    turns: float
    at: float
    reached: bool
    found: FrontFirst

    @property
    def margin(self) -> float:
        """The least in hand with the turns made."""
        return self.found.margin


def pads_of(ask: BrakeAsk) -> dict[str, BrakeAsk]:
    """The same asked with cold, working and hot pads."""
    working = ask.front_temp, ask.rear_temp
    hot = [max(one, min(one + more, most)) for one, more, most in zip(working, _HOTTER, _HOT, strict=True)]
    return {
        "cold": replace(ask, front_temp=min(_COLD, working[0]), rear_temp=min(_COLD, working[1])),
        WORKING: ask,
        "hot": replace(ask, front_temp=hot[0], rear_temp=hot[1]),
    }


def front_first(brakes: SetBrakes, ask: BrakeAsk) -> FrontFirst:
    """The rule: the worst of cold, working and hot pads, by as much as is known."""
    car, known = brakes.braked, brakes.known_here
    limits = {pads: lock_limit(car, one) for pads, one in pads_of(ask).items()}
    worst = min(limits, key=lambda pads: limits[pads].margin)
    return FrontFirst(
        margin=limits[worst].margin,
        doubt=max(margin_doubt(car, one.braked, one.point, known) for one in limits.values()),
        pads=worst,
        rate=limits[worst].point.rate,
        by_pads={pads: one.margin for pads, one in limits.items()},
    )


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
        found = front_first(brakes.at(at), ask)
        if found.margin >= found.needed:
            return TurnsToMake(turns=at - brakes.turns, at=at, reached=True, found=found)
    end = max(places)
    return TurnsToMake(
        turns=end - brakes.turns, at=end, reached=False, found=front_first(brakes.at(end), ask)
    )


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
    per_turn = (chassis_known or {}).get(_PER_TURN)
    steps = [one.step for one in chassis.adjusters if one.item is Item.BRAKE_BIAS and one.step > 0.0]
    return SetBrakes(
        car=car,
        bias=chassis.bias,
        turns=setup.brake_bias_turns,
        known=known or {},
        per_turn_doubt=per_turn.uncertainty if per_turn else 0.0,
        step=steps[0] if steps else QUARTER,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontFirstNeed:
    """What a set-up's own road asks of its brakes: `turns` to the front, never to the rear, and `at` then.

    `found` is what the rule says of it there. Without a device no turns.
    """

    turns: float
    at: float
    found: FrontFirst

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
        return FrontFirstNeed(turns=0.0, at=brakes.turns, found=front_first(brakes, ask))
    return FrontFirstNeed(turns=turns.turns, at=turns.at, found=turns.found)
