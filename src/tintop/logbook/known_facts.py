"""Facts of the rules that the one model of the car knows already: by readings and by the car's document.

Only what was measured or stands in a document proves a fact; an estimate or a class default does not, and is
told instead. Facts are named as in `data/rule_books/facts`; one the books do not ask for is left out.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.car.described import FROM_THE_WHEELS, DescribedCar
from tintop.known import Known, Origin
from tintop.logbook.amounts import minutes_of
from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, build_on
from tintop.logbook.counters import drives_of, is_tyre, sum_of
from tintop.logbook.entries import Corner, Entry, Measure, Reading
from tintop.logbook.mass_ledger import MassLedger, changed_since, mass_ledger
from tintop.logbook.running import running_until
from tintop.logbook.thickness import ALL_CORNERS, Taken, thickness_readings
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import Fact, FactKey, FactKind, FactValue

WITH_DRIVER, BALLAST = "mass.with_driver", "mass.ballast"
CAPACITY, IS_CHARGED, IS_ELECTRIC = "car.capacity", "car.is_forced_induction", "car.is_electric"
POWER, POWER_AT_WHEELS = "car.power", "power.at_wheels"
ROAD_TREAD, RACE_TREAD = "tyres.tread_depths", "race_tyre.tread_depths"
_QUANTITIES: Mapping[str, tuple[FactKind, str]] = {
    WITH_DRIVER: (FactKind.NUMBER, "mass"),
    BALLAST: (FactKind.NUMBER, "mass"),
    CAPACITY: (FactKind.NUMBER, "volume"),
    IS_CHARGED: (FactKind.YES_NO, ""),
    IS_ELECTRIC: (FactKind.YES_NO, ""),
    POWER: (FactKind.NUMBER, "power"),
    POWER_AT_WHEELS: (FactKind.NUMBER, "power"),
    ROAD_TREAD: (FactKind.NUMBERS, "length"),
    RACE_TREAD: (FactKind.NUMBERS, "length"),
}
_SURE = (Origin.MEASURED, Origin.DOCUMENTED)
_LIKE_FOR_LIKE = 0.5  # ± of one part put on for another of its family, neither weighed [kg]; own choice
_RANGE = 2.0  # standard uncertainties in the ± of a measurement, about 95 %


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownFacts:
    """What is proven from elsewhere than the proofs themselves, and why something known is no proof."""

    proven: tuple[Proven, ...]
    unproven: Mapping[FactKey, str]


_Found = Proven | tuple[FactKey, str]


def known_facts(
    book: Logbook,
    facts: Mapping[str, Fact],
    day: date,
    described: DescribedCar | None = None,
    written: date | None = None,
) -> KnownFacts:
    """What readings and the car's document prove by the end of a day, of the facts the books ask for.

    `described` is the car as its document has it, `written` the day that was last saved. A mass is that of
    the last weighing with the parts changed since; a tread depth counts until the tyres run again.
    """
    wanted = {
        name: facts[name]
        for name, (kind, quantity) in _QUANTITIES.items()
        if name in facts and (facts[name].kind, facts[name].quantity) == (kind, quantity)
    }
    found: list[_Found] = [*_masses(book, wanted, day, described)]
    found += _treads(book, wanted, day)
    if described is not None:
        found += _of_document(described, wanted, written or day)
    return KnownFacts(
        proven=tuple(each for each in found if isinstance(each, Proven)),
        unproven=dict(each for each in found if not isinstance(each, Proven)),
    )


# -- the document -------------------------------------------------------------------------------------


def _of_document(described: DescribedCar, wanted: Mapping[str, Fact], day: date) -> Iterator[_Found]:
    known = described.known
    paths = {CAPACITY: "engine.displacement", BALLAST: "masses.ballast"}
    for name, path in paths.items():
        if name in wanted:
            yield _from_document(wanted[name], path, known[path], known[path].value, day)
    yield from _powers(described, wanted, day)
    if IS_ELECTRIC in wanted and known["engine.displacement"].origin in _SURE:
        yield Proven(
            key=FactKey(IS_ELECTRIC),
            value=False,
            form=Form.WITNESS,
            day=day,
            basis="car.toml, which describes an engine that burns fuel",
        )
    if IS_CHARGED in wanted:
        if assumed := described.assumed_choices.get("engine.is_charged"):
            yield FactKey(IS_CHARGED), f"car.toml does not say; {assumed} is assumed"
        else:
            yield Proven(
                key=FactKey(IS_CHARGED),
                value=described.car.engine.is_charged,
                form=Form.WITNESS,
                day=day,
                basis="car.toml, engine.is_charged",
            )


def _powers(described: DescribedCar, wanted: Mapping[str, Fact], day: date) -> Iterator[_Found]:
    """The peak of the curve: at the engine where the sheet was, at the wheels where it was taken there."""
    curve, peak = described.known["engine.torques"], described.car.engine.peak_power
    efficiency = described.car.gearbox.efficiency
    is_at_wheels = FROM_THE_WHEELS in curve.note
    path = "engine.torques"
    if POWER_AT_WHEELS in wanted and is_at_wheels:
        at_wheels = peak * efficiency
        yield _from_document(wanted[POWER_AT_WHEELS], path, curve, at_wheels, day, at_wheels)
    if POWER not in wanted:
        return
    if is_at_wheels and (loss := described.known["gearbox.efficiency"]).origin not in _SURE:
        yield (
            FactKey(POWER),
            f"{peak / 1e3:.0f} kW is worked out from the power at the wheels by an efficiency that is "
            f"{loss.origin}",
        )
    else:
        yield _from_document(wanted[POWER], path, curve, peak, day, peak)


def _from_document(
    fact: Fact, path: str, known: Known, value: float, day: date, scale: float = 1.0
) -> _Found:
    """What the car's document says of a fact; `scale` turns the uncertainty of a factor into one of value."""
    key = FactKey(fact.name)
    if known.origin not in _SURE:
        return key, f"the number in car.toml ({path}) is {known.origin}, which proves nothing"
    is_measured = known.origin is Origin.MEASURED
    said = "; ".join(each for each in (known.note, known.source) if each)
    return Proven(
        key=key,
        value=value,
        form=Form.MEASUREMENT if is_measured else Form.WITNESS,
        day=day,
        error=_RANGE * known.uncertainty * scale if is_measured else 0.0,
        basis=f"car.toml, {path}, {known.origin}{f': {said}' if said else ''}",
    )


# -- mass ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weighed:
    """The car with its driver, by what stood on the scales [kg]."""

    entry: Entry
    mass: float
    error: float
    basis: str


def _masses(
    book: Logbook, wanted: Mapping[str, Fact], day: date, described: DescribedCar | None
) -> Iterator[_Found]:
    fact = wanted.get(WITH_DRIVER)
    if fact is None:
        return
    ledger, key = mass_ledger(book, day), FactKey(WITH_DRIVER)
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
    doubts = [_RANGE * mass.uncertainty for mass, _ in masses]
    doubts += [_LIKE_FOR_LIKE for part, sign in since if sign > 0 and not _is_weighed(part)]
    return math.fsum(sign * mass.value for mass, sign in masses), math.hypot(*doubts, 0.0), unsure


def _is_weighed(part: PartToday) -> bool:
    return part.part.mass is not None and part.part.mass.origin in _SURE


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
        if known.origin not in _SURE:
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
        error=math.hypot(fact.error, *(_RANGE * known.uncertainty for known in aboard)),
        basis=f"weighed {reading.value:.1f} kg without driver and fuel, driver {driver.value:.1f} kg and "
        f"ballast {ballast.value:.1f} kg of car.toml added",
    )


# -- tread --------------------------------------------------------------------------------------------


def _treads(book: Logbook, wanted: Mapping[str, Fact], day: date) -> Iterator[_Found]:
    build, running = build_on(book, day), running_until(book, day)
    read = thickness_readings(book, day, running).named
    sets = [each for each in (*build.fitted, *build.shelf) if is_tyre(each)]
    for name, is_for in ((ROAD_TREAD, _is_for_road), (RACE_TREAD, lambda each: not _is_for_road(each))):
        fact = wanted.get(name)
        found = _set_of(sets, is_for)
        if fact is None or found is None:
            continue
        taken = [
            each for each in read.get(found.part.part, ()) if each.reading.measure is Measure.TREAD_DEPTH
        ]
        for corner in ALL_CORNERS:
            here = [each for each in taken if each.reading.corner == corner]
            if here and (not fact.each or corner in fact.each):
                driven = sum_of(drives_of(found, running, max(each.drives_over for each in here))).running
                yield _tread(fact, found, corner, here, driven)


def _is_for_road(part: PartToday) -> bool:
    return "road" in part.part.family.casefold()


def _set_of(sets: list[PartToday], is_for: Callable[[PartToday], bool]) -> PartToday | None:
    """The set used: the one on the car, else the one last on it; the only set there is serves for both."""
    fit = sets if len(sets) == 1 else [each for each in sets if is_for(each)]
    return max(
        fit,
        key=lambda each: (each.is_fitted, each.fittings[-1].since if each.fittings else date.min),
        default=None,
    )


def _tread(fact: Fact, tyres: PartToday, corner: Corner, taken: list[Taken], driven: float) -> _Found:
    key = FactKey(fact.name, corner if fact.each else "")
    last_day = max(each.day for each in taken)
    last = [each for each in taken if each.day == last_day]
    if driven > 0.0:
        return key, (
            f"{tyres.title} read on {last_day.isoformat()} at {corner}, and driven {minutes_of(driven)} since"
        )
    value: FactValue = tuple(each.reading.value for each in last)
    entry = last[-1].entry
    return Proven(
        key=key,
        value=value,
        form=Form.MEASUREMENT,
        day=entry.day,
        who=entry.who,
        written=", ".join(each.reading.written or f"{each.reading.value * 1e3:.1f} mm" for each in last),
        error=fact.error,
        instrument=entry.instrument,
        part=tyres.part.part,
        entry=entry.number,
        basis=f"readings of {tyres.title}, {', '.join(filter(None, (each.reading.place for each in last)))}",
    )
