"""A typed rate: the slips of the paddock are asked about, a plain one is taken."""

import math

import pytest

from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.car.chassis import End
from tintop.car.free_parts import free_spring, frequency_on_spring, with_bar, with_spring
from tintop.car.springs_and_bars import springs_and_bars
from tintop.errors import BadInput
from tintop.event import Weather

CHASSIS, SETUP = chassis_by_hand(), dry_by_hand()
POUND_PER_INCH = 0.45359237 * 9.80665 / 0.0254
CORNER = 308.0  # [kg]


def test_pounds_an_inch_typed_as_newtons_a_millimetre_are_asked_about() -> None:
    axle, mass = CHASSIS.front, CORNER
    with pytest.raises(BadInput) as raised:
        free_spring(axle, 400e3, "N/mm", mass, "front spring")
    words = str(raised.value)
    there = frequency_on_spring(axle, 400.0 * POUND_PER_INCH, mass)
    assert "Is it 400 lb/in, which would be 70.05 N/mm" in words
    assert f"{there:.1f} Hz?" in words
    assert "front spring" in words


def test_newtons_a_millimetre_typed_as_pounds_an_inch_are_asked_about() -> None:
    axle, mass = CHASSIS.front, CORNER
    with pytest.raises(BadInput, match=r"Is it 40 N/mm, which would be 228\.4 lb/in"):
        free_spring(axle, 40.0 * POUND_PER_INCH, "lb/in", mass, "front spring")


@pytest.mark.parametrize("rate", [0.0, -5e4, 1e9, math.nan])
def test_a_rate_that_is_no_coil_spring_is_refused(rate: float) -> None:
    with pytest.raises(BadInput, match="5 to 400 N/mm"):
        free_spring(CHASSIS.front, rate, "N/mm", 300.0, "front spring")


def test_a_rate_odd_in_both_units_is_asked_about() -> None:
    with pytest.raises(BadInput, match="motion ratio is squared"):
        free_spring(CHASSIS.front, 390e3, "N/mm", 20.0, "front spring")


def test_a_plain_rate_is_taken_and_so_is_an_odd_one_with_its_unit_written() -> None:
    assert free_spring(CHASSIS.front, 5e4, "N/mm", 300.0, "front spring").rate == 5e4
    written = free_spring(CHASSIS.front, 3e5, "N/mm", 300.0, "front spring", is_unit_written=True)
    assert written.rate == 3e5


def test_free_parts_go_on_the_car() -> None:
    spring = free_spring(CHASSIS.rear, 5.5e4, "N/mm", 200.0, "rear spring")
    chassis, setup = with_spring(CHASSIS, SETUP, End.REAR, spring)
    chassis, setup = with_bar(chassis, setup, End.FRONT, 2.7e4)
    chassis, setup = with_bar(chassis, setup, End.FRONT, 2.8e4)
    found = springs_and_bars(car_by_hand(), chassis, setup, Weather())
    assert found.rear.spring_rate == 5.5e4
    assert found.front.roll_of_bar == 2.8e4
    assert len(chassis.front.bars) == 2
    assert SETUP.rear.spring == "soft"
