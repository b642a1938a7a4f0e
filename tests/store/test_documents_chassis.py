"""chassis.toml: what it says is what is read, slips are asked about, and everything wrong is told at once."""

import math
import re
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.car.car_with_setup import roll_stiffness
from tintop.car.chassis import End, Item
from tintop.car.described import DescribedCar
from tintop.car.wheel_paths import Strut, WheelTable
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.physics.ride import ride_frequency, ride_rate, wheel_rate
from tintop.store.demo import demo_path
from tintop.store.documents import read_car
from tintop.store.documents.chassis_doubts import sprung_corner
from tintop.store.documents.chassis_reader import DescribedChassis, chassis_from, read_chassis
from tintop.store.documents.setup_reader import read_setup
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.starting import starter_document

TEXT = demo_path("chassis.toml").read_text("utf-8")


@cache
def car() -> DescribedCar:
    return read_car(demo_path("car.toml"))


@cache
def demo() -> DescribedChassis:
    return read_chassis(demo_path("chassis.toml"), car())


def read(text: str) -> DescribedChassis:
    return chassis_from(
        Document(name="chassis.toml", tables=toml_tables(text, "chassis.toml"), lines=lines_of(text)), car()
    )


def changed(*pairs: tuple[str, str]) -> str:
    text = TEXT
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def refused(text: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        read(text)
    return [str(problem) for problem in caught.value.problems]


# -- what is read ------------------------------------------------------------------------------------------


def test_what_is_written_is_read_in_si_with_how_it_is_known() -> None:
    front = demo().chassis.front
    assert front.motion_ratio == 0.78
    assert front.perch_pitch == pytest.approx(0.002)
    assert [spring.rate for spring in front.springs] == pytest.approx([70e3, 50e3, 60e3, 80e3, 90e3])
    assert front.springs[1].offer.price_cents == 9600 and not front.springs[1].offer.is_owned
    assert front.springs[0].offer.is_owned and front.springs[0].offer.price_cents is None
    assert demo().chassis.rear.springs[0].rate == pytest.approx(78807.08, rel=1e-6)
    known = demo().known["front.motion_ratio"]
    assert (known.value, known.uncertainty, known.origin) == (0.78, 0.015, Origin.MEASURED)
    bump = front.dampers[0].bump
    assert bump.clicks == (0, 4, 8, 12, 16) and bump.speeds[0] == pytest.approx(0.025)
    assert bump.forces[2][2] == 460.0


def test_what_is_not_written_is_the_class_default_and_said_to_be() -> None:
    for path in ("front.tyre_damping", "rear.pressure_loss", "front.spring_preload"):
        assert demo().known[path].origin is Origin.ASSUMED, path
        assert demo().known[path].source, path
    found = read(
        changed(('damper_motion_ratio = { value = "0.85"', 'x = { value = "0.85"')).replace(
            "\nx =", "\n# x ="
        )
    )
    assert found.chassis.rear.damper_motion_ratio == pytest.approx(0.78)
    assert found.known["rear.damper_motion_ratio"].origin is Origin.ASSUMED
    without = re.sub(r"^(pitch|roll)_inertia.*\n", "", TEXT, flags=re.M)
    assert read(without).chassis.pitch_inertia == pytest.approx(1200.0 * car().car.masses.car / 1000.0)


def test_the_bar_of_steel_is_as_stiff_as_by_hand() -> None:
    """24 mm of 1050 mm: 80e9 π 0.024⁴ / 32 / 1.05 = 2481.6 N·m/rad; times (0.62 × 1.468 / 0.231)²."""
    bar = demo().chassis.rear.bars[0]
    torsion = 80e9 * math.pi * 0.024**4 / 32.0 / 1.05
    assert torsion == pytest.approx(2481.6, abs=0.1)
    assert bar.stiffness(3) == pytest.approx(torsion * (0.62 * 1.468 / 0.231) ** 2)
    assert bar.stiffness(0) == 0.0
    doubt = demo().known["rear.bars.1.roll_stiffness"].uncertainty
    assert doubt == pytest.approx(math.sqrt((4 * 0.1 / 24) ** 2 + (5 / 1050) ** 2 + (2 * 0.02 / 0.62) ** 2))


def test_the_demo_s_chassis_agrees_with_its_car() -> None:
    chassis = demo().chassis
    dry = read_setup(demo_path("chassis.toml").parent / "setups" / "dry.toml", chassis)
    suspension, dimensions = car().car.suspension, car().car.dimensions
    front = roll_stiffness(chassis, dry, End.FRONT, dimensions.track_front)
    rear = roll_stiffness(chassis, dry, End.REAR, dimensions.track_rear)
    assert front == pytest.approx(suspension.roll_stiffness_front, rel=0.005)
    assert rear == pytest.approx(suspension.roll_stiffness_rear, rel=0.005)
    assert dry.corner("FL").camber == pytest.approx(suspension.camber_front)
    assert dry.corner("RR").camber == pytest.approx(suspension.camber_rear)
    rate = ride_rate(wheel_rate(70e3, 0.78), 200e3)
    assert 1.6 <= ride_frequency(rate, sprung_corner(car(), End.FRONT)) <= 1.8
    assert isinstance(chassis.front.wheel_path, Strut) and isinstance(chassis.rear.wheel_path, WheelTable)
    camber_at_rest = chassis.rear.wheel_path.camber[2]
    assert camber_at_rest == pytest.approx(dry.corner("RL").camber)


def test_a_set_as_in_the_car_is_the_car_s_and_others_are_of_their_class() -> None:
    sets = {one.name: one for one in demo().chassis.tyre_sets}
    assert sets["semi-slicks"].front == car().car.tyre_front
    assert sets["wets"].rear.kind.value == "wet" and sets["wets"].rear.tread_depth == pytest.approx(0.0055)
    assert sets["wets"].rear.friction_wet_share == pytest.approx(0.78)
    assert demo().known["tyre_sets.3.rear.friction_wet_share"].origin is Origin.ASSUMED
    assert demo().known["tyre_sets.3.rear.tread_depth"].origin is Origin.MEASURED
    pads = {one.name: one for one in demo().chassis.pad_sets}
    assert pads["endurance front, fast-road rear"].front == car().car.brakes.front.pad
    assert pads["fast-road pads"].front.area == car().car.brakes.front.pad.area
    assert pads["fast-road pads"].front.thickness == pytest.approx(0.009)


def test_chores_are_the_usual_but_for_what_the_owner_says() -> None:
    chores = demo().chassis.chores
    assert set(chores) == set(Item)
    assert chores[Item.CAMBER].minutes == pytest.approx(25.0) and chores[Item.CAMBER].torque == 45.0
    assert "toe" in chores[Item.CAMBER].check
    assert chores[Item.TOE].torque is None, "no torque is invented"


def test_adjusters_are_in_si_and_toe_is_an_angle() -> None:
    found = {(one.item, one.end): one for one in demo().chassis.adjusters}
    toe = found[Item.TOE, End.FRONT]
    assert toe.low == pytest.approx(-math.asin(2.0 / 405.0)) and toe.step == pytest.approx(
        math.asin(0.5 / 405.0)
    )
    assert found[Item.PRESSURE, End.REAR].step == pytest.approx(5e3)
    assert found[Item.SPRINGS, End.FRONT].choices == ("60 N/mm", "70 N/mm")


# -- slips that are asked about ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rate", "question"),
    [
        ("400 N/mm", 'Is it "400 lb/in"?'),
        ("150 N/mm", 'Is it "150 lb/in"?'),
        ("70 lb/in", 'Is it "70 N/mm"?'),
    ],
)
def test_a_rate_in_the_other_unit_is_asked_about(rate: str, question: str) -> None:
    (said,) = refused(changed(('rate = "50 N/mm"', f'rate = "{rate}"')))
    assert question in said and "sure = true" in said and "front.springs.2.rate" in said and "line" in said


def test_an_unusual_rate_is_taken_when_the_owner_is_sure() -> None:
    found = read(changed(('rate = "50 N/mm"', 'rate = "150 N/mm"\nsure = true')))
    assert found.chassis.front.springs[1].rate == pytest.approx(150e3)
    measured = 'rate = { value = "150 N/mm", origin = "measured" }'
    assert read(changed(('rate = "50 N/mm"', measured))).chassis.front.springs[1].rate == pytest.approx(150e3)


def test_a_bare_rate_is_asked_about() -> None:
    (said,) = refused(changed(('rate = "50 N/mm"', "rate = 150")))
    assert '"150 N/mm" or "150 lb/in"' in said


def test_a_motion_ratio_the_wrong_way_up_is_told_which_it_would_be() -> None:
    (said,) = refused(
        changed(
            (
                'motion_ratio = { value = "0.78", origin = "measured", uncertainty = "0.015", note = "jack',
                'motion_ratio = { value = "1.28", origin = "measured", uncertainty = "0.015", note = "jack',
            )
        )
    )
    assert "write 0.781" in said and "front.motion_ratio" in said and "'1.28'" in said


# -- what is refused ---------------------------------------------------------------------------------------


CLICK, BALL, AXIS = '{ click = "4", forces = ["106 N"', 'ball_joint = ["10 mm", "690 mm"', "strut_axis = "
SLICKS = 'name = "semi-slicks"\nas_in_car = true'
IMPOSSIBLE = [
    (CLICK, CLICK.replace("4", "9"), "rising clicks from full soft"),
    (CLICK, CLICK.replace("4", "4.5"), "whole number of clicks"),
    ('speeds = ["25 mm/s", "50 mm/s"', 'speeds = ["50 mm/s", "25 mm/s"', "two or more rising"),
    ('"106 N", "191 N", "330 N"', '"106 N", "330 N"', "6, one for each speed"),
    ('most = "25 kg"', 'most = "-25 kg"', "more than 0, at most 400 kg"),
    ('least_mass = { value = "1090 kg"', 'least_mass = { value = "-1090 kg"', "300 to 3500 kg"),
    ('top = ["-46 mm", "542 mm"', 'top = ["-46 mm", "-542 mm"', "these points cannot meet"),
    (BALL, 'ball_joint = ["10 mm", "69 mm"', "these points cannot meet"),
    ('wheel_centre = ["0 mm", "723 mm"', 'wheel_centre = ["0 mm", "-723 mm"', "LEFT wheel"),
    (AXIS, "# strut_axis = ", "three lengths: forward, left, up"),
    (AXIS + '["-10 mm", "628 mm", "360 mm"]', AXIS + '["-40 mm", "560 mm", "780 mm"]', "not below"),
    ('slots_inward = "6 mm"', 'slots_inward = "6.5 cm"', "0 to 60 mm"),
    ('final_drives = ["4.06", "4.25"]', 'final_drives = ["4.06", "42.5"]', "ratios from 0.5 to 12"),
    ('name = "60 N/mm"', 'name = "70 N/mm"', "each name once"),
    ('"rear valve"\nshare', '"rear valve"\n# share', "what one turn of the rear valve adds"),
    ('least_turns = "-12"', 'least_turns = "2"', "a room about 0"),
    ('toe = ["0.3 mm in per wheel"', 'toe = ["0.3"', "Is it"),
    ('travel = ["-50 mm"', 'travel = ["50 mm"', "two or more rising travels"),
    ('item = "camber"\nend = "front"\n', 'item = "camber"\n', "front or rear"),
    ('item = "brake bias"\n', 'item = "brake bias"\nend = "front"\n', "no end"),
    ('high = "-1.0 deg"', 'high = "-3.6 deg"', "a lower and a higher end"),
    ('name = "wets"\nkind = "wet"', 'name = "wets"', "the class of tyre"),
    (SLICKS, SLICKS + '\nradius = "300 mm"', "car.toml has them"),
    ('arms = [{ value = "305 mm"', 'arms = [{ value = "205 mm"', "softest to the stiffest"),
    ('roll_stiffness = ["205', 'diameter = "22 mm"\nroll_stiffness = ["205', "roll_stiffness per hole, or"),
    ('price = "96"', 'price = "-96"', "a price from 0 to 1000000"),
    ('price = "96"', 'price = "1e308"', "a price from 0 to 1000000"),
    ('"106 N", "191 N"', '"-106 N", "191 N"', "-106 N (damper forces at click 4); expected 0 to 50000 N"),
    ('"106 N", "191 N"', '"1e308 N", "191 N"', "0 to 50000 N"),
    ('"106 N", "191 N"', '"306 N", "191 N"', "a force that falls as the speed rises"),
    ('least_turns = "-12"', 'least_turns = "-1e308"', "-100 to 100"),
    ('most_clicks = "16"', 'most_clicks = "10000"', "0 to 100"),
    ('place = ["-1050 mm"', 'place = ["-1e300 mm"', "none beyond 5 m"),
    ('step = "0.1 deg"', 'step = "0.0001 deg"', "adjusters.6.step: found 2.4e+04 places"),
    ('step = "2 mm"', 'step = "1e-9 mm"', "at most 200 places"),
    ('low = "124 mm"', 'low = "-1e308 m"', "at most 200 places"),
    ('low = "124 mm"', 'low = "1 mm"', "adjusters.3.low: found '1 mm'; expected 20 to 600 mm"),
    ('low = "0"\nhigh = "3"', 'low = "-2"\nhigh = "3"', "0 to 3 holes"),
    ('high = "16"', 'high = "60"', "0 to 16 clicks, all that the parts of this end have"),
    ('low = "-12"', 'low = "-40"', "-12 to 4 turns, the room said under [bias]"),
    ('high = "-1.0 deg"', 'high = "2.9 deg"', "-8.6 to 1.5 deg"),
    ('choices = ["60 N/mm", "70', 'choices = ["65 N/mm", "70', "Did you mean 60 N/mm?"),
    ('note = "second-hand', 'note = "second\\u202ehand', "invisible characters"),
    ('pressure_hot = "2.05 bar"', 'pressure_hot = "30 bar"', 'Is it "30 psi"?'),
    ('tyre_rate = { value = "200 N/mm"', 'tyre_rate = { value = "2000 N/mm"', "50 N/mm to 600 N/mm"),
]


@pytest.mark.parametrize(("old", "new", "words"), IMPOSSIBLE)
def test_what_cannot_be_is_refused_with_file_line_and_field(old: str, new: str, words: str) -> None:
    said = refused(changed((old, new)))
    assert any(words in each for each in said), said
    assert all(each.startswith("chassis.toml") for each in said)


def test_everything_wrong_is_told_at_once() -> None:
    said = refused(
        changed(
            ('rate = "50 N/mm"', 'rate = "400 N/mm"'),
            ('most = "25 kg"', 'most = "-25 kg"'),
            ('ball_joint = ["10 mm", "690 mm"', 'ball_joint = ["10 mm", "69 mm"'),
            ('{ click = "5", forces = ["93 N"', '{ click = "11", forces = ["93 N"'),
            ('high = "-1.0 deg"', 'high = "-3.6 deg"'),
            ('name = "wets"\nkind = "wet"', 'name = "wets"'),
        )
    )
    found = " ".join(said)
    for field in (
        "ballast_places.1.most",
        "front.strut.ball_joint",
        "rear.dampers",
        "adjusters",
        "tyre_sets.3",
    ):
        assert field in found, field


def test_an_arm_too_short_for_the_wheel_s_travel_is_refused() -> None:
    """Arms of 90 mm cannot let a wheel hang 110 mm."""
    said = refused(
        changed(
            ('arm_front = ["20 mm", "345 mm"', 'arm_front = ["20 mm", "600 mm"'),
            ('arm_rear = ["-270 mm", "370 mm"', 'arm_rear = ["-270 mm", "600 mm"'),
            ('droop_travel = { value = "58 mm"', 'droop_travel = { value = "110 mm"'),
        )
    )
    assert len(said) == 1 and "links that cannot meet at -110 mm of wheel travel" in said[0]
    assert "front.strut" in said[0]


def test_two_ways_to_hang_a_wheel_are_refused() -> None:
    said = refused(
        changed(("[rear.measured]", '[rear.strut]\ntop = ["0 mm", "500 mm", "700 mm"]\n\n[rear.measured]'))
    )
    assert any("one of strut, wishbones and measured" in each for each in said)


# -- one to fill in ----------------------------------------------------------------------------------------


def test_the_starter_is_refused_until_filled_in_and_then_reads() -> None:
    starter = starter_document("chassis.toml")
    said = refused(starter)
    assert len(said) == 4 and all("motion_ratio" in each or "ride_height" in each for each in said)
    filled = starter.replace('motion_ratio = "unknown"', 'motion_ratio = "0.9"')
    filled = filled.replace('ride_height = "unknown"', 'ride_height = "140 mm"')
    assert all("springs.1.rate" in each for each in refused(filled))
    found = read(filled.replace('rate = "unknown"', 'rate = "60 N/mm"'))
    assert found.chassis.front.bars[0].name == "none" and found.chassis.front.bars[0].stiffness(0) == 0.0
    assert {"front.bars", "front.strut", "rear.bars", "rear.strut", "final_drives"} <= set(
        found.assumed_choices
    )
    assert found.chassis.final_drives == (car().car.gearbox.final_drive,)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, TEXT.count("\n") - 1),
    st.sampled_from(["", '= "unknown"', '= "-1 mm"', '= ["1 N"]', "= 1e400", "= {}"]),
)
def test_any_line_spoilt_is_read_or_refused_in_words(line: int, spoilt: str) -> None:
    lines = TEXT.split("\n")
    name = lines[line].partition("=")[0].strip()
    lines[line] = f"{name} {spoilt}" if spoilt and name else ""
    try:
        read("\n".join(lines))
    except BadInput as error:
        assert error.problems and all(each.where.startswith("chassis.toml") for each in error.problems)


def test_a_solid_axle_s_spring_base_is_read_and_none_without_it(tmp_path):
    described = read_car(demo_path("car.toml"))
    text = demo_path("chassis.toml").read_text("utf-8")
    file = tmp_path / "chassis.toml"
    file.write_text(text.replace("[rear]\n", '[rear]\nspring_base = "980 mm"\n'), "utf-8")
    found = read_chassis(file, described)
    assert found.chassis.rear.spring_base == pytest.approx(0.98)
    assert found.chassis.front.spring_base is None
    assert "rear.spring_base" in found.known
    file.write_text(text.replace("[rear]\n", '[rear]\nspring_base = "98 mm"\n'), "utf-8")
    with pytest.raises(BadInput, match="98 mm"):
        read_chassis(file, described)


def _demo_with(pattern: str, instead: str, tmp_path):
    text, times = re.subn(pattern, instead, demo_path("chassis.toml").read_text("utf-8"), count=1, flags=re.M)
    assert times == 1
    file = tmp_path / "chassis.toml"
    file.write_text(text, "utf-8")
    return file


@pytest.mark.parametrize("instead", ["", 'motion_ratio = "unknown"'])
def test_a_motion_ratio_that_is_not_known_is_asked_for_with_the_way_to_measure_it(instead, tmp_path):
    file = _demo_with(r"^motion_ratio = .*$", instead, tmp_path)
    with pytest.raises(BadInput) as caught:
        read_chassis(file, read_car(demo_path("car.toml")))
    assert "front.motion_ratio" in str(caught.value) and "jack under the hub" in str(caught.value)


_BY_NAME = """[[rear.dampers]]
name = "as bought"
[rear.dampers.bump]
most_clicks = "10"
[rear.dampers.rebound]
most_clicks = "10"

"""


def test_a_damper_known_by_its_name_only_is_taken_and_told():
    text = demo_path("chassis.toml").read_text("utf-8")
    start = text.index("[[rear.dampers]]")
    text = text[:start] + _BY_NAME + text[text.index("[bias]") :]
    found = chassis_from(
        Document(name="chassis.toml", tables=toml_tables(text, "chassis.toml"), lines=lines_of(text)),
        read_car(demo_path("car.toml")),
    )
    (damper,) = found.chassis.rear.dampers
    assert not damper.bump.is_known and not damper.rebound.is_known
    assert "none is made up" in found.assumed_choices["rear.dampers.1.bump.curves"]
