"""What the parts taken off and put on since a weighing make of mass and centre of gravity."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, PartToday
from tintop.logbook.entries import Entry, Measure, Reading
from tintop.logbook.mass_ledger import SCALE_DOUBT, CornerWeighing

PAD_DOUBT = SCALE_DOUBT / 2.0  # standard uncertainty of one of four pads [kg]: together that of the whole
_POSITION_DOUBT = 0.05  # of a part's place [m]; own choice
_LEAST_SIDEWAYS = 0.05  # [m] off the middle before a seat tells the driver's side
_FUEL = re.compile(r"(\d+(?:[.,]\d+)?)\s*L\b")
_ABSENT = ("without driver", "no driver", "driver out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """How the car stood on the pads; None where nobody wrote it. Fuel [m³]."""

    is_driver_aboard: bool | None = None
    fuel_volume: float | None = None

    @property
    def words(self) -> str:
        """As it is written with a reading."""
        driver = {True: "driver aboard", False: "without driver", None: ""}[self.is_driver_aboard]
        fuel = "" if self.fuel_volume is None else f"{1e3 * self.fuel_volume:.4g} L of fuel"
        return ", ".join(words for words in (driver, fuel) if words)


def stood_of(words: str) -> Stood:
    """Read how the car stood from the words of a reading."""
    plain = words.casefold()
    aboard: bool | None = True if "driver" in plain else None
    if any(each in plain for each in _ABSENT):
        aboard = False
    fuel = _FUEL.search(words)
    return Stood(
        is_driver_aboard=aboard,
        fuel_volume=1e-3 * float(fuel[1].replace(",", ".")) if fuel else None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Foretold:
    """Mass [kg] and centre of gravity [m] by an earlier weighing and the parts changed since, with doubts.

    x forward of the front axle, y left of the middle. `without_mass` and `without_place` name parts changed
    whose mass or position nobody wrote: the foretelling leaves them out, or puts them nowhere. `changed`
    counts the parts that were weighed.
    """

    since: date
    mass: float
    mass_doubt: float
    x: float
    y: float
    x_doubt: float
    y_doubt: float
    changed: int
    without_mass: tuple[str, ...]
    without_place: tuple[str, ...]


def foretold(
    last: CornerWeighing,
    changed: Sequence[tuple[PartToday, int]],
    wheelbase: float,
    track_front: float,
    track_rear: float,
    fuel: tuple[float, float] = (0.0, 0.0),
) -> Foretold:
    """Carry four loads on by the parts put on (1) and taken off (-1) since.

    `fuel` is more mass of it [kg] and its x [m]. Parts nobody weighed are named unless as many of their
    family came off as went on, such as oil renewed.
    Source: moments; doubts put together as roots of squares (JCGM 100:2008, 5.1.2).
    """
    front_left, front_right, rear_left, rear_right = last.loads
    mass = last.total
    total = mass + fuel[0]
    along = -wheelbase * (1.0 - last.front_share) * mass + fuel[0] * fuel[1]
    aside = 0.5 * track_front * (front_left - front_right) + 0.5 * track_rear * (rear_left - rear_right)
    middle = (along / total, aside / mass, 0.0)
    doubt_mass = SCALE_DOUBT**2
    doubt_along = 2.0 * (PAD_DOUBT * wheelbase) ** 2
    doubt_aside = 4.0 * (PAD_DOUBT * 0.5 * track_front) ** 2
    net: dict[str, int] = {}
    without_place: list[str] = []
    for part, sign in changed:
        known, place = part.part.mass, part.part.position
        if known is None:
            net[part.part.family] = net.get(part.part.family, 0) + sign
            continue
        change, spread = sign * known.value, _POSITION_DOUBT
        if place is None:
            without_place.append(part.part.name)
            place, spread = middle, 0.25 * wheelbase
        total += change
        along += change * place[0]
        aside += change * place[1]
        doubt_mass += known.uncertainty**2
        doubt_along += (known.uncertainty * place[0]) ** 2 + (change * spread) ** 2
        doubt_aside += (known.uncertainty * place[1]) ** 2 + (change * min(spread, 0.5 * track_front)) ** 2
    without_mass = [part.part.name for part, _ in changed if part.part.mass is None and net[part.part.family]]
    return Foretold(
        since=last.day,
        mass=total,
        mass_doubt=math.sqrt(doubt_mass),
        x=along / total,
        y=aside / total,
        x_doubt=math.sqrt(doubt_along) / total,
        y_doubt=math.sqrt(doubt_aside) / total,
        changed=sum(part.part.mass is not None for part, _ in changed),
        without_mass=tuple(dict.fromkeys(without_mass)),
        without_place=tuple(dict.fromkeys(without_place)),
    )


def entry_of(book: Logbook, weighing: CornerWeighing) -> Entry:
    """The last of the readings of which four loads were put together."""
    return next(
        entry
        for entry, reading in reversed(tuple(book.of(Reading)))
        if reading.measure is Measure.CORNER_LOAD
        and (entry.day, reading.place) == (weighing.day, weighing.place)
    )


def last_alike(weighings: Sequence[CornerWeighing], stood: Stood) -> CornerWeighing | None:
    """The last four loads read with the driver as now, aboard or not."""
    for each in reversed(weighings):
        if stood_of(each.place).is_driver_aboard == stood.is_driver_aboard:
            return each
    return None


def driver_side(build: Build) -> Literal["", "left", "right"]:
    """The side on which the seat or the steering wheel has its place; empty where no position tells."""
    for each in build.fitted:
        words = f"{each.part.family} {each.part.name}".casefold()
        if each.part.position is None or not ("seat" in words or "steering wheel" in words):
            continue
        if abs(each.part.position[1]) > _LEAST_SIDEWAYS:
            return "left" if each.part.position[1] > 0.0 else "right"
    return ""
