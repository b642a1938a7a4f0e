"""What a garage's logbook knows for a weighing: the last loads, what they foretell, the driver's side."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tintop.car.car import Car
from tintop.car.described import DescribedCar
from tintop.car.on_scales import Lifted, OnScales
from tintop.garage.bench import Bench, bench_of, load_bench
from tintop.garage.keeper import CHASSIS, Garage
from tintop.garage.loading import load_car
from tintop.garage.predictions import CAR
from tintop.logbook.build import build_on
from tintop.logbook.mass_balance import (
    Foretold,
    Stood,
    driver_side,
    entry_of,
    foretold,
    last_alike,
    stood_of,
)
from tintop.logbook.mass_ledger import CornerWeighing, MassLedger, changed_since, mass_ledger
from tintop.questions.what_does_it_weigh import Before, Weighed, what_does_it_weigh


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighingAsked:
    """What is wanted of a weighing: cross-weight, perches, the raised axle, fuel at the finish [m³]."""

    setup: str = ""
    lifted: Lifted | None = None
    target: float = 0.5
    corners: tuple[str, ...] = ()
    are_bars_hooked: bool = False
    finish_fuel: float = 0.0


def last_on_scales(garage: Garage) -> tuple[OnScales, CornerWeighing] | None:
    """The last four loads of the logbook as they stood; None where there are none."""
    ledger = _ledger(garage)
    if not ledger.corners:
        return None
    last = ledger.corners[-1]
    stood = stood_of(last.place)
    return (
        OnScales(loads=last.loads, is_driver_aboard=stood.is_driver_aboard, fuel_volume=stood.fuel_volume),
        last,
    )


def known_before(garage: Garage, stood: Stood, car: Car, own: CornerWeighing | None = None) -> Before:
    """The ledger, the loads read before with the car standing alike, and what they foretell.

    Nothing is foretold where the fuel then or now was not written down.
    `own` are the book's own loads, when it is those that are worked out and not new ones.
    """
    book, today = garage.book, garage.today()
    ledger = _ledger(garage)

    dimensions = car.dimensions

    def told(weighing: CornerWeighing, day: date, fuel_mass: float = 0.0) -> Foretold:
        return foretold(
            weighing,
            changed_since(build_on(book, day), entry_of(book, weighing)),
            dimensions.wheelbase,
            dimensions.track_front,
            dimensions.track_rear,
            (fuel_mass, -car.masses.tank_behind_front_axle),
        )

    earlier = [each for each in ledger.corners if own is None or each.day < own.day]
    last = last_alike(earlier, stood)
    then = stood_of(last.place).fuel_volume if last else None
    foretold_now = None
    if last is not None and then is not None and stood.fuel_volume is not None:
        more = (stood.fuel_volume - then) * car.fuel.density
        foretold_now = told(last, own.day if own else today, more)
    return Before(
        last=last,
        foretold=foretold_now,
        read_on=own.day if own else None,
        now=told(own, today) if own else None,
        ledger=ledger,
        driver_side=driver_side(build_on(book, today)),
    )


def weighed_in(
    garage: Garage, scales: OnScales, asked: WeighingAsked, own: CornerWeighing | None = None
) -> Weighed:
    """Weigh the car of a garage as it is today; without chassis.toml there are no turns and no ballast."""
    bench = bench_of(garage) if CHASSIS in garage.document_names() else None
    described = bench.described if bench else garage.car()
    stood = Stood(is_driver_aboard=scales.is_driver_aboard, fuel_volume=scales.fuel_volume)
    before = garage.remember(
        "before the weighing",
        (garage.book.last_number, garage.today(), stood, own, described),
        lambda: known_before(garage, stood, described.car, own),
    )
    return _answered(scales, asked, described, bench, before)


def weighed_at(folder: Path, scales: OnScales, asked: WeighingAsked) -> Weighed:
    """Weigh the car of a plain folder, where nothing is known of before."""
    bench = load_bench(folder) if (folder / CHASSIS).exists() else None
    described = bench.described if bench else load_car(folder / CAR)
    return _answered(scales, asked, described, bench, Before())


def _answered(
    scales: OnScales, asked: WeighingAsked, described: DescribedCar, bench: Bench | None, before: Before
) -> Weighed:
    setup = None
    if bench is not None and (asked.setup or bench.fitted):
        setup = bench.setup(asked.setup)
    return what_does_it_weigh(
        scales,
        described,
        chassis=bench.chassis if bench else None,
        setup=setup,
        lifted=asked.lifted,
        target=asked.target,
        corners=asked.corners,
        are_bars_hooked=asked.are_bars_hooked,
        before=before,
        finish_fuel=asked.finish_fuel,
    )


def _ledger(garage: Garage) -> MassLedger:
    book, today = garage.book, garage.today()
    return garage.remember(
        "ledger of the weighing", (book.last_number, today), lambda: mass_ledger(book, today)
    )
