"""The set-up on a garage's car: item by item, and where a prediction was made for another."""

import math
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import End
from tintop.car.setup import Setup
from tintop.car.tyres import Tyre
from tintop.errors import TintopError
from tintop.event import Weather
from tintop.garage.bench import Bench, bench_of
from tintop.garage.keeper import CHASSIS, Garage
from tintop.logbook.setup import SetupItem, setup_on
from tintop.logbook.setup_by_sheet import setup_items

_SAME_CAMBER = math.radians(0.15)
_SAME_SHARE = 0.02  # of a roll stiffness or a final drive
_SAME_BIAS = 0.01  # of the braking, at the front


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSetup:
    """The set-up on the car, by stem and name, and what of it the car's document has otherwise."""

    stem: str
    name: str
    differs_in: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """One line that says so."""
        what = ", ".join(self.differs_in[:-1])
        what = f"{what} and {self.differs_in[-1]}" if what else self.differs_in[-1]
        return f"Predicted with the {what} of the car's document; {self.name}, on the car, has others."


def _bench(garage: Garage) -> Bench | None:
    if CHASSIS not in garage.document_names():
        return None
    try:
        return bench_of(garage)
    except TintopError:
        return None


def setup_items_of(garage: Garage) -> tuple[SetupItem, ...]:
    """The set-up of today: by the sheet put on last and what changed since, or by the entries alone."""
    bench, book, day = _bench(garage), garage.book, garage.today()
    if bench is None:
        return setup_on(book, day)
    return setup_items(bench.today, book, day, bench.chassis)


def other_setup(garage: Garage) -> OtherSetup | None:
    """What of the set-up on the car is not in the predictions; None where nothing is, or none is known."""
    bench = _bench(garage)
    if bench is None or not bench.fitted:
        return None
    try:
        setup = bench.setup()
        differs = differs_in(bench, setup)
    except TintopError:
        return None
    return OtherSetup(stem=bench.fitted, name=setup.name, differs_in=differs) if differs else None


def differs_in(bench: Bench, setup: Setup) -> tuple[str, ...]:
    """In what a set-up differs from the car's document, as far as a lap feels it; as car_with_setup."""
    was = bench.described.car
    now = car_with_setup(was, bench.chassis, setup, Weather())
    tyres = bench.chassis.tyres(setup.tyres)
    asked = {
        "tyres": not (_is_same(tyres.front, was.tyre_front) and _is_same(tyres.rear, was.tyre_rear)),
        "camber": any(abs(a - b) > _SAME_CAMBER for a, b in zip(_cambers(was), _cambers(now), strict=True)),
        "springs and bars": any(
            abs(_stiffness(now, end) / _stiffness(was, end) - 1.0) > _SAME_SHARE for end in End
        ),
        "brake bias": abs(_bias(now) - _bias(was)) > _SAME_BIAS,
        "pads": (now.brakes.front.pad.frictions, now.brakes.rear.pad.frictions)
        != (was.brakes.front.pad.frictions, was.brakes.rear.pad.frictions),
        "final drive": abs(now.gearbox.final_drive / was.gearbox.final_drive - 1.0) > _SAME_SHARE,
    }
    return tuple(name for name, is_other in asked.items() if is_other)


def front_share_of(bench: Bench, setup: Setup) -> float | None:
    """The front's share of the braking with a set-up on the car; None where it names what the car has not."""
    try:
        return _bias(car_with_setup(bench.described.car, bench.chassis, setup, Weather()))
    except TintopError:
        return None


def _is_same(one: Tyre, other: Tyre) -> bool:
    return one.kind is other.kind and math.isclose(one.friction_lateral, other.friction_lateral, rel_tol=1e-3)


def _cambers(car: Car) -> tuple[float, float]:
    return car.suspension.camber_front, car.suspension.camber_rear


def _stiffness(car: Car, end: End) -> float:
    found = car.suspension.roll_stiffness_front if end is End.FRONT else car.suspension.roll_stiffness_rear
    return float(found)


def _bias(car: Car) -> float:
    from tintop.lap.what_if import as_it_stands  # fetches the lap model

    return as_it_stands(car).brake_front_share
