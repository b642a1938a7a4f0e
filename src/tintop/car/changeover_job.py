"""One job of a changeover: what it makes, step by step, with minutes, tools and checks."""

from dataclasses import dataclass
from enum import StrEnum

from tintop.car.changeover_steps import Step
from tintop.car.chassis import End, Item
from tintop.car.setup_differences import Difference

AGAIN_AFTER = 50e3  # [m] wheel nuts once more; common practice, no source


class Stage(StrEnum):
    """Where the car is while a job is done."""

    UP = "up on stands, wheels off"
    DOWN = "down on level ground"
    LEAVING = "before it leaves"
    AFTER = "after the first session"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """What has to hold after a job: its words, torque [N·m] where known, and when to look again [m]."""

    words: str
    torque: float | None = None
    again_after: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One job: which differences it makes, step by step, with minutes for one person, tools and checks.

    `item` is None for what frames the others: car up, car down, before the road. `because` says why a job is
    needed though both set-ups agree on its item. `minutes` are of the work itself, the car up and its wheels
    off where it needs that; None where nobody wrote them down.
    `height_by_tyre` [m] is what the tyres alone do to the height, up positive; `is_radius_assumed` that the
    radius of one of them is its class's, which nobody measured.
    """

    title: str
    stage: Stage
    item: Item | None = None
    end: End | None = None
    differences: tuple[Difference, ...] = ()
    steps: tuple[Step, ...] = ()
    because: str = ""
    height_by_tyre: float = 0.0
    is_radius_assumed: bool = False
    toe_moves: float | None = None  # of one wheel, with the camber and height [rad]
    minutes: float | None = 0.0
    tools: str = ""
    checks: tuple[Check, ...] = ()
    warnings: tuple[str, ...] = ()
    is_for_home: bool = False  # hardly to be done at an event
    needs_scales: bool = False  # the cross-weight has to be looked at on corner scales
