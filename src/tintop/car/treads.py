"""What was read at the treads after a run, and what the driver said of the car."""

from dataclasses import dataclass
from enum import StrEnum

from tintop.car.chassis import CORNERS, End
from tintop.checks import require, within


class Phase(StrEnum):
    """Where in a corner."""

    ENTRY = "entry"
    MID = "mid"
    EXIT = "exit"


class Pace(StrEnum):
    """In which corners; ANY where the driver did not say."""

    SLOW = "slow"
    FAST = "fast"
    ANY = ""


class Feel(StrEnum):
    """What the car did."""

    UNDERSTEER = "understeer"
    OVERSTEER = "oversteer"
    FINE = "fine"


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing the driver said."""

    phase: Phase
    feel: Feel
    pace: Pace = Pace.ANY

    def __str__(self) -> str:
        return " ".join(each.value for each in (self.phase, self.pace, self.feel) if each.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tread:
    """Three temperatures across one tread."""

    inner: float
    middle: float
    outer: float

    def __post_init__(self) -> None:
        for name in ("inner", "middle", "outer"):
            within(getattr(self, name), -20.0, 200.0, f"tread, {name}", "°C")

    @property
    def mean(self) -> float:
        """Mean of the three."""
        return (self.inner + self.middle + self.outer) / 3.0

    @property
    def crown(self) -> float:
        """Middle over the mean of the edges [K]: above nought the middle carries too much."""
        return self.middle - 0.5 * (self.inner + self.outer)

    @property
    def lean(self) -> float:
        """Inner edge over the outer [K]: a few degrees are wanted of a wheel that leans into the corner."""
        return self.inner - self.outer

    @property
    def spread(self) -> float:
        """Hottest less coolest [K]."""
        return max(self.inner, self.middle, self.outer) - min(self.inner, self.middle, self.outer)


Pressures = tuple[float | None, float | None, float | None, float | None]
_NONE: Pressures = (None, None, None, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class TreadReading:
    """All of one reading; None where it was not told.

    `lap_before` and `lap_after` are the best laps before and after the last change [s]; `last_change` is what
    that was, in words; `taken_with` the other tyres or set-up that were on the car, where they were not those
    asked about.
    """

    treads: tuple[Tread, Tread, Tread, Tread]
    cold: Pressures = _NONE
    hot: Pressures = _NONE
    said: tuple[Said, ...] = ()
    laps: int | None = None
    is_after_cool_down: bool | None = None
    minutes_since_in: float | None = None
    lap_before: float | None = None
    lap_after: float | None = None
    last_change: str = ""
    taken_with: str = ""

    def __post_init__(self) -> None:
        for kind, four in (("cold", self.cold), ("hot", self.hot)):
            for corner, value in zip(CORNERS, four, strict=True):
                if value is not None:
                    within(value, 2e4, 6e5, f"{corner} pressure {kind}", "Pa")
        require(self.laps is None or self.laps >= 0, "laps", self.laps, "0 or more")
        if self.minutes_since_in is not None:
            within(self.minutes_since_in, 0.0, 1440.0, "time since in", "min")
        require(
            (self.lap_before is None) == (self.lap_after is None),
            "lap times",
            "one of before and after",
            "both, or neither",
        )

    def pair(self, end: End) -> tuple[Tread, Tread]:
        """Left and right tread of one end."""
        return self.treads[:2] if end is End.FRONT else self.treads[2:]

    def of(self, end: End, four: Pressures) -> tuple[float | None, float | None]:
        """Left and right of one end of four pressures."""
        return four[:2] if end is End.FRONT else four[2:]
