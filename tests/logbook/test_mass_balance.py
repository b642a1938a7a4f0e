"""Four loads carried on by the parts changed since, by hand and by what nobody wrote down."""

import pytest

from books import Writer, kilograms, on
from tintop.logbook.build import build_on
from tintop.logbook.entries import Area, Fate, Measure, PartRemoved
from tintop.logbook.mass_balance import (
    PAD_DOUBT,
    Stood,
    driver_side,
    entry_of,
    foretold,
    last_alike,
    stood_of,
)
from tintop.logbook.mass_ledger import changed_since, mass_ledger

DAY = on("2026-12-31")
BASE, FRONT, REAR = 2.5, 1.5, 1.4


def weighed(book: Writer, day: str, loads=(300.0, 310.0, 200.0, 190.0), place: str = "driver aboard") -> None:
    for corner, load in zip(("FL", "FR", "RL", "RR"), loads, strict=True):
        book.read(day, Measure.CORNER_LOAD, load, corner=corner, place=place)


def told(book: Writer, fuel=(0.0, 0.0)):
    ledger = mass_ledger(book.book, DAY)
    last = ledger.corners[-1]
    changed = changed_since(build_on(book.book, DAY), entry_of(book.book, last))
    return foretold(last, changed, BASE, FRONT, REAR, fuel)


def test_parts_taken_off_and_put_on_move_mass_and_centre_by_moments():
    """1000 kg at x = −0.975: less 20 kg at −1.5, y 0.4, with 38 kg at −1.6, y 0."""
    book = Writer()
    book.part(
        "2026-01-01",
        "seat",
        area=Area.CABIN,
        mass=kilograms(20, 1),
        position=(-1.5, 0.4, 0.4),
        came_with_car=True,
    )
    weighed(book, "2026-01-05")
    book.write("2026-01-10", PartRemoved(part="seat", fate=Fate.SOLD))
    book.part("2026-02-01", "cage", area=Area.CAGE, mass=kilograms(38, 1.5), position=(-1.6, 0.0, 0.8))
    book.fit("2026-02-02", "cage")
    found = told(book)
    assert found.mass == pytest.approx(1018.0)
    assert found.x == pytest.approx((-0.975 * 1000 + 1.5 * 20 - 1.6 * 38) / 1018)
    aside = 0.75 * (300 - 310) + 0.7 * (200 - 190)
    assert found.y == pytest.approx((aside - 0.4 * 20) / 1018)
    assert found.mass_doubt == pytest.approx((4 * PAD_DOUBT**2 + 1.0 + 1.5**2) ** 0.5)
    assert found.changed == 2 and not found.without_mass and not found.without_place


def test_what_nobody_weighed_or_placed_is_named():
    book = Writer()
    weighed(book, "2026-01-05")
    book.part("2026-02-01", "heater", area=Area.CABIN, name="Heater")
    book.fit("2026-02-02", "heater")
    book.part("2026-02-01", "ballast", area=Area.CABIN, mass=kilograms(12, 0.1), name="Ballast")
    book.fit("2026-02-02", "ballast")
    found = told(book)
    assert found.without_mass == ("Heater",) and found.without_place == ("Ballast",)
    assert found.mass == pytest.approx(1012.0)
    assert found.x == pytest.approx(-0.975)
    assert found.x_doubt > 0.002


def test_oil_renewed_is_no_change_nobody_weighed():
    book = Writer()
    book.part("2026-01-01", "oil-1", family="oil", area=Area.ENGINE_BAY)
    book.fit("2026-01-02", "oil-1")
    weighed(book, "2026-01-05")
    book.part("2026-02-01", "oil-2", family="oil", area=Area.ENGINE_BAY)
    book.fit("2026-02-02", "oil-2", replaces="oil-1")
    assert told(book).without_mass == ()


def test_more_fuel_weighs_in_the_tank():
    book = Writer()
    weighed(book, "2026-01-05")
    found = told(book, (15.0, -2.1))
    assert found.mass == pytest.approx(1015.0)
    assert found.x == pytest.approx((-975.0 - 2.1 * 15.0) / 1015.0)


def test_loads_of_a_car_standing_otherwise_are_passed_over():
    book = Writer()
    weighed(book, "2026-01-05", place="driver aboard, 20 L of fuel")
    weighed(book, "2026-03-05", place="without driver")
    corners = mass_ledger(book.book, DAY).corners
    assert last_alike(corners, Stood(is_driver_aboard=True)).day == on("2026-01-05")
    assert last_alike(corners, Stood(is_driver_aboard=False)).day == on("2026-03-05")
    assert last_alike(corners, Stood()) is None


@pytest.mark.parametrize(
    ("words", "stood"),
    [
        ("driver aboard, 20 L of fuel", Stood(is_driver_aboard=True, fuel_volume=0.02)),
        ("Driver aboard", Stood(is_driver_aboard=True)),
        ("without driver, 3,5 L of fuel", Stood(is_driver_aboard=False, fuel_volume=0.0035)),
        ("no driver", Stood(is_driver_aboard=False)),
        ("", Stood()),
        ("on the ramp", Stood()),
    ],
)
def test_how_it_stood_is_read_from_its_words(words, stood):
    assert stood_of(words) == stood


@pytest.mark.parametrize(
    "stood",
    [Stood(is_driver_aboard=True, fuel_volume=0.0215), Stood(is_driver_aboard=False), Stood(fuel_volume=0.0)],
)
def test_what_is_written_reads_back(stood):
    found = stood_of(stood.words)
    assert found.is_driver_aboard is stood.is_driver_aboard
    assert found.fuel_volume == pytest.approx(stood.fuel_volume)


def test_the_driver_sits_where_the_seat_has_its_place():
    book = Writer()
    book.part("2026-01-01", "seat", family="seat", area=Area.CABIN, position=(-1.4, -0.35, 0.3))
    book.fit("2026-01-02", "seat")
    assert driver_side(build_on(book.book, DAY)) == "right"
    assert driver_side(build_on(Writer().book, DAY)) == ""
