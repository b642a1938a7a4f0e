"""`tintop brakes` on a plain folder."""

import json
from xml.etree import ElementTree

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
    return CliRunner().invoke(main, ["brakes", *words])


def test_a_rear_that_locks_first_is_unsafe_and_exit_one(folder):
    result = run(folder, "--setup", "dry", "--turns", "-12", "--friction", "1.2")
    assert result.exit_code == 1
    assert result.stdout.startswith("UNSAFE: on a dry road of grip 1.20 the rear axle locks first")
    assert "REAR: UNSAFE" in result.stdout and "closed, empty road" in result.stdout


def test_on_little_grip_the_front_locks_first_but_within_the_doubt_it_is_not_proven(folder):
    found = json.loads(run(folder, "--setup", "wet", "--friction", "0.5", "--json").stdout)
    wet = found["cases"][0]
    assert wet["road"] == "wet" and wet["locks_first"] == "front"
    assert found["verdict"] == ("yes" if wet["margin"] > 1.645 * wet["doubt"] else "not proven")
    assert run(folder, "--setup", "wet", "--friction", "0.5").exit_code == (
        0 if found["verdict"] == "yes" else 3
    )


def test_fuel_helps_and_a_knee_lets_the_rear_do_more(folder):
    def share(*more):
        words = (folder, "--setup", "dry", "--friction", "0.8", "--turns", "1", *more, "--json")
        return json.loads(run(*words).stdout)["cases"][0]

    assert share("--fuel", "40 L")["margin"] > share()["margin"]
    assert share("--knee", "40 bar")["front_share"] < share()["front_share"]


def test_a_picture_is_drawn(folder, tmp_path):
    picture = tmp_path / "brakes.svg"
    run(folder, "--setup", "dry", "--picture", str(picture))
    drawn = ElementTree.parse(picture).getroot()
    words = {each.text for each in drawn.iter("{http://www.w3.org/2000/svg}text")}
    assert {"front", "rear", "ideal"} <= words


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--setup", "dry", "--turns", "40"), "turns"),
        (("--setup", "dry", "--friction", "7"), "grip of the road"),
        (("--setup", "dry", "--event", "event"), "--circuit"),
        (("--setup", "dry", "--front-pads", "warm"), "temperature"),
        (("--setup", "dryy"), "Did you mean dry?"),
    ],
)
def test_bad_input_is_a_sentence_and_exit_two(folder, words, said):
    result = run(folder, *words)
    assert result.exit_code == 2
    assert said in result.output and "Traceback" not in result.output


@pytest.mark.parametrize(
    ("circuit", "said"), [("nonsense", "expected one of: larkmoor"), ("larkmoor", "without --event")]
)
def test_a_circuit_is_looked_at_and_wants_an_event(folder, circuit, said):
    result = run(folder, "--setup", "dry", "--circuit", circuit)
    assert result.exit_code == 2 and said in result.stderr


def test_bare_fuel_is_litres(folder):
    bare, litres = (run(folder, "--setup", "dry", "--fuel", text, "--json") for text in ("20", "20 L"))
    assert bare.stdout == litres.stdout and bare.exit_code in (0, 3)
