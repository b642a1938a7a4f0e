"""cage.toml: the demo's, the template, and every refusal with its line."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import DEMO
from tintop.car.cage import Case, Fixing, KnownHow, Role, Side
from tintop.car.cage_holding import stand
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.store.documents.cage_reader import DescribedCage, read_cage

TEMPLATE = """\
name = "Shed cage"
car_mass = "1050 kg"
driver_side = "right"

[steel]
yield_strength = { value = "350 N/mm2", origin = "documented", source = "certificate 3.1" }

[template]
cabin_width = "1250 mm"
cabin_height = "1.15 m"
cabin_length = "145 cm"
stay_length = "850 mm"
hoop_tube = "45 x 2.5 mm"
other_tube = "1.6 x 0.083 in"
"""

LATERAL = """
[[loads]]
name = "side, this year's book"
case = "lateral"
nodes = ["hoop shoulder right"]
force = "20 kN"
direction = "left"
permitted_deflection = "50 mm"
source = "the book in hand, article 4"
"""


def cage_in(folder: Path, text: str) -> DescribedCage:
    path = folder / "cage.toml"
    path.write_text(text, "utf-8")
    return read_cage(path)


def refusal(folder: Path, text: str) -> str:
    with pytest.raises(BadInput) as caught:
        cage_in(folder, text)
    return str(caught.value)


def test_the_demo_is_read():
    described = read_cage(DEMO)
    cage = described.cage
    assert cage.driver_side is Side.RIGHT
    assert cage.car_mass == 1038.0
    assert cage.steel.yield_strength == 372e6
    assert cage.steel.origin is Origin.DOCUMENTED
    assert {foot.node for foot in cage.feet} == {
        f"{kind} foot {side}" for kind in ("hoop", "front", "stay") for side in ("left", "right")
    }
    assert cage.position("hoop shoulder right") == (-0.010, -0.560, 1.075)
    assert [tube.part for tube in cage.tube_list()][:2] == ["main hoop", "front leg left"]
    assert 45.0 < cage.mass < 50.0
    assert {load.case for load in described.loads} == {
        Case.MAIN_HOOP, Case.FRONT, Case.ROOF, Case.COMBINED,
    }  # fmt: skip


def test_a_template_and_more_tubes(tmp_path):
    text = (
        TEMPLATE
        + """
[nodes]
"gusset on the roof" = ["300 mm", "0 mm", "1.10 m"]

[[tubes]]
name = "roof bar"
role = "roof bar"
tube = "40 x 2 mm"
through = ["hoop top left", "gusset on the roof", "screen top right"]
bolted = ["screen top right"]
"""
    )
    cage = cage_in(tmp_path, text).cage
    last = cage.members[-1]
    assert (last.part, last.bolted_start, last.bolted_end) == ("roof bar", False, True)
    assert last.name == "roof bar, piece 2"
    inch = next(each for each in cage.members if each.part == "stay left").tube
    assert (inch.diameter, inch.wall) == pytest.approx((0.04064, 0.0021082))


def test_an_own_load(tmp_path):
    load = cage_in(tmp_path, TEMPLATE + LATERAL).loads[-1]
    assert load.known is KnownHow.YOURS
    assert load.case is Case.LATERAL
    assert load.total == (0.0, 20e3, 0.0)
    assert load.axes == ((0.0, 1.0, 0.0),)
    assert load.permitted_deflection == pytest.approx(0.05)


def test_an_own_load_by_its_components(tmp_path):
    text = LATERAL.replace('force = "20 kN"\ndirection = "left"', 'components = ["-3 kN", "0 N", "-4 kN"]')
    load = cage_in(tmp_path, TEMPLATE + text).loads[-1]
    assert load.total == pytest.approx((-3e3, 0.0, -4e3))
    assert load.axes[0] == pytest.approx((-0.6, 0.0, -0.8))


def test_the_published_loads_as_asked(tmp_path):
    text = TEMPLATE + (
        '[proof]\nkilogram_counts_as = "9.81 N"\nfront_corner = "screen bend right"\nolder_editions = true\n'
    )
    loads = {load.name: load for load in cage_in(tmp_path, text).loads}
    assert loads["main hoop from above"].total[2] == pytest.approx(-7.5 * 1200 * 9.81)
    front = loads["front corner on the driver's side"]
    assert "screen bend right" in {each.node for each in front.forces}
    assert loads["older editions, hoop top"].applies


def test_bolted_feet_and_a_default_modulus(tmp_path):
    cage = cage_in(tmp_path, TEMPLATE + 'feet = "bolted"\n').cage
    assert {foot.fixing for foot in cage.feet} == {Fixing.BOLTED}
    assert cage.steel.youngs_modulus == 205e9


@pytest.mark.parametrize(
    ("change", "with_", "said"),
    [
        ("cabin_height = ", "cabin_hight = ", r"line 10, template\.cabin_hight.*Did you mean cabin_height"),
        ('"1250 mm"', '"1250"', r"line 9, template\.cabin_width.*without a unit.*1250 mm"),
        ('"1250 mm"', '"1250 kg"', r"which is a mass"),
        ('"1.15 m"', '"11.5 m"', r"line 10, template\.cabin_height.*0\.7 to 1\.8 m"),
        ('"45 x 2.5 mm"', '"45 mm"', r"line 13, template\.hoop_tube.*outside diameter and wall"),
        ('"45 x 2.5 mm"', '"45 x 25 mm"', r"line 13, template\.hoop_tube"),
        ('stay_length = "850 mm"\n', "", r"template\.stay_length: found nothing"),
        ('"right"', '"starboard"', r"line 3, driver_side.*one of left, right"),
        ('car_mass = "1050 kg"\n', "", r"car_mass: found nothing"),
        ('"1050 kg"', '"10 kg"', r"line 2, car_mass.*300 to 5000"),
        ('yield_strength = { value = "350 N/mm2"', 'yield_strength = { value = "3.5 N/mm2"',
         r"line 6, steel\.yield_strength"),
        ('stay_length = "850 mm"', 'stay_length = "850 mm"\ndiagonals = 3',
         r"template\.diagonals.*0, 1 or 2"),
        ('stay_length = "850 mm"', 'stay_length = "850 mm"\ndoor_bars = "x"',
         r"template\.door_bars.*cross, parallel, none"),
    ],
)  # fmt: skip
def test_refuses_with_line_and_cure(tmp_path, change, with_, said):
    assert change in TEMPLATE
    assert re.search(said, refusal(tmp_path, TEMPLATE.replace(change, with_)))


def tube(*through: str, role: str = "other", more: str = 'tube = "40 x 2 mm"') -> str:
    names = ", ".join(f'"{node}"' for node in through)
    return f'[[tubes]]\nname = "strut"\nrole = "{role}"\nthrough = [{names}]\n{more}\n'


BOLTED_AMISS = 'tube = "40 x 2 mm"\nbolted = ["hoop foot left"]'


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        (
            tube("hoop top left", "dash rihgt"),
            r"line 15, tubes\.1, strut: found the unknown node 'dash rihgt'",
        ),
        (tube("hoop top left"), r"line 18, tubes\.1\.through: found 1 nodes; expected two or more"),
        (tube("a", "b", role="bumper"), r"line 17, tubes\.1\.role"),
        (tube("hoop top left", "dash left", more=""), r"tubes\.1\.tube: found nothing"),
        (tube("hoop top left", "hoop top left"), r"tubes\.1, strut: found a piece of no length"),
        (tube("hoop top left", "hoop top right"), r"strut: .* where the tube main hoop already runs"),
        (
            tube("hoop top left", "dash left", more=BOLTED_AMISS),
            r"tubes\.1\.bolted.*its ends: hoop top left or dash left",
        ),
        ('[nodes]\na = ["0 mm", "0 mm", "2 m"]\n', r"line 16, nodes\.a: found a node that no tube reaches"),
        ('[nodes]\na = ["0 mm", "0 mm"]\n', r"line 16, nodes\.a.*three lengths: forward, left, up"),
        ('[nodes]\na = ["0 mm", 5, "1 m"]\n', r"line 16, nodes\.a: found '5' without a unit for left"),
        ('[nodes]\na = ["900 m", "0 mm", "2 m"]\n', r"at most 6 m from the origin"),
        (
            '[feet]\nbolted = ["hoop foot left"]\n',
            r"line 15, feet, hoop foot left: found 2 feet at this node",
        ),
        ('[proof]\nkilogram_counts_as = "1 N"\n', r"proof\.kilogram_counts_as.*9\.80665 N"),
        (
            '[proof]\nfront_corner = "nose"\n',
            r"line 16, proof\.front_corner.*a node of the cage that is no foot",
        ),
        (LATERAL.replace("hoop shoulder right", "hoop sholder right"), r"Did you mean hoop shoulder right"),
        (LATERAL.replace('"20 kN"', '"-20 kN"'), r"loads\.1\.force.*the direction says which way"),
        (LATERAL.replace('"left"\np', '"sideways"\np'), r"loads\.1\.direction"),
        (LATERAL.replace('source = "the book in hand, article 4"\n', ""), r"loads\.1\.source: found nothing"),
        (LATERAL.replace('"50 mm"', '"0 mm"'), r"loads\.1\.permitted_deflection"),
        (LATERAL.replace("hoop shoulder", "hoop foot"), r"loads\.1\.nodes: found the foot 'hoop foot right'"),
        ("[gussets]\n", r"line 15, gussets: found a field of an unknown name"),
    ],
)
def test_refuses_parts_with_line_and_cure(tmp_path, extra, said):
    assert re.search(said, refusal(tmp_path, TEMPLATE + extra))


@pytest.mark.parametrize(
    ("many", "said"),
    [
        ("[nodes]\n" + "".join(f'n{k} = ["{k} mm", "0 mm", "2 m"]\n' for k in range(5000)), "5025 nodes"),
        (LATERAL * 21, "21 loads; expected 20 at most"),
        ('[nodes]\n"' + "n" * 500 + '" = ["0 mm", "0 mm", "2 m"]\n', "1 to 60 characters"),
    ],
    ids=["nodes", "loads", "name"],
)
def test_more_than_can_be_meant(tmp_path, many, said):
    assert said in refusal(tmp_path, TEMPLATE + many)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_spoiled_drawing_is_read_or_refused_in_words(tmp_path_factory, data):
    """Any line of the demo lost, doubled or struck through: a cage or a sentence, never a traceback."""
    lines = DEMO.read_text("utf-8").splitlines()
    at = data.draw(st.integers(0, len(lines) - 1))
    way = data.draw(st.sampled_from(["lost", "doubled", "cut", "spoiled"]))
    line = lines[at]
    cut = data.draw(st.integers(0, len(line)))
    lines[at : at + 1] = {
        "lost": [],
        "doubled": [line, line],
        "cut": [line[:cut]],
        "spoiled": [
            line[:cut]
            + data.draw(st.sampled_from(['"', "]", "-", "9", "=", "x", "é", "e9"]))
            + line[cut + 1 :]
        ],
    }[way]
    folder = tmp_path_factory.mktemp("spoiled")
    try:
        described = cage_in(folder, "\n".join(lines))
        stand(described.cage)
    except BadInput as error:
        assert str(error)


def test_a_drawing_of_nothing(tmp_path):
    text = TEMPLATE[: TEMPLATE.index("[template]")]
    assert "tubes, each under [[tubes]], or a [template]" in refusal(tmp_path, text)


@pytest.mark.parametrize("count", [0, 1, 2])
def test_every_count_of_diagonals_that_is_offered_is_drawn(tmp_path, count):
    for field, role in (("diagonals", Role.DIAGONAL), ("roof_diagonals", Role.ROOF_DIAGONAL)):
        cage = cage_in(tmp_path, f"{TEMPLATE}{field} = {count}\n").cage
        assert len({each.part for each in cage.members if each.role is role}) == count


def test_a_template_has_one_roof_diagonal_unless_told(tmp_path):
    cage = cage_in(tmp_path, TEMPLATE).cage
    assert [each.part for each in cage.tube_list() if each.role is Role.ROOF_DIAGONAL] == [
        "roof diagonal from the left"
    ]


def test_a_cage_drawn_the_wrong_way_round_is_refused_with_the_reason(tmp_path):
    """Every first figure with the other sign: the front behind the hoop, the stays ahead of it."""
    swap = {'["-': '["', '["': '["-'}
    text = re.sub(
        r'(?m)^(".*?" = )(\["-?)(?=\d)',
        lambda at: at[1] + swap[at[2]],
        DEMO.read_text("utf-8"),
    )
    said = refusal(tmp_path, text)
    assert re.search(
        r"line \d+, tubes\.2, front leg left: found a tube \d\.\d\d m behind the main hoop", said
    )
    assert "the first figure of a node points forward" in said and "change the sign" in said


def test_a_stay_that_leans_forward_is_refused(tmp_path):
    text = DEMO.read_text("utf-8")
    spoiled = re.sub(r'(?m)^("stay foot left" = )\["-', r'\1["', text)
    assert spoiled != text
    assert re.search(
        r"line \d+, tubes\.\d+, stay left: found a stay whose lower end is .* m ahead of its upper",
        refusal(tmp_path, spoiled),
    )


def test_three_feet_are_too_few(tmp_path):
    text = DEMO.read_text("utf-8").replace(', "front foot right", "stay foot left", "stay foot right"', "")
    assert re.search(r"feet: found 3 feet; expected 4 at least", refusal(tmp_path, text))


def test_a_cage_that_gives_way_names_node_and_line(tmp_path):
    text = (
        DEMO.read_text("utf-8")
        + """
[[tubes]]
name = "loose"
role = "other"
tube = "25 x 2 mm"
through = ["mirror", "lamp"]
"""
    )
    text = text.replace(
        "[[tubes]]", 'mirror = ["1 m", "0 mm", "1.2 m"]\nlamp = ["1 m", "100 mm", "1.2 m"]\n\n[[tubes]]', 1
    )
    assert re.search(r"line 4\d, nodes\.(mirror|lamp): found a frame that gives way", refusal(tmp_path, text))


def test_two_crossing_tubes_without_a_node(tmp_path):
    text = DEMO.read_text("utf-8")
    spoiled = text.replace(
        '"hoop waist left", "diagonal on the harness bar", "hoop waist right"',
        '"hoop waist left", "hoop waist right"',
    )
    assert spoiled != text
    assert re.search(
        r"line \d+, tubes\.7, harness bar: found the node diagonal on the harness bar on its way",
        refusal(tmp_path, spoiled),
    )
