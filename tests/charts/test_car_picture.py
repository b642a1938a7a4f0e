from collections.abc import Sequence
from datetime import date

import pytest

from demo_cars import demo_car
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of
from tintop.charts.car_picture import CORNERS, car_picture
from tintop.known import Known, Origin
from tintop.logbook.book import Logbook, logbook_of
from tintop.logbook.entries import Area, Entry, Matter, Measure, PartAdded, PartFitted, Reading, SetupChanged
from tintop.logbook.mass_ledger import mass_ledger

DAY = date(2026, 6, 20)


def _described(*assumed: str) -> DescribedCar:
    car = demo_car()
    return DescribedCar(
        car=car,
        known={
            path: Known(
                value=value,
                uncertainty=0.0,
                origin=Origin.ASSUMED if path in assumed else Origin.MEASURED,
            )
            for path, value in numbers_of(car).items()
        },
        assumed_choices={},
    )


def _book(*matters: Matter | tuple[int, Matter]) -> Logbook:
    """A book of entries on days of June."""
    pairs: Sequence[tuple[int, Matter]] = [each if isinstance(each, tuple) else (1, each) for each in matters]
    return logbook_of(
        Entry(
            number=number,
            key=str(number),
            day=date(2026, 6, day),
            written_at="2026-06-01T00:00:00Z",
            who="Sam",
            matter=matter,
        )
        for number, (day, matter) in enumerate(pairs, 1)
    )


def _reading(measure: Measure, value: float, corner: str, **more: str) -> Reading:
    return Reading(measure=measure, value=value, corner=corner, **more)


def _pads(name: str, thickness_new: float) -> PartAdded:
    return PartAdded(
        part=name, name=name, family="front pads", area=Area.FRONT_AXLE, thickness_new=thickness_new
    )


def test_what_nobody_read_is_the_documents_and_a_class_default_is_left_out() -> None:
    picture = car_picture(_described("tyre_rear.pressure_cold"), _book(), DAY)
    cold = picture.corner("FL").of("pressure cold")
    assert cold is not None
    assert cold.is_by_document
    assert cold.value == demo_car().tyre_front.pressure_cold
    assert picture.corner("RR").of("pressure cold") is None
    assert picture.corner("FL").load is None
    assert picture.left_share is None
    assert picture.mass == demo_car().masses.car


def test_loads_shares_and_mass_are_those_of_the_ledger() -> None:
    loads = {"FL": 330.0, "FR": 350.0, "RL": 210.0, "RR": 230.0}
    book = _book(
        _reading(Measure.MASS, 1036.0, ""),
        *(
            _reading(Measure.CORNER_LOAD, load, corner, place="driver aboard")
            for corner, load in loads.items()
        ),
    )
    picture, ledger = car_picture(_described(), book, DAY), mass_ledger(book, DAY)
    assert picture.mass == ledger.today == 1036.0
    assert [corner.load for corner in picture.corners] == list(loads.values())
    assert sum(corner.share or 0.0 for corner in picture.corners) == pytest.approx(1.0)
    assert picture.front_share == pytest.approx(680.0 / 1120.0)
    assert picture.left_share == pytest.approx(540.0 / 1120.0)
    assert picture.cross_share == pytest.approx(560.0 / 1120.0)
    assert picture.loads_state == "driver aboard"


def test_a_setting_of_one_corner_goes_before_that_of_the_whole_car() -> None:
    book = _book(
        (1, SetupChanged(item="camber", value=-0.03, quantity="angle", written="-1.7")),
        (2, SetupChanged(item="camber", corner="FR", value=-0.05, quantity="angle", written="-2.9")),
        (25, SetupChanged(item="camber", corner="FL", value=-0.06, quantity="angle", written="-3.4")),
    )
    picture = car_picture(_described(), book, DAY)
    camber = {corner: picture.corner(corner).of("camber") for corner in CORNERS}
    assert [found.value for found in camber.values() if found] == [-0.03, -0.05, -0.03, -0.03]
    assert all(found and not found.is_by_document for found in camber.values())


def test_the_thinnest_place_of_the_pads_on_the_car_is_shown_and_those_before_forgotten() -> None:
    book = _book(
        (1, _pads("first", 0.012)),
        (1, PartFitted(part="first")),
        (5, _reading(Measure.PAD_THICKNESS, 0.004, "FL", place="inner pad", part="first")),
        (6, _pads("second", 0.0123)),
        (6, PartFitted(part="second", replaces="first")),
        (8, _reading(Measure.PAD_THICKNESS, 0.0100, "FL", place="inner pad", part="second")),
        (8, _reading(Measure.PAD_THICKNESS, 0.0105, "FL", place="outer pad", part="second")),
        (8, _reading(Measure.PAD_THICKNESS, 0.0103, "FR", place="inner pad", part="second")),
    )
    before = car_picture(_described(), book, date(2026, 6, 5)).corner("FL").of("pad")
    new = car_picture(_described(), book, date(2026, 6, 7)).corner("FL").of("pad")
    now = car_picture(_described(), book, DAY)
    assert before is not None
    assert before.value == 0.004
    assert new is not None
    assert new.value == 0.0123
    left, right = now.corner("FL").of("pad"), now.corner("FR").of("pad")
    assert left is not None
    assert right is not None
    assert (left.value, left.known, left.on) == (0.0100, "inner pad", date(2026, 6, 8))
    assert right.value == 0.0103


def test_a_seat_tells_the_drivers_side_and_an_engine_behind_the_middle_its_end() -> None:
    def seat(y: float) -> PartAdded:
        return PartAdded(
            part="seat",
            name="Seat",
            family="seat",
            area=Area.CABIN,
            position=(-1.4, y, 0.5),
            came_with_car=True,
        )

    assert car_picture(_described(), _book(), DAY).driver_side == ""
    assert car_picture(_described(), _book(seat(0.36)), DAY).driver_side == "left"
    assert car_picture(_described(), _book(seat(-0.36)), DAY).driver_side == "right"
    engine = PartAdded(
        part="engine",
        name="Engine",
        family="engine",
        area=Area.ENGINE_BAY,
        position=(-2.6, 0.0, 0.5),
        came_with_car=True,
    )
    assert car_picture(_described(), _book(), DAY).is_engine_front
    assert not car_picture(_described(), _book(engine), DAY).is_engine_front


def test_every_fitted_part_with_a_place_lies_within_the_drawn_length() -> None:
    far = PartAdded(
        part="tow-eye",
        name="Tow eye",
        family="tow eyes",
        area=Area.BOOT,
        position=(-4.2, 0.0, 0.4),
        came_with_car=True,
    )
    picture = car_picture(_described(), _book(far), DAY)
    assert picture.wheelbase + picture.rear_overhang > 4.2
    assert [mark.part for mark in picture.parts] == ["tow-eye"]
