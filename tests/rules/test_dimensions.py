"""Exponents against pint's own."""

import pint
import pytest

from tintop.rules.dimensions import DIMENSIONS, in_words, quantity_of, times
from tintop.units import UNITS

registry = pint.UnitRegistry()
PINT = {
    "mass": "kg", "length": "m", "time": "s", "area": "m**2", "volume": "m**3", "pressure": "Pa",
    "speed": "m/s", "torque": "N*m", "power": "W", "force": "N", "spring rate": "N/m", "duration": "s",
    "damping": "N*s/m",
    "specific consumption": "kg/J", "density": "kg/m**3", "specific energy": "J/kg", "mass flow": "kg/s",
    "inertia": "kg*m**2", "wear depth": "m/J", "wear volume": "m**3/J", "power to mass": "W/kg",
    "mass to power": "kg/W", "acceleration": "m/s**2",
}  # fmt: skip


@pytest.mark.parametrize("quantity", PINT)
def test_exponents_agree_with_pint(quantity):
    theirs = registry.Unit(PINT[quantity]).dimensionality
    assert dict(DIMENSIONS[quantity]) == {base.strip("[]"): power for base, power in theirs.items()}


def test_every_quantity_has_its_exponents():
    assert set(DIMENSIONS) == set(UNITS)


def test_products_and_quotients_find_their_quantity():
    length, force = DIMENSIONS["length"], DIMENSIONS["force"]
    assert quantity_of(times(length, length)) == "area"
    assert quantity_of(times(force, times(length, length), -1)) == "pressure"
    assert quantity_of(times(length, length, -1)) == "number"
    assert quantity_of(times(times(length, length), force)) == ""


def test_an_angle_is_no_plain_number():
    assert DIMENSIONS["angle"] != DIMENSIONS["number"]
    assert in_words(DIMENSIONS["angle"]) == "an angle"
