"""The car on its four perches: what a turn does, and the turns that reach a cross-weight; SI, kg on pads.

A positive turn raises the perch, and with it its corner.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tintop.car.car import Car
from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import Setup
from tintop.checks import require, within
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.corner_loads import FourCorners, Moved, lifts_for, responses, rounded_turns
from tintop.physics.ride import wheel_rate

STEP = 0.25  # of a turn: finer is not turned by hand
_ENDS = (End.FRONT, End.FRONT, End.REAR, End.REAR)
Four = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerModel:
    """Springs, bars, tyres and perches; `lift_per_turn` at the wheel [m], 0 where a perch does not turn.

    `bars` names the bars that are hooked on as the car stands.
    """

    four: FourCorners
    lift_per_turn: Four
    bars: tuple[str, ...]

    @property
    def turning(self) -> tuple[str, ...]:
        """Corners whose perch turns."""
        return tuple(name for name, lift in zip(CORNERS, self.lift_per_turn, strict=True) if lift > 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PerchTurns:
    """Turns of each perch, exact and in quarters, and what the quarters come to.

    `loads` [kg] and `heights` (change of the body's height over each wheel [m]) are those after the quarters;
    `per_turn` is the change of cross-weight by one whole turn of that perch alone.
    """

    before: float  # cross-weight, share of FR and RL
    target: float
    exact: Four
    turns: Four
    loads: Four
    heights: Four
    per_turn: Four
    corners: tuple[str, ...]
    bars: tuple[str, ...]

    @property
    def after(self) -> float:
        """Cross-weight after the quarter turns."""
        return (self.loads[1] + self.loads[2]) / sum(self.loads)

    @property
    def is_still(self) -> bool:
        """Whether nothing is to be turned."""
        return not any(self.turns)


def corner_model(car: Car, chassis: Chassis, setup: Setup, *, has_bars: bool = False) -> CornerModel:
    """Build it of the car with a set-up's springs; with `has_bars` its bars too, as when not unhooked."""
    front, rear = chassis.front, chassis.rear
    rates = {
        end: wheel_rate(chassis.at(end).spring(setup.at(end).spring).rate, chassis.at(end).motion_ratio)
        for end in End
    }
    bars = {end: chassis.at(end).bar(setup.at(end).bar).stiffness(setup.at(end).bar_hole) for end in End}
    return CornerModel(
        four=FourCorners(
            wheelbase=car.dimensions.wheelbase,
            track_front=car.dimensions.track_front,
            track_rear=car.dimensions.track_rear,
            wheel_rate_front=rates[End.FRONT],
            wheel_rate_rear=rates[End.REAR],
            tyre_rate_front=front.tyre_rate,
            tyre_rate_rear=rear.tyre_rate,
            bar_front=bars[End.FRONT] if has_bars else 0.0,
            bar_rear=bars[End.REAR] if has_bars else 0.0,
            base_front=(front.spring_base or car.dimensions.track_front) / car.dimensions.track_front,
            base_rear=(rear.spring_base or car.dimensions.track_rear) / car.dimensions.track_rear,
        ),
        lift_per_turn=_four(
            (chassis.at(end).perch_pitch or 0.0) / chassis.at(end).motion_ratio for end in _ENDS
        ),
        bars=tuple(setup.at(end).bar for end in End if bars[end] > 0.0),
    )


def perch_turns(
    model: CornerModel, loads: Mapping[str, float], target: float, corners: Sequence[str] = ()
) -> PerchTurns:
    """Give the turns that bring four loads [kg] to a target cross-weight with the ride heights held.

    All perches that turn are used, or only the `corners` named; with fewer than four the body tilts as
    little as it can. BadInput for a perch that does not turn, none that does, or a target no car has.
    """
    within(target, 0.35, 0.65, "target cross-weight", "of the total")
    chosen = tuple(corners) or model.turning
    require(bool(chosen), "perches", "none that turns", "a perch pitch in chassis.toml at one end or more")
    for name in chosen:
        require(
            name in model.turning,
            f"perch {name}",
            "one that does not turn",
            "one of " + ", ".join(model.turning),
            "Shims under the spring do the same: 1 mm of shim counts as 1 mm of perch.",
        )
    before = np.array([loads[name] for name in CORNERS])
    total = float(before.sum())
    wanted = (target * total - before[1] - before[2]) * STANDARD_GRAVITY
    found = responses(model.four)
    per_turn = np.array(model.lift_per_turn)
    lifts = lifts_for(found, wanted, tuple(CORNERS.index(name) for name in chosen))
    exact = np.divide(lifts, per_turn, out=np.zeros(4), where=per_turn > 0.0)
    turns = rounded_turns(found, exact, per_turn, wanted, STEP)
    moved = turns * per_turn
    cross_by_turn = (found.loads[1] + found.loads[2]) * per_turn / (total * STANDARD_GRAVITY)
    return PerchTurns(
        before=float(before[1] + before[2]) / total,
        target=target,
        exact=_four(exact),
        turns=_four(turns),
        loads=_four(before + found.loads @ moved / STANDARD_GRAVITY),
        heights=_four(found.heights @ moved),
        per_turn=_four(cross_by_turn),
        corners=chosen,
        bars=model.bars,
    )


def height_per_turn(model: CornerModel, corner: str) -> Four:
    """Change of the body's height over each wheel [m] by one turn of one perch alone."""
    found: Moved = responses(model.four)
    place = CORNERS.index(corner)
    return _four(found.heights[:, place] * model.lift_per_turn[place])


def _four(values: Iterable[float]) -> Four:
    first, second, third, fourth = (float(each) for each in values)
    return first, second, third, fourth
