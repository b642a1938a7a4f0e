"""A typed rate: the slips of the paddock are asked about, a plain one is taken."""

import math

import pytest

from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.car.chassis import End
from tintop.car.free_parts import free_spring, frequency_on_spring, with_bar, with_spring, with_spring_named
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
    assert "Is it 400 lb/in, which is 70.05 N/mm" in words
    assert f"{there:.1f} Hz?" in words
    assert "front spring" in words


def test_newtons_a_millimetre_typed_as_pounds_an_inch_are_asked_about() -> None:
    axle, mass = CHASSIS.front, CORNER
    with pytest.raises(BadInput, match=r"Is it 40 N/mm, which is 228\.4 lb/in"):
        free_spring(axle, 40.0 * POUND_PER_INCH, "lb/in", mass, "front spring")


@pytest.mark.parametrize("rate", [0.0, -5e4, 1e9, math.nan])
def test_a_rate_that_is_no_coil_spring_is_refused(rate: float) -> None:
    with pytest.raises(BadInput, match="5 to 400 N/mm"):
        free_spring(CHASSIS.front, rate, "N/mm", 300.0, "front spring")


def test_a_rate_odd_in_both_units_is_asked_about() -> None:
    with pytest.raises(BadInput, match="motion ratio is squared"):
        free_spring(CHASSIS.front, 390e3, "N/mm", 20.0, "front spring")


def test_a_plain_rate_is_taken() -> None:
    assert free_spring(CHASSIS.front, 5e4, "N/mm", 300.0, "front spring").rate == 5e4


@pytest.mark.parametrize(
    ("text", "rate"), [("stiff", 6e4), ("65", 6.5e4), ("65 N/mm", 6.5e4), ("350 lb/in", 350 * POUND_PER_INCH)]
)
def test_a_spring_is_named_or_its_rate_is_typed(text: str, rate: float) -> None:
    chassis, setup = with_spring_named(car_by_hand(), CHASSIS, SETUP, End.FRONT, text, "N/mm", "front")
    assert chassis.front.spring(setup.front.spring).rate == pytest.approx(rate, rel=1e-12)
    assert setup.rear == SETUP.rear


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("stif", "Did you mean stiff"),
        ("400 N/mm", "400 lb/in"),
        ("65 psi", "which is a pressure"),
        ("6.5", "5 to"),
    ],
)
def test_what_is_no_spring_is_refused_in_plain_words(text: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        with_spring_named(car_by_hand(), CHASSIS, SETUP, End.FRONT, text, "lb/in", "front spring")


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
