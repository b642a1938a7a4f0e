"""`tintop treads` from a plain folder."""

import json

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.store.demo import write_demo

READ = ("FL 82 90 80", "FR 81 89 79", "RL 78 76 74", "RR 77 75 73")
FOUR = tuple(word for text in READ for word in ("--temps", text))


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    where = tmp_path_factory.mktemp("car")
    write_demo(where)
    return str(where)


def run(*arguments):
    return CliRunner().invoke(main, ["treads", *arguments])


def test_one_change_and_its_json(folder):
    told = run(folder, "--setup", "dry", *FOUR, "--laps", "8", "--no-cool-down", "--minutes", "1", "--json")
    content = json.loads(told.stdout)
    assert told.exit_code == 0
    assert (content["change"]["item"], content["change"]["end"]) == ("cold pressure", "front")
    assert content["change"]["to"][0] < content["change"]["from"][0]


def test_after_a_cool_down_lap_it_says_measure_again(folder):
    told = run(folder, "--setup", "dry", *FOUR, "--cool-down")
    assert told.exit_code == 3
    assert "Measure again" in told.stdout


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--temps", "82 90 80"), "each wheel once"),
        (("--temps", "FL 82 90"), "temperatures FL"),
        ((*FOUR, "--says", "wobbly"), "driver's words"),
        ((*FOUR, "--laps", "9" * 3000), "--laps"),
        ((), "no garage"),
    ],
)
def test_slips_are_told(folder, arguments, says):
    told = run(folder, "--setup", "dry", *arguments)
    assert told.exit_code == 2
    assert says in told.stderr


def test_the_drivers_own_words_are_read_and_said_back(folder):
    told = run(folder, "--setup", "dry", *FOUR, "--says", "understeers mid, fine out")
    assert told.exit_code == 0, told.output
    assert "The driver, as understood: understeer in mid-corner; fine on the way out." in told.stdout
    assert "the driver's understeer in mid-corner" in told.stdout.splitlines()[0]
