"""Which clicks for the road, the dry circuit and the wet, and how does the car ride with those it has?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car
from tintop.car.chassis import Chassis, End
from tintop.car.click_search import (
    AS_GOOD,
    BODY_COUNTS,
    Clicks,
    EndClicks,
    Found,
    Rated,
    Wanted,
    best_clicks,
    clicks_of_ends,
    knobs_at_the_end,
    knobs_of_no_matter,
    rated_as,
    with_clicks,
)
from tintop.car.damping import (
    AxleDamping,
    DampersKnown,
    axle_damping,
    clicks_of,
    critical_of,
    damper_of,
)
from tintop.car.ride_in_time import KerbStrike, RoadDrive
from tintop.car.ride_quality import ROAD_FOR, RideQuality, Road, ride_car, ride_quality
from tintop.car.setup import Purpose, Setup
from tintop.known import Known, Origin
from tintop.physics.ride_comfort import comfort_words
from tintop.physics.ride_frequency import RideCar

# Share of comfort by share of load variation, and rebound by bump: 2 to 3 on the road, about 1.5 in racing
# (J. C. Dixon, The Shock Absorber Handbook, from memory); what comfort counts: estimated, no source.
WANTED: Mapping[Purpose, Wanted] = MappingProxyType(
    {
        Purpose.ROAD: Wanted(comfort_worth=0.5, rebound_to_bump=2.5),
        Purpose.DRY: Wanted(comfort_worth=0.0, rebound_to_bump=1.5),
        Purpose.WET: Wanted(comfort_worth=0.0, rebound_to_bump=1.5),
    }
)
USUAL: Mapping[Purpose, tuple[float, float]] = MappingProxyType(
    {Purpose.ROAD: (0.3, 0.5), Purpose.DRY: (0.6, 0.7)}
)  # damping ratios; common practice, no source
CAUTIONS = (
    "Clicks count from full soft: wind the knob gently to its stop and back out to check which end that is.",
    "Both dampers of an end alike; note the old clicks before you turn. A damper that leaks, knocks or runs "
    "warm on one side only wants mending, not clicks.",
    "Reach into an arch only with the wheels on the ground or the car on stands, never on a jack alone.",
    "Try a change in practice, one end at a time. On the public road the car must be legal and insured as it "
    "stands.",
)
WORKS = ("ISO8608", "ISO2631", "Dixon2007", "Caughey1963")
_LEFT_OUT = (
    "Left out: friction in the struts, bushes, damper heat, load by air, the tyre rolling over short edges. "
    "Bump stops and wheels off the ground count in the drive second by second and on the kerb only."
)
_CURVE_DOUBT = {  # of the damping; estimated, no source
    DampersKnown.CURVE: 0.10,
    DampersKnown.BEYOND: 0.25,
    DampersKnown.RATIO: 0.40,
}
_HALF_CLASS = math.sqrt(2.0)  # a class reaches from half to twice its mean spectrum
_STOP_REACHED = 3.0  # times the r.m.s. travel


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The clicks found for one purpose on its road, how the car rides with them, and what does as well."""

    purpose: Purpose
    road: Road
    found: Found
    quality: RideQuality
    ratio_front: float
    ratio_rear: float

    @property
    def best(self) -> Rated:
        """The clicks."""
        return self.found.best


@dataclass(frozen=True, slots=True, kw_only=True)
class ClicksAnswer:
    """The answer and what it stands on; nothing of the ride where an end's dampers are unknown.

    `now` is the set-up as it stands on `road`; `marks` every pair of clicks on that road, `named` the clicks
    found for each purpose as they ride there.
    """

    answer: Answer
    setup: Setup
    road: Road
    ride: RideCar
    damping: Mapping[End, AxleDamping | None]
    now: RideQuality | None = None
    rated_now: Rated | None = None
    choices: tuple[Choice, ...] = ()
    marks: tuple[Rated, ...] = ()
    named: Mapping[Purpose, Rated] = field(default_factory=dict)
    drive: RoadDrive | None = None
    kerb: KerbStrike | None = None
    is_as_good: bool = False  # as the best on this road, within `AS_GOOD`


def which_clicks(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    *,
    road: Road | None = None,
    known: Mapping[str, Known] | None = None,
    choices: tuple[Choice, ...] | None = None,
    drive: RoadDrive | None = None,
    kerb: KerbStrike | None = None,
) -> ClicksAnswer:
    """Answer for a set-up's springs, bars, dampers and tyres, on its purpose's road unless one is given.

    `known` says how the chassis's numbers are known, by path; `choices` saves searching
    again where only clicks were turned. BadInput for parts that are not there.
    """
    road = ROAD_FOR[setup.purpose] if road is None else road
    ride = ride_car(car, chassis, setup)
    damping = {end: axle_damping(ride, chassis, setup, end) for end in End}
    bare = ClicksAnswer(
        answer=_unknown(damping), setup=setup, road=road, ride=ride, damping=damping, kerb=kerb, drive=drive
    )
    if any(each is None for each in damping.values()):
        return bare
    now = ride_quality(car, chassis, setup, road.road_class, road.speed)
    rated_now = rated_as(ride, now, *(_clicks_now(chassis, setup, end) for end in End))
    choices = choices_for(car, chassis, setup) if choices is None else choices
    there = _there(car, chassis, setup, road, choices)
    found = replace(
        bare,
        now=now,
        rated_now=rated_now,
        choices=choices,
        marks=there.rated,
        named={choice.purpose: also for choice, also in zip(choices, there.also, strict=True)},
    )
    worse = math.expm1(_merit(rated_now, WANTED[setup.purpose]) - _merit(there.best, WANTED[setup.purpose]))
    found = replace(found, is_as_good=worse <= AS_GOOD)
    return replace(found, answer=_answer(found, there, worse, chassis, known or {}))


def changes_to(found: ClicksAnswer, target: Rated) -> tuple[str, ...]:
    """What to turn, end by end: knob, from, to, how many clicks which way; nothing where it stands so."""
    said = []
    one_knob = {end: _is_one_knob(found, end) for end in End}
    for end in End:
        now, wanted = (each.at(end) for each in (found.rated_now or target, target))
        for knob, old, new in (
            ("bump", now.bump, wanted.bump),
            ("rebound", now.rebound, wanted.rebound),
        ):
            if old == new or (one_knob[end] and knob == "bump"):
                continue
            way = "harder" if new > old else "softer"
            name = "the knob" if one_knob[end] else knob
            clicks = "click" if abs(new - old) == 1 else "clicks"
            said.append(
                f"{end} {name} {old} → {new} from full soft ({abs(new - old)} {clicks} {way}, both sides)"
            )
    return tuple(said)


def _is_one_knob(found: ClicksAnswer, end: End) -> bool:
    return all(each.at(end).bump == each.at(end).rebound for each in found.marks)


def _clicks_now(chassis: Chassis, setup: Setup, end: End) -> Clicks:
    damper = damper_of(chassis, setup, end)
    assert damper is not None
    bump, rebound = clicks_of(damper, setup, end)
    return Clicks(bump=round(bump), rebound=round(rebound))


def choices_for(car: Car, chassis: Chassis, setup: Setup) -> tuple[Choice, ...]:
    """The clicks for each purpose on its road, with the parts of one set-up; the clicks of it do not matter.

    BadInput where an end's dampers are unknown.
    """
    ride = ride_car(car, chassis, setup)
    ends = clicks_of_ends(ride, chassis, setup)
    return tuple(_choice(car, chassis, setup, purpose, ride, ends) for purpose in Purpose)


def _there(car: Car, chassis: Chassis, setup: Setup, road: Road, choices: tuple[Choice, ...]) -> Found:
    """Every click on the road asked for, and what was found for each purpose rated there."""
    ends = clicks_of_ends(ride_car(car, chassis, setup), chassis, setup)
    also = tuple((choice.best.front, choice.best.rear) for choice in choices)
    wanted = WANTED[setup.purpose]
    return best_clicks(car, chassis, setup, road.road_class, road.speed, wanted, ends, also)


def _choice(
    car: Car, chassis: Chassis, setup: Setup, purpose: Purpose, ride: RideCar, ends: Mapping[End, EndClicks]
) -> Choice:
    for_it, road = replace(setup, purpose=purpose), ROAD_FOR[purpose]
    found = best_clicks(car, chassis, for_it, road.road_class, road.speed, WANTED[purpose], ends)
    turned = with_clicks(for_it, found.best.front, found.best.rear)
    quality = ride_quality(car, chassis, turned, road.road_class, road.speed)
    return Choice(
        purpose=purpose,
        road=road,
        found=replace(found, best=rated_as(ride, quality, found.best.front, found.best.rear)),
        quality=quality,
        ratio_front=quality.damping_front / critical_of(ride, End.FRONT),
        ratio_rear=quality.damping_rear / critical_of(ride, End.REAR),
    )


def _merit(rated: Rated, wanted: Wanted) -> float:
    return math.log(rated.variation) + wanted.comfort_worth * math.log(rated.comfort)


def _answer(
    found: ClicksAnswer, there: Found, worse: float, chassis: Chassis, known: Mapping[str, Known]
) -> Answer:
    now = found.now
    assert now is not None
    doubts = _doubts(found, chassis, known)
    turns = changes_to(found, there.best)
    best = there.best
    road = found.road
    on = f"{road.name} (class {road.road_class} of A, the smoothest, to H; {3.6 * road.speed:.0f} km/h)"
    clicks = "; ".join(f"{end} bump {best.at(end).bump}, rebound {best.at(end).rebound}" for end in End)
    if not _can_turn(found.setup, chassis):
        sentence = f"These dampers have no clicks to turn, on the {on} or elsewhere."
        step = "Nothing to turn: other dampers, or these revalved, are a builder's work with their curves."
    elif found.is_as_good:
        sentence = f"On the {on} the clicks it has are as good as any: leave them. Least is at {clicks}."
        step = "Leave the clicks; check that left and right stand alike."
    else:
        sentence = f"On the {on}: {clicks}, from full soft; {100.0 * worse:.0f} % better than as it stands."
        step = "Turn " + "; ".join(turns) + ". Then drive, and write down what changed."
    sentence = " ".join((*knobs_of_no_matter(chassis, found.setup, there), sentence))
    return Answer(
        question="Which clicks?",
        verdict=Verdict.NOT_PROVEN if doubts else Verdict.FOUND,
        sentence=("Not proven. " + sentence) if doubts else sentence,
        figures=_figures(found, now),
        why=(*doubts, *_why(found, now, there, chassis)),
        next_thing=_measure(found) + step if doubts else step,
        cautions=CAUTIONS,
        works=WORKS,
        working={"worse than the best by": worse, "body swing counts": BODY_COUNTS},
    )


def _can_turn(setup: Setup, chassis: Chassis) -> bool:
    dampers = [damper for end in End if (damper := damper_of(chassis, setup, end))]
    return any(side.most_clicks for damper in dampers for side in (damper.bump, damper.rebound))


def _doubts(found: ClicksAnswer, chassis: Chassis, known: Mapping[str, Known]) -> tuple[str, ...]:
    said = []
    for end, damping in found.damping.items():
        assert damping is not None
        if damping.known is not DampersKnown.CURVE:
            said.append(f"The {end} dampers are known only {damping.known}: not proven.")
            continue
        place = [one.name for one in chassis.at(end).dampers].index(found.setup.at(end).damper) + 1
        weak = [
            one
            for knob in ("bump", "rebound")
            if (one := known.get(f"{end}.dampers.{place}.{knob}.forces"))
            and one.origin in (Origin.ASSUMED, Origin.ESTIMATED)
        ]
        if weak:
            said.append(f"The {end} dampers' curves are {weak[0].origin}, not measured: not proven.")
    return tuple(said)


def _measure(found: ClicksAnswer) -> str:
    ends = [end for end, each in found.damping.items() if each and each.known is not DampersKnown.CURVE]
    where = " and ".join(ends) or "doubtful"
    return f"Have the {where} dampers measured at three clicks, or ask for their curves. Until then: "


def _unknown(damping: Mapping[End, AxleDamping | None]) -> Answer:
    ends = " and ".join(end for end, each in damping.items() if each is None)
    return Answer(
        question="Which clicks?",
        verdict=Verdict.NOT_PROVEN,
        sentence=f"Not proven: what the {ends} dampers do is unknown: neither a curve nor a ratio, and none "
        "is made up.",
        figures=(),
        next_thing="Ask the maker for force against speed at three clicks, or have the pair measured; write "
        "them into the chassis document.",
        cautions=CAUTIONS,
        works=WORKS,
    )


def _why(found: ClicksAnswer, now: RideQuality, there: Found, chassis: Chassis) -> tuple[str, ...]:
    dampings = zip(End, (now.damping_front, now.damping_rear), strict=True)
    set_now = [damping / critical_of(found.ride, end) for end, damping in dampings]
    said = [f"As set now: damping ratio {set_now[0]:.2f} front, {set_now[1]:.2f} rear on this road."]
    for choice in found.choices:
        usual = USUAL.get(choice.purpose)
        beside = f"; usual there: {usual[0]:g} to {usual[1]:g}" if usual else ""
        said.append(
            f"With the clicks recommended for {choice.purpose.value}: damping ratio "
            f"{choice.ratio_front:.2f} front, {choice.ratio_rear:.2f} rear at the speeds its dampers "
            f"meet{beside}."
        )
    wide = [f"{end} {knob} {low} to {high}" for (end, knob), (low, high) in there.as_good.items()]
    said.append(f"One knob at a time, as good within {100.0 * AS_GOOD:.0f} %: " + "; ".join(wide) + ".")
    said.append(
        f"Comfort at the seat's floor now: {comfort_words(now.comfort)}"
        + (
            " on this road."
            if found.setup.purpose is Purpose.ROAD
            else "; on a circuit it counts for nothing here."
        )
    )
    for end in reaches_stop(chassis, now):
        said.append(
            f"Here the {end} comes to its bump stop: stiffer springs or more room first, clicks after."
        )
    said += knobs_at_the_end(chassis, found.setup, there)
    said.append(_LEFT_OUT)
    return tuple(said)


def _figures(found: ClicksAnswer, now: RideQuality) -> tuple[Figure, ...]:
    road = f"road class {found.road.road_class} from half to twice its mean, estimated drive"
    figures = []
    for end, part, swing in (
        (End.FRONT, now.road_variation_front, now.swing_front),
        (End.REAR, now.road_variation_rear, now.swing_rear),
    ):
        figures.append(
            Figure(
                name=f"tyre load variation, {end}",
                value=math.hypot(part, swing),
                low=math.hypot(part / _HALF_CLASS, swing),
                high=math.hypot(part * _HALF_CLASS, swing),
                unit="share",
                basis=road,
            )
        )
    figures.append(
        Figure(
            name="weighted vibration at the seat's floor [m/s²]",
            value=now.comfort,
            low=now.comfort / _HALF_CLASS,
            high=now.comfort * _HALF_CLASS,
            unit="",
            basis=road,
        )
    )
    for end, known, damping in (
        (End.FRONT, now.known_front, now.damping_front),
        (End.REAR, now.known_rear, now.damping_rear),
    ):
        ratio, doubt = damping / critical_of(found.ride, end), _CURVE_DOUBT[known]
        figures.append(
            Figure(
                name=f"damping ratio as set, body straight up and down (heave), {end}",
                value=ratio,
                low=(1.0 - 2.0 * doubt) * ratio,
                high=(1.0 + 2.0 * doubt) * ratio,
                unit="",
                basis=known.value,
            )
        )
    return tuple(figures)


def reaches_stop(chassis: Chassis, now: RideQuality) -> tuple[End, ...]:
    """Ends whose travel on the road comes to the bump stop at three times its r.m.s."""
    return tuple(
        end
        for end, travel in ((End.FRONT, now.travel_front), (End.REAR, now.travel_rear))
        if _STOP_REACHED * travel > chassis.at(end).bump_travel
    )
