import pytest
from pytest import approx

from books import MM, Writer, kilograms, on
from cars import front_driven_hatchback
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.logbook.car_today import car_today
from tintop.logbook.entries import Area, Fate, Measure, PartRemoved
from tintop.logbook.mass_ledger import SCALE_DOUBT

DAY = on("2026-12-31")


@pytest.fixture
def described() -> DescribedCar:
    car = front_driven_hatchback()
    known = {
        path: Known(value=value, uncertainty=0.0, origin=Origin.ESTIMATED)
        for path, value in numbers_of(car).items()
    }
    return DescribedCar(car=car, known=known, assumed_choices={})


def changed(before: DescribedCar, after: DescribedCar) -> set[str]:
    old, new = numbers_of(before.car), numbers_of(after.car)
    return {path for path in old if old[path] != new[path]}


def test_an_empty_book_changes_nothing(described):
    assert car_today(described, Writer().book, DAY) == described


def test_parts_without_a_weighing_change_no_mass(described):
    book = Writer()
    book.part("2026-01-01", "cage", area=Area.CAGE, mass=kilograms(38))
    book.fit("2026-01-02", "cage")
    assert car_today(described, book.book, DAY) == described


def test_the_mass_is_the_last_weighing_and_the_parts_since(described):
    book = Writer()
    book.part("2026-01-01", "seat", area=Area.CABIN, mass=kilograms(14, 0.5), came_with_car=True)
    book.part("2026-01-01", "cage", area=Area.CAGE, mass=kilograms(38, 1.5))
    book.fit("2026-01-02", "cage")
    book.read("2026-02-01", Measure.MASS, 1005.0)
    book.write("2026-03-01", PartRemoved(part="seat", fate=Fate.SOLD))
    found = car_today(described, book.book, DAY)
    assert found.car.masses.car == 991.0
    assert changed(described, found) == {"masses.car"}
    known = found.known["masses.car"]
    assert (known.value, known.origin) == (991.0, Origin.MEASURED)
    assert known.uncertainty == approx((SCALE_DOUBT**2 + 0.5**2) ** 0.5)
    assert known.note == "weighed 1005.0 kg on 2026-02-01 (entry 4), -14.0 kg of parts since"
    assert car_today(described, book.book, on("2026-02-28")).car.masses.car == 1005.0


def brakes_and_tyres() -> Writer:
    book = Writer()
    for part, family, area, new in (
        ("pads", "front pads", Area.FRONT_AXLE, 12),
        ("discs", "front discs", Area.FRONT_AXLE, 26),
        ("tyres", "race tyres", Area.OUTSIDE, 6),
    ):
        book.part("2026-01-01", part, family=family, area=area, thickness_new=new * MM)
        book.fit("2026-01-02", part)
    book.run("2026-03-01", "race", hours=2)
    for corner, pad, tread in (("FL", 8.0, 4.0), ("FR", 9.0, 4.5), ("RL", None, 5.0), ("RR", None, 5.5)):
        if pad:
            book.read("2026-03-01", Measure.PAD_THICKNESS, pad * MM, corner=corner, session="race")
        book.read("2026-03-01", Measure.TREAD_DEPTH, tread * MM, corner=corner, session="race")
    return book


def test_the_thinnest_reading_of_each_axle(described):
    found = car_today(described, brakes_and_tyres().book, DAY)
    assert found.car.brakes.front.pad.thickness == approx(8 * MM)
    assert found.car.tyre_front.tread_depth == approx(4 * MM)
    assert found.car.tyre_rear.tread_depth == approx(5 * MM)
    assert found.car.brakes.rear == described.car.brakes.rear
    pad = found.known["brakes.front.pad.thickness"]
    assert (pad.origin, pad.note) == (Origin.MEASURED, "Pads, FL: read 8.0 mm on 2026-03-01 (entry 8)")


def test_a_part_never_measured_stands_as_new_until_it_has_run(described):
    """Then nothing tells how thick it is, and the description stands."""
    book = brakes_and_tyres().book
    disc = car_today(described, book, on("2026-02-28")).known["brakes.front.disc_thickness"]
    assert (disc.value, disc.origin) == (approx(26 * MM), Origin.DOCUMENTED)
    path = "brakes.front.disc_thickness"
    assert car_today(described, book, DAY).known[path] == described.known[path]


def test_what_was_driven_since_is_taken_off(described):
    """12 to 8 mm in 2 h is 2 mm/h; half an hour more leaves 7 mm."""
    book = brakes_and_tyres()
    book.run("2026-03-08", "test", hours=0.5)
    pad = car_today(described, book.book, DAY).known["brakes.front.pad.thickness"]
    assert pad.value == approx(7 * MM)
    assert pad.note.endswith("(entry 8), less the wear of 0.5 h driven since")


def test_new_pads_go_before_the_readings_of_the_old(described):
    book = brakes_and_tyres()
    book.part("2026-04-01", "pads 2", family="front pads", thickness_new=12 * MM)
    book.fit("2026-04-02", "pads 2", replaces="pads")
    assert car_today(described, book.book, DAY).car.brakes.front.pad.thickness == approx(12 * MM)


def test_a_part_of_which_no_thickness_is_known_changes_nothing(described):
    book = Writer()
    book.part("2026-01-01", "pads", family="front pads")
    book.fit("2026-01-02", "pads")
    assert car_today(described, book.book, DAY) == described


def test_an_impossible_weighing_is_refused_with_a_sentence(described):
    book = Writer()
    book.read("2026-02-01", Measure.MASS, 10050.0)
    with pytest.raises(BadInput, match=r"masses\.car: found 10050 kg"):
        car_today(described, book.book, DAY)


def test_the_day_before_knows_nothing_of_the_day_after(described):
    book = brakes_and_tyres()
    before = car_today(described, book.book, on("2026-02-28"))
    assert before.car.brakes.front.pad.thickness == approx(12 * MM)


def fluid_book() -> Writer:
    book = Writer()
    book.part("2026-01-01", "fluid 1", family="brake fluid", area=Area.UNDERNEATH)
    book.fit("2026-01-02", "fluid 1", clock="18:00")
    return book


def test_the_fluid_boils_where_it_last_did(described):
    """What stands on the tin is of fluid out of a fresh tin; the race is braked with the one in the car."""
    book = fluid_book()
    book.read("2026-02-01", Measure.FLUID_BOILING, 250.0, part="fluid 1")
    book.read("2026-05-01", Measure.FLUID_BOILING, 228.0, part="fluid 1")
    assert described.car.brakes.fluid_boiling == 260.0
    found = car_today(described, book.book, DAY)
    assert found.car.brakes.fluid_boiling == 228.0
    assert found.car.brakes.fluid_boiling_dry == described.car.brakes.fluid_boiling_dry
    known = found.known["brakes.fluid_boiling_wet"]
    assert (known.origin, known.note) == (Origin.MEASURED, "brake fluid read 228 °C on 2026-05-01 (entry 4)")
    assert known.uncertainty > 0.0
    assert car_today(described, book.book, on("2026-03-01")).car.brakes.fluid_boiling == 250.0


@pytest.mark.parametrize("boiling", [150.0, 200.0, 320.0])
def test_any_boiling_point_a_fluid_can_have_is_taken(described, boiling):
    book = fluid_book()
    book.read("2026-02-01", Measure.FLUID_BOILING, boiling, part="fluid 1")
    assert car_today(described, book.book, DAY).car.brakes.fluid_boiling == boiling


def test_fresh_fluid_goes_before_the_reading_of_the_old(described):
    book = fluid_book()
    book.read("2026-02-01", Measure.FLUID_BOILING, 230.0)
    book.part("2026-04-01", "fluid 2", family="brake fluid", area=Area.UNDERNEATH)
    book.fit("2026-04-02", "fluid 2", replaces="fluid 1")
    assert car_today(described, book.book, DAY) == described
    book.read("2026-06-01", Measure.FLUID_BOILING, 290.0)
    assert car_today(described, book.book, DAY).car.brakes.fluid_boiling == 290.0


def test_a_reading_of_a_fluid_the_book_has_no_part_for_counts(described):
    book = Writer()
    book.read("2026-02-01", Measure.FLUID_BOILING, 240.0)
    assert car_today(described, book.book, DAY).car.brakes.fluid_boiling == 240.0
