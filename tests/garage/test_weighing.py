"""A garage's book carried into a weighing: earlier loads, parts changed since, the logbook's own loads."""

from datetime import date
from pathlib import Path

import pytest

from tintop.car.on_scales import OnScales
from tintop.garage.keeper import Garage
from tintop.garage.weighing import WeighingAsked, last_on_scales, weighed_in
from tintop.known import Known, Origin
from tintop.logbook.entries import Area, Draft, Matter, Measure, PartAdded, PartFitted, Reading
from tintop.settings import Settings
from tintop.store.demo import demo_path
from tintop.store.garage_store import Store

EARLY, LATE, TODAY = date(2026, 3, 1), date(2026, 4, 1), date(2026, 6, 9)
PLACE = "driver aboard, 32 L of fuel"
FIRST, SECOND = (343.5, 353.0, 220.5, 229.0), (347.0, 353.5, 227.0, 229.5)


def loads(four: tuple[float, ...], place: str = PLACE) -> list[Matter]:
    return [
        Reading(measure=Measure.CORNER_LOAD, value=load, corner=corner, place=place)
        for corner, load in zip(("FL", "FR", "RL", "RR"), four, strict=True)
    ]


@pytest.fixture
def garage(tmp_path: Path):
    store = Store.create(tmp_path / "garage", Settings(title="Lantern"))
    bottle = PartAdded(
        part="bottle", name="Extinguisher", family="bottle", area=Area.CABIN, position=(-1.3, 0.3, 0.3),
        mass=Known(value=11.0, uncertainty=0.2, origin=Origin.MEASURED),
    )  # fmt: skip
    matters = [(EARLY, each) for each in loads(FIRST)]
    matters += [(date(2026, 3, 10), bottle), (date(2026, 3, 11), PartFitted(part="bottle"))]
    matters += [(LATE, each) for each in loads(SECOND)]
    store.append(
        [
            Draft(key=str(number), day=day, who="Robin", matter=matter)
            for number, (day, matter) in enumerate(matters)
        ]
    )
    store.close()
    (tmp_path / "garage" / "car.toml").write_bytes(demo_path("car.toml").read_bytes())
    found = Garage.open(tmp_path / "garage")
    found.today = lambda: TODAY
    yield found
    found.close()


def test_the_last_loads_stand_as_they_were_read(garage: Garage) -> None:
    scales, own = last_on_scales(garage)
    assert scales == OnScales(loads=SECOND, is_driver_aboard=True, fuel_volume=0.032)
    assert own.day == LATE


def test_the_books_own_loads_are_held_against_those_before_them(garage: Garage) -> None:
    scales, own = last_on_scales(garage)
    before = weighed_in(garage, scales, WeighingAsked(), own).before
    assert before.last.day == EARLY and before.read_on == LATE
    assert before.foretold.mass == pytest.approx(1146.0 + 11.0)
    assert before.foretold.changed == 1
    assert before.now.mass == pytest.approx(1157.0) and before.now.changed == 0


def test_new_loads_are_held_against_the_last_with_the_fuel_between(garage: Garage) -> None:
    scales = OnScales(loads=SECOND, is_driver_aboard=True, fuel_volume=0.012)
    before = weighed_in(garage, scales, WeighingAsked()).before
    assert before.last.day == LATE and before.read_on is None
    assert before.foretold.mass == pytest.approx(1157.0 - 20.0 * 0.748)


def test_nothing_is_foretold_where_the_fuel_was_not_written(garage: Garage) -> None:
    before = weighed_in(garage, OnScales(loads=SECOND, is_driver_aboard=True), WeighingAsked()).before
    assert before.last.day == LATE and before.foretold is None
    alone = weighed_in(garage, OnScales(loads=SECOND, is_driver_aboard=False), WeighingAsked()).before
    assert alone.last is None
