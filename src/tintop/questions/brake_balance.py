"""How are the brakes balanced, which axle locks first, dry and wet, and how many turns are to be made?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tintop.answer import Answer, Figure, Verdict
from tintop.car.brake_balance import (
    GIVE,
    PAD_GAP,
    BrakeAsk,
    BrakeBalance,
    brake_balance,
    engine_braking_rear,
    lock_limit,
)
from tintop.car.brake_changes import BrakeChange, other_parts, pads_by_temperature
from tintop.car.brakes_assumed import assumed_inputs
from tintop.car.chassis import BiasDevice, PadSet
from tintop.car.front_first import SetBrakes, TurnsToMake, turns_on_each
from tintop.car.lock_order import LockOrder, known_as_set
from tintop.checks import require
from tintop.owner_units import MINUS
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.race.brake_heat import BrakeHeat

CAUTIONS = (
    "A rear axle that locks first turns the car round faster than anybody steers. After any change try the "
    "brakes at walking pace, then harder on a closed, empty road with somebody watching the wheels, before "
    "the circuit.",
    "Brakes that were opened are bled and looked over. The scrutineer and the regulations decide what is "
    "allowed at the event, the law on the road.",
)
TYPED, ASSUMED = "as typed", "assumed"
_RANGE = 1.96
_USEFUL = 0.5  # turns worth the spanner


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeCase:
    """One road: its name, the balance with working pads, the worst of cold, working and hot, and the turns.

    `gained` is the braking ÷ gravity that the turns bring or cost with working pads.
    """

    name: str
    balance: BrakeBalance
    worst: LockOrder
    turns: TurnsToMake | None
    gained: float = 0.0

    @property
    def verdict(self) -> Verdict:
        """No where the rear locks first with any of the pads' temperatures."""
        return self.worst.verdict

    @property
    def first(self) -> str:
        """Which axle locks first at the worst of the pads' temperatures."""
        return self.worst.first


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakesAnswer:
    """The answer, each road with the asked one first, what else moves the balance, the race's heat.

    `assumed` names every input that nobody measured or looked up.
    """

    answer: Answer
    cases: tuple[BrakeCase, ...]
    by_temperature: tuple[BrakeChange, ...]
    by_part: tuple[BrakeChange, ...]
    heat: tuple[BrakeHeat, ...]
    device: BiasDevice
    turns_now: float
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeQuestion:
    """A car with its set-up on; `more_turns` of its device are tried on top.

    `asks` name the roads, `asked` the one that is answered first; `temp_basis` says whence the pads'
    temperatures are. Without `may_go_rearward`, as for a drive on the road, no turn to the rear is offered.
    """

    brakes: SetBrakes
    asks: Mapping[str, BrakeAsk]
    asked: str
    temp_basis: str
    more_turns: float = 0.0
    may_go_rearward: bool = True
    is_grip_typed: bool = False
    pad_sets: tuple[PadSet, ...] = ()
    heat: tuple[BrakeHeat, ...] = field(default=())

    def __post_init__(self) -> None:
        bias = self.brakes.bias
        require(self.asked in self.asks, "road", repr(self.asked), "one of " + ", ".join(self.asks))
        at = self.brakes.turns + self.more_turns
        room = f"{bias.least_turns:g} to {bias.most_turns:g} turns"
        require(
            self.more_turns == 0.0 or bias.device is not BiasDevice.NONE,
            "turns", f"{self.more_turns:g}", "0: this car has nothing to turn",
        )  # fmt: skip
        require(
            bias.least_turns <= at <= bias.most_turns or self.more_turns == 0.0,
            "turns", f"{at:g} turns from where the document has it", room,
        )  # fmt: skip


def how_are_the_brakes(asked: BrakeQuestion) -> BrakesAnswer:
    """Answer for each road, the asked one first."""
    brakes = asked.brakes.at(asked.brakes.turns + asked.more_turns) if asked.more_turns else asked.brakes
    names = [asked.asked, *(name for name in asked.asks if name != asked.asked)]
    turns = turns_on_each(brakes, asked.asks, asked.may_go_rearward)
    cases = tuple(_case(name, brakes, asked.asks[name], turns[name]) for name in names)
    ask, car = asked.asks[asked.asked], brakes.braked
    assumed = assumed_inputs(brakes, asked.temp_basis == ASSUMED, asked.is_grip_typed)
    return BrakesAnswer(
        answer=_answer(asked, brakes, cases, assumed),
        cases=cases,
        by_temperature=pads_by_temperature(car, ask),
        by_part=other_parts(car, ask, asked.pad_sets),
        heat=asked.heat,
        device=brakes.bias.device,
        turns_now=brakes.turns,
        assumed=assumed,
    )


def _case(name: str, brakes: SetBrakes, ask: BrakeAsk, turns: TurnsToMake | None) -> BrakeCase:
    found = brake_balance(brakes.braked, ask, known_as_set(brakes.car, brakes.known))
    gained = 0.0
    if turns is not None and turns.turns:
        gained = lock_limit(brakes.at(turns.at).braked, ask).point.rate - found.at_limit.rate
    return BrakeCase(name=name, balance=found, worst=brakes.order(ask), turns=turns, gained=gained)


def _answer(
    asked: BrakeQuestion, brakes: SetBrakes, cases: Sequence[BrakeCase], assumed: Sequence[str]
) -> Answer:
    case = cases[0]
    found, limit, worst = case.balance, case.balance.at_limit, case.worst
    in_hand, force = f"in hand before the rear locks first, {worst.pads} pads", brakes.car.brakes.pedal_force
    return Answer(
        question="How are the brakes balanced, and which axle locks first?",
        verdict=case.verdict,
        sentence=_sentence(cases),
        figures=(
            _share(in_hand, worst.margin, worst.doubt, "share less ideal share, at worst"),
            _share("front share of the brake force", limit.front_share, found.doubt, "pedal to pad"),
            _share(
                "ideal front share where the first axle locks", found.ideal_share, 0.0, "weights and height"
            ),
            _exact("deceleration at which the first axle locks", limit.rate, "gn"),
            _exact("your hardest push gives", found.hardest_rate, "gn", f"{force:.0f} N at the pedal"),
            _exact("share of the road's grip used then", found.efficiency, "share"),
            _exact("pedal force then", limit.pedal_force, "N"),
            _exact("pedal travel then", found.pedal_travel, "m", _TRAVEL),
        ),
        why=tuple(_why(asked, brakes, case, assumed)),
        next_thing=_next_thing(brakes, cases),
        cautions=(*_warnings(brakes, cases), *CAUTIONS),
        works=("Limpert2011",),
        working={"turns": brakes.turns, "pads_C": (found.ask.front_temp, found.ask.rear_temp)},
    )


def _share(name: str, value: float, doubt: float, basis: str) -> Figure:
    off = _RANGE * doubt
    return Figure(name=name, value=value, low=value - off, high=value + off, unit="share", basis=basis)


_TRAVEL = (
    f"pads {1e3 * PAD_GAP:.2f} mm off each side, {1e13 * GIVE:.1f} cm³ of give a wheel at 100 bar: common "
    "practice, no source"
)


def _exact(name: str, value: float, unit: str, basis: str = "no range computed") -> Figure:
    return Figure(name=name, value=value, low=value, high=value, unit=unit, basis=basis)


def _sentence(cases: Sequence[BrakeCase]) -> str:
    case = cases[0]
    found, worst = case.balance, case.worst
    road = f"on a {case.name} road of grip {found.ask.friction:.2f}"
    if case.verdict is Verdict.NO:
        rear = [pads for pads, margin in worst.by_pads.items() if margin < 0.0]
        which = f"; worst with {worst.pads} ones" if len(rear) > 1 else ""
        return (
            f"UNSAFE: {road} the rear axle locks first with {_listed(rear)} pads{which}, at "
            f"{worst.rate:.2f} g, {_points(-worst.margin)} too little in front."
        )
    told = (
        f"{100.0 * found.at_limit.front_share:.1f} % in front: {road} the front axle locks first, at "
        f"{found.at_limit.rate:.2f} g, with {_points(worst.margin)} in hand at worst, with {worst.pads} pads"
    )
    if case.verdict is Verdict.NOT_PROVEN:
        told = f"{told}, where the doubt asks for {_points(worst.needed)}: NOT PROVEN"
    elsewhere = [f"On a {each.name} road the rear locks first: UNSAFE there."
                 for each in cases[1:] if each.verdict is Verdict.NO]  # fmt: skip
    return " ".join([f"{told}.", *elsewhere])


def _points(margin: float) -> str:
    return f"{100.0 * margin:.1f} points"


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _why(asked: BrakeQuestion, brakes: SetBrakes, case: BrakeCase, assumed: Sequence[str]) -> Iterator[str]:
    found = case.balance
    ask, (front, rear) = found.ask, found.pad_friction
    if found.hardest_rate < found.at_limit.rate:
        yield (
            f"Your hardest push, {brakes.car.brakes.pedal_force:.0f} N, gives {found.hardest_rate:.2f} g: "
            f"below the {found.at_limit.rate:.2f} g that the road allows. The foot limits the stop, not the "
            "tyres."
        )
    stands = f"; {brakes.bias.device.value} at {_place(brakes.turns)} turns by the document"
    yield (
        f"The worst of cold, working and hot pads decides: working at {ask.front_temp:.0f} °C front and "
        f"{ask.rear_temp:.0f} °C rear ({asked.temp_basis}), friction {front:.2f} and {rear:.2f}"
        f"{stands if brakes.bias.device is not BiasDevice.NONE else '; no device to shift the balance'}."
    )
    if assumed:
        yield f"Assumed, not measured: {'; '.join(assumed)}."
    rule = "By UN R13-H, annex 5 (from memory), "
    if found.rear_first_by_rule:
        yield f"{rule}the rear comes first from {found.rear_first_by_rule[0]:.2f} g: not so on a new car."
    else:
        yield f"{rule}the front comes first from 0.15 to 0.80 g, as asked of a new car."
    if found.weak_by_rule:
        yield f"{rule}one axle does too much at {found.weak_by_rule[0]:.2f} g: the car brakes too little."


_PROVE = (
    "then prove it on a closed, empty, straight road from 30 km/h, somebody watching: the front must lock "
    "first."
)
_PARTS = "rear pads of less friction, smaller rear pistons or a valve that holds back more"


def _next_thing(brakes: SetBrakes, cases: Sequence[BrakeCase]) -> str:
    case = cases[0]
    turns, device = case.turns, brakes.bias.device.value
    if turns is None:
        if case.verdict is Verdict.NO:
            return f"Do not brake to the limit: {_PARTS}, before it runs."
        if case.verdict is Verdict.NOT_PROVEN:
            return f"Nothing to turn on this car: it stays NOT PROVEN; {_PROVE}"
        return f"Nothing to turn on this car; {_PROVE}"
    found = turns.found
    in_hand = f"{_points(found.margin)} in hand with {found.pads} pads"
    if not turns.reached:
        end = f"at its front end ({_place(turns.at)} turns)"
        if found.margin < 0.0:
            return (
                f"The {device} has not room enough: {end} the rear still locks first with {found.pads} pads, "
                f"at {found.rate:.2f} g. {_PARTS[:1].upper()}{_PARTS[1:]}, before it is braked hard."
            )
        stays = "NOT PROVEN" if found.verdict is Verdict.NOT_PROVEN else "close"
        short = (
            f"{in_hand} of the {_points(found.needed)} asked for: it stays {stays}; {_PROVE} Else {_PARTS}."
        )
        if turns.turns > 0.0:
            to = f"{turns.turns:g} turns towards the front, to its end at {_place(turns.at)}"
            return f"Turn the {device} {to}: {short}"
        return f"The {device} stands {end}: {short}"
    drying = _drying(cases)
    if turns.turns > 0.0:
        to = f"{turns.turns:g} turns towards the front, to {_place(turns.at)}"
        return f"Turn the {device} {to}: {in_hand}; {_PROVE}{drying}"
    if turns.turns <= -_USEFUL:
        return (
            f"It may stay. {-turns.turns:g} turns towards the rear, to {_place(turns.at)}, would leave "
            f"{in_hand}, keep the front first on every road asked about and brake {case.gained:.2f} g "
            f"harder; {_PROVE}"
        )
    return f"Leave the {device} where it is; {_PROVE}{drying}"


def _drying(cases: Sequence[BrakeCase]) -> str:
    """What another road wants more to the front than the one asked about."""
    now = cases[0].turns
    for each in cases[1:]:
        if now is not None and each.turns is not None and each.turns.at > now.at:
            even = "" if each.turns.reached else ", its end, and is not proven even there"
            return (
                f" A {each.name} road wants it at {_place(each.turns.at)}{even}: where it may be {each.name} "
                "within the stint, set that before the start."
            )
    return ""


def _place(turns: float) -> str:
    """Where a device stands, with its sign."""
    return f"{turns:+g}".replace("-", MINUS) if turns else "0"


def _warnings(brakes: SetBrakes, cases: Sequence[BrakeCase]) -> Iterator[str]:
    """What another road, more grip, or the engine would do with this setting."""
    for case in cases[1:]:
        if case.verdict is Verdict.NO:
            yield (
                f"UNSAFE on a {case.name} road: as it is set the rear locks first there with "
                f"{case.worst.pads} pads, at {case.worst.rate:.2f} g. Turn it before the road is {case.name}."
            )
        elif case.verdict is Verdict.NOT_PROVEN:
            yield f"On a {case.name} road it is not proven that the front locks first."
    critical = cases[0].balance.critical_rate
    if math.isfinite(critical) and cases[0].verdict is not Verdict.NO:
        yield f"Above {critical:.2f} g the rear locks first: with more grip than asked about it is not safe."
    engine = engine_braking_rear(brakes.car)
    if engine:
        yield (
            "The engine brakes the driven rear axle too: "
            f"{engine / cases[0].balance.mass / STANDARD_GRAVITY:.2f} g in third gear is counted in. A "
            "downshift without its revs matched, or a locked or limited-slip rear, locks it sooner still and "
            "is not: match the revs or hold the clutch down, and leave more in hand."
        )
