"""The car as it stands on a day: the described car with what the logbook has measured put in."""

import math
from datetime import date

from tintop.car.described import DescribedCar
from tintop.car.numbers import with_number
from tintop.known import Known, Origin
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, build_on, clock_of
from tintop.logbook.entries import Entry, Measure, Reading
from tintop.logbook.mass_ledger import MassLedger, mass_ledger
from tintop.logbook.running import running_until
from tintop.logbook.wear import READING_DOUBT, Wear, wears_by_place

_PATHS = {
    Measure.PAD_THICKNESS: ("brakes.front.pad.thickness", "brakes.rear.pad.thickness"),
    Measure.DISC_THICKNESS: ("brakes.front.disc_thickness", "brakes.rear.disc_thickness"),
    Measure.TREAD_DEPTH: ("tyre_front.tread_depth", "tyre_rear.tread_depth"),
}
_BOILING_DOUBT = 5.0  # [°C] of a tester that boils the fluid; common practice, no source


def car_today(described: DescribedCar, book: Logbook, day: date) -> DescribedCar:
    """The car with mass, pads, discs, tread and brake fluid by the book's last readings.

    The mass is the last weighing of the whole car with what was taken off and put on since; without one it
    is left alone. A thickness is the thinnest last reading on the axle, less the wear of what was driven
    since where its rate is known. The fluid boils where it last did since it was put in. Each number changed
    says on which entry of which day it stands.

    Raises BadInput if a reading lies outside what the car accepts.
    """
    changed: dict[str, Known] = {}
    if (mass := _mass(mass_ledger(book, day))) is not None:
        changed["masses.car"] = mass
    build = build_on(book, day)
    changed |= _fluid(described, build, book, day)
    thinnest: dict[str, Wear] = {}
    for places in wears_by_place(book, build, running_until(book, day)):
        for wear in places:
            for path in _paths(wear):
                if _thickness(wear) < (_thickness(thinnest[path]) if path in thinnest else math.inf):
                    thinnest[path] = wear
    changed |= {path: _known(wear) for path, wear in thinnest.items()}
    car = described.car
    for path, known in changed.items():
        car = with_number(car, path, known.value)
    return DescribedCar(
        car=car,
        known={**described.known, **changed},
        assumed_choices=described.assumed_choices,
    )


def _fluid(described: DescribedCar, build: Build, book: Logbook, day: date) -> dict[str, Known]:
    """The boiling point last read of the fluid in the car, put in as that of a fluid fully wet.

    Then the dry point, still the document's, has no part in it: `brakes.fluid_boiling` is what was read.
    """
    read = _last_boiling(build, book, day)
    if read is None:
        return {}
    entry, reading = read
    note = f"brake fluid read {reading.value:.0f} °C on {entry.day.isoformat()} (entry {entry.number})"
    dry, changed = "brakes.fluid_boiling_dry", {}
    if reading.value > described.car.brakes.fluid_boiling_dry:
        changed[dry] = _measured(reading.value, _BOILING_DOUBT, note)
    changed["brakes.fluid_boiling_wet"] = _measured(reading.value, _BOILING_DOUBT, note)
    changed["brakes.fluid_wetness"] = _measured(1.0, 0.0, f"{note}: as it is in the car")
    return changed


def _measured(value: float, uncertainty: float, note: str) -> Known:
    return Known(value=value, uncertainty=uncertainty, origin=Origin.MEASURED, note=note, source="logbook")


def _last_boiling(build: Build, book: Logbook, day: date) -> tuple[Entry, Reading] | None:
    fluids = [part for part in build.fitted if "brake fluid" in part.part.family.casefold()]
    fluid = max(fluids, key=lambda part: (part.fittings[-1].since, part.fittings[-1].entry), default=None)
    found = [
        (entry, reading)
        for entry, reading in book.of(Reading)
        if reading.measure is Measure.FLUID_BOILING
        and entry.day <= day
        and (
            not reading.part
            if fluid is None
            else reading.part in ("", fluid.part.part)
            and fluid.fittings[-1].covers(entry.day, clock_of(entry.clock))
        )
    ]
    return max(found, key=lambda pair: (pair[0].day, pair[0].clock, pair[0].number), default=None)


def _mass(ledger: MassLedger) -> Known | None:
    if ledger.today is None or ledger.today_uncertainty is None:
        return None
    last = ledger.weighings[-1]
    since = ledger.today - last.mass
    note = f"weighed {last.mass:.1f} kg on {last.day.isoformat()} (entry {last.entry})"
    if since:
        note += f", {since:+.1f} kg of parts since"
    return Known(
        value=ledger.today,
        uncertainty=ledger.today_uncertainty,
        origin=Origin.MEASURED,
        note=note,
        source="logbook",
    )


def _paths(wear: Wear) -> tuple[str, ...]:
    front, rear = _PATHS[wear.measure]
    paths = []
    if {"FL", "FR"} & set(wear.corners):
        paths.append(front)
    if {"RL", "RR"} & set(wear.corners):
        paths.append(rear)
    return tuple(paths)


def _thickness(wear: Wear) -> float:
    if wear.thickness is not None:
        return wear.thickness
    return wear.read if wear.read is not None else math.inf


def _known(wear: Wear) -> Known:
    since = wear.driven_since
    doubt = READING_DOUBT
    if wear.rate is not None and since > 0.0:
        doubt = math.hypot(doubt, (wear.rate.high - wear.rate.low) / 4.0 * since)
    if wear.read is None or wear.read_on is None:
        return Known(
            value=_thickness(wear),
            uncertainty=doubt,
            origin=Origin.DOCUMENTED,
            note=f"{wear.title}: as new, never measured",
            source="logbook",
        )
    note = (
        f"{wear.title}{', ' + wear.place if wear.place else ''}: read {wear.read * 1e3:.1f} mm on "
        f"{wear.read_on.isoformat()} (entry {wear.entry})"
    )
    if since > 0.0:
        hours = since / 3600.0
        note += (
            f", less the wear of {hours:.1f} h driven since"
            if wear.thickness is not None
            else f"; {hours:.1f} h driven since at an unknown rate"
        )
    return Known(
        value=_thickness(wear), uncertainty=doubt, origin=Origin.MEASURED, note=note, source="logbook"
    )
