"""`tintop ride` on the demo's folder: found, not proven, refused; the picture whole."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from tintop.cli import main
from tintop.store.demo import write_demo


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = tmp_path_factory.mktemp("ride")
    write_demo(found)
    return found


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["ride", *map(str, words)])


def test_the_demos_dry_set_up_with_a_kerb(folder: Path, tmp_path: Path) -> None:
    picture = tmp_path / "trade.svg"
    result = run(folder, "--setup", "dry", "--kerb", "60 mm", "--kerb-speed", "90 km/h", "--picture", picture)
    assert result.exit_code == 0, result.output
    for words in ("On the smooth circuit", "from full soft", "Kerb of 60 mm", "90 km/h", "Caution: "):
        assert words in result.output
    ElementTree.parse(picture)


def test_content_is_plain_and_whole(folder: Path) -> None:
    result = run(folder, "--setup", "wet", "--road", "b", "--speed", "100 km/h", "--drive", "--json")
    assert result.exit_code == 0, result.output
    content = json.loads(result.stdout)
    assert content["road"]["road_class"] == "B" and content["road"]["speed"] == pytest.approx(100 / 3.6)
    assert {each["purpose"] for each in content["choices"]} == {"road drive", "dry circuit", "wet circuit"}
    assert len(content["drive"]["load_variation"]) == 4 and content["kerb"] is None
    assert content["dampers"]["front"]["known"] == "from their curves"


def test_a_damper_without_a_curve_ends_with_three(folder: Path, tmp_path: Path) -> None:
    for name in ("car.toml", "chassis.toml"):
        (tmp_path / name).write_bytes((folder / name).read_bytes())
    text = (tmp_path / "chassis.toml").read_text("utf-8")
    before, after = text.split("[rear.dampers.bump]")
    rest = after.split("# -- brakes")[1]
    ratios = (
        'most_clicks = "10"\ncurves = [{ click = "0", ratio = "0.2" }, { click = "10", ratio = "0.9" }]\n'
    )
    written = f"{before}[rear.dampers.bump]\n{ratios}\n[rear.dampers.rebound]\n{ratios}\n# -- brakes{rest}"
    (tmp_path / "chassis.toml").write_text(written, "utf-8")
    (tmp_path / "setups").mkdir()
    (tmp_path / "setups" / "dry.toml").write_bytes((folder / "setups" / "dry.toml").read_bytes())
    result = run(tmp_path)
    assert result.exit_code == 3, result.output
    assert "Not proven" in result.output and "assumed damping ratio" in result.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--setup", "drie"), "one of: dry, larkmoor"),
        (("--setup", "dry", "--road", "B rode"), "Did you mean B road"),
        (("--setup", "dry", "--speed", "80"), "without a unit"),
        (("--setup", "dry", "--kerb", "60 cm"), "kerb height"),
    ],
)
def test_what_cannot_be_is_a_sentence(folder: Path, words: tuple[str, ...], said: str) -> None:
    result = run(folder, *words)
    assert result.exit_code == 2
    assert said in result.output and "Traceback" not in result.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--kerb-speed", "nonsense"), "without --kerb"),
        (("--kerb", "60 mm", "--kerb-speed", "1 km/h"), "found 1.0 km/h; expected 10.8 km/h to 324.0 km/h"),
        (("--speed", "1 mph"), "expected 10.8 km/h"),
    ],
)
def test_a_speed_is_refused_in_the_owners_unit(folder: Path, words: tuple[str, ...], said: str) -> None:
    result = run(folder, "--setup", "dry", *words)
    assert result.exit_code == 2 and said in result.stderr
