"""Values in the owner's units."""

import math

import pytest

from tintop.errors import BadInput
from tintop.owner_units import (
    in_owner_units,
    lap_words,
    owner_unit,
    require_between,
    require_height,
    with_unit,
)


@pytest.mark.parametrize(
    ("value", "quantity", "units", "words"),
    [
        (1.6e5, "pressure", {"pressure": "bar"}, "1.60 bar"),
        (1.6e5, "pressure", {}, "23.2 psi"),
        (-0.05, "angle", {}, "−2.9°"),
        (0.13, "length", {}, "130.0 mm"),
        (50e3, "distance", {"distance": "mi"}, "31 mi"),
        (3.0, "clicks", {}, "3"),
    ],
)
def test_as_the_trade_writes_them(value, quantity, units, words):
    assert in_owner_units(value, quantity, units) == words


def test_the_usual_unit_where_the_owner_chose_none():
    assert owner_unit("pressure", {}) == "psi"
    assert owner_unit("angle", {}) == "deg"
    assert owner_unit("clicks", {}) == ""


def test_a_bound_is_said_in_the_owners_unit():
    require_between(3.0, 3.0, 90.0, "speed", "speed", {})
    with pytest.raises(BadInput, match="speed: found 2 mph; expected 7 mph to 201 mph"):
        require_between(1.0, 3.0, 90.0, "speed", "speed", {"speed": "mph"}, 0)
    with pytest.raises(BadInput):
        require_between(math.nan, 3.0, 90.0, "speed", "speed", {})


@pytest.mark.parametrize("height", [-451.0, 5001.0, 5e4, math.nan, math.inf])
def test_no_road_is_so_high_or_so_low(height):
    require_height(None, "height")
    require_height(-430.0, "height")
    with pytest.raises(BadInput, match="−450 m to 5000 m"):
        require_height(height, "height")


def test_a_bare_number_gets_the_unit():
    assert with_unit("20", "L") == "20 L"
    assert with_unit(" 20,5 ", "L") == "20,5 L"
    assert with_unit("-3", "°C") == "-3 °C"
    assert with_unit("20 gal", "L") == "20 gal"
    assert with_unit("twenty", "L") == "twenty"


def test_a_lap_time_has_one_form() -> None:
    assert [lap_words(seconds) for seconds in (86.324, 59.996, 58.2, 119.999)] == [
        "1:26.32",
        "1:00.00",
        "58.20 s",
        "2:00.00",
    ]
