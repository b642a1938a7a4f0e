"""How are the brakes balanced, which axle locks first, dry and wet, and how many turns are to be made?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tintop.answer import Answer, Figure, Verdict
from tintop.car.brake_balance import (
    GIVE,
    MARGIN,
    PAD_GAP,
    BrakeAsk,
    BrakeBalance,
    TurnsToMake,
    brake_balance,
    turned,
    turns_for,
)
from tintop.car.brake_changes import BrakeChange, other_parts, pads_by_temperature
from tintop.car.car import Car
from tintop.car.chassis import BiasDevice, BrakeBias, PadSet
from tintop.car.lock_order import ONE_SIDED, order_of
from tintop.checks import require
from tintop.known import Known
from tintop.owner_units import MINUS
from tintop.race.brake_heat import BrakeHeat

CAUTIONS = (
    "A rear axle that locks first turns the car round faster than anybody steers. Front first: in the dry, "
    "in the wet, with cold pads and with hot ones.",
    "After any change try the brakes at walking pace, then harder on a closed, empty road with somebody "
    "watching the wheels, before the circuit.",
    "Brakes that were opened are bled and looked over. The scrutineer and the regulations decide what is "
    "allowed at the event, the law on the road.",
)
_RANGE = 1.96
_USEFUL = 0.5  # turns worth the spanner


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeCase:
    """One road: its name, the balance as it is set, the verdict, and the turns that leave enough in hand.

    Enough is two points and no less than the doubt: with those turns made the front is proven first.
    """

    name: str
    balance: BrakeBalance
    verdict: Verdict
    turns: TurnsToMake | None

    @property
    def first(self) -> str:
        """Which axle locks first."""
        return order_of(self.balance).first


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakesAnswer:
    """The answer, each road with the asked one first, what else moves the balance, the race's heat."""

    answer: Answer
    cases: tuple[BrakeCase, ...]
    by_temperature: tuple[BrakeChange, ...]
    by_part: tuple[BrakeChange, ...]
    heat: tuple[BrakeHeat, ...]
    device: BiasDevice
    turns_now: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeQuestion:
    """A car with its set-up on, at `turns_now` of its device; `more_turns` are tried on top.

    `asks` name the roads, `asked` the one that is answered first; `temp_basis` says whence the pads'
    temperatures are.
    """

    car: Car
    bias: BrakeBias
    turns_now: float
    asks: Mapping[str, BrakeAsk]
    asked: str
    temp_basis: str
    more_turns: float = 0.0
    pad_sets: tuple[PadSet, ...] = ()
    known: Mapping[str, Known] | None = None
    heat: tuple[BrakeHeat, ...] = ()

    def __post_init__(self) -> None:
        require(self.asked in self.asks, "road", repr(self.asked), "one of " + ", ".join(self.asks))
        at = self.turns_now + self.more_turns
        room = f"{self.bias.least_turns:g} to {self.bias.most_turns:g} turns"
        require(
            self.more_turns == 0.0 or self.bias.device is not BiasDevice.NONE,
            "turns", f"{self.more_turns:g}", "0: this car has nothing to turn",
        )  # fmt: skip
        require(
            self.bias.least_turns <= at <= self.bias.most_turns or self.more_turns == 0.0,
            "turns", f"{at:g} turns from where the document has it", room,
        )  # fmt: skip


def how_are_the_brakes(asked: BrakeQuestion) -> BrakesAnswer:
    """Answer for each road, the asked one first."""
    car = replace(asked.car, brakes=turned(asked.car.brakes, asked.bias, asked.more_turns))
    at = asked.turns_now + asked.more_turns
    names = [asked.asked, *(name for name in asked.asks if name != asked.asked)]
    cases = tuple(_case(name, car, asked, at) for name in names)
    ask = asked.asks[asked.asked]
    return BrakesAnswer(
        answer=_answer(asked, cases, at),
        cases=cases,
        by_temperature=pads_by_temperature(car, ask),
        by_part=other_parts(car, ask, asked.pad_sets),
        heat=asked.heat,
        device=asked.bias.device,
        turns_now=at,
    )


def _case(name: str, car: Car, asked: BrakeQuestion, at: float) -> BrakeCase:
    ask = asked.asks[name]
    found = brake_balance(car, ask, asked.known)
    return BrakeCase(
        name=name,
        balance=found,
        verdict=order_of(found).verdict,
        turns=turns_for(car, asked.bias, at, ask, max(MARGIN, ONE_SIDED * found.doubt)),
    )


def _answer(asked: BrakeQuestion, cases: Sequence[BrakeCase], at: float) -> Answer:
    case = cases[0]
    found, limit = case.balance, case.balance.at_limit
    return Answer(
        question="How are the brakes balanced, and which axle locks first?",
        verdict=case.verdict,
        sentence=_sentence(case),
        figures=(
            _share("front share of the brake force", limit.front_share, found.doubt, "pedal to pad"),
            _share(
                "ideal front share where the first axle locks", found.ideal_share, 0.0, "weights and height"
            ),
            _share(
                "in hand before the rear locks first", found.margin, found.doubt, "share less ideal share"
            ),
            _exact("deceleration at which the first axle locks", limit.rate, "gn"),
            _exact("share of the road's grip used then", found.efficiency, "share"),
            _exact("pedal force then", limit.pedal_force, "N"),
            _exact("pedal travel then", found.pedal_travel, "m"),
        ),
        why=tuple(_why(asked, cases, at)),
        next_thing=_next_thing(asked, case),
        cautions=(*_warnings(cases), *CAUTIONS),
        works=("Limpert2011",),
        working={"turns": at, "pads_C": (found.ask.front_temp, found.ask.rear_temp)},
    )


def _share(name: str, value: float, doubt: float, basis: str) -> Figure:
    off = _RANGE * doubt
    return Figure(name=name, value=value, low=value - off, high=value + off, unit="share", basis=basis)


def _exact(name: str, value: float, unit: str) -> Figure:
    return Figure(name=name, value=value, low=value, high=value, unit=unit, basis="no range computed")


def _sentence(case: BrakeCase) -> str:
    found = case.balance
    share, rate = 100.0 * found.at_limit.front_share, found.at_limit.rate
    road = f"on a {case.name} road of grip {found.ask.friction:.2f}"
    if case.verdict is Verdict.NO:
        return (
            f"UNSAFE: {road} the rear axle locks first, at {rate:.2f} g, with {share:.1f} % of the brake "
            f"force in front where {100.0 * found.ideal_share:.1f} % would be ideal."
        )
    told = (
        f"{share:.1f} % in front: {road} the front axle locks first, at {rate:.2f} g, "
        f"{100.0 * found.margin:.1f} points before the rear"
    )
    if case.verdict is Verdict.NOT_PROVEN:
        doubt = 100.0 * _RANGE * found.doubt
        return f"{told}, less than the doubt of ±{doubt:.1f} points: not proven."
    return f"{told}."


def _why(asked: BrakeQuestion, cases: Sequence[BrakeCase], at: float) -> Iterator[str]:
    found = cases[0].balance
    ask, (front, rear) = found.ask, found.pad_friction
    yield (
        f"Pads at {ask.front_temp:.0f} °C front and {ask.rear_temp:.0f} °C rear ({asked.temp_basis}): "
        f"friction {front:.2f} and {rear:.2f}."
    )
    if asked.bias.device is BiasDevice.NONE:
        yield "No device to shift the balance."
    else:
        yield f"{asked.bias.device.value.capitalize()} at {_place(at)} turns from where the document has it."
    rule = "By UN R13-H, annex 5 (from memory), "
    if found.rear_first_by_rule:
        yield f"{rule}the rear comes first from {found.rear_first_by_rule[0]:.2f} g: not so on a new car."
    else:
        yield f"{rule}the front comes first from 0.15 to 0.80 g, as asked of a new car."
    if found.weak_by_rule:
        yield f"{rule}one axle does too much at {found.weak_by_rule[0]:.2f} g: the car brakes too little."
    yield (
        f"Pedal travel assumes {1e3 * PAD_GAP:.2f} mm between pad and disc and {1e13 * GIVE:.1f} cm³ of give "
        "a wheel at 100 bar; common practice, no source."
    )


_PROVE = (
    "then prove it on a closed, empty, straight road from 30 km/h, somebody watching: the front must lock "
    "first."
)


def _next_thing(asked: BrakeQuestion, case: BrakeCase) -> str:
    turns, device = case.turns, asked.bias.device.value
    if turns is None:
        if case.verdict is Verdict.NO:
            return (
                "Do not brake to the limit: rear pads of less friction, smaller rear pistons or a rear valve "
                "before it runs."
            )
        return f"Nothing to turn on this car; {_PROVE}"
    if not turns.reached and turns.margin < 0.0:
        return (
            f"The {device} has not room enough: at its front end ({_place(turns.at)} turns) the rear "
            f"still locks first, at {turns.rate:.2f} g. Rear pads of less friction or a valve that holds "
            "back more, before it is braked hard."
        )
    in_hand = f"{100.0 * turns.margin:.1f} points"
    way = "towards the front" if turns.turns >= 0.0 else "towards the rear"
    if turns.turns > 0.0:
        end = "" if turns.reached else " (its end)"
        to = f"{way}{end}, to {_place(turns.at)}"
        return f"Turn the {device} {turns.turns:g} turns {to}: {in_hand} in hand; {_PROVE}"
    if turns.turns <= -_USEFUL:
        gained = turns.rate - case.balance.at_limit.rate
        forward = " Wind it forward again when the road dries." if case.name == "wet" else ""
        return (
            f"It may stay. {-turns.turns:g} turns {way}, to {_place(turns.at)}, would leave {in_hand} on a "
            f"{case.name} road and brake {gained:.2f} g harder; {_PROVE}{forward}"
        )
    return f"Leave the {device} where it is; {_PROVE}"


def _place(turns: float) -> str:
    """Where a device stands, with its sign."""
    return f"{turns:+g}".replace("-", MINUS) if turns else "0"


def _warnings(cases: Sequence[BrakeCase]) -> Iterator[str]:
    """What another road, or more grip, would do with this setting."""
    for case in cases[1:]:
        if case.verdict is Verdict.NO:
            yield (
                f"UNSAFE on a {case.name} road: as it is set the rear locks first there, at "
                f"{case.balance.at_limit.rate:.2f} g. Turn it before the road is {case.name}."
            )
    critical = cases[0].balance.critical_rate
    if math.isfinite(critical) and cases[0].verdict is not Verdict.NO:
        yield f"Above {critical:.2f} g the rear locks first: with more grip than asked about it is not safe."
