"""Whether what can be turned lies within the parts themselves: holes, clicks, turns, parts that there are."""

import math
from collections.abc import Iterator

from tintop.car.chassis import Adjuster, Chassis, End, Item
from tintop.car.setup_check import MOST_CAMBER
from tintop.errors import BadInput, Problem, did_you_mean, refuse

_ROOMS = {  # lowest, highest, their words; as a set-up may state them
    Item.CAMBER: (-0.15, math.radians(MOST_CAMBER), f"-8.6 to {MOST_CAMBER:g} deg"),
    Item.TOE: (-0.05, 0.05, "-2.9 to 2.9 deg each"),
    Item.RIDE_HEIGHT: (0.02, 0.6, "20 to 600 mm"),
    Item.PRESSURE: (2e4, 6e5, "0.2 to 6 bar"),
    Item.BALLAST: (0.0, 400.0, "0 to 400 kg"),
    Item.FUEL: (0.0, 0.25, "0 to 250 L"),
    Item.FINAL_DRIVE: (0.5, 12.0, "0.5 to 12"),
}
_WHOLE = {Item.BAR: "holes", Item.BUMP: "clicks", Item.REBOUND: "clicks"}
_SAME = 1e-9


def adjuster_problems(adjuster: Adjuster, chassis: Chassis) -> Iterator[Problem]:
    """Every problem of an adjuster on this chassis; `where` is low, high, step or choices."""
    if adjuster.choices:
        yield from _choices(adjuster, chassis)
        return
    low, high, words = _room(adjuster, chassis)
    for name in ("low", "high"):
        value = getattr(adjuster, name)
        if not low - _SAME <= value <= high + _SAME:
            yield Problem(where=name, found=f"{value:g}", expected=words)
    if adjuster.item in _WHOLE:
        for name in ("low", "high", "step"):
            if getattr(adjuster, name) != int(getattr(adjuster, name)):
                found = f"{getattr(adjuster, name):g}"
                yield Problem(where=name, found=found, expected=f"whole {_WHOLE[adjuster.item]}")


def _room(adjuster: Adjuster, chassis: Chassis) -> tuple[float, float, str]:
    if adjuster.item is Item.BRAKE_BIAS:
        bias = chassis.bias
        turns = f"{bias.least_turns:g} to {bias.most_turns:g} turns, the room said under [bias]"
        return bias.least_turns, bias.most_turns, turns
    if adjuster.item in _WHOLE:
        most = max(_counts(adjuster, chassis), default=0)
        words = f"0 to {most} {_WHOLE[adjuster.item]}, all that the parts of this end have"
        return 0.0, float(most), words
    return _ROOMS[adjuster.item]


def _counts(adjuster: Adjuster, chassis: Chassis) -> list[int]:
    axle = chassis.at(adjuster.end or End.FRONT)
    if adjuster.item is Item.BAR:
        return [len(bar.roll_stiffness) for bar in axle.bars]
    is_bump = adjuster.item is Item.BUMP
    return [(one.bump if is_bump else one.rebound).most_clicks for one in axle.dampers]


def _choices(adjuster: Adjuster, chassis: Chassis) -> Iterator[Problem]:
    if adjuster.item is Item.FINAL_DRIVE:
        there = [f"{one:g}" for one in chassis.final_drives]
        for choice in adjuster.choices:
            if choice not in there:
                yield _no_part(choice, there)
        return
    try:
        names = _names(adjuster, chassis)
    except BadInput as error:
        yield error.problems[0]
        return
    for choice in adjuster.choices:
        if choice not in names:
            yield _no_part(choice, names)


def _no_part(choice: str, names: list[str]) -> Problem:
    expected = "one of: " + "; ".join(names) if names else "nothing: the chassis names none"
    return Problem(where="choices", found=repr(choice), expected=expected, cure=did_you_mean(choice, names))


def _names(adjuster: Adjuster, chassis: Chassis) -> list[str]:
    axle = chassis.at(adjuster.end or End.FRONT)
    match adjuster.item:
        case Item.SPRINGS:
            return [one.name for one in axle.springs]
        case Item.BAR:
            return [one.name for one in axle.bars]
        case Item.DAMPERS:
            return [one.name for one in axle.dampers]
        case Item.TYRES:
            return [one.name for one in chassis.tyre_sets]
        case Item.PADS:
            return [one.name for one in chassis.pad_sets]
        case _:
            raise refuse("choices", "names", f"low, high and step, for {adjuster.item.value} is a number")
