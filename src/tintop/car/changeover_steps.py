"""What a job of a changeover is at each corner: turns of a perch, clicks, millimetres at the strut top.

Equations: physics.perches, and docs/theory/setups.md.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.setup import Setup
from tintop.car.setup_differences import Difference, Value
from tintop.car.strut_top import TRACK_ROD_PITCH
from tintop.car.wheel_motion import wheel_at
from tintop.car.wheel_paths import Strut
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.perches import body_over_wheel, loaded_length, perch_rise, rod_growth
from tintop.physics.toe import toe_over_rim

_MOST_TOP = 0.06  # [m] further no strut top moves
_TRIES = 40
_pose = lru_cache(maxsize=256)(wheel_at)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One place of a job: from what, to what, and the move of the spanner; None where it must be measured.

    `move` is in metres: the strut top inwards, the toe of one wheel at the rim; `turns` are turns of a perch
    (positive raises the car), of a track rod (positive lengthens it), of the brake balance (positive to the
    front), and clicks (positive stiffer).
    """

    place: str
    before: Value
    after: Value
    move: float | None = None
    turns: float | None = None


def steps_of(
    item: Item,
    end: End | None,
    own: Sequence[Difference],
    a: Setup,
    b: Setup,
    car: Car,
    chassis: Chassis,
) -> tuple[Step, ...]:
    """The steps of one job, left before right."""
    if item is Item.RIDE_HEIGHT and end:
        return tuple(_perch_step(place, a, b, car, chassis) for place in _places(end))
    if item is Item.CAMBER and end:
        return tuple(_camber_step(place, a, b, chassis) for place in _places(end))
    if item is Item.TOE and end:
        return tuple(_toe_step(place, a, b, chassis) for place in _places(end))
    changed = end is not None and a.at(end).damper != b.at(end).damper
    is_counted = item in (Item.BUMP, Item.REBOUND, Item.BRAKE_BIAS) and not changed
    return tuple(
        Step(
            place=each.place,
            before=each.before,
            after=each.after,
            turns=each.after - each.before
            if is_counted and not isinstance(each.after, str) and not isinstance(each.before, str)
            else None,
        )
        for each in own
    )


def _places(end: End) -> tuple[int, int]:
    return (0, 1) if end is End.FRONT else (2, 3)


def _end(place: int) -> End:
    return End.FRONT if place < 2 else End.REAR


def _perch_step(place: int, a: Setup, b: Setup, car: Car, chassis: Chassis) -> Step:
    before, after = a.corners[place].ride_height, b.corners[place].ride_height
    rise = perch_moved(place, a, b, car, chassis)
    pitch = chassis.at(_end(place)).perch_pitch
    turns = None if rise is None or pitch is None else rise / pitch
    return Step(place=CORNERS[place], before=before, after=after, move=after - before, turns=turns)


def perch_moved(place: int, a: Setup, b: Setup, car: Car, chassis: Chassis) -> float | None:
    """How far the perch of a corner goes up from one set-up to the other [m].

    The corner is taken by itself: right where left and right turn alike. None where the springs change and
    a free length is unknown.
    """
    end = _end(place)
    axle = chassis.at(end)
    fuel = 0.5 * (a.fuel_volume + b.fuel_volume)  # heights are read with the same fuel aboard
    body_a, length_a = _body_and_spring(place, a, fuel, car, chassis)
    body_b, length_b = _body_and_spring(place, b, fuel, car, chassis)
    springs = axle.spring(a.at(end).spring), axle.spring(b.at(end).spring)
    free_a, free_b = (spring.free_length for spring in springs)
    longer = 0.0
    if springs[0].name != springs[1].name:
        if free_a is None or free_b is None:
            return None
        longer = free_b - free_a
    return perch_rise(axle.motion_ratio, body_b - body_a, longer + length_b - length_a)


def _body_and_spring(
    place: int, setup: Setup, fuel: float, car: Car, chassis: Chassis
) -> tuple[float, float]:
    """Body over wheel centre, and the spring's length less its free length [m]."""
    end = _end(place)
    axle = chassis.at(end)
    built = car_with_setup(car, chassis, setup, Weather())
    load = 0.5 * axle_load(built, fuel, end)
    unsprung = built.masses.unsprung_front if end is End.FRONT else built.masses.unsprung_rear
    tyre = built.tyre_front if end is End.FRONT else built.tyre_rear
    sprung = load - 0.5 * unsprung * STANDARD_GRAVITY
    return (
        body_over_wheel(setup.corners[place].ride_height, tyre.radius, load, axle.tyre_rate),
        loaded_length(0.0, sprung, axle.motion_ratio, axle.spring(setup.at(end).spring).rate),
    )


def axle_load(car: Car, fuel_volume: float, end: End) -> float:
    """The load on an axle standing on level ground, driver and so much fuel aboard [N]."""
    masses = car.masses
    fuel = fuel_volume * car.fuel.density
    behind = masses.tank_behind_front_axle / car.dimensions.wheelbase
    front = masses.front_share * masses.without_fuel + (1.0 - behind) * fuel
    whole = masses.without_fuel + fuel
    return STANDARD_GRAVITY * (front if end is End.FRONT else whole - front)


def _camber_step(place: int, a: Setup, b: Setup, chassis: Chassis) -> Step:
    return Step(
        place=CORNERS[place],
        before=a.corners[place].camber,
        after=b.corners[place].camber,
        move=top_moved(place, a, b, chassis),
    )


def top_moved(place: int, a: Setup, b: Setup, chassis: Chassis) -> float | None:
    """How far the strut top goes inwards from one set-up to the other [m].

    Half of it is taken to either side of where the points were measured, so that the way back is the way
    there. None for what is no strut, or beyond what a top can move.
    """
    axle = chassis.at(_end(place))
    path = axle.wheel_path
    if not isinstance(path, Strut):
        return None
    wanted = b.corners[place].camber - a.corners[place].camber
    low, high = _travel(place, a, chassis), _travel(place, b, chassis)

    def short(moved: float) -> float:
        to = _pose(path, high, top_inward=0.5 * moved).camber
        return to - _pose(path, low, top_inward=-0.5 * moved).camber - wanted

    try:
        return _root(short)
    except BadInput:  # the links cannot meet so far off
        return None


def _root(short: Callable[[float], float]) -> float | None:
    """Where a nearly straight line crosses nought, by secants; None where it does not within reach."""
    one, two = -0.005, 0.005
    at_one, at_two = short(one), short(two)
    for _ in range(_TRIES):
        if abs(at_two) < 1e-9:
            return two
        if at_two == at_one or abs(two) > _MOST_TOP:
            return None
        one, two, at_one = two, two - at_two * (two - one) / (at_two - at_one), at_two
        at_two = short(two)
    return None


def camber_moved(place: int, a: Setup, b: Setup, chassis: Chassis) -> float:
    """What the ride height does to the camber of a wheel with its strut top left alone [rad]."""
    path = chassis.at(_end(place)).wheel_path
    low, high = _travel(place, a, chassis), _travel(place, b, chassis)
    return 0.0 if low == high else _pose(path, high).camber - _pose(path, low).camber


def toe_moved(place: int, a: Setup, b: Setup, chassis: Chassis) -> float | None:
    """What ride height and strut top do to the toe of a wheel with its track rod left alone [rad]."""
    axle = chassis.at(_end(place))
    one, other = a.corners[place], b.corners[place]
    if one.camber == other.camber and _travel(place, a, chassis) == _travel(place, b, chassis):
        return 0.0
    low, high = _travel(place, a, chassis), _travel(place, b, chassis)
    moved = 0.0
    if isinstance(axle.wheel_path, Strut):
        found = top_moved(place, a, b, chassis)
        if found is None:
            return None
        moved = found
    elif one.camber != other.camber:
        return None
    to = _pose(axle.wheel_path, high, top_inward=0.5 * moved).toe
    return to - _pose(axle.wheel_path, low, top_inward=-0.5 * moved).toe


def _travel(place: int, setup: Setup, chassis: Chassis) -> float:
    """Wheel travel from where the points were measured, on the first set of tyres, bump positive [m]."""
    end = _end(place)
    radius = radius_of(setup, end, chassis) - radius_of(
        replace(setup, tyres=chassis.tyre_sets[0].name), end, chassis
    )
    return chassis.at(end).ride_height - setup.corners[place].ride_height + radius


def radius_of(setup: Setup, end: End, chassis: Chassis) -> float:
    """The radius of an end's tyres [m]."""
    tyres = chassis.tyres(setup.tyres)
    return tyres.front.radius if end is End.FRONT else tyres.rear.radius


def _toe_step(place: int, a: Setup, b: Setup, chassis: Chassis) -> Step:
    axle = chassis.at(_end(place))
    before, after = a.corners[place].toe, b.corners[place].toe
    moved = toe_moved(place, a, b, chassis)
    wanted = None if moved is None else after - before - moved
    turns = None
    if wanted is not None and isinstance(axle.wheel_path, Strut):
        turns = rod_growth(rod_arm(axle.wheel_path), wanted) / TRACK_ROD_PITCH
    return Step(
        place=CORNERS[place],
        before=before,
        after=after,
        move=None if wanted is None else toe_over_rim(wanted, axle.rim_diameter),
        turns=turns,
    )


def rod_arm(strut: Strut) -> float:
    """How far the track rod's outer end lies behind the steering axis, seen from the side [m].

    Behind it a longer rod turns the wheel's front inwards; in front of it (negative) outwards.
    """
    x_top, _, z_top = strut.top
    x_low, _, z_low = strut.ball_joint
    x_out, _, z_out = strut.track_rod_outer
    share = (z_out - z_low) / (z_top - z_low)
    return x_low + share * (x_top - x_low) - x_out
