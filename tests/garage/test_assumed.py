import re

import pytest
from click.testing import CliRunner

from benches import demo_bench
from tintop.answer import Assumption
from tintop.cli import main
from tintop.garage.assumed import SUBJECTS, TITLE, assumed_by, assumed_table
from tintop.known import Origin


@pytest.mark.parametrize("subject", SUBJECTS)
def test_only_what_nobody_measured_and_each_once(subject):
    bench = demo_bench()
    found = assumed_by(bench, subject, bench.setup("dry"), None)
    paths = [one.path for one in found]
    assert paths == sorted(set(paths))
    for path in paths:
        end = re.fullmatch(r"tyre_(front|rear)\.(\w+)", path)
        known = {**bench.described.known, **bench.chassis_known}
        named = f"tyre_sets.{_place(bench, 'dry')}.{end[1]}.{end[2]}" if end else path
        assert known[named].origin is Origin.ASSUMED
        assert next(one for one in found if one.path == path).value == known[named].value


def _place(bench, name):
    return 1 + [one.name for one in bench.chassis.tyre_sets].index(bench.setup(name).tyres)


def test_the_springs_name_the_roll_centres_and_the_grip_they_took():
    bench = demo_bench()
    paths = {one.path for one in assumed_by(bench, "springs", bench.setup("dry"), None)}
    assert {"suspension.roll_centre_height_front", "tyre_front.friction_lateral"} <= paths
    assert "front.tyre_rate" not in paths  # the demo's is measured


def test_tyres_are_those_of_the_set_up():
    bench = demo_bench()
    dry, wet = (
        {one.path: one.value for one in assumed_by(bench, "gearing", bench.setup(name), None)}
        for name in ("dry", "wet")
    )
    assert dry["tyre_front.friction_longitudinal"] != wet["tyre_front.friction_longitudinal"]


def test_the_dearest_stands_first_and_ends_that_agree_share_a_row():
    def one(path, value, effect=0.0):
        return Assumption(
            path=path, value=value, uncertainty=3e4, effect=effect, effect_unit="° per g", source="a book"
        )

    bench = demo_bench()
    table = assumed_table([one("front.tyre_rate", 2e5), one("rear.tyre_rate", 2e5)], bench.settings.units)
    assert [row[0] for row in table.rows] == ["front and rear, tyre rate"]
    apart = assumed_table([one("front.tyre_rate", 2e5), one("rear.tyre_rate", 1.9e5)], {})
    assert [row[0] for row in apart.rows] == ["front, tyre rate", "rear, tyre rate"]
    assert "200" in apart.rows[0][1] and apart.rows[0][4] == "a book"


@pytest.mark.parametrize("words", [["springs"], ["gearing"], ["ride"]])
def test_the_terminal_shows_it_and_json_holds_it(words, demo_folder):
    shown = CliRunner().invoke(main, [*words, demo_folder, "--setup", "dry"])
    assert TITLE in shown.output
    plain = CliRunner().invoke(main, [*words, demo_folder, "--setup", "dry", "--json"])
    assert '"assumed"' in plain.stdout


@pytest.fixture(scope="module")
def demo_folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("assumed") / "demo"
    assert CliRunner().invoke(main, ["demo", "--write", str(folder)]).exit_code == 0
    return str(folder)
