"""What the pages of the car show, worked out of the book: drawing, build, mass, set-up, lives."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from tintop.charts.car_drawing import car_drawing_svg
from tintop.charts.car_picture import CarPicture, car_picture_of
from tintop.errors import TintopError
from tintop.garage.answers import readiness_of
from tintop.garage.car_setup import setup_items_of
from tintop.garage.keeper import Garage
from tintop.garage.loading import load_car
from tintop.garage.predictions import CAR
from tintop.known import Known
from tintop.logbook.build import Build, PartToday
from tintop.logbook.counters import Count, counts_on
from tintop.logbook.entries import Area, Corner, SetupChanged
from tintop.logbook.lives import Life
from tintop.logbook.mass_ledger import MassLedger, mass_ledger
from tintop.logbook.setup import SetupDifference, SetupItem, setup_changes
from tintop.logbook.stands import Stands, look_words, worst_of
from tintop.logbook.wear import Wear
from tintop.web.kept import kept
from tintop.web.typed_form import build_today

LEAST_WORTH = 0.01  # [s] a lap: less is lost in what the prediction rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One line of the build list; `worth` is what its mass costs on a lap [s], None where it is not known.

    `stands` is the worse of its lives and its wear, None where it has neither; `looked` when it was last
    looked at, for a part that is to be.
    """

    today: PartToday
    count: Count
    stands: Stands | None
    looked: str
    worth: float | None

    @property
    def mass(self) -> Known | None:
        """Its mass [kg]."""
        return self.today.part.mass


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaLines:
    """The parts of one area of the car, with the sum of what was weighed [kg] and paid [cents]."""

    area: Area
    lines: tuple[PartLine, ...]
    mass: float
    unweighed: int
    cents: int
    unpriced: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupRow:
    """One item of the set-up by corner, "" for the whole car."""

    item: str
    values: Mapping[Corner, SetupItem]
    since: date
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """The picture with its two arrangements as SVG, or the sentence why there is none."""

    picture: CarPicture | None
    wide: str = ""
    narrow: str = ""
    sentence: str = ""


def drawn_today(garage: Garage) -> Drawn:
    """The car as it stands today, drawn in the owner's units."""
    try:
        digest = garage.document(CAR).digest
    except TintopError as error:
        return Drawn(picture=None, sentence=str(error))
    units = garage.settings.units
    name = f"drawing {digest} {sorted(units.items())}"
    return kept(garage, name, lambda _book, _day: _drawn(garage, units))


def _drawn(garage: Garage, units: Mapping[str, str]) -> Drawn:
    try:
        described = load_car(garage.folder / CAR)
    except TintopError as error:
        return Drawn(picture=None, sentence=str(error))
    picture = car_picture_of(
        described, garage.book, build_today(garage), ledger_today(garage), setup_today(garage)
    )
    return Drawn(
        picture=picture,
        wide=car_drawing_svg(picture, units, name="car"),
        narrow=car_drawing_svg(picture, units, is_narrow=True, name="car-narrow"),
    )


def ledger_today(garage: Garage) -> MassLedger:
    """The mass ledger to today."""
    return kept(garage, "mass ledger", mass_ledger)


def setup_today(garage: Garage) -> tuple[SetupItem, ...]:
    """The set-up of today, by the sheet put on last and what was changed since."""
    return setup_items_of(garage)


def counts_today(garage: Garage) -> Mapping[str, Count]:
    """What every part has run by today."""
    return kept(garage, "counts", counts_on)


def lives_today(garage: Garage) -> tuple[Life, ...]:
    """Every limited life as it stands today, worst first."""
    return readiness_of(garage).lives


def seconds_per_kilogram(garage: Garage) -> float | None:
    """What one kilogram costs on a lap [s/kg] by the prediction for the next event, if it was made."""
    meeting = garage.next_meeting()
    if meeting is None:
        return None
    try:
        found = garage.prediction(meeting)
    except TintopError:
        return None
    if found is None:
        return None
    by_path = {each.path: each.seconds_per_unit for each in found.quick.worth}
    return by_path.get("masses.ballast", by_path.get("masses.car"))


def worth_of(mass: Known | None, per_kilogram: float | None) -> float | None:
    """What a mass costs on a lap [s]; None where nothing tells, or it is too little to be told."""
    if mass is None or per_kilogram is None or abs(worth := mass.value * per_kilogram) < LEAST_WORTH:
        return None
    return worth


def build_lines(garage: Garage) -> tuple[AreaLines, ...]:
    """The build list by area of the car, as one walks round it."""
    build, counts = build_today(garage), counts_today(garage)
    ready = readiness_of(garage)
    limits: dict[str, list[Life | Wear]] = {}
    looked: dict[str, str] = {}
    for wear in ready.wears:
        limits.setdefault(wear.part, []).append(wear)
    for life in ready.lives:
        limits.setdefault(life.part, []).append(life)
        if words := look_words(life):
            looked.setdefault(life.part, words)
    per_kilogram = seconds_per_kilogram(garage)
    found = []
    for area, parts in groupby(build.fitted, key=lambda part: part.area):
        lines = tuple(
            PartLine(
                today=part,
                count=counts[part.part.part],
                stands=worst_of(limits.get(part.part.part, ())),
                looked=looked.get(part.part.part, ""),
                worth=worth_of(part.part.mass, per_kilogram),
            )
            for part in parts
        )
        found.append(_area(area, lines))
    return tuple(found)


def _area(area: Area, lines: tuple[PartLine, ...]) -> AreaLines:
    prices = [line.today.part.price_cents for line in lines]
    return AreaLines(
        area=area,
        lines=lines,
        mass=sum(line.mass.value for line in lines if line.mass),
        unweighed=sum(line.mass is None for line in lines),
        cents=sum(price for price in prices if price is not None),
        unpriced=sum(price is None for price in prices),
    )


def gone_parts(build: Build) -> tuple[PartToday, ...]:
    """Parts that are gone, the last first."""
    return tuple(sorted(build.gone, key=lambda part: part.gone_on or date.min, reverse=True))


def setup_rows(items: Iterable[SetupItem]) -> tuple[SetupRow, ...]:
    """The set-up by item."""
    found = []
    for item, group in groupby(sorted(items, key=lambda each: each.item), key=lambda each: each.item):
        values = {each.corner: each for each in group}
        last = max(values.values(), key=lambda each: (each.since, each.entry))
        found.append(SetupRow(item=item, values=values, since=last.since, reason=last.reason))
    return tuple(found)


def last_setup_change(garage: Garage) -> tuple[date, tuple[SetupDifference, ...]] | None:
    """The last day the set-up came out different from the day before, and in what."""
    today = garage.today()
    days = {entry.day for entry, _ in garage.book.of(SetupChanged) if entry.day <= today}
    for day in sorted(days, reverse=True):
        changes = setup_changes(garage.book, day - timedelta(days=1), day)
        if changes:
            return day, changes
    return None
