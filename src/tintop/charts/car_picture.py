"""What the drawing of the car shows: frozen values from the described car and the logbook on a day."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from tintop.car.described import DescribedCar
from tintop.known import Origin
from tintop.logbook.book import Logbook
from tintop.logbook.build import Build, PartToday, build_on
from tintop.logbook.entries import Corner, Measure, Reading
from tintop.logbook.mass_balance import driver_side
from tintop.logbook.mass_ledger import MassLedger, mass_ledger
from tintop.logbook.running import running_until
from tintop.logbook.setup import SetupItem, setup_on
from tintop.logbook.thickness import corners_covered, series_of, thickness_readings

CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_SETTINGS = {"camber": "camber", "toe": "toe", "spring": "spring"}
_PRESSURES = {
    "pressure cold": (Measure.PRESSURE_COLD, "tyre_{axle}.pressure_cold"),
    "pressure hot": (Measure.PRESSURE_HOT, "tyre_{axle}.pressure_hot"),
}
_THICKNESSES = {
    "tread": (Measure.TREAD_DEPTH, "tyre_{axle}.tread_depth"),
    "pad": (Measure.PAD_THICKNESS, "brakes.{axle}.pad.thickness"),
    "disc": (Measure.DISC_THICKNESS, "brakes.{axle}.disc_thickness"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerValue:
    """One value at a corner, in SI; `written` stands where it is no number, `known` says whence it comes."""

    name: str  # "camber", "toe", "spring", "pressure cold", "pressure hot", "tread", "pad", "disc"
    value: float | None
    quantity: str
    written: str = ""
    known: str = ""
    on: date | None = None
    entry: int | None = None
    is_by_document: bool = False  # nobody read it from the car or set it
    is_by_sheet: bool = False  # of the set-up put on last; nobody read or changed it since


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerPicture:
    """One corner: its load [kg] and share of the total, and the values that are known there."""

    corner: Corner
    load: float | None = None
    share: float | None = None
    values: tuple[CornerValue, ...] = ()

    def of(self, name: str) -> CornerValue | None:
        """The value of a name, if it is known."""
        return next((each for each in self.values if each.name == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMark:
    """A part where it sits: x forward of the front axle, y left of the middle [m]; mass [kg] if known."""

    name: str
    x: float
    y: float
    mass: float | None = None
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarPicture:
    """Everything the drawing shows; lengths [m], masses [kg], volume [m³], shares of one.

    `front_share`, `left_share` and `cross_share` (FR and RL together) are those of the last corner loads, or
    the front share of the described car where there are none; `loads_state` says how the car then stood.
    `driver_side` is empty while no seat's position tells it.
    """

    name: str
    day: date
    wheelbase: float
    track_front: float
    track_rear: float
    width: float
    tyre_radius: float
    front_overhang: float
    rear_overhang: float
    corners: tuple[CornerPicture, ...]  # FL FR RL RR
    driver_side: Literal["", "left", "right"] = ""
    is_engine_front: bool = True
    mass: float | None = None
    mass_uncertainty: float | None = None
    mass_known: str = ""
    front_share: float | None = None
    left_share: float | None = None
    cross_share: float | None = None
    loads_state: str = ""
    cg_height: float | None = None
    cg_known: str = ""
    tank_volume: float | None = None
    tank_behind_front_axle: float | None = None
    parts: tuple[PartMark, ...] = ()

    def corner(self, corner: Corner) -> CornerPicture:
        """The corner of a name."""
        return self.corners[CORNERS.index(corner)]


def car_picture(described: DescribedCar, book: Logbook, day: date) -> CarPicture:
    """Gather the picture of the car at the end of a day, from its document as described or as it stands."""
    return car_picture_of(
        described,
        book,
        build_on(book, day),
        mass_ledger(book, day),
        setup_on(book, day),
    )


def car_picture_of(
    described: DescribedCar,
    book: Logbook,
    build: Build,
    ledger: MassLedger,
    setup: Iterable[SetupItem],
) -> CarPicture:
    """As `car_picture`, from folds already made."""
    car, day = described.car, build.day
    marks = tuple(_mark(each) for each in build.fitted if each.part.position is not None)
    weighed = ledger.corners[-1] if ledger.corners else None
    items, thin = tuple(setup), _thinnest(book, build)
    described_share = _believed(described, "masses.front_share")
    return CarPicture(
        name=car.name,
        day=day,
        wheelbase=car.dimensions.wheelbase,
        track_front=car.dimensions.track_front,
        track_rear=car.dimensions.track_rear,
        width=car.dimensions.width,
        tyre_radius=car.tyre_front.radius,
        front_overhang=max([0.31 * car.dimensions.wheelbase, *(mark.x + 0.12 for mark in marks)]),
        rear_overhang=max(
            [0.27 * car.dimensions.wheelbase, *(0.12 - mark.x - car.dimensions.wheelbase for mark in marks)]
        ),
        corners=tuple(
            CornerPicture(
                corner=corner,
                load=weighed.loads[place] if weighed else None,
                share=weighed.loads[place] / weighed.total if weighed else None,
                values=tuple(_corner_values(described, book, day, corner, items, thin)),
            )
            for place, corner in enumerate(CORNERS)
        ),
        driver_side=driver_side(build),
        is_engine_front=_is_engine_front(build, car.dimensions.wheelbase),
        mass=ledger.today if ledger.today is not None else _believed(described, "masses.car"),
        mass_uncertainty=ledger.today_uncertainty
        if ledger.today is not None
        else described.known["masses.car"].uncertainty,
        mass_known="weighed, with the changes since" if ledger.today is not None else "by the car's document",
        front_share=weighed.front_share if weighed else described_share,
        left_share=weighed.left_share if weighed else None,
        cross_share=weighed.cross_share if weighed else None,
        loads_state=weighed.place if weighed else "",
        cg_height=_believed(described, "masses.cg_height"),
        cg_known=described.known["masses.cg_height"].origin.value,
        tank_volume=_believed(described, "tank.volume"),
        tank_behind_front_axle=_believed(described, "masses.tank_behind_front_axle"),
        parts=marks,
    )


def _believed(described: DescribedCar, path: str) -> float | None:
    """A number of the car's document, or None where a class default stands in for it."""
    known = described.known.get(path)
    return None if known is None or known.origin is Origin.ASSUMED else known.value


def _mark(part: PartToday) -> PartMark:
    assert part.part.position is not None
    return PartMark(
        name=part.part.name,
        x=part.part.position[0],
        y=part.part.position[1],
        mass=part.part.mass.value if part.part.mass else None,
        part=part.part.part,
    )


def _corner_values(
    described: DescribedCar,
    book: Logbook,
    day: date,
    corner: Corner,
    setup: tuple[SetupItem, ...],
    thin: Mapping[tuple[Measure, str], CornerValue],
) -> Iterable[CornerValue]:
    axle = "front" if corner.startswith("F") else "rear"
    for name, item in _SETTINGS.items():
        found = _set(setup, item, corner)
        if found is not None:
            yield found
        elif name == "camber":
            yield from _by_document(described, name, f"suspension.camber_{axle}", "angle")
    for name, (measure, path) in _PRESSURES.items():
        last = _last_pressure(book, day, name, measure, corner)
        sheet = _set(setup, "cold pressure", corner) if name == "pressure cold" else None
        if sheet is not None and (last is None or _order(last) < _order(sheet)):
            yield replace(sheet, name=name)
        elif last is not None:
            yield last
        else:
            yield from _by_document(described, name, path.format(axle=axle), "pressure")
    for name, (measure, path) in _THICKNESSES.items():
        if (measure, corner) in thin:
            yield thin[measure, corner]
        else:
            yield from _by_document(described, name, path.format(axle=axle), "length")


def _thinnest(book: Logbook, build: Build) -> Mapping[tuple[Measure, str], CornerValue]:
    """The thinnest place of what is fitted at each corner, by its last readings, or else as it was new."""
    running = running_until(book, build.day)
    read = thickness_readings(book, build.day, running)
    names = {measure: name for name, (measure, _) in _THICKNESSES.items()}
    found: dict[tuple[Measure, str], CornerValue] = {}
    for part in build.fitted:
        measure, places = series_of(part, read, running)
        for corner in corners_covered(part.area, part.corner):
            here = [each for each in places if corner in each.corners]
            if measure is None or not here:
                continue
            least = min(here, key=lambda each: each.thickness[-1])
            old = found.get((measure, corner))
            if old is None or (old.value or 0.0) > least.thickness[-1]:
                found[measure, corner] = CornerValue(
                    name=names[measure],
                    value=least.thickness[-1],
                    quantity="length",
                    known=(least.place or "read") if least.readings else "as new",
                    on=least.read_on,
                    entry=least.entry,
                )
    return found


def _set(setup: tuple[SetupItem, ...], item: str, corner: Corner) -> CornerValue | None:
    """The setting of an item at a corner, or else that of its axle or the whole car."""
    for each in setup:
        if each.item.casefold() == item and each.corner == corner:
            return CornerValue(
                name=item,
                value=each.value,
                quantity=each.quantity,
                written=each.written,
                known="by the sheet" if each.is_by_sheet else "set",
                on=each.since,
                entry=each.entry,
                is_by_sheet=each.is_by_sheet,
            )
    whole = next((each for each in setup if each.item.casefold() == item and not each.corner), None)
    if whole is None:
        return None
    return CornerValue(
        name=item,
        value=whole.value,
        quantity=whole.quantity,
        written=whole.written,
        known="set for all corners",
        on=whole.since,
        entry=whole.entry,
    )


def _order(found: CornerValue) -> tuple[date, int]:
    return found.on or date.min, found.entry or 0


def _last_pressure(
    book: Logbook, day: date, name: str, measure: Measure, corner: Corner
) -> CornerValue | None:
    found = [
        CornerValue(
            name=name,
            value=reading.value,
            quantity="pressure",
            written=reading.written,
            known="read",
            on=entry.day,
            entry=entry.number,
        )
        for entry, reading in book.of(Reading)
        if entry.day <= day and reading.measure is measure and reading.corner == corner
    ]
    return found[-1] if found else None


def _by_document(described: DescribedCar, name: str, path: str, quantity: str) -> Iterable[CornerValue]:
    value = _believed(described, path)
    if value is not None:
        yield CornerValue(
            name=name,
            value=value,
            quantity=quantity,
            known=f"by the car's document, {described.known[path].origin}",
            is_by_document=True,
        )


def _is_engine_front(build: Build, wheelbase: float) -> bool:
    """Whether the engine sits before the middle of the wheelbase; so it does where no position tells."""
    places = [
        each.part.position[0] for each in build.fitted if each.part.position and each.part.family == "engine"
    ]
    return not places or places[0] > -0.5 * wheelbase
