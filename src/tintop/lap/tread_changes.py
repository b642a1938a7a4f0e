"""A wish of the treads put on the car: the nearest place of its adjuster, and its effect on the lap."""

from collections.abc import Sequence
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.chassis import CORNERS, AxleChassis, Chassis, End, Item
from tintop.car.setup import Setup
from tintop.car.setup_ranges import AdjusterRange, adjuster_name, ranges_of, value_of, with_value
from tintop.car.strut_top import TopMove, top_for_camber, top_moved
from tintop.car.tread_rules import Wish
from tintop.car.wheel_paths import Strut
from tintop.errors import BadInput
from tintop.lap.camber_on_lap import path_as_set
from tintop.lap.setup_effect import Place, Quick, Ride, quick_effect, remembering

_SAME = 1e-9
_LEAST_PRESSURE = 0.8e5  # [Pa]: softer a tyre may leave its rim; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class TreadChange:
    """A change the car can make: from and to in SI, the set-up with it, and its effect by the lap model.

    `gain` is seconds a lap, `balance` the change of the limit balance, above nought towards understeer; the
    tread's own likes of pressure and shoulder are beyond the model, so neither proves nor disproves the wish.
    `top` is what the strut tops do for a change of camber.
    """

    wish: Wish
    setup: Setup
    before: tuple[float, ...]  # by corner of the end changed, one for the whole car
    after: tuple[float, ...]
    gain: float
    balance: float
    top: TopMove | None = None

    @property
    def name(self) -> str:
        """Such as "front cold pressure"."""
        return adjuster_name(self.wish.item, self.wish.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class CannotChange:
    """A wish that the car has nothing for, and why."""

    wish: Wish
    why: str


def changes_for(
    car: Car, chassis: Chassis, setup: Setup, place: Place, asked: Sequence[Wish], most: int = 2
) -> tuple[tuple[TreadChange, ...], tuple[CannotChange, ...]]:
    """Give the first `most` wishes that the car can follow, in their order, and those before them it cannot.

    BadInput as car_with_setup. Source: the lap model's four wheels; see docs/theory/treads.md.
    """
    ranges = {(one.item, one.end): one for one in ranges_of(chassis, setup).found}
    ride = remembering()
    now: Quick | None = None
    found: list[TreadChange] = []
    cannot: list[CannotChange] = []
    for wish in asked:
        if len(found) == most:
            break
        target = _place_for(ranges.get((wish.item, wish.end)), chassis, setup, wish)
        if isinstance(target, str):
            cannot.append(CannotChange(wish=wish, why=target))
        else:
            now = now or quick_effect(car, chassis, setup, place, ride)
            found.append(_change(car, chassis, setup, place, wish, target, now, ride))
    return tuple(found), tuple(cannot)


def _place_for(room: AdjusterRange | None, chassis: Chassis, setup: Setup, wish: Wish) -> float | str:
    """The adjuster's place nearest to the wish, or why there is none."""
    name = adjuster_name(wish.item, wish.end)
    if room is None:
        if any(one.item is wish.item and one.end is wish.end for one in chassis.adjusters):
            return f"there is one place for the {name}"
        if wish.item is Item.PRESSURE:  # needs a pump and a gauge, not an adjuster
            return max(float(value_of(setup, wish.item, wish.end)) + wish.step * wish.size, _LEAST_PRESSURE)
        return (
            f"no adjuster for the {name} is written in chassis.toml; write it under [[adjusters]] if it turns"
        )
    now = value_of(setup, wish.item, wish.end)
    numbers = [float(one) for one in room.places if not isinstance(one, str)]
    if isinstance(now, str) or not numbers:
        return f"the {name} is chosen by name"
    beyond = [one for one in numbers if (one - now) * wish.step > _SAME]
    if not beyond:
        return f"the {name} is at the end of its room"
    target = now + wish.step * wish.size
    return min(beyond, key=lambda one: abs(one - target))


def _change(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    place: Place,
    wish: Wish,
    target: float,
    before: Quick,
    ride: Ride,
) -> TreadChange:
    changed = with_value(chassis, setup, wish.item, wish.end, target)
    after = quick_effect(car, chassis, changed, place, ride)
    return TreadChange(
        wish=wish,
        setup=changed,
        before=_values(setup, wish),
        after=_values(changed, wish),
        gain=before.lap_time - after.lap_time,
        balance=after.balance - before.balance,
        top=_top(car, chassis, setup, changed, wish),
    )


def _values(setup: Setup, wish: Wish) -> tuple[float, ...]:
    corner_fields = {
        Item.PRESSURE: "pressure_cold",
        Item.CAMBER: "camber",
        Item.BUMP: "bump",
        Item.REBOUND: "rebound",
    }
    if wish.item in corner_fields and wish.end is not None:
        return tuple(float(getattr(one, corner_fields[wish.item])) for one in setup.pair(wish.end))
    return (float(value_of(setup, wish.item, wish.end)),)


def _top(car: Car, chassis: Chassis, setup: Setup, changed: Setup, wish: Wish) -> TopMove | None:
    if wish.item is not Item.CAMBER or wish.end is None:
        return None
    path = path_as_set(car, chassis, setup, wish.end)
    if not isinstance(path, Strut):
        return None
    axle: AxleChassis = chassis.at(wish.end)
    change = changed.pair(wish.end)[0].camber - setup.pair(wish.end)[0].camber
    try:
        return top_moved(path, top_for_camber(path, change), axle.rim_diameter)
    except BadInput:
        return None


def corners_of(end: End | None) -> tuple[str, ...]:
    """The corners of an end, all for the whole car."""
    return {End.FRONT: CORNERS[:2], End.REAR: CORNERS[2:], None: CORNERS}[end]
