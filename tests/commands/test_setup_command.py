"""Set-ups by command: shown, compared, printed; bad input a sentence."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from benches import write_bench
from tintop.cli import main


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_bench(tmp_path_factory.mktemp("bench"))


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["setup", *map(str, words)])


def test_the_list_and_one_of_them(folder: Path) -> None:
    listed = run("show", folder)
    assert listed.exit_code == 0, listed.output
    assert "6 set-ups" in listed.output and "wether-moor" in listed.output
    one = run("show", folder, "wet")
    assert one.exit_code == 0 and "wet circuit" in one.output and "Caution" in one.output
    content = json.loads(run("show", folder, "--json").stdout)
    assert {each["file"] for each in content["set_ups"]} >= {"road", "dry", "wet"}
    assert json.loads(run("show", folder, "dry", "--json").stdout)["tyres"] == "semi-slicks"


def test_from_road_to_circuit_to_wet(folder: Path) -> None:
    """The demo car goes there job by job: tyres, heights, camber, toe, clicks, pressures."""
    for first, second in (("road", "dry"), ("dry", "wet"), ("wet", "road")):
        found = run("compare", folder, first, second)
        assert found.exit_code == 0, found.output
        for words in ("Jobs, in this order", "clicks", "strut top", "What differs", "Caution"):
            assert words in found.output
    content = json.loads(run("compare", folder, "road", "dry", "--json").stdout)
    items = [job["item"] for job in content["jobs"] if job["item"]]
    assert items.index("tyres") < items.index("ride height") < items.index("camber") < items.index("toe")
    assert items[-1] == "cold pressure"
    assert content["predicted"] is None


def test_sheets_are_written(folder: Path, tmp_path: Path) -> None:
    found = run("sheet", folder, "dry", "--from", "road", "--out", tmp_path / "out")
    assert found.exit_code == 0, found.output
    for name in ("set-up-dry.pdf", "run-sheet-dry.pdf"):
        assert (tmp_path / "out" / name).read_bytes().startswith(b"%PDF")
        assert name in found.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", "FOLDER", "drt"), "Did you mean dry?"),
        (("compare", "FOLDER", "road", "moon"), "one of: "),
        (("compare", "FOLDER", "road", "dry", "--circuit", "nowhere"), "circuit: found 'nowhere'"),
        (("sheet", "FOLDER"), "which is on the car"),
        (("show", "/nowhere"), "no such folder"),
    ],
)
def test_bad_input_is_a_sentence(folder: Path, words: tuple[str, ...], said: str) -> None:
    found = run(*(folder if word == "FOLDER" else word for word in words))
    assert found.exit_code == 2
    assert said in found.stderr and "Traceback" not in found.output


def test_the_group_lists_all_it_can() -> None:
    found = run("--help")
    assert found.exit_code == 0
    for name in ("show", "compare", "sheet", "suggest"):
        assert name in found.output


def test_a_paper_is_not_written_where_a_file_stands(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine", "utf-8")
    found = run("sheet", folder, "dry", "--out", tmp_path / "out")
    assert found.exit_code == 2
    assert "a file on the way to it" in found.stderr and "File exists" not in found.stderr


def test_what_cannot_be_read_is_no_empty_list(tmp_path: Path) -> None:
    bench = write_bench(tmp_path)
    for file in (bench / "setups").iterdir():
        file.write_text("name =", "utf-8")
    found = run("show", bench)
    assert found.exit_code == 2 and "dry.toml" in found.stderr and "0 set-ups" not in found.output


def test_a_circuit_that_is_not_there_is_asked_about(tmp_path: Path) -> None:
    bench = write_bench(tmp_path)
    file = bench / "setups" / "larkmoor.toml"
    file.write_text(file.read_text("utf-8").replace('circuit = "larkmoor"', 'circuit = "larkmor"'), "utf-8")
    found = run("show", bench)
    assert found.exit_code == 0 and "Did you mean larkmoor?" in found.output
    assert "Nothing says whether it is on the car." in run("show", bench, "dry").output
