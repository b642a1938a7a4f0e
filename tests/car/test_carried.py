"""What of the scales' total is driver and fuel."""

import pytest

from benches import demo_bench
from tintop.car.carried import carried_words, what_fits
from tintop.car.on_scales import OnScales

CAR = demo_bench().described.car
DRIVER = CAR.masses.driver
FUEL = 20.0 * CAR.fuel.density * 1e-3


def stood(is_driver_aboard, fuel_volume):
    return OnScales(
        loads=(340.0, 340.0, 220.0, 220.0), is_driver_aboard=is_driver_aboard, fuel_volume=fuel_volume
    )


def test_it_says_the_car_without_them():
    (words,) = carried_words(stood(True, 0.02), CAR)
    assert f"the driver ({DRIVER:.0f} kg) and 20 L of fuel ({FUEL:.1f} kg)" in words
    assert words.endswith(f"the car is {1120.0 - DRIVER - FUEL:.1f} kg.")
    for nothing in (stood(False, 0.0), stood(None, 0.02), stood(True, None)):
        assert not list(carried_words(nothing, CAR))


@pytest.mark.parametrize(
    ("off", "scales", "words"),
    [
        (-FUEL, stood(True, 0.02), "was the tank empty?"),
        (-DRIVER, stood(True, 0.0), "What is missing is the driver's"),
        (DRIVER, stood(False, 0.0), "What is too much is the driver's"),
        (40.0, stood(True, 0.02), ""),
        (0.5, stood(True, 0.02), ""),
    ],
)
def test_a_difference_that_is_driver_or_fuel_is_told(off, scales, words):
    found = what_fits(off, scales, CAR, 10.0)
    assert words in found and bool(found) == bool(words)
