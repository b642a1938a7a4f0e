"""Set-ups: read as written, refused in words, and written so that they read back as they were."""

import math
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.car.chassis import Bar, Chassis, End
from tintop.car.setup import CornerSetup, Purpose, Setup
from tintop.car.setup_differences import bar_words
from tintop.errors import BadInput
from tintop.store.demo import SETUPS, demo_path
from tintop.store.documents import read_car
from tintop.store.documents.chassis_reader import read_chassis
from tintop.store.documents.setup_reader import read_setup, setup_from
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.documents.writing_setups import toe_text, write_setup
from tintop.store.starting import starter_document

FOLDER = demo_path("chassis.toml").parent / "setups"
DRY = (FOLDER / "dry.toml").read_text("utf-8")


@cache
def chassis() -> Chassis:
    return read_chassis(demo_path("chassis.toml"), read_car(demo_path("car.toml"))).chassis


def read(text: str, name: str = "dry.toml") -> Setup:
    return setup_from(Document(name=name, tables=toml_tables(text, name), lines=lines_of(text)), chassis())


def changed(old: str, new: str) -> str:
    assert old in DRY, old
    return DRY.replace(old, new, 1)


def refused(text: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        read(text)
    return [str(problem) for problem in caught.value.problems]


def test_what_both_wheels_have_and_what_one_has_is_read_in_si() -> None:
    dry = read(DRY)
    assert dry.purpose is Purpose.DRY and dry.circuit == "" and dry.name == "Dry circuit"
    assert [corner.pressure_cold for corner in dry.corners] == pytest.approx([1.6e5, 1.65e5, 1.75e5, 1.75e5])
    assert dry.corner("FL").camber == pytest.approx(math.radians(-2.9))
    assert dry.corner("FR").toe == pytest.approx(-math.asin(1.0 / 405.0)), "out is negative"
    assert dry.corner("RL").toe == pytest.approx(math.asin(0.5 / 405.0))
    assert (dry.corner("FL").bump, dry.corner("FL").rebound) == (8, 10)
    assert (dry.rear.bar, dry.rear.bar_hole) == ("24 mm, three holes", 3)
    assert dry.fuel_volume == pytest.approx(0.051)


def test_soft_on_the_road_softer_in_the_wet_than_in_the_dry_and_each_circuit_has_its_own() -> None:
    found = {name: read_setup(FOLDER / f"{name}.toml", chassis()) for name in SETUPS}
    for end in End:
        clicks = [found[name].pair(end)[0].bump for name in ("road", "wet", "dry")]
        assert clicks == sorted(clicks) and clicks[0] < clicks[-1]
    assert found["road"].rear.bar_hole == found["wet"].rear.bar_hole == 1
    assert found["road"].corner("FL").toe == 0.0
    assert found["wet"].brake_bias_turns < 0.0 and found["wet"].tyres == "wets"
    assert {found[name].circuit for name in SETUPS} == {"", "larkmoor", "ottersgill", "wether-moor"}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"1.60 bar"', '"24 bar"', 'Is it "24 psi"?'),
        ('"1.60 bar"', '"3.4 bar"', "0.7 bar to 3.2 bar"),
        ('"1.60 bar"', '"1.6 psi"', 'Is it "1.6 bar"?'),
        ('"1.60 bar"', "1.6", '"1.6 bar"'),
        ('bump = "8"', 'bump = "18"', "0 to 16 clicks from full soft"),
        ('bump = "8"', 'bump = "-1"', "a whole number, from full soft"),
        ('hole = "3"', 'hole = "4"', "0 (unhooked) to 3"),
        ('springs = "70 N/mm"', 'springs = "75 N/mm"', "one of: 70 N/mm; 50 N/mm"),
        ('tyres = "semi-slicks"', 'tyres = "semi-slick"', "Did you mean semi-slicks?"),
        ('final_drive = "4.06"', 'final_drive = "3.9"', "one there is: 4.06, 4.25"),
        ('brake_bias_turns = "0"', 'brake_bias_turns = "5"', "-12 to 4 turns of the rear valve"),
        ('ballast = "0 kg"', 'ballast = "-5 kg"', "0 to 400 kg"),
        ('ballast = "0 kg"', 'ballast = "10 kg"', "one of: passenger's footwell"),
        ('ballast = "0 kg"', 'ballast = "30 kg"\nballast_place = "spare wheel well"', "at most the 20 kg"),
        ('toe = "1 mm out per wheel"', 'toe = "1"', "Is it"),
        ('toe = "1 mm out per wheel"', 'toe = "30 mm out"', "toe"),
        ('toe = "1 mm out per wheel"', "", "each wheel's own toe"),
        ('camber = "-2.9 deg"', 'camber = "-29 deg"', "-8.594 deg to 3.438 deg"),
        ('camber = "-2.9 deg"', 'camber = "2.9 deg"', 'Is it "-2.9 deg"?'),
        ("[FR]", '[FR]\ncamber = "+2.9 deg"', "FR.camber: found +2.9 deg; expected at most 1.5 deg"),
        ("[FR]", '[FR]\nride_height = "228 mm"', "FR.ride_height: found 128 mm beside 228 mm"),
        ("Ottersgill, base", "Ottersgill,\\u202e base", "invisible characters"),
        ("Ottersgill, base", "Ottersgill,\\u0000 base", "invisible characters"),
        ('purpose = "dry circuit"', 'purpose = "dry"', "one of road drive, dry circuit, wet circuit"),
    ],
)
def test_what_cannot_be_is_refused_with_file_line_and_field(old: str, new: str, words: str) -> None:
    said = refused(changed(old, new))
    assert any(words in each for each in said), said
    assert all(each.startswith("dry.toml line") for each in said), said


def test_everything_wrong_is_told_at_once() -> None:
    text = DRY
    for old, new in (("1.60 bar", "24 bar"), ("-2.9 deg", "-29 deg"), ('"3" ', '"1.5" '), ("51 L", "-3 L")):
        assert old in text
        text = text.replace(old, new, 1)
    said = " ".join(refused(text))
    for field in ("FL.pressure_cold", "front.camber", "rear.hole", "fuel"):
        assert field in said, field


def test_the_starter_is_refused_until_it_is_filled_in() -> None:
    said = refused(starter_document("setups/dry.toml"))
    assert any("final_drive" in each for each in said)


# -- written -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SETUPS)
@pytest.mark.parametrize("pressure", ["bar", "psi", "kPa"])
def test_the_demo_s_read_back_as_they_were(name: str, pressure: str) -> None:
    setup = read_setup(FOLDER / f"{name}.toml", chassis())
    assert read(write_setup(setup, chassis(), {"pressure": pressure})) == setup


def test_numbers_are_short_in_the_unit_they_were_written_in() -> None:
    text = write_setup(read(DRY), chassis(), {"pressure": "bar"})
    for line in (
        'camber = "-2.9 deg"',
        'toe = "1 mm out per wheel"',
        'pressure_cold = "1.65 bar"',
        "hole = 3",
    ):
        assert line in text, line
    assert 'pressure_cold = "24 psi"' in write_setup(
        read(DRY.replace("1.60 bar", "24 psi")), chassis(), {"pressure": "psi"}
    )


CORNERS = st.builds(
    CornerSetup,
    camber=st.floats(-0.14, 0.025),
    toe=st.floats(-0.045, 0.045),
    ride_height=st.floats(0.12, 0.15),
    bump=st.integers(0, 10),
    rebound=st.integers(0, 10),
    pressure_cold=st.floats(0.8e5, 3.1e5),
)


@settings(max_examples=30, deadline=None)
@given(
    corners=st.tuples(CORNERS, CORNERS, CORNERS, CORNERS),
    note=st.text(max_size=60).filter(lambda text: text.replace("\n", "").isprintable()),
    turns=st.floats(-12.0, 4.0),
    fuel=st.floats(0.0, 0.1),
    unit=st.sampled_from(["bar", "psi"]),
)
def test_any_set_up_reads_back_as_it_was(corners, note: str, turns: float, fuel: float, unit: str) -> None:
    """Exactly, but for the last digits of what is written in another unit than it is kept in."""
    setup = replace(read(DRY), corners=corners, note=note, brake_bias_turns=turns, fuel_volume=fuel)
    found = read(write_setup(setup, chassis(), {"pressure": unit}))
    for before, after in zip(setup.corners, found.corners, strict=True):
        for name in ("camber", "toe", "ride_height", "pressure_cold"):
            assert getattr(after, name) == pytest.approx(getattr(before, name), rel=1e-14, abs=1e-12), name
        assert (after.bump, after.rebound) == (before.bump, before.rebound)
    assert found.note == note and found.brake_bias_turns == turns
    assert found.fuel_volume == pytest.approx(fuel, rel=1e-14, abs=1e-12)
    assert replace(found, corners=corners, fuel_volume=fuel) == setup


def test_toe_is_said_in_or_out_per_wheel() -> None:
    assert toe_text(0.0, 0.405) == "0 mm"
    assert toe_text(math.asin(0.5 / 405.0), 0.405) == "0.5 mm in per wheel"
    assert toe_text(-math.asin(1.5 / 405.0), 0.405) == "1.5 mm out per wheel"


def test_where_there_is_no_bar_none_needs_to_be_written(tmp_path):
    bare = replace(chassis(), front=replace(chassis().front, bars=(Bar(name="none", roll_stiffness=(0.0,)),)))
    lines = (FOLDER / "dry.toml").read_text("utf-8").splitlines()
    head, tail = lines[: lines.index("[rear]")], lines[lines.index("[rear]") :]
    head = [line for line in head if not line.startswith(("bar =", "hole ="))]
    file = tmp_path / "dry.toml"
    file.write_text("\n".join([*head, *tail]), "utf-8")
    found = read_setup(file, bare)
    assert (found.front.bar, found.front.bar_hole) == ("none", 0)
    assert bar_words(found, End.FRONT) == "none"
    with pytest.raises(BadInput, match=r"front\.bar"):
        read_setup(file, chassis())
