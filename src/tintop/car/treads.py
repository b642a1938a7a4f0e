"""What was read at the treads after a run, and what the driver said in fixed words."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from tintop.car.chassis import CORNERS, End
from tintop.checks import require, within
from tintop.errors import did_you_mean, refuse


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
    that was, in words.
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


_SAME_WORDS = {
    "in": "entry",
    "turn-in": "entry",
    "middle": "mid",
    "apex": "mid",
    "out": "exit",
    "push": "understeer",
    "pushes": "understeer",
    "loose": "oversteer",
    "understeers": "understeer",
    "oversteers": "oversteer",
    "good": "fine",
    "ok": "fine",
}


def said_from(texts: Sequence[str]) -> tuple[Said, ...]:
    """Read the driver's words, each such as "mid slow understeer"; BadInput for a word that is none of them.

    A phase left out with "fine" stands for all three.
    """
    return tuple(said for text in texts for said in _said(text))


def _said(text: str) -> tuple[Said, ...]:
    words = [_SAME_WORDS.get(word, word) for word in text.casefold().replace(",", " ").split()]
    known: dict[str, Phase | Pace | Feel] = {
        each.value: each for kind in (Phase, Pace, Feel) for each in kind if each.value
    }
    expected = "where (entry, mid, exit), slow or fast or neither, and understeer, oversteer or fine"
    found: dict[type, list[Phase | Pace | Feel]] = {Phase: [], Pace: [], Feel: []}
    for word in words:
        if word not in known:
            raise refuse("driver's words", repr(word[:40]), expected, did_you_mean(word, known))
        found[type(known[word])].append(known[word])
    feels = [each for each in found[Feel] if isinstance(each, Feel)]
    phases = [each for each in found[Phase] if isinstance(each, Phase)]
    paces = [each for each in found[Pace] if isinstance(each, Pace)]
    if feels == [Feel.FINE] and not phases:
        phases = list(Phase)
    if len(feels) != 1 or not phases or len(paces) > 1:
        raise refuse("driver's words", repr(text[:60]), expected, 'Such as "mid slow understeer".')
    return tuple(Said(phase=phase, feel=feels[0], pace=paces[0] if paces else Pace.ANY) for phase in phases)
