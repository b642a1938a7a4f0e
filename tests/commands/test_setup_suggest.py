"""`tintop setup suggest` from a plain folder."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from short_benches import SHORT, write_short_circuit
from tintop.commands.setup_suggest import command
from tintop.store.demo import write_demo


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    where = tmp_path_factory.mktemp("car")
    write_demo(where)
    write_short_circuit(where / "circuits" / f"{SHORT}.csv")
    write_short_circuit(where / "circuits" / "again.csv")
    return where


def run(folder, *arguments):
    return CliRunner().invoke(command, [str(folder), *arguments])


def test_two_circuits_with_the_changes_the_gain_and_the_whole_laps_that_confirm_it(folder):
    asked = ("--setup", "dry", "--circuit", SHORT, "--circuit", "again", "--adjust", "front camber")
    told = run(folder, *asked, "--json")
    assert told.exit_code in (0, 1, 3)
    content = json.loads(told.stdout)
    assert len(content["circuits"]) == 2
    for one in content["circuits"]:
        confirmed = one["confirmed"]
        gain = confirmed["mean_lap_before_s"] - confirmed["mean_lap_after_s"]
        assert confirmed["gain_s"] == pytest.approx(gain)
        assert confirmed["gain_s"] >= -1e-9
        assert [each["adjuster"] for each in one["flatness"]] == ["front camber"]
        assert one["legality_checked"] is False


def test_the_suggestion_is_told_and_written_when_it_is_asked_to_be(folder):
    asked = ("--setup", "dry", "--circuit", SHORT, "--adjust", "front camber", "--save", "Try it")
    told = run(folder, *asked)
    assert told.exit_code in (0, 1, 3)
    assert told.stdout.startswith("Short: ")
    assert "How flat it is" in told.stdout
    assert "Legality not checked" in told.stdout
    assert (folder / "setups" / "try-it.toml").exists()
    refused = run(folder, *asked)
    assert refused.exit_code == 2
    assert "no set-up has yet" in refused.stderr


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--circuit", SHORT, "--setup", "drry"), "Did you mean dry?"),
        (("--circuit", "shorrt", "--setup", "dry"), "Did you mean short?"),
        (("--circuit", SHORT, "--setup", "dry", "--adjust", "front cambr"), "Did you mean front camber?"),
        (("--circuit", SHORT, "--setup", "dry", "--balance", "loose"), "--balance"),
        (("--circuit", SHORT, "--circuit", "again", "--setup", "dry", "--save", "X"), "one circuit"),
        (("--circuit", SHORT), "Name one"),
    ],
)
def test_slips_are_told_and_nothing_is_written(folder, arguments, says):
    before = sorted(Path(folder).rglob("*"))
    told = run(folder, *arguments)
    assert told.exit_code == 2
    assert says in told.stderr
    assert not told.stdout
    assert sorted(Path(folder).rglob("*")) == before
