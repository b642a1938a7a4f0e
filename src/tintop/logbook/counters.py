"""What each part has run, counted from the drives it was on the car for; counts travel with the part.

A tyre set named by a session counts that session and no other set does; a session that names none counts for
the set that was fitted. A heat cycle is one session of three laps or more (common practice, no source).
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import accumulate

from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, build_on
from tintop.logbook.entries import Counter
from tintop.logbook.running import Drive, Running, running_until


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """What a part has run; age in days from the day it was made, or else first on the car."""

    distance: float = 0.0  # [m]
    running: float = 0.0  # [s]
    laps: float = 0.0
    heat_cycles: float = 0.0
    age: float = 0.0  # [day]

    def of(self, counter: Counter) -> float:
        """The count of one counter in its unit."""
        return {
            Counter.DISTANCE: self.distance,
            Counter.RUNNING: self.running,
            Counter.LAPS: self.laps,
            Counter.HEAT_CYCLES: self.heat_cycles,
            Counter.AGE: self.age,
        }[counter]

    def plus(self, other: "Count") -> "Count":
        """The sum of two counts."""
        return Count(
            distance=self.distance + other.distance,
            running=self.running + other.running,
            laps=self.laps + other.laps,
            heat_cycles=self.heat_cycles + other.heat_cycles,
            age=self.age + other.age,
        )


def counts_on(book: Logbook, day: date) -> dict[str, Count]:
    """The count of every part known by the end of a day, what it had run before included."""
    build, running = build_on(book, day), running_until(book, day)
    return {name: count_of(each, running, day) for name, each in build.by_name.items()}


def count_of(part: PartToday, running: Running, day: date) -> Count:
    """The count of one part by the end of a day, what it had run before included."""
    before = part.part.counted_before
    driven = sum_of(drives_of(part, running))
    return Count(
        distance=driven.distance + before.get(Counter.DISTANCE, 0.0),
        running=driven.running + before.get(Counter.RUNNING, 0.0),
        laps=driven.laps + before.get(Counter.LAPS, 0.0),
        heat_cycles=driven.heat_cycles + before.get(Counter.HEAT_CYCLES, 0.0),
        age=_age(part, day),
    )


def drives_of(part: PartToday, running: Running, first: int = 0) -> list[Drive]:
    """The drives a part was on the car for, from place `first` on."""
    return [running.drives[place] for place in places_of(part, running) if place >= first]


def places_of(part: PartToday, running: Running) -> list[int]:
    """Places of the drives a part was on the car for, in order: by its stays, or as the tyres named."""
    drives, days = running.drives, running.days
    counts_named_only = is_tyre(part)
    found = set(running.places_on_tyres.get(part.part.part, ()))
    for stay in part.fittings:
        first = bisect_left(days, stay.since)
        last = bisect_right(days, stay.until) if stay.until is not None else len(days)
        ends = (stay.since, stay.until)
        found.update(
            place
            for place in range(first, last)
            if not (counts_named_only and drives[place].tyres)
            and (days[place] not in ends or stay.covers(days[place], drives[place].clock))
        )
    return sorted(found)


def is_tyre(part: PartToday) -> bool:
    """Whether a part is a tyre or a set of them, by the name of its family."""
    return "tyre" in part.part.family.casefold()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What a part had run [s] at any place among the drives."""

    places: list[int]
    totals: list[float]  # before each of those places, and after the last

    def before(self, place: int) -> float:
        """What it had run before the drive of a place."""
        return self.totals[bisect_left(self.places, place)]

    @property
    def now(self) -> float:
        """What it has run in all."""
        return self.totals[-1]


def ran_of(part: PartToday, running: Running) -> Ran:
    """What a part had run at any place among the drives."""
    places = places_of(part, running)
    return Ran(
        places=places,
        totals=list(accumulate((running.drives[place].running for place in places), initial=0.0)),
    )


def sum_of(drives: Iterable[Drive]) -> Count:
    """What some drives add up to; no age."""
    distance = seconds = 0.0
    laps = cycles = 0
    for drive in drives:
        distance += drive.distance
        seconds += drive.running
        laps += drive.laps
        cycles += drive.heat_cycles
    return Count(distance=distance, running=seconds, laps=float(laps), heat_cycles=float(cycles))


def _age(part: PartToday, day: date) -> float:
    if part.part.made is not None:
        return float((day - part.part.made).days)
    before = part.part.counted_before.get(Counter.AGE, 0.0)
    first = part.fittings[0].since if part.fittings else None
    return before + (float((day - first).days) if first is not None else 0.0)
