from dataclasses import replace

import pytest

from tintop.car.table_on_car import NOTE, with_wheel_tables
from tintop.known import Known, Origin
from tintop.store.demo import demo_path
from tintop.store.documents.car_reader import read_car

TABLE = {
    "rear.measured.roll_centre_height": Known(value=0.18, uncertainty=0.02, origin=Origin.MEASURED),
    "rear.measured.leans_with_body": Known(value=0.3, uncertainty=0.1, origin=Origin.DOCUMENTED),
}


def test_the_table_says_what_the_car_knows_by_its_class_only():
    described = read_car(demo_path("car.toml"))
    assert described.known["suspension.roll_centre_height_rear"].origin is Origin.ASSUMED
    found = with_wheel_tables(described, TABLE)
    assert found.car.suspension.roll_centre_height_rear == 0.18
    assert found.car.suspension.camber_recovery_rear == pytest.approx(0.7)
    known = found.known["suspension.roll_centre_height_rear"]
    assert (known.value, known.uncertainty, known.origin, known.note) == (0.18, 0.02, Origin.ESTIMATED, NOTE)
    assert found.known["suspension.camber_recovery_rear"].uncertainty == 0.1
    front = "roll_centre_height_front"
    assert getattr(found.car.suspension, front) == getattr(described.car.suspension, front)


def test_what_the_car_states_itself_stays():
    described = read_car(demo_path("car.toml"))
    name = "suspension.roll_centre_height_rear"
    stated = replace(described.known[name], origin=Origin.MEASURED)
    stating = replace(described, known={**described.known, name: stated})
    found = with_wheel_tables(stating, TABLE)
    assert found.car.suspension.roll_centre_height_rear == described.car.suspension.roll_centre_height_rear
    assert found.known[name] is stated
    assert with_wheel_tables(described, {}) is described
