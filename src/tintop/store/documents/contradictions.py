"""What a car's document says twice and differently."""

from tintop.car.car import Car
from tintop.car.powertrain import DifferentialKind
from tintop.car.tyres import TyreKind
from tintop.store.documents.numbers import Numbers
from tintop.units import format_quantity

_MOST_OF_THE_FUEL = 0.95  # work, coolant and oil together; the exhaust takes the rest
_BEYOND_THE_CURVE = 1.10  # limiter over the last speed of the curve
_OPEN_AT_MOST = 0.05
_LOCKED_AT_LEAST = 0.95


def refuse_contradictions_within(car: Car, numbers: Numbers) -> None:
    """Note a problem for every two fields that cannot both be true."""
    _heat(car, numbers)
    _tyres(car, numbers)
    _differential(car, numbers)
    _oil_cooler(car, numbers)
    _limiter(car, numbers)


def _note(numbers: Numbers, path: str, found: str, expected: str, cure: str = "") -> None:
    numbers.problems.append(numbers.document.problem(path, found, expected, cure))


def _heat(car: Car, numbers: Numbers) -> None:
    work = 1.0 / (car.engine.specific_consumption * car.fuel.heating_value)
    total = work + car.cooling.heat_to_coolant_share + car.cooling.heat_to_oil_share
    if total > _MOST_OF_THE_FUEL:
        _note(
            numbers,
            "cooling.heat_to_coolant_share",
            f"work, coolant and oil taking {100 * total:.0f} % of the fuel's energy",
            f"{100 * _MOST_OF_THE_FUEL:.0f} % at most, for the exhaust takes the rest",
            "Check engine.specific_consumption, fuel.heating_value and the heat shares.",
        )


def _tyres(car: Car, numbers: Numbers) -> None:
    kinds = (car.tyre_front.kind, car.tyre_rear.kind)
    if TyreKind.WET in kinds and len(set(kinds)) > 1:
        found = f"{kinds[0]} tyres in front and {kinds[1]} tyres at the rear"
        _note(numbers, "tyres.kind", found, "wet tyres on both axles or on none")
    for axle, tyre in (("front", car.tyre_front), ("rear", car.tyre_rear)):
        if tyre.pressure_hot is not None and tyre.pressure_hot <= tyre.pressure_cold:
            place = numbers.written[f"tyre_{axle}.pressure_hot"][1]
            cold = format_quantity(tyre.pressure_cold, "bar")
            found = format_quantity(tyre.pressure_hot, "bar")
            _note(numbers, place, found, f"more than the {cold} the {axle} tyres have cold")


def _differential(car: Car, numbers: Numbers) -> None:
    unit = car.gearbox.differential
    path = "gearbox.differential.lock_share_drive"
    if unit.kind is DifferentialKind.OPEN and unit.lock_share_drive > _OPEN_AT_MOST:
        _note(
            numbers,
            path,
            f"an open differential that locks by {100 * unit.lock_share_drive:.0f} %",
            f"{100 * _OPEN_AT_MOST:.0f} % at most for an open one",
            'If it is a limited-slip unit, write kind = "limited_slip".',
        )
    if unit.kind is DifferentialKind.LOCKED and unit.lock_share_drive < _LOCKED_AT_LEAST:
        found = f"a locked differential that locks by {100 * unit.lock_share_drive:.0f} %"
        _note(numbers, path, found, f"{100 * _LOCKED_AT_LEAST:.0f} % or more for a locked one")


def _oil_cooler(car: Car, numbers: Numbers) -> None:
    has_face = car.cooling.oil_core_face_area > 0.0
    has_core = car.cooling.oil_core_conductance > 0.0
    if has_face != has_core:
        missing = "oil_core_conductance" if has_face else "oil_core_face_area"
        _note(
            numbers,
            f"cooling.{missing}",
            "half an oil cooler",
            "both its face area and its conductance, or neither",
        )


def _limiter(car: Car, numbers: Numbers) -> None:
    last = car.engine.speeds[-1]
    if car.engine.limiter_speed > _BEYOND_THE_CURVE * last:
        _note(
            numbers,
            "engine.limiter_speed",
            format_quantity(car.engine.limiter_speed, "rpm"),
            f"at most 10 % above the curve's last speed, {format_quantity(last, 'rpm')}",
            "Lower the limit or extend the dyno sheet.",
        )
