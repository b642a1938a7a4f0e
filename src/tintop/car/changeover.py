"""From one set-up to another: the jobs in the order in which they are done, in turns, clicks, millimetres.

The car goes up once and its wheels come off once: what needs them off is done together, then the car stands
on level ground and is aligned: heights, camber, toe, for each moves the next. Pressures come last, as the
tyres cool meanwhile. Order: common practice, no source.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from tintop.car.car import Car
from tintop.car.changeover_end import before_the_road, torque_again
from tintop.car.changeover_job import AGAIN_AFTER, Check, Job, Stage
from tintop.car.changeover_steps import Step, camber_moved, radius_of, steps_of, toe_moved
from tintop.car.chassis import Chassis, Chore, End, Item
from tintop.car.setup import Purpose, Setup
from tintop.car.setup_differences import Difference, differences
from tintop.car.wheel_paths import Strut

_PER_END = {
    Item.SPRINGS, Item.DAMPERS, Item.RIDE_HEIGHT, Item.BAR, Item.CAMBER, Item.TOE, Item.BUMP, Item.REBOUND,
    Item.PRESSURE,
}  # fmt: skip
_WHEELS_OFF = {Item.TYRES, Item.PADS, Item.SPRINGS, Item.DAMPERS, Item.RIDE_HEIGHT}
_AT_HOME = {Item.SPRINGS, Item.DAMPERS, Item.FINAL_DRIVE}  # hardly in a paddock; common practice, no source
_ORDER = (
    Item.FINAL_DRIVE, Item.TYRES, Item.PADS, Item.SPRINGS, Item.DAMPERS, Item.RIDE_HEIGHT, Item.BAR,
    Item.BALLAST, Item.FUEL, Item.CAMBER, Item.TOE, Item.BUMP, Item.REBOUND, Item.BRAKE_BIAS, Item.PRESSURE,
)  # fmt: skip
_MOVES_NEXT = {
    Item.RIDE_HEIGHT: "other springs, dampers or tyres carry the car: wind the perches back to the height",
    Item.CAMBER: "struts apart, or another height, move the camber",
    Item.TOE: "camber and height move the toe with them",
}
_LEANS = 9e-4  # [rad] 3 minutes, which no camber gauge in a paddock reads
_TURNS = 2.5e-4  # [rad] a tenth of a millimetre across a rim
_LEVEL = 1e-3  # [m] of tyre radius, below which the height counts as the same
_DIFFERENT_TURNS = 0.05  # of a turn, left against right, from which the cross-weight moves


def jobs(
    a: Setup, b: Setup, car: Car, chassis: Chassis, assumed_radii: Collection[str] = ()
) -> tuple[Job, ...]:
    """The ordered jobs from set-up `a` to set-up `b`; none where they agree.

    `assumed_radii` names the sets of tyres whose radius is that of their class.
    Raises BadInput where a set-up names what the car has not.
    """
    found = differences(a, b, chassis)
    if not found:
        return ()
    worked = [
        _by_tyre(
            _job(item, end, [each for each in found if _belongs(each, item, end)], a, b, car, chassis),
            a,
            b,
            chassis,
            assumed_radii,
        )
        for item in _ORDER
        for end in (tuple(End) if item in _PER_END else (None,))
        if _is_needed(item, end, a, b, chassis, found)
    ]
    up = [job for job in worked if job.stage is Stage.UP]
    down = [job for job in worked if job.stage is Stage.DOWN]
    framed = [_car_up(chassis, up), *up, _car_down(chassis, b, up)] if up else []
    home = tuple(before_the_road(a, b, [each.item for each in found]))
    return (*framed, *down, *home, *torque_again(worked, chassis))


def minutes_of(found: Sequence[Job]) -> tuple[float, tuple[Job, ...]]:
    """Minutes for one person: the sum of the jobs', and the jobs nobody wrote the minutes of, not in it."""
    known = sum(job.minutes for job in found if job.minutes is not None)
    return known, tuple(job for job in found if job.minutes is None)


def _belongs(difference: Difference, item: Item, end: End | None) -> bool:
    return difference.item is item and difference.end is end


def _is_needed(
    item: Item, end: End | None, a: Setup, b: Setup, chassis: Chassis, found: Sequence[Difference]
) -> bool:
    """Whether an item differs, or moves with one before it: height, then camber, then toe."""
    if any(_belongs(each, item, end) for each in found):
        return True
    if end is None:
        return False
    match item:
        case Item.RIDE_HEIGHT:
            grown = abs(radius_of(b, end, chassis) - radius_of(a, end, chassis)) > _LEVEL
            return grown or _is_apart(end, a, b)
        case Item.CAMBER:
            moved = camber_moved(_left(end), a, b, chassis)
            return (_is_strut(end, chassis) and _is_apart(end, a, b)) or abs(moved) > _LEANS
        case Item.TOE:
            turned = toe_moved(_left(end), a, b, chassis)
            is_measured = _is_needed(Item.CAMBER, end, a, b, chassis, found)
            return is_measured or turned is None or abs(turned) > _TURNS
    return False


def _left(end: End) -> int:
    """The place of an end's left wheel; the links of the right are its mirror."""
    return 0 if end is End.FRONT else 2


def _is_strut(end: End, chassis: Chassis) -> bool:
    return isinstance(chassis.at(end).wheel_path, Strut)


def _is_apart(end: End, a: Setup, b: Setup) -> bool:
    """Whether springs or dampers of an end are changed."""
    return (a.at(end).spring, a.at(end).damper) != (b.at(end).spring, b.at(end).damper)


def _job(
    item: Item,
    end: End | None,
    own: Sequence[Difference],
    a: Setup,
    b: Setup,
    car: Car,
    chassis: Chassis,
) -> Job:
    chore = chassis.chores.get(item)
    off = item in _WHEELS_OFF or (chore is not None and chore.needs_wheels_off)
    steps = steps_of(item, end, own, a, b, car, chassis)
    uneven = item is Item.RIDE_HEIGHT and _is_uneven(steps)
    return Job(
        title=f"{end.value.capitalize()} {item.value}" if end else item.value.capitalize(),
        stage=Stage.UP if off else Stage.DOWN,
        item=item,
        end=end,
        differences=tuple(own),
        steps=steps,
        because="" if own else _MOVES_NEXT[item],
        toe_moves=_toe_with(item, end, a, b, chassis),
        minutes=_minutes(item, end, a, b, chassis),
        tools=chore.tools if chore else "",
        checks=tuple(_checks(item, chore)),
        warnings=tuple(_warnings(item, end, own, a, b, chassis)),
        is_for_home=item in _AT_HOME,
        needs_scales=uneven or item is Item.BALLAST,
    )


def _minutes(item: Item, end: End | None, a: Setup, b: Setup, chassis: Chassis) -> float | None:
    """Of the work itself: what it shares with another job is in that one's minutes."""
    if item is Item.TYRES:
        return 0.0  # they come off and go on with the wheels
    chore = chassis.chores.get(item)
    if chore is None:
        return None
    if item is Item.DAMPERS and end and _is_strut(end, chassis) and a.at(end).spring != b.at(end).spring:
        springs = chassis.chores.get(Item.SPRINGS)
        return max(chore.minutes - (springs.minutes if springs else 0.0), 0.0)
    return chore.minutes


def _half_of_wheels(chassis: Chassis) -> float | None:
    """Minutes of the car up and all wheels off, or on and down: half of what changing tyres takes."""
    chore = chassis.chores.get(Item.TYRES)
    return 0.5 * chore.minutes if chore else None


def _by_tyre(job: Job, a: Setup, b: Setup, chassis: Chassis, assumed_radii: Collection[str]) -> Job:
    if job.item is not Item.RIDE_HEIGHT or job.end is None or a.tyres == b.tyres:
        return job
    return replace(
        job,
        height_by_tyre=radius_of(b, job.end, chassis) - radius_of(a, job.end, chassis),
        is_radius_assumed=a.tyres in assumed_radii or b.tyres in assumed_radii,
    )


def _is_uneven(steps: Sequence[Step]) -> bool:
    turns = [step.turns for step in steps]
    if any(each is None for each in turns) or len(turns) < 2:
        return False
    left, right = (each or 0.0 for each in turns[:2])
    return abs(left - right) > _DIFFERENT_TURNS


def _toe_with(item: Item, end: End | None, a: Setup, b: Setup, chassis: Chassis) -> float | None:
    """What camber and height do to the toe of one wheel, the left one standing for both."""
    if item is not Item.CAMBER or end is None:
        return None
    return toe_moved(_left(end), a, b, chassis)


def _checks(item: Item, chore: Chore | None) -> Iterator[Check]:
    if chore and item is not Item.TYRES:  # the wheel nuts are checked when the car stands on them
        yield Check(words=chore.check, torque=chore.torque)
    if item is Item.TOE:
        yield Check(words="By strings, square to the hubs on both sides, the driver's weight aboard")


def _warnings(
    item: Item, end: End | None, own: Sequence[Difference], a: Setup, b: Setup, chassis: Chassis
) -> Iterator[str]:
    beyond = [each for each in own if _is_beyond(each, chassis)]
    if beyond:
        places = ", ".join(each.place for each in beyond if each.place)
        yield f"{places + ': ' if places else ''}beyond what the car's sheet says can be set."
    if item in (Item.CAMBER, Item.TOE) and end and _is_strut(end, chassis) and _is_apart(end, a, b):
        yield "The struts were apart: do not count from where it stood, measure."
    if item is Item.PADS:
        yield "Pump the pedal until it is firm before the car moves, and try it at walking pace."
        yield "Pads not run in yet are bedded gently before they are relied on."
        if b.purpose is Purpose.ROAD:
            yield "What bites hot may hardly bite cold: only pads fit for the road go on the road."
    if item is Item.BRAKE_BIAS and _is_rearward(a, b):
        yield (
            "More brake to the rear: the rear wheels must never lock first. Try it straight, in steps, away "
            "from others, before it is relied on; the road's rules may forbid it."
        )
        if b.purpose is Purpose.WET:
            yield (
                "It goes back as soon as the road dries: harder braking unloads the rear, whose wheels then "
                "lock first. Back before the tyres are changed back, not after."
            )
    if item is Item.BALLAST:
        yield "Ballast is bolted as the regulations ask and shown to the scrutineer."
        yield "It moves heights and cross-weight: read both again where there are scales."
    if item is Item.RIDE_HEIGHT:
        yield "Turning a perch moves the cross-weight unless left and right turn alike."


def _is_rearward(a: Setup, b: Setup) -> bool:
    return b.brake_bias_turns < a.brake_bias_turns


def _is_beyond(difference: Difference, chassis: Chassis) -> bool:
    """Whether the new value lies outside the room of the adjuster there is for it."""
    for adjuster in chassis.adjusters:
        if adjuster.item is not difference.item or adjuster.end is not difference.end:
            continue
        after = difference.after
        if isinstance(after, str):
            return bool(adjuster.choices) and after not in adjuster.choices
        slack = 1e-6 * max(abs(adjuster.low), abs(adjuster.high))
        return not adjuster.choices and not adjuster.low - slack <= after <= adjuster.high + slack
    return False


def _car_up(chassis: Chassis, up: Sequence[Job]) -> Job:
    names = {job.item for job in up}
    return Job(
        title="Car up, wheels off",
        stage=Stage.UP,
        minutes=_half_of_wheels(chassis),
        tools="trolley jack, four axle stands, wheel brace",
        checks=(
            Check(words="Stands under the points the car's book names, the car rocked by hand before work"),
        ),
        warnings=("Never work under a car that a jack alone holds.",),
        because="" if names == {Item.TYRES} else "once, for all that needs it",
    )


def _car_down(chassis: Chassis, b: Setup, up: Sequence[Job]) -> Job:
    chore = chassis.chores.get(Item.TYRES)
    torque = chore.torque if chore else None
    words = "Wheel nuts in a star, by torque wrench, the wheels on the ground, threads dry"
    return Job(
        title=f"Wheels on: {b.tyres}; car down",
        stage=Stage.UP,
        minutes=_half_of_wheels(chassis),
        tools="torque wrench",
        checks=(Check(words=words, torque=torque, again_after=AGAIN_AFTER),),
        warnings=()
        if torque
        else ("No torque is written down for the wheel nuts: take it from the car's book.",),
    )
