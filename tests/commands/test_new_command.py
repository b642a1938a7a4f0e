"""`tintop new`: an empty garage, never over another, and how to go on."""

from datetime import date

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.errors import BadInput
from tintop.store.demo import demo_path
from tintop.store.demo_garage import write_demo_garage
from tintop.store.documents.car_reader import read_car
from tintop.store.garage_store import Store
from tintop.store.starting import is_described, starter_car


def run(*words: str):
    return CliRunner().invoke(main, [*words])


def test_it_is_empty_and_says_how_to_go_on(tmp_path):
    place = tmp_path / "my_car"
    done = run("new", str(place), "--owner", "Robin", "--currency", "€")
    assert done.exit_code == 0, done.output
    assert done.output.splitlines()[-1] == f"Next: tintop serve {place}"
    assert all(word in done.output for word in ("chassis.toml", "setups", "For laps: a circuit"))
    with Store.open(place) as store:
        assert store.entries() == () and store.originals() == ()
        assert store.document_names() == ("car.toml", "garage.toml")
        settings = store.settings
    assert (settings.title, settings.owner, settings.currency) == ("My car", "Robin", "€")
    assert not settings.is_demo


def test_a_garage_that_is_there_stays_as_it_is(tmp_path):
    run("new", str(tmp_path / "one"), "--title", "First")
    again = run("new", str(tmp_path / "one"), "--title", "Second")
    assert again.exit_code == 2 and "a garage; expected a folder without one" in again.output
    with Store.open(tmp_path / "one") as store:
        assert store.settings.title == "First"


def test_a_car_of_ones_own_is_taken_and_one_that_does_not_read_makes_nothing(tmp_path):
    own = demo_path("second_car.toml")
    assert run("new", str(tmp_path / "own"), "--car", str(own)).exit_code == 0
    with Store.open(tmp_path / "own") as store:
        assert store.document("car.toml").text == own.read_text("utf-8")
    broken = tmp_path / "broken.toml"
    broken.write_text('name = "Saloon"\nwheels = 4\n', encoding="utf-8")
    refused = run("new", str(tmp_path / "none"), "--car", str(broken))
    assert refused.exit_code == 2 and "broken.toml line 2, wheels" in refused.output
    assert not (tmp_path / "none").exists()


def test_a_car_that_lies_in_the_folder_is_kept(tmp_path):
    (tmp_path / "car.toml").write_bytes(demo_path("car.toml").read_bytes())
    refused = run("new", str(tmp_path), "--car", str(demo_path("second_car.toml")))
    assert refused.exit_code == 2 and "a car there already" in refused.output
    assert run("new", str(tmp_path)).exit_code == 0
    with Store.open(tmp_path) as store:
        assert store.document("car.toml").text == demo_path("car.toml").read_text("utf-8")


def test_the_car_to_fill_in_asks_for_what_is_needed_and_no_more(tmp_path):
    """As it lies there nothing is made up; filled in on its own lines it is a car."""
    path = tmp_path / "car.toml"
    path.write_text(starter_car(), encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        read_car(path)
    assert {problem.found for problem in refused.value.problems} == {"nothing"}
    assert not is_described(starter_car()) and is_described(starter_car() + 'name = "Saloon"')
    filled = starter_car()
    for empty, full in (
        ('# name = ""', 'name = "Saloon"'),
        ('# driven_axle = ""', 'driven_axle = "rear"'),
        ('# car = " kg"', 'car = "1100 kg"'),
        ('# driver = " kg"', 'driver = "80 kg"'),
        ('# wheelbase = " mm"', 'wheelbase = "2550 mm"'),
        ('# track_front = " mm"', 'track_front = "1450 mm"'),
        ('# peak_power = " kW"', 'peak_power = "110 kW"'),
        ('# displacement = " cm3"', 'displacement = "1998 cm3"'),
        ('# ratios = ["", "", "", "", ""]', 'ratios = ["3.4", "2.0", "1.4", "1.1", "0.9"]'),
        ('# final_drive = ""', 'final_drive = "4.1"'),
        ('# kind = ""', 'kind = "road"'),
    ):
        assert empty in filled
        filled = filled.replace(empty, full)
    path.write_text(filled, encoding="utf-8")
    assert read_car(path).car.name == "Saloon"


def test_the_demo_says_that_it_is_one(tmp_path):
    with write_demo_garage(tmp_path / "demo", date(2026, 6, 9)) as store:
        assert store.settings.is_demo
