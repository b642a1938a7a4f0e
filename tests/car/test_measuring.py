import re

import pytest

from cars import front_driven_hatchback
from tintop.car.measuring import deed_for, words_of_path
from tintop.car.numbers import numbers_of


@pytest.mark.parametrize("path", sorted(numbers_of(front_driven_hatchback())))
def test_every_number_of_a_car_has_a_deed_and_words_without_dots(path):
    for said in (deed_for(path), words_of_path(path)):
        assert said and not re.search(r"\w\.\w|_", said)


def test_the_deed_fits_the_kind_of_number():
    assert "cornering g" in deed_for("tyre_front.friction_lateral")
    assert "wet session" in deed_for("tyre_rear.friction_wet_share")
    assert "rolling-road sheet" in deed_for("engine.torques")
    assert deed_for("masses.car").startswith("weigh the car")
    assert deed_for("masses.cg_height").endswith("the rear raised")
    assert deed_for("aero.drag_area").startswith("coast down")
    assert deed_for("brakes.front.pad.thickness") == "measure the pads"


def test_the_part_is_named_first():
    assert words_of_path("tyre_front.friction_lateral") == "front tyre, friction lateral"
    assert words_of_path("brakes.rear.pad.wear_rate") == "rear brakes, pad, wear rate"
    assert words_of_path("masses.cg_height") == "masses, cg height"
