"""Facts of the rules that the one model of the car knows already: by readings and by the car's document.

Only what was measured or stands in a document proves a fact; an estimate or a class default does not, and is
told instead. Facts are named as in `data/rule_books/facts`; one the books do not ask for is left out.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from tintop.car.described import FROM_THE_WHEELS, DescribedCar
from tintop.known import Known, Origin
from tintop.logbook.amounts import minutes_of
from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, build_on
from tintop.logbook.counters import drives_of, is_tyre, sum_of
from tintop.logbook.entries import Corner, Measure
from tintop.logbook.known_mass import RANGE, SURE, Found, mass_with_driver
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


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownFacts:
    """What is proven from elsewhere than the proofs themselves, and why something known is no proof."""

    proven: tuple[Proven, ...]
    unproven: Mapping[FactKey, str]


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
    found: list[Found] = [*_treads(book, wanted, day)]
    if WITH_DRIVER in wanted:
        found += mass_with_driver(book, wanted[WITH_DRIVER], day, described, written or day)
    if described is not None:
        found += _of_document(described, wanted, written or day)
    return KnownFacts(
        proven=tuple(each for each in found if isinstance(each, Proven)),
        unproven=dict(each for each in found if not isinstance(each, Proven)),
    )


def _of_document(described: DescribedCar, wanted: Mapping[str, Fact], day: date) -> Iterator[Found]:
    known = described.known
    paths = {CAPACITY: "engine.displacement", BALLAST: "masses.ballast"}
    for name, path in paths.items():
        if name in wanted:
            yield _from_document(wanted[name], path, known[path], known[path].value, day)
    yield from _powers(described, wanted, day)
    if IS_ELECTRIC in wanted and known["engine.displacement"].origin in SURE:
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


def _powers(described: DescribedCar, wanted: Mapping[str, Fact], day: date) -> Iterator[Found]:
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
    if is_at_wheels and (loss := described.known["gearbox.efficiency"]).origin not in SURE:
        yield (
            FactKey(POWER),
            f"{peak / 1e3:.0f} kW is worked out from the power at the wheels by an efficiency that is "
            f"{loss.origin}",
        )
    else:
        yield _from_document(wanted[POWER], path, curve, peak, day, peak)


def _from_document(fact: Fact, path: str, known: Known, value: float, day: date, scale: float = 1.0) -> Found:
    """What the car's document says of a fact; `scale` turns the uncertainty of a factor into one of value."""
    key = FactKey(fact.name)
    if known.origin not in SURE:
        return key, f"the number in car.toml ({path}) is {known.origin}, which proves nothing"
    is_measured = known.origin is Origin.MEASURED
    said = "; ".join(each for each in (known.note, known.source) if each)
    return Proven(
        key=key,
        value=value,
        form=Form.MEASUREMENT if is_measured else Form.WITNESS,
        day=day,
        error=(RANGE * known.uncertainty * scale or fact.error) if is_measured else 0.0,
        basis=f"car.toml, {path}, {known.origin}{f': {said}' if said else ''}",
    )


def _treads(book: Logbook, wanted: Mapping[str, Fact], day: date) -> Iterator[Found]:
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


def _tread(fact: Fact, tyres: PartToday, corner: Corner, taken: list[Taken], driven: float) -> Found:
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
