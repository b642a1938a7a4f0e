"""`tintop gearing` as it is typed."""

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
    return CliRunner().invoke(main, ["gearing", str(folder), "--setup", "dry", *arguments])


def test_it_ranks_and_says_what_the_tachometer_should_read(folder: Path) -> None:
    found = run(folder, "--circuit", "ottersgill")
    assert found.exit_code == 0, found.output
    assert "Gearings, the quickest over all circuits first" in found.output
    assert "Ends of the straights" in found.output
    assert "Next: " in found.output


def test_json_holds_gears_and_ranking(folder: Path) -> None:
    content = json.loads(run(folder, "--circuit", "ottersgill", "--final-drive", "3.8", "--json").stdout)
    assert {one["final_drive"] for one in content["ranked"]} == {3.8, 4.06, 4.25}
    assert content["gears"][0]["speed_at_limiter"] == pytest.approx(17.08, abs=0.01)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [(("--circuit", "ottergill"), "Did you mean ottersgill?"), (("--final-drive", "99"), "0.5 to 12")],
)
def test_what_cannot_be_is_said_plainly(folder: Path, arguments: tuple[str, ...], says: str) -> None:
    found = run(folder, *arguments)
    assert found.exit_code == 2
    assert says in found.stderr
