"""What does it weigh, where, and which perch goes up or down?"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from tintop.answer import Answer, Figure, Verdict
from tintop.car.ballast_plan import BallastPlan, Centre, ballast_plan
from tintop.car.car import Car
from tintop.car.carried import carried_words, what_fits
from tintop.car.chassis import CORNERS, Chassis
from tintop.car.corner_model import PerchTurns, corner_model, perch_turns
from tintop.car.described import DescribedCar
from tintop.car.on_scales import Height, Lifted, OnScales, believable_total, centre_on_pads, raised_height
from tintop.car.setup import Setup
from tintop.checks import require, within
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.logbook.mass_balance import Foretold
from tintop.logbook.mass_ledger import CornerWeighing, MassLedger

_RANGE = 2.0  # standard uncertainties in a range of about 95 %
_ASK = 3.0  # standard uncertainties apart, from which it is asked
_SWAPPED = 0.012  # of the total: a side share further off than this is looked at the other way round
_NOTHING = 0.05  # [kg], under which a mass is written the same
_CROSS_OFF = 0.005  # of the total: what people accept either way; common practice, no source
CAUTIONS = (
    "Raising an axle: chock the wheels that stay down, handbrake off only once they are, gearbox in neutral; "
    "ramps, blocks or stands that carry it, a strap against rolling; never anybody under or in the car.",
    "A car on pads stands on an edge: roll it on and off straight, doors shut, somebody at each end.",
    "Turn perches with the corner's load off the spring, and torque again what was undone; look whether a "
    "spring sits loose at full droop.",
    "Ballast is declared to the scrutineer; its fixing is what the rule book says, and a fabricator's word.",
    "The scrutineer's scales decide, not these.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """What the logbook knows: earlier loads and what they foretell, the ledger, where the driver sits.

    Where the loads are the logbook's own, `read_on` is their day and `now` what they foretell for today.
    """

    last: CornerWeighing | None = None
    foretold: Foretold | None = None
    read_on: date | None = None
    now: Foretold | None = None
    ledger: MassLedger | None = None
    driver_side: Literal["", "left", "right"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """The answer with all it was made of; `asks` are questions that stand open before it counts.

    `turns` and `ballast` are None where they could not be worked out, and `turns_sentence` and
    `ballast_sentence` say why.
    """

    answer: Answer
    scales: OnScales
    centre: Centre
    height: Height | None
    turns: PerchTurns | None
    turns_sentence: str
    ballast: BallastPlan | None
    ballast_sentence: str
    asks: tuple[str, ...]
    before: Before = field(default_factory=Before)
    target: float = 0.5


def what_does_it_weigh(
    scales: OnScales,
    described: DescribedCar,
    *,
    chassis: Chassis | None = None,
    setup: Setup | None = None,
    lifted: Lifted | None = None,
    target: float = 0.5,
    corners: Sequence[str] = (),
    are_bars_hooked: bool = False,
    before: Before | None = None,
    finish_fuel: float = 0.0,
) -> Weighed:
    """Answer from four loads [kg]; target a share, finish_fuel [m³] left when the flag falls.

    Raises BadInput for loads in pounds, a raised weighing that cannot be, or a perch that does not turn.
    """
    within(target, 0.35, 0.65, "target cross-weight", "of the total")
    for name in corners:
        require(name in CORNERS, "corner", repr(name), "one of " + ", ".join(CORNERS))
    car, before = described.car, before or Before()
    expected = _expected(scales, car)
    believable_total(scales, expected)
    height = raised_height(scales, lifted, car, chassis, setup) if lifted is not None else None
    x, y = centre_on_pads(scales, car)
    centre = Centre(x=x, y=y, z=height.height if height else car.masses.cg_height)
    turns, turns_sentence = _turns(scales, car, chassis, setup, target, corners, are_bars_hooked)
    ballast, ballast_sentence = _ballast(scales, described, chassis, centre, finish_fuel)
    asks = tuple(_asks(scales, described, expected, before))
    verdict = _verdict(asks, ballast)
    return Weighed(
        answer=Answer(
            question="What does it weigh?",
            verdict=verdict,
            sentence=_sentence(scales, ballast),
            figures=tuple(_figures(scales, described, centre, height, ballast)),
            why=(*asks, *carried_words(scales, car), *_why(height, turns, before, scales, centre)),
            next_thing=_next_thing(asks, ballast, turns, scales),
            cautions=CAUTIONS,
            works=("Milliken1995", "JCGM100", "ISO8855"),
            working={"expected_kg": expected},
        ),
        scales=scales,
        centre=centre,
        height=height,
        turns=turns,
        turns_sentence=turns_sentence,
        ballast=ballast,
        ballast_sentence=ballast_sentence,
        asks=asks,
        before=before,
        target=target,
    )


def _expected(scales: OnScales, car: Car) -> float:
    """What it should weigh by the car's document, as it stood [kg]."""
    driver = 0.0 if scales.is_driver_aboard is False else car.masses.driver
    fuel = (scales.fuel_volume or 0.0) * car.fuel.density
    return car.masses.car + car.masses.ballast + driver + fuel


def _turns(
    scales: OnScales,
    car: Car,
    chassis: Chassis | None,
    setup: Setup | None,
    target: float,
    corners: Sequence[str],
    are_bars_hooked: bool,
) -> tuple[PerchTurns | None, str]:
    if chassis is None:
        return None, "No turns: nothing says which springs are on the car. Describe chassis and set-up."
    if setup is None:
        return None, (
            "No turns: nothing says which set-up is on the car. Name one: --setup on the terminal, Set-up on "
            "the page."
        )
    model = corner_model(car, chassis, setup, has_bars=are_bars_hooked)
    if not corners and not model.turning:
        return None, "No turns: by chassis.toml no perch of this car turns."
    loads = dict(zip(CORNERS, scales.loads, strict=True))
    return perch_turns(model, loads, target, corners), ""


def _ballast(
    scales: OnScales, described: DescribedCar, chassis: Chassis | None, centre: Centre, finish_fuel: float
) -> tuple[BallastPlan | None, str]:
    car = described.car
    if chassis is None or chassis.least_mass is None:
        return None, "No class minimum is written: put least_mass into chassis.toml."
    if scales.fuel_volume is None:
        return None, "How much fuel was aboard is not said: the mass at the finish is unknown."
    density, masses = car.fuel.density, car.masses
    fuel = scales.fuel_volume * density
    dry = scales.total - fuel
    tank = -masses.tank_behind_front_axle
    x = (scales.total * centre.x - fuel * tank) / dry
    y = scales.total * centre.y / dry
    doubt = scales.total_doubt
    if scales.is_driver_aboard is not True:
        if scales.is_driver_aboard is None:
            return None, "Whether the driver was aboard is not said: the mass at the finish is unknown."
        x = _with_driver(car)
        dry += masses.driver
        doubt = math.hypot(doubt, described.known["masses.driver"].uncertainty)
        y = 0.0
    try:
        plan = ballast_plan(car, chassis, dry, Centre(x=x, y=y, z=centre.z), doubt, finish_fuel * density)
    except BadInput as error:
        return None, str(error)
    return plan, ""


def _with_driver(car: Car) -> float:
    """His place is not known: the whole is put where the document's front share, driver aboard, has it."""
    return -(1.0 - car.masses.front_share) * car.dimensions.wheelbase


def _asks(scales: OnScales, described: DescribedCar, expected: float, before: Before) -> Iterator[str]:
    car, corners = described.car, scales.corners
    if scales.is_driver_aboard is None:
        yield "Was the driver aboard? Nobody said, and it is worth " + f"{car.masses.driver:.0f} kg."
    if scales.fuel_volume is None:
        yield "How much fuel was in the tank? Nobody said."
    known = described.known["masses.car"]
    doubt = math.hypot(scales.total_doubt, known.uncertainty, described.known["masses.driver"].uncertainty)
    off = scales.total - expected
    is_known = known.origin is not Origin.ASSUMED and scales.fuel_volume is not None
    if is_known and scales.is_driver_aboard is not None and abs(off) > _ASK * doubt:
        yield (
            f"Is every scale right? They add up to {scales.total:.1f} kg; the car with what was aboard "
            f"makes {expected:.1f} kg ± {_RANGE * doubt:.0f} kg."
            f"{what_fits(off, scales, car, _ASK * doubt)}"
        )
    last = before.last
    if last is not None:
        usual, now = last.left_share, corners.left_share
        if abs(now - usual) > _SWAPPED and abs(1.0 - now - usual) < 0.3 * abs(now - usual):
            yield (
                f"Were left and right taken for each other? {100.0 * now:.1f} % stood on the left, and "
                f"{100.0 * usual:.1f} % on {last.day.isoformat()}."
            )
    elif before.driver_side and scales.is_driver_aboard:
        share = corners.left_share if before.driver_side == "left" else 1.0 - corners.left_share
        if share < 0.5 - _SWAPPED:
            yield (
                f"Were left and right taken for each other? The driver sits on the {before.driver_side}, and "
                f"only {100.0 * share:.1f} % stood there."
            )
    share, front = car.masses.front_share, corners.front_share
    if abs(front - share) > 0.04 and abs(1.0 - front - share) < 0.3 * abs(front - share):
        yield (
            f"Were front and rear taken for each other? {100.0 * front:.1f} % stood on the front; by the "
            f"car's document it is {100.0 * share:.1f} %."
        )


def _verdict(asks: tuple[str, ...], ballast: BallastPlan | None) -> Verdict:
    if asks:
        return Verdict.NOT_PROVEN
    if ballast is None:
        return Verdict.FOUND
    if ballast.margin < 0.0:
        return Verdict.NO
    return Verdict.CLOSE if ballast.margin < _RANGE * ballast.doubt else Verdict.FOUND


def _sentence(scales: OnScales, ballast: BallastPlan | None) -> str:
    corners = scales.corners
    words = (
        f"{scales.total:.1f} kg: {100.0 * corners.front_share:.1f} % on the front, "
        f"{100.0 * corners.left_share:.1f} % on the left, cross-weight {100.0 * corners.cross_share:.1f} %."
    )
    if ballast is None:
        return words
    way = "over" if ballast.margin >= 0.0 else "under"
    return (
        f"{words} At the finish {ballast.at_finish:.1f} kg, {abs(ballast.margin):.1f} kg {way} the least of "
        f"{ballast.least:.0f} kg."
    )


def _figures(
    scales: OnScales,
    described: DescribedCar,
    centre: Centre,
    height: Height | None,
    ballast: BallastPlan | None,
) -> Iterator[Figure]:
    dimensions, corners = described.car.dimensions, scales.corners
    pads = f"four scales, each ± {_RANGE * scales.pad_doubt:.1f} kg"
    yield _figure("total", scales.total, scales.total_doubt, "kg", pads)
    for name, value in (
        ("on the front axle", corners.front_share),
        ("on the left wheels", corners.left_share),
        ("cross-weight, FR and RL", corners.cross_share),
    ):
        yield _figure(name, value, scales.share_doubt, "share", pads)
    along = dimensions.wheelbase * scales.share_doubt
    yield _figure("centre of gravity behind the front axle", -centre.x, along, "m", f"{pads}, wheelbase")
    aside = 0.5 * (dimensions.track_front + dimensions.track_rear) * scales.share_doubt
    yield _figure("centre of gravity left of the middle", centre.y, aside, "m", f"{pads}, track widths")
    if height is not None:
        basis = f"raised weighing, {height.gain:.1f} kg gained"
        yield _figure("height of the centre of gravity", height.height, height.doubt, "m", basis)
    else:
        known = described.known["masses.cg_height"]
        basis = f"the car's document, {known.origin}; not raised this time"
        yield _figure("height of the centre of gravity", known.value, known.uncertainty, "m", basis)
    if ballast is not None:
        basis = f"fuel burnt to {ballast.finish_fuel:.1f} kg, driver aboard, against {ballast.least:.0f} kg"
        yield _figure("over the least mass at the finish", ballast.margin, ballast.doubt, "kg", basis)


def _figure(name: str, value: float, doubt: float, unit: str, basis: str) -> Figure:
    return Figure(
        name=name,
        value=value,
        low=value - _RANGE * doubt,
        high=value + _RANGE * doubt,
        unit=unit,
        basis=basis,
    )


def _why(
    height: Height | None, turns: PerchTurns | None, before: Before, scales: OnScales, centre: Centre
) -> Iterator[str]:
    if height is not None:
        most = max(height.parts, key=lambda name: height.parts[name])
        cure = (
            f"a lift of {1e3 * height.surer_lift:.0f} mm would halve the doubt"
            if height.surer_lift
            else "raise it four times and take the mean to halve the doubt"
        )
        yield f"The height is in doubt most by {most}, ± {_RANGE * 1e3 * height.parts[most]:.0f} mm: {cure}."
        if height.free_springs:
            yield f"Springs left free made it {1e3 * height.free_springs:.0f} mm too high; that is taken off."
    if turns is not None and turns.bars:
        yield (
            "A bar left hooked on takes part of every turn and stays twisted: unhook one drop link of each "
            "first, and set its length last so that it slips on."
        )
    if before.foretold is not None:
        yield from _against(before.foretold, scales, centre)
    if before.read_on is not None and before.now is not None:
        now = before.now
        if abs(now.mass - scales.total) < _NOTHING:
            parts = f": {_changes(now.changed)} since add nothing" if now.changed else ""
            carried = f"it is {now.mass:.1f} kg still{parts}"
        else:
            carried = f"by {_changes(now.changed)} since it weighs {now.mass:.1f} kg now"
        yield (
            f"These loads were read on {before.read_on.isoformat()}; {carried}, its centre of gravity "
            f"{-1e3 * now.x:.0f} mm behind the front axle."
        )
        yield from _left_out(now)


def _changes(count: int) -> str:
    return f"{count} change{'' if count == 1 else 's'} of weighed parts"


def _against(told: Foretold, scales: OnScales, centre: Centre) -> Iterator[str]:
    """What an earlier weighing and the ledger foretold, against these scales."""
    off = round(scales.total - told.mass, 1) + 0.0
    doubt = _RANGE * math.hypot(scales.total_doubt, told.mass_doubt)
    explained = "within the doubt" if abs(off) <= doubt else "more than the doubt explains"
    yield (
        f"By the loads of {told.since.isoformat()} and {_changes(told.changed)} since it should weigh "
        f"{told.mass:.1f} kg; the scales say {off:+.1f} kg, {explained} (± {doubt:.1f} kg)."
    )
    along, aside = 1e3 * (told.x - centre.x), 1e3 * (centre.y - told.y)
    yield (
        f"By them its centre of gravity should lie {-1e3 * told.x:.0f} mm behind the front axle; the scales "
        f"say {along:+.0f} mm (± {_RANGE * 1e3 * told.x_doubt:.0f} mm), and {aside:+.0f} mm to the left "
        f"(± {_RANGE * 1e3 * told.y_doubt:.0f} mm)."
    )
    yield from _left_out(told)


def _left_out(told: Foretold) -> Iterator[str]:
    if told.without_mass:
        yield f"Changed since and never weighed: {_listed(told.without_mass)}."
    if told.without_place:
        yield f"Changed since and its place not written: {_listed(told.without_place)}."


def _listed(names: Sequence[str], most: int = 6) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def _next_thing(
    asks: tuple[str, ...], ballast: BallastPlan | None, turns: PerchTurns | None, scales: OnScales
) -> str:
    if asks:
        return asks[0]
    if ballast is not None and ballast.need > 0.0:
        if not ballast.placed:
            return f"Find a place for {ballast.need:.1f} kg of ballast and write it into chassis.toml."
        where = ", ".join(f"{each.mass:g} kg in the {each.place.name}" for each in ballast.placed)
        return f"Bolt in {where}; then weigh again with the fuel you finish on, and tell the scrutineer."
    if turns is not None and not turns.is_still and abs(turns.before - turns.target) > _CROSS_OFF:
        link = " Unhook a bar drop link first." if turns.bars else ""
        return f"{turn_words(turns)}: cross-weight comes to {100.0 * turns.after:.1f} %.{link}"
    if turns is not None:
        return f"Nothing to turn: {100.0 * scales.corners.cross_share:.1f} % is near enough. Write it down."
    return "Write these four loads down as readings, with driver and fuel."


def turn_words(turns: PerchTurns) -> str:
    """Which perch goes up or down by how many turns, such as "FL down ¾ turn, FR up ½ turn"."""
    moved = [f"{name} {quarter_turns(each)}" for name, each in zip(CORNERS, turns.turns, strict=True) if each]
    return ", ".join(moved) or "no perch to turn"


def quarter_turns(turns: float) -> str:
    """Turns in quarters with their direction, such as "up 1¼ turns"."""
    if not turns:
        return "stays"
    whole, rest = divmod(round(4.0 * abs(turns)), 4)
    number = f"{whole or ''}{('', '¼', '½', '¾')[rest]}"
    return f"{'up' if turns > 0.0 else 'down'} {number} turn{'s' if abs(turns) > 1.0 else ''}"
