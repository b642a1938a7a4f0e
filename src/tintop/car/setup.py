"""One set-up of the car, whole: what a sheet states; SI, radians, pressures as gauge pressure."""

from dataclasses import dataclass, replace
from enum import StrEnum

from tintop.car.chassis import CORNERS, End
from tintop.checks import require, within


class Purpose(StrEnum):
    """What a set-up is for."""

    ROAD = "road drive"
    DRY = "dry circuit"
    WET = "wet circuit"


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSetup:
    """One wheel: camber, its own toe, height at the reference point, clicks from full soft, pressure."""

    camber: float
    toe: float
    ride_height: float
    bump: int
    rebound: int
    pressure_cold: float

    def __post_init__(self) -> None:
        within(self.camber, -0.15, 0.06, "camber", "rad")
        within(self.toe, -0.05, 0.05, "toe", "rad")
        within(self.ride_height, 0.02, 0.6, "ride height", "m")
        require(self.bump >= 0, "bump clicks", self.bump, "0 or more, from full soft")
        require(self.rebound >= 0, "rebound clicks", self.rebound, "0 or more, from full soft")
        within(self.pressure_cold, 2e4, 6e5, "cold pressure", "Pa")


NO_BAR = "none"  # the bar of an axle that has none


def bar_in_hole(name: str, hole: int) -> str:
    """A bar and its hole in words; 0 is unhooked."""
    if name == NO_BAR:
        return name
    return f"{name}, hole {hole}" if hole else f"{name}, unhooked"


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleSetup:
    """One end: springs, bar and dampers by name, and the bar's hole (0 = unhooked)."""

    spring: str
    bar: str
    bar_hole: int
    damper: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """A named set-up; corners in the order FL FR RL RR. `circuit` is empty where it is for any."""

    name: str
    purpose: Purpose
    corners: tuple[CornerSetup, CornerSetup, CornerSetup, CornerSetup]
    front: AxleSetup
    rear: AxleSetup
    tyres: str
    pads: str
    final_drive: float
    brake_bias_turns: float = 0.0
    fuel_volume: float = 0.0  # at the start [m³]
    ballast: float = 0.0  # [kg], all of it
    ballast_place: str = ""
    circuit: str = ""
    note: str = ""

    def corner(self, name: str) -> CornerSetup:
        """One corner by its letters."""
        require(name in CORNERS, "corner", repr(name), "one of " + ", ".join(CORNERS))
        return self.corners[CORNERS.index(name)]

    def at(self, end: End) -> AxleSetup:
        """One end of the car."""
        return self.front if end is End.FRONT else self.rear

    def pair(self, end: End) -> tuple[CornerSetup, CornerSetup]:
        """Left and right wheel of one end."""
        return self.corners[:2] if end is End.FRONT else self.corners[2:]

    def with_pair(self, end: End, **changes: float | int) -> "Setup":
        """The set-up with both wheels of one end changed alike."""
        changed = tuple(
            replace(corner, **changes) if (place < 2) == (end is End.FRONT) else corner  # type: ignore[arg-type]
            for place, corner in enumerate(self.corners)
        )
        return replace(self, corners=changed)  # type: ignore[arg-type]
