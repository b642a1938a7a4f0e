"""Springs and bars that are not on the list: a typed rate, asked about where it cannot be meant; SI."""

import re
from dataclasses import replace

from tintop.car.body_roll import body_roll
from tintop.car.car import Car
from tintop.car.chassis import AxleChassis, Bar, Chassis, End, Spring
from tintop.car.setup import AxleSetup, Setup
from tintop.car.springs_and_bars import sprung_corner_mass
from tintop.checks import require
from tintop.errors import refuse
from tintop.physics.ride import ride_frequency, wheel_rate
from tintop.units import parse_quantity, unit_named

LOWEST_FREQUENCY, HIGHEST_FREQUENCY = 0.8, 3.5  # [Hz] of a saloon on its springs; common practice, no source
_RATE = re.compile(r"([+\-]?[0-9.,]+)(.*)")
FREE_BAR = "a bar of this stiffness"


def frequency_on_spring(axle: AxleChassis, spring_rate: float, sprung_mass: float) -> float:
    """Frequency [Hz] of a corner on a spring of this rate [N/m] alone, its tyre taken as rigid.

    With the tyre in series no spring is stiff enough to look wrong.
    """
    return ride_frequency(wheel_rate(spring_rate, axle.motion_ratio), sprung_mass)


def free_spring(axle: AxleChassis, rate: float, unit: str, sprung_mass: float, where: str) -> Spring:
    """A spring of a typed rate [N/m], read in a unit; BadInput asking where its frequency is not a car's.

    The question says what the same figure would be in the other unit of the trade.
    """
    shown = rate / unit_named(unit, "spring rate").factor
    require(5e3 <= rate <= 4e5, where, f"{shown:g} {unit}", "a coil spring of 5 to 400 N/mm")
    frequency = frequency_on_spring(axle, rate, sprung_mass)
    if not LOWEST_FREQUENCY <= frequency <= HIGHEST_FREQUENCY:
        other = "N/mm" if unit == "lb/in" else "lb/in"
        meant = shown * unit_named(other, "spring rate").factor
        there = frequency_on_spring(axle, meant, sprung_mass)
        raise refuse(
            where,
            f"{shown:g} {unit}, which bounces at {frequency:.1f} Hz",
            f"a rate that gives {LOWEST_FREQUENCY:g} to {HIGHEST_FREQUENCY:g} Hz",
            f"Is it {shown:g} {other}, which is {_in(meant, unit)} and {there:.1f} Hz? "
            f'Then write "{shown:g} {other}".'
            if LOWEST_FREQUENCY <= there <= HIGHEST_FREQUENCY
            else "It is the spring's own rate, not the wheel's: the motion ratio is squared in. One that is "
            "so all the same belongs in chassis.toml.",
        )
    return Spring(name=f"{shown:g} {unit}", rate=rate)


def with_spring_named(
    car: Car, chassis: Chassis, setup: Setup, end: End, text: str, unit: str, where: str
) -> tuple[Chassis, Setup]:
    """The set-up with a spring of the list by its name, or with one of a rate as typed, in `unit` if bare.

    BadInput naming `where`, and the list for what is neither.
    """
    axle = chassis.at(end)
    if any(one.name == text for one in axle.springs):
        return chassis, _with_end(setup, end, replace(setup.at(end), spring=text))
    written = _RATE.fullmatch(text.strip())
    if not written:
        axle.spring(text)  # refuses, naming the list
    assert written
    own = written[2].strip() or unit
    rate = parse_quantity(f"{written[1]} {own}".strip(), "spring rate", where)
    body = body_roll(car, setup.fuel_volume * car.fuel.density)
    found = unit_named(own, "spring rate").name
    return with_spring(
        chassis, setup, end, free_spring(axle, rate, found, sprung_corner_mass(body, end), where)
    )


def _in(rate: float, unit: str) -> str:
    return f"{rate / unit_named(unit, 'spring rate').factor:.4g} {unit}"


def with_spring(chassis: Chassis, setup: Setup, end: End, spring: Spring) -> tuple[Chassis, Setup]:
    """The chassis with a spring more on its list, and the set-up with it at one end."""
    axle, chosen = chassis.at(end), setup.at(end)
    others = tuple(one for one in axle.springs if one.name != spring.name)
    return (
        _with_axle(chassis, end, replace(axle, springs=(*others, spring))),
        _with_end(setup, end, replace(chosen, spring=spring.name)),
    )


def with_bar(chassis: Chassis, setup: Setup, end: End, roll_stiffness: float) -> tuple[Chassis, Setup]:
    """The chassis and the set-up with a bar of one hole and this roll stiffness [N·m/rad] at one end."""
    axle, chosen = chassis.at(end), setup.at(end)
    others = tuple(one for one in axle.bars if one.name != FREE_BAR)
    bar = Bar(name=FREE_BAR, roll_stiffness=(roll_stiffness,))
    return (
        _with_axle(chassis, end, replace(axle, bars=(*others, bar))),
        _with_end(setup, end, replace(chosen, bar=FREE_BAR, bar_hole=1)),
    )


def _with_axle(chassis: Chassis, end: End, axle: AxleChassis) -> Chassis:
    return replace(chassis, front=axle) if end is End.FRONT else replace(chassis, rear=axle)


def _with_end(setup: Setup, end: End, chosen: AxleSetup) -> Setup:
    return replace(setup, front=chosen) if end is End.FRONT else replace(setup, rear=chosen)
