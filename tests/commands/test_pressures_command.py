"""`tintop pressures` on a plain folder, where no logbook is."""

import json

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.store.demo import write_demo


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("plain") / "car"
    write_demo(place)
    return str(place)


def run(*words):
    return CliRunner().invoke(main, ["pressures", *words])


def test_the_sheet_has_the_numbers_the_plan_and_the_cautions(folder):
    result = run(folder, "--setup", "dry", "--event", "event", "--circuit", "larkmoor", "--air", "14C")
    assert result.exit_code == 0, result.output
    for words in (
        "Set cold: FL",
        "After 8 laps of practice",
        "it rains: cold",
        "the road home, on road tyres: these tyres are cold",
        "Next:",
    ):
        assert words in result.stdout
    assert "Caution: Never below" in result.stdout


def test_the_json_agrees_with_itself(folder):
    words = (folder, "--setup", "dry", "--circuit", "larkmoor", "--tyres-at", "30C", "--target", "2.15 bar")
    found = json.loads(run(*words, "--json").stdout)
    assert found["verdict"] == "found" and found["tyres_at_C"] == 30.0
    for corner in found["corners"].values():
        assert corner["target"] == pytest.approx(2.15e5)
        assert corner["low"] < corner["exact"] < corner["high"] < corner["target"]
    assert len(found["plan"]) == 3 and found["plan"][-1]["cold_next"] is None
    assert found["corners"]["FL"]["exact"] < found["corners"]["FR"]["exact"]  # right-handers load the left


def test_a_hill_needs_other_cold_pressures(folder):
    def front_left(*more):
        return json.loads(run(folder, "--setup", "dry", *more, "--json").stdout)["corners"]["FL"]["exact"]

    assert front_left("--height", "1000 m") > front_left("--height", "0 m")
    assert front_left("--set-height", "1000 m", "--height", "0 m") > front_left("--height", "0 m")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--setup", "dry", "--target", "31 bar"), 'Write "31 psi"'),
        (("--setup", "road"), "sheet"),
        (("--setup", "dri"), "Did you mean dry?"),
        ((), "Name one."),
        (("--setup", "dry", "--circuit", "larkmor"), "Did you mean larkmoor?"),
        (("--setup", "dry", "--event", "spring"), "event"),
        (("--setup", "dry", "--air", "cold"), "temperature"),
    ],
)
def test_bad_input_is_a_sentence_and_exit_two(folder, words, said):
    result = run(folder, *words)
    assert result.exit_code == 2
    assert said in result.output and "Traceback" not in result.output
