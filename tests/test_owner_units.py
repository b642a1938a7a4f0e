"""Values in the owner's units."""

import pytest

from tintop.owner_units import in_owner_units, owner_unit


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
