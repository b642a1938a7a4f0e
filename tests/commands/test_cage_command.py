"""A cage by command: answered with what is not proven, bad input a sentence, a picture whole or none."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from cages import DEMO
from tintop.cli import main

LATERAL = "30 kN left; hoop shoulder right, hoop top right; 50 mm; the book in hand, 8.2"


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["cage", *map(str, words)])


def content(*words: object) -> dict:
    result = run(*words, "--json")
    assert result.exit_code == 3, result.output
    return json.loads(result.stdout)


def test_the_demo_is_answered_and_not_proven() -> None:
    result = run(DEMO)
    assert result.exit_code == 3, result.output
    assert result.output.startswith("Not proven: by this calculation")
    for words in ("no homologation", "main hoop from above", "Feet", "Tubes", "from memory"):
        assert words in result.output


def test_no_ends_with_one_and_only_what_is_calculated_and_holds_with_nought(tmp_path: Path) -> None:
    path = tmp_path / "cage.toml"
    text = DEMO.read_text("utf-8")
    path.write_text(text.replace('"1038 kg"', '"1500 kg"'), "utf-8")
    heavy = run(path)
    assert heavy.exit_code == 1 and heavy.output.startswith("No, unverified"), heavy.output
    own = "".join(
        f"""
[[loads]]
name = "{case}, the book in hand"
case = "{case}"
nodes = ["{node}"]
force = "{force}"
direction = "{way}"
permitted_deflection = "50 mm"
source = "the book in hand, 8.2"
"""
        for case, node, force, way in (
            ("main hoop", "hoop top left", "40 kN", "down"),
            ("front", "screen top right", "18 kN", "down"),
            ("lateral", "hoop shoulder right", "5 kN", "left"),
        )
    )
    path.write_text(text.replace('"1038 kg"', '"350 kg"') + own, "utf-8")
    light = run(path)
    assert light.exit_code == 0 and light.output.startswith("By this calculation"), light.output
    path.write_text(text.replace('"1038 kg"', '"350 kg"') + own.replace("40 kN", "20 kN"), "utf-8")
    assert run(path).exit_code == 3


def test_only_the_loads_named_are_held() -> None:
    found = content(DEMO, "--load", "roof plate, left", "--load", "main hoop from above")
    assert [each["load"] for each in found["loads"]] == ["main hoop from above", "roof plate, left"]
    assert any("front" in each for each in found["not_proven"])


def test_the_lateral_load_of_the_owner_is_held_and_said_to_be_his() -> None:
    found = content(DEMO, "--lateral", LATERAL)
    lateral = found["loads"][-1]
    assert (lateral["load"], lateral["known"], lateral["source"]) == (
        "lateral",
        "yours",
        "the book in hand, 8.2",
    )
    assert lateral["force_n"] == pytest.approx([0.0, 30e3, 0.0])
    assert lateral["nodes"] == ["hoop shoulder right", "hoop top right"]
    assert lateral["permitted_deflection_m"] == 0.05
    assert not any("no lateral load" in each for each in found["not_proven"])
    assert any("no lateral load" in each for each in content(DEMO)["not_proven"])
    bare = content(DEMO, "--lateral", LATERAL.replace("50 mm", "none"))
    assert any("no permitted deflection" in each for each in bare["not_proven"])


@pytest.mark.parametrize(
    ("lateral", "words"),
    [
        ("30 kN left", "four parts"),
        ("30 kN left; hoop top right; 50 mm; ", "four parts"),
        ("30 kN sideways; hoop top right; 50 mm; book", "one of forward"),
        ("30 left; hoop top right; 50 mm; book", "unit"),
        ("-30 kN left; hoop top right; 50 mm; book", "more than nothing"),
        ("30 kN left; hoop tap right; 50 mm; book", "Did you mean hoop top right?"),
        ("30 kN left; hoop top right; 50 kg; book", "50 kg"),
        ("30 kN left; hoop foot right; 50 mm; book", "straight into feet"),
    ],
)
def test_a_bad_lateral_load_is_a_sentence(lateral: str, words: str) -> None:
    result = run(DEMO, "--lateral", lateral)
    assert result.exit_code == 2
    assert words in result.stderr and "Traceback" not in result.output


def test_a_load_there_is_not_is_a_sentence() -> None:
    result = run(DEMO, "--load", "roof plate, lift")
    assert result.exit_code == 2
    assert "Did you mean roof plate, left?" in result.stderr


def test_a_bad_document_is_a_sentence_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "cage.toml"
    path.write_text(DEMO.read_text("utf-8").replace('"1145 mm"]', '"1145 kg"]'), "utf-8")
    result = run(path, "--picture", tmp_path / "cage.svg")
    assert result.exit_code == 2
    assert "cage.toml line " in result.stderr and "Traceback" not in result.output
    assert not (tmp_path / "cage.svg").exists()
    assert run(tmp_path / "none.toml").exit_code == 2


def test_the_picture_is_of_the_hardest_load_or_the_one_named(tmp_path: Path) -> None:
    path = tmp_path / "cage.svg"
    assert run(DEMO, "--picture", path).exit_code == 3
    assert "main hoop from above" in ElementTree.parse(path).getroot()[0].text
    assert run(DEMO, "--load", "roof plate, right", "--picture", path).exit_code == 3
    assert "roof plate, right" in ElementTree.parse(path).getroot()[0].text
    nowhere = run(DEMO, "--picture", tmp_path / "no" / "cage.svg")
    assert nowhere.exit_code == 2 and "cage.svg" in nowhere.stderr


def test_the_same_is_asked_in_python() -> None:
    import tintop

    found = tintop.ask_will_the_cage_hold(tintop.load_cage(DEMO))
    said = content(DEMO)
    assert said["sentence"] == found.answer.sentence
    assert [each["times_carried"] for each in said["loads"]] == [
        result.limit.carries for result in found.results
    ]
