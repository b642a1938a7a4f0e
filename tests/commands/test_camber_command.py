"""`tintop camber` from a plain folder."""

import json

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.store.demo import write_demo


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    where = tmp_path_factory.mktemp("car")
    write_demo(where)
    return str(where)


def run(*arguments):
    return CliRunner().invoke(main, ["camber", *arguments])


def test_strut_top_moved_on_the_demo(folder):
    told = run(folder, "--setup", "dry", "--circuit", "larkmoor", "--top-inward", "5 mm", "--json")
    content = json.loads(told.stdout)
    assert told.exit_code in (0, 3)
    assert content["top_moved"]["camber"] == pytest.approx(-0.0082, abs=0.0006)
    words = run(folder, "--setup", "dry", "--circuit", "larkmoor", "--top-inward", "5 mm")
    assert content["sentence"] in words.stdout


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--setup", "drry"), "Did you mean dry?"),
        ((), "Name one"),
        (("--setup", "dry", "--circuit", "larkmor"), "Did you mean larkmoor?"),
        (("--setup", "dry", "--top-inward", "5"), "without a unit"),
        (("--setup", "dry", "--top-inward", "50 mm"), "by its slots"),
    ],
)
def test_slips_are_told_and_nothing_is_worked_out(folder, arguments, says):
    told = run(folder, *arguments)
    assert told.exit_code == 2
    assert says in told.stderr
    assert not told.stdout


def test_a_road_out_of_reach_is_refused_in_the_owners_unit(folder):
    told = CliRunner().invoke(main, ["camber", str(folder), "--setup", "dry", "--road", "10 m"])
    assert told.exit_code == 2
    assert "--road: found 0 " in told.stderr and "5e+07" not in told.stderr
