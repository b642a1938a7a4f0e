"""Slips a chassis document is asked about: lb/in written as N/mm, a motion ratio the wrong way up."""

from dataclasses import replace

from tintop.car.chassis import AxleChassis, End
from tintop.car.described import DescribedCar
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.physics.ride import ride_frequency, ride_rate, wheel_rate
from tintop.store.documents.chassis_document import AxleTable, SpringTable
from tintop.store.documents.numbers import Numbers
from tintop.store.documents.written import Number
from tintop.units import format_quantity, parse_quantity

FREQUENCIES = (0.8, 4.0)  # [Hz] of sprung saloons, softest to stiffest; common practice, no source
_BOTH_UNITS = (100.0, 260.0)  # numbers usual in N/mm and in lb/in alike
_MOST_IN_LB = 1500.0
_LEAST_PRESSURE, _MOST_PRESSURE = 0.7e5, 3.2e5  # 10 psi; 3.2 to 60 "bar" are psi (common practice, no source)
_SURE = "If it is meant as written, add sure = true beside it."
_HOW_MEASURED = (
    "Every rate at the wheel goes with its square, and it differs from car to car: none is taken. "
    "Measure it: the car on stands, a jack under the hub; raise the wheel 40 mm by a tape, measure "
    "how much shorter the spring became, and divide: 30 mm is 0.75."
)


def doubt_springs(
    table: AxleTable, axle: AxleChassis, end: End, numbers: Numbers, described: DescribedCar
) -> None:
    """Note a question for every spring whose ride frequency, or whose number, suggests the other unit."""
    mass = sprung_corner(described, end)
    for place, written in enumerate(table.springs, 1):
        if written.rate is None or written.sure:
            continue
        question = _question(written, axle, mass)
        if question:
            path = f"{end.value}.springs.{place}.rate"
            expected = "a spring with which the car bounces 0.8 to 4 times a second"
            numbers.problems.append(
                numbers.document.problem(path, question[0], expected, f"{question[1]} {_SURE}".strip())
            )


def sprung_corner(described: DescribedCar, end: End) -> float:
    """The sprung mass on one wheel [kg], driver aboard, no fuel."""
    masses = described.car.masses
    is_front = end is End.FRONT
    share = masses.front_share if is_front else 1.0 - masses.front_share
    unsprung = masses.unsprung_front if is_front else masses.unsprung_rear
    return 0.5 * (share * masses.without_fuel - unsprung)


def _question(written: SpringTable, axle: AxleChassis, mass: float) -> tuple[str, str] | None:
    rate = written.rate
    if rate is None or mass <= 0.0:
        return None
    frequency = _frequency(rate.value, axle, mass)
    other, other_text = _in_the_other_unit(rate.text)
    other_fits = other is not None and _is_likely(_frequency(other, axle, mass))
    said = f"{rate.text!r}, with which this end would bounce at {frequency:.1f} Hz"
    if not _is_likely(frequency):
        return said, f'Is it "{other_text}"?' if other_fits else "Check the rate and the motion ratio."
    number = _number_in(rate.text, "N/mm")
    if number is None or not other_fits:
        return None
    if _BOTH_UNITS[1] < number <= _MOST_IN_LB:
        return f"{rate.text!r}, a number usual in lb/in and not in N/mm", f'Is it "{other_text}"?'
    is_certain = rate.origin in (Origin.MEASURED, Origin.DOCUMENTED)
    if _BOTH_UNITS[0] <= number <= _BOTH_UNITS[1] and not is_certain:
        return f"{rate.text!r}, a number usual in N/mm and in lb/in", f'Is it "{other_text}"?'
    return None


def _frequency(rate: float, axle: AxleChassis, mass: float) -> float:
    if rate <= 0.0:
        return 0.0
    return ride_frequency(ride_rate(wheel_rate(rate, axle.motion_ratio), axle.tyre_rate), mass)


def _is_likely(frequency: float) -> bool:
    return FREQUENCIES[0] <= frequency <= FREQUENCIES[1]


def _in_the_other_unit(text: str) -> tuple[float | None, str]:
    for unit, other in (("N/mm", "lb/in"), ("lb/in", "N/mm")):
        number = _number_in(text, unit)
        if number is not None:
            said = f"{number:g} {other}"
            return parse_quantity(said, "spring rate"), said
    return None, ""


def _number_in(text: str, unit: str) -> float | None:
    """The number of a rate written in a unit; None if it is written in another."""
    value = parse_quantity(text, "spring rate")
    number = value / parse_quantity(f"1 {unit}", "spring rate")
    written = "".join(each for each in text if each in "0123456789.,").replace(",", ".")
    try:
        return number if abs(float(written) - number) <= 1e-6 * abs(number) else None
    except ValueError:
        return None


def doubt_pressure(written: Number, path: str, numbers: Numbers, when: str) -> bool:
    """Note a question for a pressure that no car's tyre has, and say whether there was one."""
    if written is None or _LEAST_PRESSURE <= written.value <= _MOST_PRESSURE:
        return False
    number = written.text.strip().split()[0].rstrip("abcdefghijklmnopqrstuvwxyz").replace(",", ".")
    is_high = written.value > _MOST_PRESSURE
    unit = "psi" if is_high and written.value <= 60e5 else "bar"
    try:
        other = parse_quantity(f"{number} {unit}", "pressure")
        is_likely = _LEAST_PRESSURE <= other <= _MOST_PRESSURE
    except BadInput:
        is_likely = False
    low, high = format_quantity(_LEAST_PRESSURE, "bar"), format_quantity(_MOST_PRESSURE, "bar")
    cure = f'Is it "{number} {unit}"?' if is_likely else ""
    expected = f"{low} to {high} above the air, {when}"
    numbers.problems.append(numbers.document.problem(path, repr(written.text), expected, cure))
    return True


def say_how_ratios_are_measured(error: BadInput) -> BadInput:
    """The error with the way to a motion ratio that is not stated: no class of car has a usual one."""
    return BadInput(
        *(
            replace(each, cure=_HOW_MEASURED)
            if each.where.endswith(".motion_ratio") and each.found == "nothing"
            else each
            for each in error.problems
        )
    )


def say_of_motion_ratios(numbers: Numbers) -> None:
    """Add to every refused motion ratio how it may have come about."""
    for place, problem in enumerate(numbers.problems):
        if not problem.where.endswith("motion_ratio") or problem.cure:
            continue
        path = problem.where.rpartition(", ")[2]
        written = numbers.written.get(path)
        if written is None:
            continue
        value = written[0].value
        cure = "It is the travel of spring or damper per travel of the wheel."
        if 1.1 < value <= 5.0:
            cure += f" If yours is the wheel's over the part's, write {1.0 / value:.3g}."
        numbers.problems[place] = replace(problem, cure=cure)
