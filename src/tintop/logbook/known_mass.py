"""The mass of the car with its driver, by the last weighing or else by the car's document."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.car.described import DescribedCar
from tintop.known import Known, Origin
from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, build_on
from tintop.logbook.entries import Entry, Measure, Reading
from tintop.logbook.mass_ledger import MassLedger, changed_since, mass_ledger
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import Fact, FactKey

SURE = (Origin.MEASURED, Origin.DOCUMENTED)
RANGE = 2.0  # standard uncertainties in the ± of a measurement, about 95 %
_LIKE_FOR_LIKE = 0.5  # ± of one part put on for another of its family, neither weighed [kg]; own choice

Found = Proven | tuple[FactKey, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weighed:
    """The car with its driver, by what stood on the scales [kg]."""

    entry: Entry
    mass: float
    error: float
    basis: str


def mass_with_driver(
    book: Logbook, fact: Fact, day: date, described: DescribedCar | None, written: date
) -> Iterator[Found]:
    """The mass by the last weighing with the parts changed since, or why it proves nothing.

    A car weighed without its driver takes driver and ballast of its document; one never weighed takes the
    masses of its document, last saved on `written`.
    """
    ledger, key = mass_ledger(book, day), FactKey(fact.name)
    weighed = [*_on_pads(book, ledger, fact, day)]
    reason = ""
    if alone := _alone(book, day):
        aboard = _aboard(described)
        if isinstance(aboard, str):
            reason = aboard
        else:
            weighed.append(_with_driver(alone, aboard, fact))
    if not weighed:
        if reason:
            yield key, reason
        elif described is not None:
            yield _of_document(key, described, written)
        return
    last = max(weighed, key=lambda each: (each.entry.day, each.entry.clock, each.entry.number))
    change, doubt, unsure = _changed(changed_since(build_on(book, day), last.entry))
    if unsure:
        weighed_on = last.entry.day.isoformat()
        yield key, f"weighed on {weighed_on}; changed since and not weighed: {', '.join(unsure)}"
        return
    parts = f", {change:+.1f} kg of parts since" if change or doubt else ""
    yield Proven(
        key=key,
        value=last.mass + change,
        form=Form.MEASUREMENT,
        day=last.entry.day,
        who=last.entry.who,
        written=f"{last.mass + change:.1f} kg",
        error=math.hypot(last.error, doubt),
        instrument=last.entry.instrument,
        entry=last.entry.number,
        basis=f"{last.basis}{parts}",
    )


def _changed(since: Sequence[tuple[PartToday, int]]) -> tuple[float, float, list[str]]:
    """What parts put on and taken off change [kg], its ±, and those that leave it open.

    Parts nobody weighed cancel where as many of their family came off as went on, such as oil renewed.
    """
    net: dict[str, int] = {}
    for part, sign in since:
        if not _is_weighed(part):
            net[part.part.family] = net.get(part.part.family, 0) + sign
    unsure = [part.title for part, _ in since if not _is_weighed(part) and net[part.part.family]]
    masses = [(part.part.mass, sign) for part, sign in since if part.part.mass and _is_weighed(part)]
    doubts = [RANGE * mass.uncertainty for mass, _ in masses]
    doubts += [_LIKE_FOR_LIKE for part, sign in since if sign > 0 and not _is_weighed(part)]
    return math.fsum(sign * mass.value for mass, sign in masses), math.hypot(*doubts, 0.0), unsure


def _is_weighed(part: PartToday) -> bool:
    return part.part.mass is not None and part.part.mass.origin in SURE


def _on_pads(book: Logbook, ledger: MassLedger, fact: Fact, day: date) -> Iterator[_Weighed]:
    """Corner loads read with the driver aboard."""
    for each in ledger.corners:
        words = each.place.casefold()
        if "driver" not in words or "no driver" in words or "without" in words:
            continue
        entries = [
            entry
            for entry, reading in book.of(Reading)
            if reading.measure is Measure.CORNER_LOAD and (entry.day, reading.place) == (each.day, each.place)
        ]
        yield _Weighed(
            entry=entries[-1],
            mass=each.total,
            error=fact.error,
            basis=f"sum of four corner loads, {each.place}",
        )


def _alone(book: Logbook, day: date) -> tuple[Entry, Reading] | None:
    found = [
        (entry, reading)
        for entry, reading in book.of(Reading)
        if reading.measure is Measure.MASS and entry.day <= day
    ]
    return found[-1] if found else None


def _aboard(described: DescribedCar | None) -> tuple[Known, Known] | str:
    """Driver and ballast as the car's document has them, or why they are no proof."""
    if described is None:
        return "the car is weighed without its driver, and no car.toml says what the driver weighs"
    driver, ballast = described.known["masses.driver"], described.known["masses.ballast"]
    for name, known in (("driver", driver), ("ballast", ballast)):
        if known.origin not in SURE:
            return (
                f"the car is weighed without its driver; the mass of the {name} in car.toml is {known.origin}"
            )
    return driver, ballast


def _with_driver(alone: tuple[Entry, Reading], aboard: tuple[Known, Known], fact: Fact) -> _Weighed:
    entry, reading = alone
    driver, ballast = aboard
    return _Weighed(
        entry=entry,
        mass=reading.value + driver.value + ballast.value,
        error=math.hypot(fact.error, *(RANGE * known.uncertainty for known in aboard)),
        basis=f"weighed {reading.value:.1f} kg without driver and fuel, driver {driver.value:.1f} kg and "
        f"ballast {ballast.value:.1f} kg of car.toml added",
    )


def _of_document(key: FactKey, described: DescribedCar, day: date) -> Found:
    """The car with driver and ballast, where the logbook holds no weighing."""
    names = ("car", "driver", "ballast")
    known = [described.known[f"masses.{name}"] for name in names]
    unsure = [
        f"{name} {one.origin}" for name, one in zip(names, known, strict=True) if one.origin not in SURE
    ]
    if unsure:
        return key, f"never weighed in the logbook; masses in car.toml: {', '.join(unsure)}"
    is_measured = all(one.origin is Origin.MEASURED for one in known)
    added = " + ".join(f"{name} {one.value:.1f} kg" for name, one in zip(names, known, strict=True))
    return Proven(
        key=key,
        value=math.fsum(one.value for one in known),
        form=Form.MEASUREMENT if is_measured else Form.WITNESS,
        day=day,
        error=RANGE * math.hypot(*(one.uncertainty for one in known)),
        basis=f"car.toml, masses without fuel: {added}",
    )
