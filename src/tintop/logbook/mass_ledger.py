"""Every kilogram taken out and put in since the car was bought, against what the scales said."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.build import END_OF_DAY, Build, PartToday, build_on, clock_of
from tintop.logbook.entries import Corner, Entry, Measure, Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class MassLine:
    """One change of mass [kg]: a part taken off (negative) or put on, and the sum so far.

    `change` is None for a part nobody weighed; it then adds nothing to the running sum, and is named in
    `MassLedger.unweighed`. Uncertainties are standard ones; that of the sum is the root of the sum of
    squares over parts, so that a part taken off and put back leaves none.
    """

    day: date
    entry: int
    part: str
    name: str
    change: float | None
    uncertainty: float
    running_change: float
    running_uncertainty: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """One weighing of the whole car [kg] against the ledger; `ledger` is None before the first weighing.

    `difference` is scales less ledger; it is explained when within twice `doubt`, its standard uncertainty.
    """

    day: date
    entry: int
    mass: float
    uncertainty: float
    ledger: float | None
    difference: float | None
    doubt: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerWeighing:
    """Loads on four pads read together [kg]; shares of the total, and against the last whole-car mass.

    `cross_share` is that of FR and RL together. `difference` is the sum less the mass on the scales that day,
    None when the car was not weighed whole then; `place` says how it stood, such as "driver aboard".
    """

    day: date
    place: str
    loads: tuple[float, float, float, float]  # FL FR RL RR
    total: float
    front_share: float
    left_share: float
    cross_share: float
    difference: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MassLedger:
    """The ledger to a day: lines, weighings, corner loads; masses [kg] without driver and fuel.

    `bought` is the car as bought, by the first weighing less what had changed before it; `today` is the last
    weighing plus what has changed since. Both are None without any weighing.
    """

    lines: tuple[MassLine, ...]
    weighings: tuple[Weighing, ...]
    corners: tuple[CornerWeighing, ...]
    taken_off: float  # negative or zero
    put_on: float
    bought: float | None
    bought_uncertainty: float | None
    today: float | None
    today_uncertainty: float | None
    unweighed: tuple[str, ...]


SCALE_DOUBT = 2.0  # standard uncertainty of a weighing of the whole car [kg]; an estimate
_ORDER: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")


def mass_ledger(book: Logbook, day: date) -> MassLedger:
    """The ledger of mass at the end of a day."""
    build = build_on(book, day)
    changes = sorted(_changes(build), key=lambda change: (change.day, change.clock, change.entry))
    lines: list[MassLine] = []
    total = 0.0
    for number, change in enumerate(changes, 1):
        total += change.mass or 0.0
        lines.append(
            MassLine(
                day=change.day,
                entry=change.entry,
                part=change.part.part.part,
                name=change.part.part.name,
                change=change.mass,
                uncertainty=change.uncertainty,
                running_change=total,
                running_uncertainty=_doubt(changes[:number]),
            )
        )
    scales = [
        _Scales(
            day=entry.day, clock=clock_of(entry.clock) or END_OF_DAY, entry=entry.number, mass=reading.value
        )
        for entry, reading in book.of(Reading)
        if reading.measure is Measure.MASS and entry.day <= day
    ]
    scales.sort(key=lambda each: (each.day, each.clock, each.entry))
    bought = bought_doubt = today = today_doubt = None
    if scales:
        before = [change for change in changes if change.is_before(scales[0])]
        since = [change for change in changes if not change.is_before(scales[-1])]
        bought = scales[0].mass - _sum(before)
        bought_doubt = math.hypot(SCALE_DOUBT, _doubt(before))
        today = scales[-1].mass + _sum(since)
        today_doubt = math.hypot(SCALE_DOUBT, _doubt(since))
    return MassLedger(
        lines=tuple(lines),
        weighings=tuple(_weighing(each, scales[0], changes) for each in scales),
        corners=_corner_weighings(book, day, scales),
        taken_off=sum(change.mass for change in changes if change.mass is not None and change.mass < 0.0),
        put_on=sum(change.mass for change in changes if change.mass is not None and change.mass > 0.0),
        bought=bought,
        bought_uncertainty=bought_doubt,
        today=today,
        today_uncertainty=today_doubt,
        unweighed=tuple(dict.fromkeys(change.part.part.name for change in changes if change.mass is None)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scales:
    day: date
    clock: str
    entry: int
    mass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Change:
    day: date
    clock: str
    entry: int
    part: PartToday
    sign: int

    @property
    def mass(self) -> float | None:
        known = self.part.part.mass
        return self.sign * known.value if known is not None else None

    @property
    def uncertainty(self) -> float:
        known = self.part.part.mass
        return known.uncertainty if known is not None else 0.0

    def is_before(self, scales: _Scales) -> bool:
        return (self.day, self.clock) <= (scales.day, scales.clock)


def changed_since(build: Build, weighing: Entry) -> tuple[tuple[PartToday, int], ...]:
    """Parts on the car now that were not when it was weighed (1), and the other way round (-1)."""
    scales = _Scales(
        day=weighing.day, clock=clock_of(weighing.clock) or END_OF_DAY, entry=weighing.number, mass=0.0
    )
    net: dict[str, int] = {}
    for change in _changes(build):
        if not change.is_before(scales):
            net[change.part.part.part] = net.get(change.part.part.part, 0) + change.sign
    return tuple((build.by_name[name], sign) for name, sign in net.items() if sign)


def _changes(build: Build) -> Iterator[_Change]:
    """Every part put on and taken off; one moved on the car within a day changes nothing."""
    for part in build.by_name.values():
        stays = part.fittings
        for place, stay in enumerate(stays):
            was_moved = place > 0 and stays[place - 1].until == stay.since
            came_so = place == 0 and part.part.came_with_car and stay.entry == part.entry
            if not was_moved and not came_so:
                yield _Change(day=stay.since, clock=stay.since_clock, entry=stay.entry, part=part, sign=1)
            is_moved = place + 1 < len(stays) and stays[place + 1].since == stay.until
            if stay.until is not None and stay.until_entry is not None and not is_moved:
                yield _Change(
                    day=stay.until, clock=stay.until_clock, entry=stay.until_entry, part=part, sign=-1
                )


def _sum(changes: Iterable[_Change]) -> float:
    return math.fsum(change.mass or 0.0 for change in changes)


def _doubt(changes: Iterable[_Change]) -> float:
    net: dict[str, float] = {}
    for change in changes:
        name = change.part.part.part
        net[name] = net.get(name, 0.0) + change.sign * change.uncertainty
    return math.sqrt(math.fsum(each * each for each in net.values()))


def _weighing(scales: _Scales, first: _Scales, changes: list[_Change]) -> Weighing:
    ledger = difference = doubt = None
    if scales is not first:
        between = [change for change in changes if change.is_before(scales) and not change.is_before(first)]
        ledger = first.mass + _sum(between)
        difference = scales.mass - ledger
        doubt = math.sqrt(2.0 * SCALE_DOUBT**2 + _doubt(between) ** 2)
    return Weighing(
        day=scales.day,
        entry=scales.entry,
        mass=scales.mass,
        uncertainty=SCALE_DOUBT,
        ledger=ledger,
        difference=difference,
        doubt=doubt,
    )


def _corner_weighings(book: Logbook, day: date, scales: list[_Scales]) -> tuple[CornerWeighing, ...]:
    sets: dict[tuple[date, str, str], dict[Corner, float]] = {}
    for entry, reading in book.of(Reading):
        if reading.measure is Measure.CORNER_LOAD and entry.day <= day and reading.corner:
            key = (entry.day, reading.session, reading.place)
            sets.setdefault(key, {})[reading.corner] = reading.value
    weighed = {each.day: each.mass for each in scales}
    found = []
    for (when, _, place), loads in sets.items():
        if len(loads) < len(_ORDER):
            continue
        front_left, front_right, rear_left, rear_right = (loads[corner] for corner in _ORDER)
        total = front_left + front_right + rear_left + rear_right
        if total <= 0.0:
            continue
        whole = weighed.get(when) if not place else None
        found.append(
            CornerWeighing(
                day=when,
                place=place,
                loads=(front_left, front_right, rear_left, rear_right),
                total=total,
                front_share=(front_left + front_right) / total,
                left_share=(front_left + rear_left) / total,
                cross_share=(front_right + rear_left) / total,
                difference=total - whole if whole is not None else None,
            )
        )
    return tuple(found)
