"""What carries the car: springs, bars, dampers, their geometry, and what its owner can change; SI, radians.

Rates named `wheel` stand at the wheel, others at the part; a motion ratio is travel of the part per travel of
the wheel. Points lie as in the logbook: from the middle of the front axle at the ground, x forward, y left,
z up, the car at the ride heights it was measured at.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise
from typing import TypeVar

from tintop.car.brakes import Pad
from tintop.car.tyres import Tyre
from tintop.car.wheel_paths import WheelPath
from tintop.checks import require, within
from tintop.errors import did_you_mean, refuse

CORNERS = ("FL", "FR", "RL", "RR")
MOST_PLACES = 200  # of one adjuster
MOST_CLICKS = 100  # of one knob
MOST_TURNS = 100.0  # of the brake bias
_MOST_FALL = 0.8  # of a force at the next speed; less is a slip; common practice, no source
_FEW = f"at most {MOST_PLACES} places from one end to the other"


class End(StrEnum):
    """Which end of the car."""

    FRONT = "front"
    REAR = "rear"


class Item(StrEnum):
    """What a set-up states, in the order in which it is worked through."""

    TYRES = "tyres"
    PADS = "pads"
    SPRINGS = "springs"
    DAMPERS = "dampers"
    RIDE_HEIGHT = "ride height"
    BAR = "anti-roll bar"
    CAMBER = "camber"
    TOE = "toe"
    BUMP = "bump clicks"
    REBOUND = "rebound clicks"
    BRAKE_BIAS = "brake bias"
    FINAL_DRIVE = "final drive"
    BALLAST = "ballast"
    FUEL = "fuel"
    PRESSURE = "cold pressure"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What a part costs, and whether it is on the shelf already."""

    price_cents: int | None = None
    is_owned: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """A pair of coil springs: rate of one [N/m], free length [m] where known."""

    name: str
    rate: float
    free_length: float | None = None
    offer: Offer = field(default_factory=Offer)

    def __post_init__(self) -> None:
        within(self.rate, 5e3, 4e5, f"spring {self.name}, rate", "N/m")
        if self.free_length is not None:
            within(self.free_length, 0.05, 0.6, f"spring {self.name}, free length", "m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """An anti-roll bar: the axle's roll stiffness by it [N·m/rad] in each hole, softest first.

    Hole 0 of a set-up is the bar unhooked.
    """

    name: str
    roll_stiffness: tuple[float, ...]
    offer: Offer = field(default_factory=Offer)

    def __post_init__(self) -> None:
        require(bool(self.roll_stiffness), f"bar {self.name}", "no stiffness", "one or more")
        for one in self.roll_stiffness:
            within(one, 0.0, 5e5, f"bar {self.name}, roll stiffness", "N·m/rad")
        require(
            list(self.roll_stiffness) == sorted(self.roll_stiffness),
            f"bar {self.name}, roll stiffness",
            "a softer hole after a stiffer one",
            "holes from the softest to the stiffest",
        )

    def stiffness(self, hole: int) -> float:
        """Roll stiffness in a hole counted from 1, softest first; 0 unhooked. BadInput beyond the last."""
        require(
            0 <= hole <= len(self.roll_stiffness),
            f"bar {self.name}, hole",
            hole,
            f"0 (unhooked) to {len(self.roll_stiffness)}",
        )
        return self.roll_stiffness[hole - 1] if hole else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DamperSide:
    """One direction of a damper: forces [N, zero or more] by measured click (from full soft) and shaft speed.

    `forces` has a row per click of `clicks` and a column per speed of `speeds` [m/s, rising from 0 or more].
    Without a curve `ratios` gives the damping ratio of the sprung corner in heave at each of `clicks`: a
    catalogue's or a guess, and told so. With neither the damper is known by name only.
    """

    most_clicks: int
    clicks: tuple[int, ...]
    speeds: tuple[float, ...] = ()
    forces: tuple[tuple[float, ...], ...] = ()
    ratios: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        within(self.most_clicks, 0, MOST_CLICKS, "damper clicks", "")
        rising = all(b > a for a, b in zip(self.clicks, self.clicks[1:], strict=False))
        require(
            bool(self.clicks) and rising and self.clicks[0] >= 0 and self.clicks[-1] <= self.most_clicks,
            "damper clicks measured",
            ", ".join(map(str, self.clicks)) or "none",
            f"rising clicks from full soft, 0 to {self.most_clicks}",
        )
        expected = "either force curves, or damping ratios where no curve is known"
        require(not (self.forces and self.ratios), "damper", "both curves and ratios", expected)
        if not self.is_known:
            return
        if self.ratios:
            require(
                len(self.ratios) == len(self.clicks) and all(0.0 < one < 3.0 for one in self.ratios),
                "damper ratios",
                ", ".join(f"{one:g}" for one in self.ratios),
                "one damping ratio between 0 and 3 for each click",
            )
            return
        rising = all(b > a for a, b in zip(self.speeds, self.speeds[1:], strict=False))
        require(
            len(self.speeds) >= 2 and rising and self.speeds[0] >= 0.0 and self.speeds[-1] <= 10.0,
            "damper speeds",
            ", ".join(f"{one:g}" for one in self.speeds) or "none",
            "two or more rising shaft speeds, at most 10 m/s",
        )
        require(
            len(self.forces) == len(self.clicks),
            "damper forces",
            f"{len(self.forces)} rows",
            f"{len(self.clicks)} rows, one for each click measured",
        )
        for click, row in zip(self.clicks, self.forces, strict=True):
            where = f"damper forces at click {click}"
            found = f"{len(row)} forces"
            require(len(row) == len(self.speeds), where, found, f"{len(self.speeds)}, one for each speed")
            for force in row:
                within(force, 0.0, 5e4, where, "N")
            falls = any(after < _MOST_FALL * before for before, after in pairwise(row))
            require(not falls, where, "a force that falls as the speed rises", "forces that rise with it")

    @property
    def is_known(self) -> bool:
        """Whether its force is known."""
        return bool(self.forces or self.ratios)


@dataclass(frozen=True, slots=True, kw_only=True)
class Damper:
    """A pair of dampers; where one knob turns both directions, `is_linked` and the rebound's clicks rule."""

    name: str
    bump: DamperSide
    rebound: DamperSide
    is_linked: bool = False
    offer: Offer = field(default_factory=Offer)


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleChassis:
    """One end of the car: how its wheels hang, and the parts there are for it.

    `bump_travel` and `droop_travel` are wheel travel from static ride height to the bump stop and to full
    droop [m]; `perch_pitch` the perch's rise per turn of its thread [m], None where it does not turn;
    `ride_height` what was measured at the reference point with the wheels as in `wheel_path`.
    """

    motion_ratio: float  # of the spring
    damper_motion_ratio: float
    tyre_rate: float  # vertical, one wheel [N/m]
    tyre_damping: float  # [N·s/m]
    bump_travel: float
    droop_travel: float
    bump_stop_rate: float  # at the wheel, once touched [N/m]
    ride_height: float
    perch_pitch: float | None
    rim_diameter: float  # where toe is measured [m]
    wheel_path: WheelPath
    springs: tuple[Spring, ...]
    bars: tuple[Bar, ...]
    dampers: tuple[Damper, ...]
    tyre_air_rise_dry: float  # of the tyre's air above the day's, hot, in a dry race [K]
    tyre_air_rise_wet: float
    pressure_loss: float  # grip lost × (hot pressure off target ÷ target)²
    spring_preload: float = 0.0  # of the fitted spring at full droop [N]
    spring_base: float | None = None  # of a solid axle, between its springs [m]; None = independent wheels

    def __post_init__(self) -> None:
        within(self.motion_ratio, 0.2, 1.1, "motion ratio", "")
        within(self.damper_motion_ratio, 0.2, 1.1, "damper motion ratio", "")
        within(self.tyre_rate, 5e4, 6e5, "tyre rate", "N/m")
        within(self.tyre_damping, 0.0, 5e3, "tyre damping", "N·s/m")
        within(self.bump_travel, 0.0, 0.25, "bump travel", "m")
        within(self.droop_travel, 0.0, 0.25, "droop travel", "m")
        within(self.bump_stop_rate, 0.0, 1e6, "bump stop rate", "N/m")
        within(self.ride_height, 0.02, 0.6, "ride height", "m")
        if self.perch_pitch is not None:
            within(self.perch_pitch, 2e-4, 1e-2, "perch pitch", "m")
        within(self.rim_diameter, 0.2, 0.8, "rim diameter", "m")
        within(self.tyre_air_rise_dry, 0.0, 120.0, "tyre air rise, dry", "K")
        within(self.tyre_air_rise_wet, 0.0, 120.0, "tyre air rise, wet", "K")
        within(self.pressure_loss, 0.0, 20.0, "pressure loss", "")
        within(self.spring_preload, 0.0, 2e4, "spring preload", "N")
        if self.spring_base is not None:
            within(self.spring_base, 0.4, 1.8, "spring base", "m")

    def spring(self, name: str) -> Spring:
        """The springs of this name; BadInput naming those there are."""
        return _named(self.springs, name, "springs")

    def bar(self, name: str) -> Bar:
        """The bar of this name; BadInput naming those there are."""
        return _named(self.bars, name, "anti-roll bar")

    def damper(self, name: str) -> Damper:
        """The dampers of this name; BadInput naming those there are."""
        return _named(self.dampers, name, "dampers")


class BiasDevice(StrEnum):
    """What shifts the brakes' balance."""

    NONE = "none"
    BAR = "balance bar"  # changes brakes.bar_front_share
    VALVE = "rear valve"  # changes brakes.rear_valve_share


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeBias:
    """The device that shifts the balance: what one turn adds to its share, and its room [turns].

    Turns count from the car's document as it stands; a positive turn gives the front more.
    """

    device: BiasDevice = BiasDevice.NONE
    share_per_turn: float = 0.0
    least_turns: float = 0.0
    most_turns: float = 0.0

    def __post_init__(self) -> None:
        within(self.share_per_turn, 0.0, 0.5, "brake bias, share per turn", "")
        within(self.least_turns, -MOST_TURNS, MOST_TURNS, "brake bias, least turns", "")
        within(self.most_turns, -MOST_TURNS, MOST_TURNS, "brake bias, most turns", "")
        require(
            self.least_turns <= 0.0 <= self.most_turns,
            "brake bias, turns",
            f"{self.least_turns:g} to {self.most_turns:g}",
            "a room about 0, the car as its document has it",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjuster:
    """What the owner can turn: item, end (None = whole car), lowest, highest and step in SI.

    Clicks, holes and turns count as they are; `choices` name parts instead of a range. A left and a right
    value move together.
    """

    item: Item
    end: End | None = None
    low: float = 0.0
    high: float = 0.0
    step: float = 0.0
    choices: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        where = f"adjuster {self.item}"
        if self.choices:
            require(len(set(self.choices)) == len(self.choices), where, "a choice twice", "each once")
            require(len(self.choices) <= MOST_PLACES, where, f"{len(self.choices)} choices", _FEW)
            return
        room, ends = self.high - self.low, f"{self.low:g} to {self.high:g}"
        require(math.isfinite(room) and room > 0.0, where, ends, "a lower and a higher end")
        is_within = 0.0 < self.step <= room * (1.0 + 1e-9)
        require(is_within, f"{where}, step", f"{self.step:g}", "a step within its room")
        places = room / self.step + 1.0
        require(places < MOST_PLACES + 1, f"{where}, step", f"{places:.3g} places", _FEW)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chore:
    """What changing one item takes: minutes, tools, the check after it, and its torque [N·m].

    Minutes are of the work itself, the wheels off where it needs that; those of tyres are of the car up, all
    wheels off and on, and the car down.
    """

    item: Item
    minutes: float
    tools: str
    check: str
    torque: float | None = None
    needs_wheels_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastPlace:
    """Where ballast may be bolted: x, y, z [m], the most it may carry [kg]."""

    name: str
    x: float
    y: float
    z: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreSet:
    """Tyres as they are fitted, front and rear."""

    name: str
    front: Tyre
    rear: Tyre


@dataclass(frozen=True, slots=True, kw_only=True)
class PadSet:
    """Pads as they are fitted, front and rear."""

    name: str
    front: Pad
    rear: Pad


@dataclass(frozen=True, slots=True, kw_only=True)
class Chassis:
    """The whole of it; inertias of the sprung mass about its centre of gravity [kg·m²]."""

    front: AxleChassis
    rear: AxleChassis
    pitch_inertia: float
    roll_inertia: float
    bias: BrakeBias
    tyre_sets: tuple[TyreSet, ...]
    pad_sets: tuple[PadSet, ...]
    final_drives: tuple[float, ...]
    adjusters: tuple[Adjuster, ...]
    chores: Mapping[Item, Chore]
    ballast_places: tuple[BallastPlace, ...] = ()
    least_mass: float | None = None  # of the class, with driver, at the finish [kg]

    def __post_init__(self) -> None:
        within(self.pitch_inertia, 100.0, 2e4, "pitch inertia", "kg·m2")
        within(self.roll_inertia, 30.0, 5e3, "roll inertia", "kg·m2")

    def at(self, end: End) -> AxleChassis:
        """One end of the car."""
        return self.front if end is End.FRONT else self.rear

    def tyres(self, name: str) -> TyreSet:
        """The set of tyres of this name; BadInput naming those there are."""
        return _named(self.tyre_sets, name, "tyres")

    def pads(self, name: str) -> PadSet:
        """The set of pads of this name; BadInput naming those there are."""
        return _named(self.pad_sets, name, "pads")


_Part = TypeVar("_Part", Spring, Bar, Damper, TyreSet, PadSet)


def _named(parts: tuple[_Part, ...], name: str, what: str) -> _Part:
    found = next((part for part in parts if part.name == name), None)
    if found is None:
        names = [part.name for part in parts]
        raise refuse(what, repr(name), "one of: " + "; ".join(names), did_you_mean(name, names))
    return found
