"""The bench: from a plain folder, from a garage, and what it says where something is missing."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from benches import demo_bench, write_bench
from tintop.car.setup import Purpose
from tintop.errors import BadInput
from tintop.garage.bench import bench_of, load_bench
from tintop.garage.keeper import Garage
from tintop.known import Origin
from tintop.logbook.entries import Draft, SetupChanged
from tintop.logbook.setup_today import PUT_ON
from tintop.store.demo import SETUPS
from tintop.store.demo_garage import write_demo_garage

TODAY = date(2026, 6, 9)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bench") / "demo"
    write_demo_garage(folder, TODAY).close()
    return folder


@pytest.fixture
def garage(made: Path, tmp_path: Path):
    folder = tmp_path / "garage"
    shutil.copytree(made, folder)
    found = Garage.open(folder)
    found.today = lambda: TODAY
    yield found
    found.close()


def _change(garage: Garage, key: str, change: SetupChanged) -> None:
    garage.record([Draft(key=key, day=TODAY, who="owner", matter=change)])


def test_a_plain_folder_gives_car_chassis_set_ups_and_circuits():
    bench = demo_bench()
    assert set(bench.setups) == set(SETUPS) and bench.unreadable == {}
    assert set(bench.circuits) == {"larkmoor", "ottersgill", "wether-moor"}
    assert 2700.0 < bench.circuit("wether-moor").length < 2900.0
    assert bench.circuit("larkmoor") is bench.circuit("larkmoor"), "read once"
    assert bench.chassis_known["front.motion_ratio"].origin is Origin.MEASURED
    assert bench.weather("larkmoor").air_temp == 25.0
    assert bench.weather(Purpose.WET).wetness == 1.0 and bench.weather(Purpose.DRY).wetness == 0.0
    assert bench.weather(Purpose.WET).air_temp < bench.weather().air_temp


def test_a_name_that_is_not_there_is_refused_with_those_there_are():
    bench = demo_bench()
    with pytest.raises(BadInput, match=r"Did you mean wet\?"):
        bench.setup("wett")
    with pytest.raises(BadInput, match="larkmoor, ottersgill, wether-moor"):
        bench.circuit("nowhere")
    with pytest.raises(BadInput, match="larkmoor"):
        bench.weather("nowhere")


def test_a_set_up_that_cannot_be_read_hides_no_other(tmp_path: Path):
    folder = write_bench(tmp_path)
    path = folder / "setups" / "wet.toml"
    path.write_text(path.read_text("utf-8").replace("1.90 bar", "27 bar"), "utf-8")
    bench = load_bench(folder)
    assert "wet" not in bench.setups and bench.setup("dry").name == "Dry circuit"
    with pytest.raises(BadInput, match=r'wet\.toml line .*Is it "27 psi"'):
        bench.setup("wet")
    with pytest.raises(BadInput, match="nothing that says which is on the car"):
        bench.setup()


def test_without_a_chassis_the_owner_is_told_what_is_missing(tmp_path: Path):
    folder = write_bench(tmp_path)
    (folder / "chassis.toml").unlink()
    with pytest.raises(BadInput, match=r"chassis\.toml: found no such file"):
        load_bench(folder)
    with pytest.raises(BadInput, match="no such folder"):
        load_bench(tmp_path / "nowhere")


def test_the_demo_s_garage_has_dry_on_the_car(garage: Garage):
    bench = bench_of(garage)
    assert bench.fitted == "dry" and bench.setup() == bench.as_written["dry"]
    assert bench.today is not None and bench.today.unread == ()
    assert bench.settings.is_demo and set(bench.setups) == set(SETUPS)
    assert bench.described.car == garage.car().car


def test_the_bench_is_kept_until_what_it_stands_on_changes(garage: Garage):
    bench = bench_of(garage)
    assert bench_of(garage) is bench
    _change(garage, "a", SetupChanged(item="rear bar", value=2.0, written="2nd hole", quantity="number"))
    found = bench_of(garage)
    assert found.setup().rear.bar_hole == 2 and found.as_written["dry"].rear.bar_hole == 3
    assert [each.item for each in found.today.laid_over] == ["rear bar"]
    path = garage.folder / "setups" / "dry.toml"
    path.write_text(path.read_text("utf-8").replace("51 L", "45 L"), "utf-8", newline="")
    assert bench_of(garage).setup().fuel_volume == pytest.approx(0.045), "edited outside and taken in"
    assert bench_of(garage).setup().rear.bar_hole == 2


def test_a_folder_of_a_garage_is_read_as_one(made: Path):
    assert load_bench(made).today is not None


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("chassis.toml", 'rate = "50 N/mm"', 'rate = "400 N/mm"', "sure = true"),
        ("setups/dry.toml", "1.60 bar", "24 bar", 'Is it "24 psi"'),
    ],
)
def test_a_document_with_a_slip_is_not_kept(garage: Garage, name: str, old: str, new: str, words: str):
    stands = garage.document(name)
    assert old in stands.text
    with pytest.raises(BadInput, match=words):
        garage.save_document(name, stands.text.replace(old, new), based_on=stands.digest, who="owner", why="")
    assert garage.document(name) == stands
    garage.save_document(name, stands.text + "# mine\n", based_on=stands.digest, who="owner", why="")


def test_one_set_up_beside_a_broken_one_is_not_said_to_be_on_the_car(tmp_path: Path):
    folder = write_bench(tmp_path)
    for stem in SETUPS:
        if stem not in ("dry", "wet"):
            (folder / "setups" / f"{stem}.toml").unlink()
    (folder / "setups" / "wet.toml").write_text("name =", "utf-8")
    bench = load_bench(folder)
    assert bench.fitted == ""
    said = bench.said_of("dry")
    assert said[0] == "Nothing says which set-up is on the car; this is for dry."
    assert said[1].startswith("Set-up wet cannot be read: ")
    (folder / "setups" / "dry.toml").write_text("name =", "utf-8")
    with pytest.raises(BadInput, match=r"dry\.toml(.|\n)*wet\.toml"):
        load_bench(folder).setup()


def test_a_set_up_put_on_and_then_broken_is_named(garage: Garage):
    _change(garage, "wet", SetupChanged(item=PUT_ON, written="wet"))
    assert bench_of(garage).fitted == "wet" and bench_of(garage).said_of("wet") == ()
    path = garage.folder / "setups" / "wet.toml"
    whole = path.read_text("utf-8")
    path.write_text(whole.replace("1.90 bar", "27 bar"), "utf-8", newline="")
    bench = bench_of(garage)
    assert bench.fitted == "" and bench.today is not None
    assert "its document cannot be read" in bench.today.unread[0].why
    said = " ".join(bench.said_of("dry"))
    assert said.startswith("wet was put on the car, and its file cannot be read; this is for dry.")
    assert 'Is it "27 psi"?' in said
    with pytest.raises(BadInput, match=r'wet\.toml line .*Is it "27 psi"'):
        bench.setup()
    _change(garage, "gone", SetupChanged(item=PUT_ON, written="gone"))
    assert "there is no such set-up any more; this is for dry" in bench_of(garage).said_of("dry")[0]


def test_a_set_up_for_a_circuit_that_is_not_there_is_asked_about(tmp_path: Path):
    folder = write_bench(tmp_path)
    path = folder / "setups" / "larkmoor.toml"
    path.write_text(path.read_text("utf-8").replace('circuit = "larkmoor"', 'circuit = "larkmor"'), "utf-8")
    said = " ".join(load_bench(folder).said_of("larkmoor"))
    assert "is for circuit 'larkmor'" in said and "Did you mean larkmoor?" in said


@pytest.mark.parametrize("name", ["dr\ny", "<x>", "-dry"])
def test_a_file_name_that_no_paper_can_bear_is_told(tmp_path: Path, name: str):
    folder = write_bench(tmp_path)
    (folder / "setups" / "dry.toml").rename(folder / "setups" / f"{name}.toml")
    bench = load_bench(folder)
    assert name not in bench.setups and ascii(name) in bench.unreadable
