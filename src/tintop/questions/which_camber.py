"""How do the wheels stand, what does moving the strut top do, and which static camber is worth setting?"""

import math
from dataclasses import dataclass, replace

from tintop.answer import Answer, Figure, Verdict
from tintop.car.camber_by_treads import CamberByTreads, sentences_heard
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean
from tintop.car.chassis import AxleChassis, Chassis, Chore, End, Item
from tintop.car.setup import Setup
from tintop.car.strut_top import TopMove, require_slots, top_for_camber, top_moved
from tintop.car.wheel_motion import WheelPose, bump_curve, wheel_at
from tintop.car.wheel_path_doubt import CAMBER_DOUBT, POINT_DOUBT, wheel_doubt
from tintop.car.wheel_paths import Strut, WheelPath, WheelTable
from tintop.checks import within
from tintop.circuit.circuit import Circuit, Path
from tintop.event import Weather
from tintop.lap.camber_choice import (
    BEST_DOUBT,
    CamberChoice,
    CamberStep,
    against_more,
    camber_choice,
    is_over,
)
from tintop.lap.camber_on_lap import CamberOnLap, camber_on_lap, lowered_by, path_as_set
from tintop.lap.flying_lap import flying_lap
from tintop.lap.outer_wheel import OUTER_SHOULDER

RANGE = 1.96
WORTH_IT = 0.02  # [s] a lap, under which a camber is left alone; common practice, no source
ROADS = (1e3, 5e7)  # [m] that may be driven on one set of tyres
ROAD = 100e3  # [m] there and back, where nothing is told
_CURVE = 21
_MUCH_BUMP_STEER = math.radians(0.15)  # over 25 mm; common practice, no source
CAUTIONS = (
    "Camber and toe belong together: set camber, then toe, with the driver's weight aboard, then turn the "
    "torque wrench on every nut that was slack, and again after the first session.",
    "Road wear is an estimate within a factor of two either way: read the inner edges with a depth "
    "gauge before and after the drive. Tread at the legal least anywhere ends the road for that tyre.",
    "Check with wheels at full lock and full bump that no tyre touches strut, arch or pipe.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichCamber:
    """The answer with the curves before and after, the strut top's move, the corners and the choice.

    `setup` is the set-up asked about with the camber that the moved top gives, toe put back.
    """

    answer: Answer
    end: End
    setup: Setup
    rest: WheelPose
    curve: tuple[WheelPose, ...]
    curve_moved: tuple[WheelPose, ...]
    move: TopMove | None
    on_lap: CamberOnLap
    choice: CamberChoice
    rim_diameter: float


def which_camber(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    circuit: Circuit,
    path: Path,
    weather: Weather,
    *,
    end: End = End.FRONT,
    top_inward: float = 0.0,
    road_distance: float = ROAD,
    limit: float | None = None,
    point_doubt: float = POINT_DOUBT,
    camber_doubt: float = CAMBER_DOUBT,
    best_doubt: float = BEST_DOUBT,
    loss_doubt: float = 0.0,
    treads: CamberByTreads | None = None,
) -> WhichCamber:
    """Work out one end with its strut tops moved inwards [m]; `limit` [m] for the inner edge on the drive;
    `camber_doubt`, `best_doubt` [rad], `loss_doubt` [1/rad²] are the standard uncertainties of the car's
    measured camber, of the camber the tyre likes and of what it loses beside it. `treads` go before all.

    BadInput for a top moved beyond its slots or where there is none, and as wheel_at and numbers_for.
    """
    axle = chassis.at(end)
    wheel_path = path_as_set(car, chassis, setup, end)
    require_slots(wheel_path, end, top_inward)
    within(road_distance, *ROADS, "road on these tyres", "m")
    if limit is not None:
        within(limit, 1e-6, 0.02, "most off the inner edge", "m")
    move = None
    if isinstance(wheel_path, Strut):
        move = top_moved(wheel_path, top_inward, axle.rim_diameter)
    changed = _moved(setup, end, move)
    travels = [
        -axle.droop_travel + place * (axle.bump_travel + axle.droop_travel) / (_CURVE - 1)
        for place in range(_CURVE)
    ]
    fitted = car_with_setup(car, chassis, changed, weather)
    lap = flying_lap(fitted, path, weather)
    on_lap = camber_on_lap(car, chassis, changed, circuit, path, weather, lap)
    choice = camber_choice(
        car, chassis, changed, end, path, weather, road_distance, limit, best_doubt, loss_doubt, treads
    )
    lowered = lowered_by(chassis, setup, end)
    stands = wheel_at(wheel_path, lowered)
    curve = _against(stands, bump_curve(wheel_path, travels))
    moved = bump_curve(wheel_path, travels, 0.0, top_inward) if top_inward else ()
    links, doubts = path_as_set(car, chassis, changed, end), (point_doubt, camber_doubt)
    return WhichCamber(
        answer=_answer(chassis, links, changed, end, on_lap, choice, move, doubts, treads),
        end=end,
        setup=changed,
        rest=wheel_at(wheel_path, lowered, 0.0, top_inward),
        curve=curve,
        curve_moved=_against(stands, moved) if moved else curve,
        move=move,
        on_lap=on_lap,
        choice=choice,
        rim_diameter=axle.rim_diameter,
    )


def _against(stands: WheelPose, curve: tuple[WheelPose, ...]) -> tuple[WheelPose, ...]:
    """A curve counted from the wheel as it stands at the set-up's height."""
    return tuple(
        replace(
            pose,
            travel=pose.travel - stands.travel,
            camber=pose.camber - stands.camber,
            toe=pose.toe - stands.toe,
        )
        for pose in curve
    )


def degrees(angle: float, digits: int = 1) -> str:
    """An angle as it is read off a gauge, such as "−2.9°"."""
    return f"{math.degrees(angle):+.{digits}f}°".replace("-", "−").replace("+0.0°", "0.0°")


def toe_words(over_rim: float) -> str:
    """Toe of one wheel over the rim, such as "1.1 mm in"."""
    if abs(over_rim) < 0.05e-3:
        return "nothing"
    return f"{abs(over_rim) * 1e3:.1f} mm {'in' if over_rim > 0.0 else 'out'}"


def turn_words(move: TopMove) -> str:
    """What the track rods are turned to bring the toe back."""
    way = "longer" if move.turns > 0.0 else "shorter"
    return (
        f"{abs(move.turns):.2f} turn each, {way} ({abs(move.rod_longer) * 1e3:.1f} mm; "
        f"thread of {move.pitch * 1e3:g} mm assumed)"
    )


def _moved(setup: Setup, end: End, move: TopMove | None) -> Setup:
    if move is None or move.inward == 0.0:
        return setup
    by = move.camber_with_toe_back
    first = 0 if end is End.FRONT else 2
    corners = tuple(
        replace(one, camber=one.camber + by) if place in (first, first + 1) else one
        for place, one in enumerate(setup.corners)
    )
    return replace(setup, corners=corners)  # type: ignore[arg-type]


def _answer(
    chassis: Chassis,
    links: WheelPath,
    setup: Setup,
    end: End,
    on_lap: CamberOnLap,
    choice: CamberChoice,
    move: TopMove | None,
    measured_within: tuple[float, float],
    treads: CamberByTreads | None,
) -> Answer:
    now, target = choice.now, choice.within
    verdict = Verdict.NO if target is None else Verdict.FOUND if not _is_open(choice) else Verdict.NOT_PROVEN
    stands = on_lap.at(end)
    sentence = (
        f"{end.value.capitalize()} camber {degrees(now.camber)}: in the corners the outer wheel stands at "
        f"{degrees(stands.outer)} to the road, where this tyre likes {degrees(stands.best)}"
        f"{against_more(stands.outer, stands.best, choice)}. {_worth(choice, now, target, treads)}"
    )
    return Answer(
        question=f"Which camber at the {end.value}?",
        verdict=verdict,
        sentence=sentence,
        figures=(
            *_of_links(links, chassis.at(end), lowered_by(chassis, setup, end), *measured_within),
            *_of_lap(on_lap, choice, end),
        ),
        why=(*sentences_heard(treads), *_why(links, setup, end, on_lap, choice)),
        next_thing=_next_thing(chassis, links, end, choice, target, move),
        cautions=CAUTIONS,
        works=("Milliken1995", "Pacejka2012", "Dixon2009"),
        working={
            "recovery_of_links": {one.value: on_lap.at(one).recovery for one in End},
            "recovery_stated": {one.value: on_lap.at(one).stated_recovery for one in End},
        },
    )


def _worth(
    choice: CamberChoice, now: CamberStep, target: CamberStep | None, treads: CamberByTreads | None
) -> str:
    wear = f"{choice.limit * 1e3:.2g} mm of inner edge on {choice.road_distance / 1e3:.0f} km of road"
    if target is None:
        lasts = any(step.inner <= choice.limit for step in choice.steps)
        none = "that keeps the outer wheel off its shoulder" if lasts else "there is room for"
        return f"No camber {none} keeps within {wear}: drive there on other tyres, or carry these."
    if is_over(choice):
        return f"Within {wear}, {degrees(target.camber)} is the quickest, {-choice.gain:+.2f} s a lap."
    if choice.gain < WORTH_IT and treads is not None and treads.way <= 0:
        return f"The logged treads say {treads.words}, and they win over the lap model."
    if choice.gain < WORTH_IT:
        return "Nothing within the room and the tread's limit is worth two hundredths a lap: leave it."
    found = (
        f"Best within {wear} by the lap model: {degrees(target.camber)}, {choice.gain:.2f} s a lap quicker"
    )
    room = f"({choice.gain_low:+.2f} to {choice.gain_high:+.2f} s by what is not known of the tyre)"
    return f"{found} {room.replace('-', '−')}" + (": not proven." if _is_open(choice) else ".")


def _is_open(choice: CamberChoice) -> bool:
    """Whether a gain that looks worth it may as well be a loss."""
    return not is_over(choice) and choice.gain >= WORTH_IT and choice.gain_low < 0.0


def _of_links(
    path: WheelPath, axle: AxleChassis, lowered: float, doubt: float, camber_doubt: float
) -> tuple[Figure, ...]:
    """The links where they stand; their doubt is that of the points as measured, which it hardly leaves."""
    measured, rim = axle.wheel_path, axle.rim_diameter
    pose = wheel_at(path, lowered)
    if isinstance(path, WheelTable) or isinstance(measured, WheelTable):
        return (_figure("camber for 10 mm of bump", 0.01 * pose.camber_rate, None, "rad", "its table"),)
    unsure = wheel_doubt(measured, doubt, camber_doubt)
    basis = f"points measured within {doubt * 1e3:g} mm, camber within {math.degrees(camber_doubt):.2g}°"
    figures = [
        _figure("caster", pose.caster or 0.0, unsure.caster, "rad", basis),
        _figure(
            "king-pin inclination", pose.kingpin_inclination or 0.0, unsure.kingpin_inclination, "rad", basis
        ),
        _figure("scrub radius", pose.scrub_radius or 0.0, unsure.scrub_radius, "m", basis),
        _figure("mechanical trail", pose.trail or 0.0, unsure.trail, "m", basis),
        _figure("camber for 10 mm of bump", 0.01 * pose.camber_rate, 0.01 * unsure.camber_rate, "rad", basis),
        _figure(
            "toe at the rim for 10 mm of bump, in +",
            0.01 * rim * pose.toe_rate,
            0.01 * rim * unsure.toe_rate,
            "m",
            basis,
        ),
        _figure("roll centre height", pose.roll_centre_height, unsure.roll_centre_height, "m", basis),
    ]
    if isinstance(path, Strut):
        lean = wheel_at(path, 0.0, 0.0, 0.01).camber
        figures.append(
            _figure("camber for the top 10 mm in", lean, 0.01 * unsure.camber_per_inward, "rad", basis)
        )
    return tuple(figures)


def _of_lap(on_lap: CamberOnLap, choice: CamberChoice, end: End) -> tuple[Figure, ...]:
    stands, now = on_lap.at(end), choice.now
    per_thousand = 1e6 / choice.road_distance
    return (
        _figure(
            "outer wheel to the road, mean of corners",
            stands.outer,
            CAMBER_DOUBT,
            "rad",
            "links and body roll; gauge",
        ),
        _figure(
            "the same by the lap model's constant", stands.outer_by_constant, CAMBER_DOUBT, "rad", "car.toml"
        ),
        _figure("outer wheel, hardest corner", now.outer, CAMBER_DOUBT, "rad", "links and body roll; gauge"),
        _figure("share of roll the links recover", stands.recovery, None, "share", "links"),
        _figure("share of roll the car's document has", stands.stated_recovery, None, "share", "car.toml"),
        _figure("grip kept by the camber", stands.grip_share, None, "share", "the tyre's camber term"),
        Figure(
            name="inner edge, 1000 km of road",
            value=now.inner * per_thousand,
            low=now.inner_low * per_thousand,
            high=now.inner_high * per_thousand,
            unit="m",
            basis="estimate: slip work of toe and lean, scaled to what road tyres lose",
        ),
        _figure("middle of the tread, 1000 km of road", now.middle * per_thousand, None, "m", "the same"),
    )


def _figure(name: str, value: float, doubt: float | None, unit: str, basis: str) -> Figure:
    room = RANGE * (doubt or 0.0)
    return Figure(name=name, value=value, low=value - room, high=value + room, unit=unit, basis=basis)


def _why(
    path: WheelPath, setup: Setup, end: End, on_lap: CamberOnLap, choice: CamberChoice
) -> tuple[str, ...]:
    stands = on_lap.at(end)
    told = [
        f"The links recover {100 * stands.recovery:.0f} % of the roll, the lap model is told "
        f"{100 * stands.stated_recovery:.0f} %: with the links' shares at both ends the lap is "
        f"{choice.now.lap_time - choice.lap_by_constant:+.2f} s.",
        f"The inner wheel gives up more than the outer gains from some camber on: the lap is within "
        f"{WORTH_IT:g} s of its best from {_flat(choice)}.",
        f"Static camber now {degrees(mean(setup, end, 'camber'))}; room by {choice.room.basis}.",
    ]
    if not isinstance(path, WheelTable):
        steer = wheel_at(path, 0.025).toe
        if abs(steer) > _MUCH_BUMP_STEER:
            told.append(
                f"Much bump steer: {degrees(steer, 2)} in 25 mm of bump. Look at the height of the "
                "track rod's ends, or measure those points again."
            )
    if on_lap.is_beyond_table:
        told.append("A wheel goes beyond its measured table: the last two readings were carried on.")
    if choice.room.low < choice.upright < choice.room.high:
        told.append(
            f"Nothing less than {degrees(choice.upright)}: beyond it the outer wheel leans outwards at the "
            f"hardest corners ({OUTER_SHOULDER})."
        )
    return tuple(told)


def _flat(choice: CamberChoice) -> str:
    best = min(step.lap_time for step in (*choice.steps, choice.now))
    near = [step.camber for step in (*choice.steps, choice.now) if step.lap_time <= best + WORTH_IT]
    return f"{degrees(min(near))} to {degrees(max(near))}"


def _next_thing(
    chassis: Chassis,
    links: WheelPath,
    end: End,
    choice: CamberChoice,
    target: CamberStep | None,
    move: TopMove | None,
) -> str:
    if not choice.room.is_adjustable:
        return (
            "No way to move the camber of this end is written: if there is one, write it under [[adjusters]] "
            "or as slots of the strut in chassis.toml. Else read the treads, and let pressure and bar do the "
            "work."
        )
    if move is not None and move.inward:
        return (
            f"With the tops {abs(move.inward) * 1e3:.1f} mm further {_way(move.inward)} the toe goes "
            f"{toe_words(move.toe_at_rim)} a wheel: turn the track rods {turn_words(move)}, then check by "
            f"strings. {_torque(chassis.chores.get(Item.CAMBER))}"
        )
    if target is None:
        return "Take camber off for the road, or carry the wheels there."
    change = target.camber - choice.now.camber
    if not is_over(choice) and choice.gain < WORTH_IT:
        return "Leave the camber; read the treads after ten hard laps to see whether the tyre agrees."
    if _is_open(choice):
        return (
            "Leave it until the treads have spoken: ten hard laps, no cool-down lap, three temperatures "
            f"a tread. An inner edge more than 11 K hotter than the outer speaks for {_less_or_more(change)}."
        )
    if not isinstance(links, Strut):
        return f"Set {degrees(target.camber)} by gauge on both sides, then the toe by strings."
    inward = top_for_camber(links, change)
    told = top_moved(links, inward, chassis.at(end).rim_diameter)
    return (
        f"Move both strut tops {abs(inward) * 1e3:.1f} mm {_way(inward)} to {degrees(target.camber)} by "
        f"gauge; the toe goes {toe_words(told.toe_at_rim)} a wheel: turn the track rods {turn_words(told)}, "
        f"and check by strings. {_torque(chassis.chores.get(Item.CAMBER))}"
    )


def _less_or_more(change: float) -> str:
    return "the smaller camber the lap model wants" if change > 0.0 else "staying, one cooler for more camber"


def _way(inward: float) -> str:
    return "in" if inward > 0.0 else "out"


def _torque(chore: Chore | None) -> str:
    if chore is None or chore.torque is None:
        return "Top nuts to the manual's torque, and again after the first session."
    return f"Top nuts to {chore.torque:.0f} N·m, and again after the first session."
