"""The owner's path through the commands."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tintop.cli import COMMANDS, main
from tintop.store.demo import demo_path

CAR, SECOND, EVENT, CIRCUIT = (
    str(demo_path(name)) for name in ("car.toml", "second_car.toml", "event.toml", "circuit.csv")
)


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def content(*words: str) -> dict:  # type: ignore[type-arg]
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_help_names_every_command() -> None:
    result = run("--help")
    assert result.exit_code == 0
    assert all(command in result.output for command in COMMANDS)


@pytest.mark.parametrize("car", [CAR, SECOND])
def test_lap_gives_what_it_promises(car: str) -> None:
    lap = content("lap", car, CIRCUIT, "--line", "given")
    assert {"lap_time_s", "v_max_mps", "v_min_mps", "length_m", "fuel_kg", "limit_share"} <= lap.keys()
    assert sum(lap["limit_share"].values()) == pytest.approx(1.0)
    assert sum(lap["sectors_s"]) == pytest.approx(lap["lap_time_s"])
    assert lap["length_m"] == pytest.approx(3000.0, rel=2e-3)
    effects = [one["effect_s"] for one in lap["assumptions"]]
    assert effects == sorted(effects, reverse=True) and effects[0] > 0.0


def test_the_quickest_line_is_quicker_than_the_one_given_and_the_default_where_widths_are_known() -> None:
    given = content("lap", CAR, CIRCUIT, "--line", "given")["lap_time_s"]
    assert content("lap", CAR, CIRCUIT)["lap_time_s"] < given - 2.0


def test_lap_writes_its_trace_metre_by_metre(tmp_path: Path) -> None:
    file = tmp_path / "lap.csv"
    lap = content("lap", CAR, CIRCUIT, "--line", "given", "--trace", str(file))
    names, *rows = file.read_text().splitlines()
    assert names.startswith("distance_m,time_s,speed_mps") and "grip_used_rr" in names
    assert max(float(row.split(",")[2]) for row in rows) == pytest.approx(lap["v_max_mps"], rel=1e-6)


def test_race_gives_what_it_promises_and_the_same_seed_the_same_odds() -> None:
    words = ("race", CAR, CIRCUIT, EVENT, "--races", "500", "--seed", "3", "--line", "given")
    race = content(*words)
    assert {"laps", "lasts", "traces"} <= race.keys()
    for item in race["lasts"].values():
        assert {"margin", "probability", "runs_out_at_s"} <= item.keys()
        assert 0.0 <= item["probability"] <= 1.0
    assert len(race["traces"]["clock"]) == race["laps"]
    assert content(*words)["lasts"] == race["lasts"]


def test_sensitivity_knows_that_mass_costs_and_power_gains() -> None:
    found = {
        one["path"]: one for one in content("sensitivity", CAR, CIRCUIT, "--line", "given")["sensitivities"]
    }
    assert len(found) >= 40
    assert found["masses.car"]["seconds_per_unit"] > 0.0 > found["engine.torques"]["seconds_per_unit"]
    # 170 kg buys seconds, not tenths, on a three-kilometre lap: common practice, no source
    assert 1.0 < 170.0 * found["masses.car"]["seconds_per_unit"] < 8.0


def test_check_reruns_forty_cases_or_more_all_within_their_tolerance() -> None:
    rows = json.loads(run("check", "--json").stdout)
    assert len({row["id"] for row in rows}) >= 40
    assert all(row["ok"] and row["source"] for row in rows)
    assert {"id", "source", "expected", "computed", "ok"} <= rows[0].keys()


@pytest.mark.parametrize(
    "words",
    [
        ("lap", CAR, CIRCUIT, "--line", "given"),
        ("race", CAR, CIRCUIT, EVENT, "--races", "50", "--line", "given"),
        ("sensitivity", CAR, CIRCUIT, "--line", "given"),
        ("envelope", CAR),
        ("circuit", CIRCUIT),
        ("check",),
        ("schema",),
    ],
)
def test_every_command_reads_as_text_too(words: tuple[str, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 0, result.output
    assert len(result.output.splitlines()) > 10


def test_demo_writes_documents_that_run_and_never_over_what_is_there(tmp_path: Path) -> None:
    folder = tmp_path / "race"
    assert run("demo", "--write", str(folder)).exit_code == 0
    names = {path.name for path in folder.iterdir()}
    documents = {"car.toml", "second_car.toml", "event.toml", "circuit.csv", "cage.toml", "chassis.toml"}
    assert names == {*documents, "setups", "circuits", "rule_books", "evidence.toml", "originals"}
    assert content("lap", str(folder / "car.toml"), str(folder / "circuit.csv"), "--line", "given")
    again = run("demo", "--write", str(folder))
    assert again.exit_code == 2 and "nothing is overwritten" in again.stderr


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("", None, "empty"),
        ("driven_axle", "driven_axel", "driven_axle"),
    ],
)
def test_a_bad_car_is_a_sentence_and_exit_code_2(
    tmp_path: Path, old: str, new: str | None, words: str
) -> None:
    text = Path(CAR).read_text(encoding="utf-8")
    file = tmp_path / "car.toml"
    file.write_text("" if new is None else text.replace(old, new), encoding="utf-8")
    trace = tmp_path / "lap.csv"
    result = run("lap", str(file), CIRCUIT, "--trace", str(trace))
    assert result.exit_code == 2
    assert words in result.stderr and "car.toml" in result.stderr
    assert "Traceback" not in result.output and not trace.exists()


def test_missing_files_and_folders_are_sentences(tmp_path: Path) -> None:
    for words in (
        ("lap", str(tmp_path / "none.toml"), CIRCUIT),
        ("lap", CAR, str(tmp_path / "none.csv")),
        ("lap", CAR, str(tmp_path)),
        ("lap", CAR, CIRCUIT, "--line", "given", "--trace", str(tmp_path / "no" / "lap.csv")),
        ("race", CAR, CIRCUIT, str(tmp_path / "none.toml")),
    ):
        result = run(*words)
        assert result.exit_code == 2 and result.stderr.strip(), words
        assert "Traceback" not in result.output
