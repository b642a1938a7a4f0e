"""`tintop weigh` as it is typed: figures, exit codes, and a sentence for each way of typing it wrong."""

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tintop.cli import main
from tintop.logbook.entries import Draft, Measure, Reading
from tintop.settings import Settings
from tintop.store.demo import write_demo
from tintop.store.garage_store import Store

LOADS = "343.5 353 220.5 229"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("weigh")
    write_demo(place)
    return place


def run(folder: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["weigh", str(folder), *arguments])


def stood(*more: str) -> tuple[str, ...]:
    return ("--with-driver", "--fuel", "32 L", "--setup", "dry", *more)


def test_it_prints_shares_turns_and_cautions(folder: Path) -> None:
    found = run(folder, "--loads", LOADS, *stood())
    assert found.exit_code == 0, found.output
    assert "1146.0 kg: 60.8 % on the front" in found.output
    assert "Cross-weight 50.04 %, wanted 50.00 %" in found.output
    assert "Caution: Raising an axle: chock the wheels" in found.output


def test_json_names_its_units(folder: Path) -> None:
    found = run(folder, "--loads", LOADS, *stood("--target-cross", "51", "--corners", "FR,RL", "--json"))
    assert found.exit_code == 0, found.output
    content = json.loads(found.stdout)
    assert content["total_kg"] == pytest.approx(1146.0)
    assert content["turns"]["after"] == pytest.approx(0.51, abs=2e-3)
    assert content["turns"]["turns"]["FL"] == 0.0 and content["turns"]["turns"]["FR"] > 0.0
    assert content["works"] and content["cautions"]


def test_a_raised_axle_gives_the_height(folder: Path) -> None:
    lifted = ("--raised", "353 362.5", "--lift", "400 mm", "--scale-error", "0.25")
    found = run(folder, "--loads", LOADS, *stood(*lifted, "--json"))
    height = json.loads(found.stdout)["cg_height"]
    assert 0.4 < height["height_m"] < 0.6 and height["uncertainty_m"] > 0.0
    free = json.loads(run(folder, "--loads", LOADS, *stood(*lifted, "--free-springs", "--json")).stdout)
    assert free["cg_height"]["height_m"] < height["height_m"]


def test_pounds_are_read_as_pounds(folder: Path) -> None:
    found = run(folder, "--loads", "757 778 486 505 lb", *stood("--json"))
    assert json.loads(found.stdout)["total_kg"] == pytest.approx(2526 * 0.45359237)


def test_an_open_question_is_exit_code_3(folder: Path) -> None:
    found = run(folder, "--loads", LOADS, "--setup", "dry")
    assert found.exit_code == 3
    assert "Was the driver aboard?" in found.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "no corner loads in the logbook"),
        (("--loads", "343.5 353 220.5"), "a corner mass for each corner"),
        (("--loads", "-3 353 220.5 229"), "found '-3'"),
        (("--loads", "0 353 220.5 229"), "found '0'"),
        (("--loads", "757 778 486 505"), "Were they pounds"),
        (("--loads", LOADS, "--total", "1180"), "a stated total of 1180.0 kg"),
        (("--loads", LOADS, "--raised", "353 362"), "only one of them"),
        (("--loads", LOADS, "--raised", "353", "--lift", "400 mm"), "two scales of the axle"),
        (("--loads", LOADS, "--raised", "340 340", "--lift", "400 mm"), "kg less than level"),
        (("--loads", LOADS, "--raised", "353 362", "--lift", "0 mm"), "lift: found 0 m"),
        (("--loads", LOADS, "--raised", "353 362", "--lift", "400"), "'400' without a unit"),
        (("--loads", LOADS, "--target-cross", "5"), "target cross-weight"),
        (("--loads", LOADS, "--corners", "FX"), "corner: found 'FX'"),
        (("--loads", LOADS, "--setup", "dri"), "Did you mean dry?"),
    ],
)
def test_what_is_typed_wrong_is_a_sentence_and_exit_code_2(folder: Path, arguments, words: str) -> None:
    found = run(folder, *arguments)
    assert found.exit_code == 2, found.output
    assert words in found.output
    assert "Traceback" not in found.output


def test_a_garage_without_chassis_gives_its_last_loads_and_no_turns(folder: Path, tmp_path: Path) -> None:
    place = tmp_path / "garage"
    store = Store.create(place, Settings(title="Lantern"))
    day = date(2026, 3, 27)
    store.append(
        [
            Draft(
                key=corner,
                day=day,
                who="Robin",
                matter=Reading(
                    measure=Measure.CORNER_LOAD,
                    value=load,
                    corner=corner,
                    place="driver aboard, 32 L of fuel",
                ),
            )
            for corner, load in (("FL", 343.5), ("FR", 353.0), ("RL", 220.5), ("RR", 229.0))
        ]
    )
    store.close()
    (place / "car.toml").write_bytes((folder / "car.toml").read_bytes())
    found = run(place)
    assert found.exit_code == 0, found.output
    assert "1146.0 kg" in found.output and "Describe chassis and set-up" in found.output
    assert "These loads were read on 2026-03-27" in found.output


def test_bare_fuel_is_litres(folder: Path) -> None:
    words = ("--with-driver", "--setup", "dry", "--loads", LOADS, "--json")
    bare, litres = (run(folder, *words, "--fuel", text) for text in ("32", "32 L"))
    assert bare.output == litres.output
