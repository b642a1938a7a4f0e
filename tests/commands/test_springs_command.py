"""`tintop springs` as it is typed: sentences, tables, JSON, exit codes."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tintop.cli import main
from tintop.store.demo import write_demo


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("bench")
    write_demo(place)
    return place


def run(folder: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["springs", str(folder), *arguments])


def test_it_says_rates_balance_and_what_to_look_at(folder: Path) -> None:
    found = run(folder, "--setup", "dry")
    assert found.exit_code == 0, found.output
    assert "come loose" not in found.output
    stiff = run(folder, "--setup", "dry", "--rear-spring", "95 N/mm")
    assert stiff.exit_code == 3, stiff.output
    assert "Rear springs come loose" in stiff.output
    assert "Balance at a steady speed" in found.output
    assert "Caution: A compressed coil spring can kill" in found.output


def test_json_holds_ends_balance_steps_and_map(folder: Path) -> None:
    found = run(folder, "--setup", "dry", "--circuit", "ottersgill", "--map", "bars", "--json")
    assert found.exit_code == 0, found.output
    assert "bump stop" not in found.stdout
    content = json.loads(found.stdout)
    assert content["ends"]["front"]["wheel_rate"] == pytest.approx(70e3 * 0.78**2)
    assert len(content["balance"]) == 4
    assert {one["end"] for one in content["steps"]} == {"front", "rear"}
    assert sum(cell["is_now"] for cell in content["map"]["cells"]) == 1
    assert content["travel"]["most"]["FL"] > 0.0


def test_another_spring_and_hole_are_tried(folder: Path) -> None:
    now = json.loads(run(folder, "--setup", "dry", "--json").stdout)
    other = json.loads(
        run(folder, "--setup", "dry", "--front-spring", "350 lb/in", "--rear-hole", "0", "--json").stdout
    )
    assert other["ends"]["front"]["spring_rate"] < now["ends"]["front"]["spring_rate"]
    assert other["ends"]["rear"]["roll_of_bar"] == 0.0


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--setup", "dri"), "Did you mean dry?"),
        (("--setup", "dry", "--front-spring", "400 N/mm"), 'Then write "400 lb/in"'),
        (("--setup", "dry", "--front-spring", "400"), "without a unit"),
        (("--setup", "dry", "--rear-hole", "9"), "0 (unhooked) to 3"),
        (("--setup", "dry", "--map", "springs"), "Name it with --circuit"),
        (("--setup", "dry", "--circuit", "larkmor"), "Did you mean larkmoor?"),
    ],
)
def test_what_cannot_be_meant_is_said_plainly(folder: Path, arguments: tuple[str, ...], says: str) -> None:
    found = run(folder, *arguments)
    assert found.exit_code == 2
    assert says in found.stderr
    assert not found.stdout
