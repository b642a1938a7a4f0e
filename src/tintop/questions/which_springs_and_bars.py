"""Which springs and bars: what those on a set-up do, and which one step within reach to try next."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from tintop.answer import Answer, Assumption, Figure, Verdict
from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.described import DescribedCar
from tintop.car.free_parts import HIGHEST_FREQUENCY, LOWEST_FREQUENCY
from tintop.car.setup import Purpose, Setup
from tintop.car.springs_and_bars import AxleSprings, SpringsAndBars, springs_and_bars
from tintop.circuit.circuit import Circuit, Path
from tintop.circuit.least_time import thinned
from tintop.event import Weather
from tintop.known import Known, Origin
from tintop.lap.balance import LimitBalance, limit_balance
from tintop.lap.bump_travel import TravelUsed, lap_with_fuel, travel_used
from tintop.lap.setup_search import LAP_NOISE
from tintop.lap.spring_map import (
    Tried,
    cornering_speed,
    gain_by_whole_laps,
    rough_fit,
    trial_on,
)
from tintop.lap.spring_steps import Doubted, Step, doubted, gain_spread, spread, steps
from tintop.lap.trace import LapTrace
from tintop.logbook.amounts import written_money

SPEEDS = tuple(speed / 3.6 for speed in (60.0, 90.0, 120.0, 150.0))  # [m/s]
_WET = 0.5  # of the road's wetness, from which nothing stiffer is suggested
_USUAL_SPEED = 25.0  # of a corner, where no circuit is named [m/s]
_WHEELS = dict(zip(CORNERS, ("front left", "front right", "rear left", "rear right"), strict=True))
ANTI_DIVE = (
    "the bump travel leaves anti-dive and anti-squat of the links out, which errs to more travel than is used"
)
CAUTIONS = (
    "A compressed coil spring can kill: a compressor that fits it, nobody in its line, the car on stands on "
    "level ground, never on a jack alone.",
    "After any change of springs, bar or ride height: torque every fastening to the maker's figure with the "
    "car on its wheels, then measure ride height, camber, toe and cross-weight again.",
    "The steady balance is the tyres' on a smooth road. A car that oversteers at the limit is for a licensed "
    "driver on a closed circuit; change one thing at a time and drive it gently first.",
    "Springs, bars and ride height may need approval on the road and in your class: the regulations and the "
    "scrutineer decide.",
)
WORKS = (
    "Milliken1995",
    "Pacejka2012",
    "T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE, 1992, ch. 5 and 6 (from memory)",
    "JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory)",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """Where laps are driven: the circuit, for its corners, and the path through it."""

    circuit: Circuit
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """What laps showed: that of now with its fuel, travel used, every step tried, the two worth naming."""

    lap: LapTrace
    travel: TravelUsed
    now: Tried
    steps: tuple[Step, ...]
    owned: Step | None  # the best of what he has, where it is worth it
    owned_range: tuple[float, float]
    bought: Step | None  # the best of what is offered, where it surely beats that
    bought_range: tuple[float, float]
    is_same_within_doubt: bool  # something owned seemed to gain, but not surely


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringsAnswer:
    """The answer, and all it stands on; `balances` at `SPEEDS`, `corner` at the usual speed of a corner."""

    answer: Answer
    springs: SpringsAndBars
    balances: tuple[LimitBalance, ...]
    corner: LimitBalance
    driven: Driven | None


def which_springs_and_bars(
    described: DescribedCar,
    chassis: Chassis,
    chassis_known: Mapping[str, Known],
    setup: Setup,
    weather: Weather,
    drive: Drive | None = None,
    currency: str = "",
) -> SpringsAnswer:
    """Answer for a set-up in such a weather; with a circuit, by whole laps. BadInput as car_with_setup."""
    car = described.car
    springs = springs_and_bars(car, chassis, setup, weather)
    doubts = doubted(car, chassis, described.known, chassis_known)
    driven = _driven(described, chassis, setup, weather, drive, springs, doubts) if drive else None
    speed = cornering_speed(driven.lap) if driven else _USUAL_SPEED
    corner = limit_balance(springs.car, weather, speed)
    others = [
        (one, limit_balance(one.car, weather, speed))
        for one in (springs_and_bars(*doubt, setup, weather) for doubt in doubts)
    ]
    odd = [f"{each[:1].upper()}{each[1:]}." for each in _oddities(springs, driven)]
    half = spread(corner.balance, tuple(other.balance for _, other in others))
    is_sure = abs(corner.balance) >= half
    usual = Verdict.FOUND if is_sure else Verdict.NOT_PROVEN
    answer = Answer(
        question="Which springs and bars?",
        verdict=Verdict.CLOSE if odd else usual,
        sentence=" ".join((*odd, _sentence(springs, corner, half))),
        figures=_figures(springs, corner, others, driven),
        why=(*_why(springs, corner), *((ANTI_DIVE,) if driven else ())),
        next_thing=_next_thing(driven, setup.purpose, weather, currency),
        cautions=CAUTIONS,
        assumptions=_assumptions(car_roll=springs, chassis_known=chassis_known, chassis=chassis, setup=setup,
                                 described=described, weather=weather),
        works=WORKS,
    )  # fmt: skip
    return SpringsAnswer(
        answer=answer,
        springs=springs,
        balances=tuple(limit_balance(springs.car, weather, each) for each in SPEEDS),
        corner=corner,
        driven=driven,
    )


def _driven(
    described: DescribedCar,
    chassis: Chassis,
    setup: Setup,
    weather: Weather,
    drive: Drive,
    springs: SpringsAndBars,
    doubts: tuple[Doubted, ...],
) -> Driven:
    car = described.car
    lap = lap_with_fuel(springs, setup, drive.path, weather)
    fit, speed = rough_fit(car, chassis, drive.path, weather), cornering_speed(lap)
    trial = trial_on(fit, drive.path, weather, speed)
    now = trial(setup)
    tried = steps(chassis, setup, trial)
    is_wet = weather.wetness >= _WET
    allowed = [
        step
        for step in tried
        if step.gain > LAP_NOISE
        and setup.purpose is not Purpose.ROAD
        and is_no_looser(step.tried, now)
        and not (is_wet and stiffens(step, springs))
    ]
    coarse = thinned(drive.path)

    def confirmed(is_owned: bool) -> tuple[Step | None, float]:
        """The best of what is owned or offered, its gain by whole laps, and half the range of that."""
        step = next((each for each in allowed if each.choice.offer.is_owned == is_owned), None)
        if step is None:
            return None, 0.0
        gain = gain_by_whole_laps(fit, setup, step.setup, drive.path, weather, speed)
        doubt = gain_spread(car, chassis, (setup, step.setup), doubts, coarse, weather)
        return replace(step, gain=gain), math.hypot(doubt, LAP_NOISE)

    own, half = confirmed(True)
    shop, half_of_shop = confirmed(False)
    is_sure = own is not None and own.gain > half
    best = own.gain if own and is_sure else 0.0
    is_worth_money = shop is not None and shop.gain > max(best + LAP_NOISE, half_of_shop)
    return Driven(
        lap=lap,
        travel=travel_used(lap, springs, drive.circuit),
        now=now,
        steps=tried,
        owned=own if is_sure else None,
        owned_range=(own.gain - half, own.gain + half) if own else (0.0, 0.0),
        bought=shop if is_worth_money else None,
        bought_range=(shop.gain - half_of_shop, shop.gain + half_of_shop) if shop else (0.0, 0.0),
        is_same_within_doubt=own is not None and not is_sure,
    )


def is_no_looser(tried: Tried, now: Tried) -> bool:
    """Whether a change leaves the car sliding with its front first, or no looser than it is."""
    return tried.balance.balance >= min(now.balance.balance, 0.0)


def stiffens(step: Step, springs: SpringsAndBars) -> bool:
    """Whether a step makes its end stiffer than it is."""
    axle = springs.at(step.choice.end)
    is_spring = any(name == "spring" for name, _ in step.choice.setting)
    return step.choice.stiffness > (axle.spring_rate if is_spring else axle.roll_of_bar)


def balance_words(balance: LimitBalance) -> str:
    """The balance in words with its share of grip."""
    if balance.words == "neutral":
        return "both ends slide together"
    first = "front" if balance.balance > 0.0 else "rear"
    return f"{balance.words}, the {first} slides {100.0 * abs(balance.balance):.0f} % before the other end"


def range_words(balance: float, half: float) -> str:
    """The range of a balance in words, from its loosest: "2 % rear first to 5 % front first"."""

    def one(share: float) -> str:
        return f"{100.0 * abs(share):.0f} % {'front' if share > 0.0 else 'rear'} first"

    return f"{one(balance - half)} to {one(balance + half)}"


def _sentence(springs: SpringsAndBars, corner: LimitBalance, half: float) -> str:
    said = f"{balance_words(corner)} ({range_words(corner.balance, half)})"
    if abs(corner.balance) < half:
        said = f"which end slides first is not proven, {range_words(corner.balance, half)}"
    return (
        f"Rides at {springs.front.frequency:.2f} Hz in front and {springs.rear.frequency:.2f} Hz behind, "
        f"leans {math.degrees(springs.roll_gradient):.1f}° per g; the front takes "
        f"{100.0 * springs.body.front_share:.0f} % of the load moved. At {3.6 * corner.speed:.0f} km/h: "
        f"{said}."
    )


def _oddities(springs: SpringsAndBars, driven: Driven | None) -> list[str]:
    """What asks for a look before anything is tuned."""
    found = []
    for axle in (springs.front, springs.rear):
        if not LOWEST_FREQUENCY <= axle.frequency <= HIGHEST_FREQUENCY:
            found.append(
                f"{axle.end.value} ride frequency of {axle.frequency:.2f} Hz is not a car's: look at the "
                "spring's unit (N/mm or lb/in) and at the motion ratio, which is squared"
            )
        if axle.loose_by > 0.0 and axle.preload_written > 0.0:
            found.append(
                f"{axle.end.value} springs: chassis.toml writes {axle.preload_written:.0f} N of preload with "
                "the wheels hanging, weights and rates say they are loose: one of rate, motion ratio, droop "
                "travel and preload is wrong, or it is of another spring"
            )
        elif axle.loose_by > 0.0:
            found.append(
                f"{axle.end.value} springs come loose by {1e3 * axle.loose_by:.0f} mm with the wheels "
                "hanging: helper springs or less droop, and look that they seat again"
            )
    if driven and driven.travel.touches:
        worst = driven.travel.touches[0]
        found.append(
            f"the {_WHEELS[worst.wheel]} touches its bump stop in {worst.where}: {1e3 * worst.asked:.0f} mm "
            f"asked, {1e3 * worst.left:.0f} mm there; on its stops that end is stiffer than computed here"
        )
    return found


def _why(springs: SpringsAndBars, corner: LimitBalance) -> tuple[str, ...]:
    def axle(one: AxleSprings) -> str:
        return (
            f"{one.end.value}: {one.spring_rate / 1e3:.1f} N/mm at the spring is "
            f"{one.wheel_rate / 1e3:.1f} N/mm at the wheel (motion ratio squared); the bar holds "
            f"{100.0 * one.bar_share:.0f} % of what springs and bar hold in roll; "
            f"{100.0 * one.elastic_share:.0f} % of its load moves through them"
        )

    higher, ratio = "rear", springs.frequency_ratio
    if ratio < 1.0:
        higher, ratio = "front", 1.0 / ratio
    steer = math.degrees(corner.understeer_gradient) * 9.80665
    return (
        axle(springs.front),
        axle(springs.rear),
        f"the {higher} rides at the higher frequency, {ratio:.2f} times the other",
        f"in gentle driving it asks for {steer:+.2f}° of road-wheel steer per g ("
        f"{'understeer' if steer > 0.0 else 'oversteer'})",
    )


def _figures(
    springs: SpringsAndBars,
    corner: LimitBalance,
    others: list[tuple[SpringsAndBars, LimitBalance]],
    driven: Driven | None,
) -> tuple[Figure, ...]:
    def ranged(name: str, unit: str, value: float, varied: list[float], basis: str) -> Figure:
        half = spread(value, tuple(varied))
        return Figure(name=name, value=value, low=value - half, high=value + half, unit=unit, basis=basis)

    bodies = [one for one, _ in others]
    by_springs = "computed; range from the doubt about weights, heights, motion ratios and tyre rates"
    found = [
        ranged(f"{end.value} ride frequency", "Hz", springs.at(end).frequency,
               [one.at(end).frequency for one in bodies], by_springs)
        for end in End
    ]  # fmt: skip
    found += [
        ranged("lean per g", "°", math.degrees(springs.roll_gradient),
               [math.degrees(one.roll_gradient) for one in bodies], by_springs),
        ranged("front share of the load moved", "share", springs.body.front_share,
               [one.body.front_share for one in bodies], by_springs),
        ranged("balance at the limit, + = front first", "share", corner.balance,
               [one.balance for _, one in others],
               f"computed at {3.6 * corner.speed:.0f} km/h with the lap's own tyres, of unknown error"),
    ]  # fmt: skip
    if driven:
        fullest = driven.travel.fullest
        found.append(
            Figure(
                name=f"bump travel to spare, {_WHEELS[CORNERS[fullest]]}",
                value=driven.travel.left[fullest] - driven.travel.most[fullest],
                low=driven.travel.left[fullest] - driven.travel.most[fullest],
                high=driven.travel.left[fullest] - driven.travel.most[fullest],
                unit="m",
                basis=f"predicted at {driven.travel.where[fullest]}: smooth road, no kerbs, no range",
            )
        )
    return tuple(found)


def step_words(step: Step, currency: str = "") -> str:
    """A step as it is done: which part goes where."""
    offer = step.choice.offer
    words = f"{step.choice.end.value}: {step.choice.words}"
    if offer.is_owned:
        return words
    price = (
        written_money(offer.price_cents, currency, 0) if offer.price_cents is not None else "price unknown"
    )
    return f"{words}, to be bought ({price})"


def _next_thing(driven: Driven | None, purpose: Purpose, weather: Weather, currency: str) -> str:
    if purpose is Purpose.ROAD:
        return "For the road the ride comes first: look at dampers and ride before any spring or bar."
    if driven is None:
        return "Name a circuit, and each step you could make is driven round it."
    parts = []
    if driven.travel.touches:
        wheel = _WHEELS[driven.travel.touches[0].wheel]
        parts.append(f"Put a tie-wrap round the {wheel} damper's shaft and read it after the next session.")
    if driven.owned:
        low, high = driven.owned_range
        parts.append(
            f"{'Then try' if parts else 'Try'} {step_words(driven.owned)}: {driven.owned.gain:.2f} s a lap "
            f"quicker ({low:.2f} to {high:.2f}), {balance_words(driven.owned.balance)}. That alone, "
            "then drive."
        )
    elif driven.is_same_within_doubt:
        parts.append("Leave the springs and bars you own: what they seem to gain is within the doubt.")
    else:
        parts.append(
            f"Leave the springs and bars you own: no single step gains more than {LAP_NOISE:.2f} s "
            "without making the car looser."
        )
    if weather.wetness >= _WET:
        parts.append(
            "Nothing stiffer is suggested for the wet: what softness gives there no steady lap shows."
        )
    if driven.bought:
        parts.append(
            f"Worth asking for: {step_words(driven.bought, currency)}, {driven.bought.gain:.2f} s a lap "
            f"({driven.bought_range[0]:.2f} to {driven.bought_range[1]:.2f})."
        )
    return " ".join(parts)


def _assumptions(
    *,
    car_roll: SpringsAndBars,
    chassis_known: Mapping[str, Known],
    chassis: Chassis,
    setup: Setup,
    described: DescribedCar,
    weather: Weather,
) -> tuple[Assumption, ...]:
    """What of the chassis was taken for want of better, and what its doubt does to the lean per g."""
    found = []
    for end in End:
        for name in ("motion_ratio", "tyre_rate"):
            path = f"{end.value}.{name}"
            known = chassis_known.get(path)
            if known is None or known.origin is not Origin.ASSUMED:
                continue
            for _, moved in doubted(described.car, chassis, {}, {path: known}):
                other = springs_and_bars(described.car, moved, setup, weather)
                found.append(
                    Assumption(
                        path=path,
                        value=known.value,
                        uncertainty=known.uncertainty,
                        effect=abs(math.degrees(other.roll_gradient - car_roll.roll_gradient)),
                        effect_unit="° per g",
                        source=known.source,
                    )
                )
    return tuple(found)
