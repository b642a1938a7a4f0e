"""Where each adjuster can be set, from one end of its room to the other, and the set-up put there."""

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

from tintop.car.car_with_setup import mean
from tintop.car.chassis import Adjuster, AxleChassis, Chassis, End, Item, Offer
from tintop.car.damping import damper_of
from tintop.car.setup import Setup

Place = float | str
Bounds = tuple[float | None, float | None]  # lowest and highest that is allowed, None = free

_CORNER_FIELDS = {
    Item.CAMBER: "camber",
    Item.RIDE_HEIGHT: "ride_height",
    Item.PRESSURE: "pressure_cold",
    Item.BUMP: "bump",
    Item.REBOUND: "rebound",
}
_COUNTED = (Item.BUMP, Item.REBOUND)
_FELT = (Item.SPRINGS, Item.DAMPERS, Item.BUMP, Item.REBOUND)
_SAME = 1e-9
UNTRIED = "Write what can be turned, and what is missing of it, in chassis.toml; then search again."
LEFT_OUT: Mapping[Item, str] = {
    Item.TOE: "what toe is for, turning in and running straight, is not in the lap",
    Item.PADS: "pads are chosen by their heat and wear over a race, not by one lap",
    Item.TYRES: "tyres are chosen by weather, wear and money; name them to have them tried",
    Item.FUEL: "fuel is set by the race",
    Item.BALLAST: "ballast is set by the class's least mass",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjusterRange:
    """One adjuster with its places in order; `now` is the place of the set-up it was asked for."""

    item: Item
    end: End | None
    places: tuple[Place, ...]
    now: int

    @property
    def name(self) -> str:
        """Such as "front springs"."""
        return adjuster_name(self.item, self.end)


def adjuster_name(item: Item, end: End | None) -> str:
    """Such as "front springs", "brake bias"."""
    return f"{end.value} {item.value}" if end else item.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranges:
    """Adjusters with more than one place, and those left out with the reason, by name.

    `moved` names those whose present place is not allowed, with the value that stands there.
    """

    found: tuple[AdjusterRange, ...]
    left_out: Mapping[str, str]
    moved: Mapping[str, Place]

    @property
    def nothing_tried(self) -> str:
        """Why nothing could be tried; empty where something was."""
        if self.found:
            return ""
        if not self.left_out:
            return "unknown, for no adjusters are written in chassis.toml"
        return "unknown, for nothing could be tried: " + "; ".join(
            f"{name}, {why}" for name, why in self.left_out.items()
        )


def ranges_of(
    chassis: Chassis,
    setup: Setup,
    *,
    wanted: Collection[str] = (),
    bounds: Mapping[tuple[Item, End | None], Bounds] | None = None,
) -> Ranges:
    """Every place of every adjuster of the car that a lap can judge, the present one among them.

    `wanted` are names of adjusters or items ("front camber", "camber"); empty = all. `bounds` close places
    off: a present value beyond them moves to the nearest place left, and is told in `moved`. Parts that are
    not on the shelf are no places. A left and a right wheel move together.
    """
    bounds = bounds or {}
    found: list[AdjusterRange] = []
    left_out: dict[str, str] = {}
    moved: dict[str, Place] = {}
    for adjuster in chassis.adjusters:
        name = adjuster_name(adjuster.item, adjuster.end)
        is_named = bool({name, adjuster.item.value} & set(wanted))
        if wanted and not is_named:
            continue
        if adjuster.item in LEFT_OUT and not (adjuster.item is Item.TYRES and is_named):
            left_out[name] = LEFT_OUT[adjuster.item]
            continue
        if adjuster.item in _FELT and any(damper_of(chassis, setup, end) is None for end in End):
            left_out[name] = "the dampers are not described, so what it costs in grip is unknown"
            continue
        if adjuster.item is Item.BUMP and _is_linked(chassis, setup, adjuster.end):
            left_out[name] = "one knob turns bump and rebound: see the rebound clicks"
            continue
        now = value_of(setup, adjuster.item, adjuster.end, is_choice=bool(adjuster.choices))
        places = _places(chassis, setup, adjuster, now)
        allowed = _allowed(places, setup, adjuster, bounds.get((adjuster.item, adjuster.end), (None, None)))
        if not allowed:
            left_out[name] = "no place of its room is allowed"
            continue
        apart = [_apart(place, now) for place in allowed]
        nearest = apart.index(min(apart))
        if apart[nearest] > _SAME:
            moved[name] = now
        if len(allowed) == 1 and name not in moved:
            left_out[name] = "there is one place for it"
            continue
        found.append(AdjusterRange(item=adjuster.item, end=adjuster.end, places=tuple(allowed), now=nearest))
    return Ranges(found=tuple(found), left_out=left_out, moved=moved)


def value_of(setup: Setup, item: Item, end: End | None, *, is_choice: bool = False) -> Place:
    """What a set-up has for an adjuster: a number in SI (mean of left and right), or a part's name."""
    if item in _CORNER_FIELDS:
        return mean(setup, _end(end), _CORNER_FIELDS[item])
    match item:
        case Item.SPRINGS:
            return setup.at(_end(end)).spring
        case Item.DAMPERS:
            return setup.at(_end(end)).damper
        case Item.BAR:
            axle = setup.at(_end(end))
            return axle.bar if is_choice else float(axle.bar_hole)
        case Item.BRAKE_BIAS:
            return setup.brake_bias_turns
        case Item.FINAL_DRIVE:
            return setup.final_drive
        case Item.TYRES:
            return setup.tyres
        case _:
            raise ValueError(item)


def with_value(chassis: Chassis, setup: Setup, item: Item, end: End | None, value: Place) -> Setup:
    """The set-up with one adjuster at a place; left and right keep their difference.

    Where one knob turns bump and rebound, both follow. Another bar is put in its softest hole, and clicks
    beyond those of another damper come back to its last.
    """
    if item in _CORNER_FIELDS:
        return _with_corners(chassis, setup, item, _end(end), float(value))
    match item:
        case Item.SPRINGS:
            return _with_axle(setup, _end(end), spring=str(value))
        case Item.DAMPERS:
            return _within_clicks(chassis, _with_axle(setup, _end(end), damper=str(value)), _end(end))
        case Item.BAR if isinstance(value, str):
            is_new = setup.at(_end(end)).bar != value
            return _with_axle(setup, _end(end), bar=value, **({"bar_hole": 1} if is_new else {}))
        case Item.BAR:
            return _with_axle(setup, _end(end), bar_hole=round(float(value)))
        case Item.BRAKE_BIAS:
            return replace(setup, brake_bias_turns=float(value))
        case Item.FINAL_DRIVE:
            return replace(setup, final_drive=float(value))
        case Item.TYRES:
            return replace(setup, tyres=str(value))
        case _:
            raise ValueError(item)


def _end(end: End | None) -> End:
    if end is None:
        raise ValueError("an adjuster of one end without its end")
    return end


def _with_axle(setup: Setup, end: End, **changes: str | int) -> Setup:
    axle = replace(setup.at(end), **changes)  # type: ignore[arg-type]
    return replace(setup, front=axle) if end is End.FRONT else replace(setup, rear=axle)


def _with_corners(chassis: Chassis, setup: Setup, item: Item, end: End, value: float) -> Setup:
    name = _CORNER_FIELDS[item]
    if item in _COUNTED:
        fields = ["rebound", "bump"] if _is_linked(chassis, setup, end) else [name]
        return setup.with_pair(end, **dict.fromkeys(fields, round(value)))
    added = value - mean(setup, end, name)
    left, right = (replace(one, **{name: getattr(one, name) + added}) for one in setup.pair(end))
    if end is End.FRONT:
        return replace(setup, corners=(left, right, *setup.corners[2:]))
    return replace(setup, corners=(*setup.corners[:2], left, right))


def _within_clicks(chassis: Chassis, setup: Setup, end: End) -> Setup:
    damper = chassis.at(end).damper(setup.at(end).damper)
    left, right = setup.pair(end)
    return setup.with_pair(
        end,
        bump=min(left.bump, right.bump, damper.bump.most_clicks),
        rebound=min(left.rebound, right.rebound, damper.rebound.most_clicks),
    )


def _is_linked(chassis: Chassis, setup: Setup, end: End | None) -> bool:
    return chassis.at(_end(end)).damper(setup.at(_end(end)).damper).is_linked


def _places(chassis: Chassis, setup: Setup, adjuster: Adjuster, now: Place) -> list[Place]:
    """From one end of the room to the other; parts in the order of their rate."""
    if adjuster.choices:
        if adjuster.item is Item.FINAL_DRIVE:
            return _with_now(sorted(float(choice) for choice in adjuster.choices), float(now))
        names = [name for name in adjuster.choices if name == now or _is_owned(chassis, adjuster, name)]
        names += [str(now)] if now not in names else []
        return [*sorted(names, key=_order(chassis, adjuster))]
    high = adjuster.high
    if adjuster.item is Item.BAR:
        axle = setup.at(_end(adjuster.end))
        high = min(high, len(chassis.at(_end(adjuster.end)).bar(axle.bar).roll_stiffness))
    if adjuster.item in _COUNTED:
        damper = chassis.at(_end(adjuster.end)).damper(setup.at(_end(adjuster.end)).damper)
        side = damper.bump if adjuster.item is Item.BUMP else damper.rebound
        high = min(high, side.most_clicks)
    count = math.floor((high - adjuster.low) / adjuster.step + _SAME)
    steps = [adjuster.low + at * adjuster.step for at in range(count + 1)]
    if high - steps[-1] > _SAME:
        steps.append(high)
    return _with_now(steps, float(now))


def _with_now(steps: list[float], now: float) -> list[Place]:
    """The steps, one of them replaced by the present value where that lies on it, or that put between."""
    rest = [step for step in steps if abs(step - now) > _SAME]
    return [*sorted([*rest, now])]


def _order(chassis: Chassis, adjuster: Adjuster) -> Callable[[str], float]:
    if adjuster.end is None or adjuster.item not in (Item.SPRINGS, Item.BAR):
        return lambda _name: 0.0
    axle = chassis.at(adjuster.end)
    if adjuster.item is Item.SPRINGS:
        return lambda name: axle.spring(name).rate
    return lambda name: axle.bar(name).roll_stiffness[0]


def _is_owned(chassis: Chassis, adjuster: Adjuster, name: str) -> bool:
    return adjuster.end is None or _offer(chassis.at(adjuster.end), adjuster.item, name).is_owned


def _offer(axle: AxleChassis, item: Item, name: str) -> Offer:
    match item:
        case Item.SPRINGS:
            return axle.spring(name).offer
        case Item.DAMPERS:
            return axle.damper(name).offer
        case Item.BAR:
            return axle.bar(name).offer
        case _:
            return Offer()


def _allowed(places: list[Place], setup: Setup, adjuster: Adjuster, bounds: Bounds) -> list[Place]:
    """The places whose left and right wheel both keep within the room and the bounds, and the present one."""
    low, high = (math.inf if bound is None else bound for bound in bounds)
    low = -low if bounds[0] is None else low
    half = 0.0
    if adjuster.item in _CORNER_FIELDS and adjuster.item not in _COUNTED:
        left, right = (
            float(getattr(one, _CORNER_FIELDS[adjuster.item])) for one in setup.pair(_end(adjuster.end))
        )
        half = 0.5 * abs(left - right)
    now = value_of(setup, adjuster.item, adjuster.end, is_choice=bool(adjuster.choices))
    found: list[Place] = []
    for place in places:
        if isinstance(place, str):
            found.append(place)
            continue
        is_in_room = bool(adjuster.choices) or (
            adjuster.low - _SAME <= place - half and place + half <= adjuster.high + _SAME
        )
        is_allowed = low - _SAME <= place - half and place + half <= high + _SAME
        if is_allowed and (is_in_room or place == now):
            found.append(place)
    return found


def _apart(place: Place, now: Place) -> float:
    if isinstance(place, str) or isinstance(now, str):
        return 0.0 if place == now else 1.0
    return abs(place - now)
