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
        (("--setup", "dry", "--height", "50000"), "−450 m to 5000 m"),
        (("--setup", "dry", "--set-height", "-2000 m"), "−450 m to 5000 m"),
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


def test_the_road_setup_gives_its_own_cold_pressures(folder):
    result = run(folder, "--setup", "road", "--air", "20C", "--tyres-at", "35C", "--json")
    assert result.exit_code == 0, result.output
    content = json.loads(result.output)
    for corner, own in zip(content["corners"].values(), (2.1e5, 2.1e5, 2.2e5, 2.2e5), strict=True):
        assert corner["exact"] == pytest.approx((own + 101325.0) * 308.15 / 293.15 - 101325.0, rel=2e-3)
    assert content["plan"] == []
    assert "sticker in the door" in " ".join(content["cautions"])


def test_a_target_in_another_unit_is_answered_in_both(folder):
    result = run(folder, "--setup", "dry", "--target", "2.2 bar")
    assert result.exit_code == 0, result.output
    assert " bar)" in result.output.splitlines()[0] and "set cold, bar" in result.output
    assert " bar)" not in run(folder, "--setup", "dry", "--target", "32 psi").output


def test_every_step_says_why(folder):
    content = json.loads(run(folder, "--setup", "dry", "--circuit", "larkmoor", "--json").output)
    moved = [row for row in content["plan"] if row["to"] is not None]
    assert moved
    for row in moved:
        assert ("takes more of it" in row["because"]) == ("put air into" in row["deed"])
        assert row["because"] in " ".join(content["why"])
