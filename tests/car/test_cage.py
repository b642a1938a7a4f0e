import dataclasses
import math

import pytest
from hypothesis import given, settings

from cages import HOOP, STEEL, cage_of, template, templates
from tintop.car.cage import CageNode, Fixing, Foot, Role, Steel, Tube, pieces
from tintop.car.cage_faults import faults
from tintop.car.cage_holding import stretches
from tintop.errors import BadInput


@settings(max_examples=40, deadline=None)
@given(templates())
def test_every_template_is_a_frame_of_mirrored_halves(drawn_from):
    cage = cage_of(drawn_from)
    assert faults(cage) == ()
    places = {node.position for node in cage.nodes}
    assert {(x, -y if y else y, z) for x, y, z in places} == places
    assert max(z for _, _, z in places) == pytest.approx(drawn_from.cabin_height)
    assert max(x for x, _, _ in places) == pytest.approx(drawn_from.cabin_length)
    assert len(cage.feet) == 6


def test_tube_list_and_mass():
    cage = cage_of(template())
    tubes = {each.part: each for each in cage.tube_list()}
    assert tubes["main hoop"].length == pytest.approx(
        2.0 * math.hypot(0.05 * 1.25, 0.94 * 1.15 - _waist(cage)) + _waist(cage) * 2.0 + _top(cage), rel=1e-9
    )
    assert tubes["main hoop"].mass == pytest.approx(tubes["main hoop"].length * 2.6203, rel=1e-4)
    assert cage.mass == pytest.approx(sum(each.mass for each in tubes.values()))


def _waist(cage):
    return cage.position("hoop waist left")[2]


def _top(cage):
    shoulder, top = cage.position("hoop shoulder left"), cage.position("hoop top left")
    return 2.0 * math.dist(shoulder, top) + 2.0 * top[1]


def test_a_bent_tube_buckles_as_one_and_a_joined_one_in_pieces():
    cage = cage_of(template())
    lengths = dict(
        zip((each.name for each in cage.members), (way.length for way in stretches(cage)), strict=True)
    )
    top = [f"main hoop, piece {place}" for place in (4, 5, 6)]
    assert len({round(lengths[name], 9) for name in top}) == 1
    assert lengths[top[0]] == pytest.approx(_top(cage))
    ways = dict(zip((each.name for each in cage.members), stretches(cage), strict=True))
    assert [ways[top[0]].start, ways[top[2]].end] == pytest.approx([0.0, 1.0])
    assert [ways[top[0]].end, ways[top[1]].end] == pytest.approx([ways[top[1]].start, ways[top[2]].start])
    assert lengths["main hoop, piece 1"] == pytest.approx(0.12 * 1.15)
    in_another_order = dataclasses.replace(cage, members=cage.members[::-1])
    assert [way.length for way in stretches(in_another_order)][::-1] == pytest.approx(list(lengths.values()))


def test_refuses_nonsense():
    with pytest.raises(BadInput, match="less than half the diameter"):
        Tube(diameter=0.012, wall=0.0075)
    with pytest.raises(BadInput, match=r"steel\.tensile_strength.*wrong way round"):
        Steel(yield_strength=450e6, tensile_strength=350e6)


def _fault(cage):
    (found,) = faults(cage)
    return f"{found.kind} {found.name}: {found.found}; {found.expected}. {found.cure}"


def test_says_what_is_wrong_and_where():
    cage = cage_of(template())

    def with_tube(name, *through):
        extra = pieces(name, Role.OTHER, through, HOOP)
        return dataclasses.replace(cage, members=cage.members + extra)

    assert "tube strut: the unknown node 'nowhere'" in _fault(with_tube("strut", "hoop top left", "nowhere"))
    assert "a piece of no length" in _fault(with_tube("strut", "dash left", "dash left"))
    assert "where the tube windscreen bar already runs" in _fault(
        with_tube("strut", "screen top right", "screen top left")
    )
    found, *_ = faults(with_tube("strut", "hoop foot left", "hoop shoulder right"))
    assert "the node hoop cross on its way from hoop foot left" in found.found
    assert "Write hoop cross between hoop foot left and hoop shoulder right" in found.cure
    assert "a crossing with the tube" in _fault(
        dataclasses.replace(
            with_tube("strut", "low", "high"),
            nodes=(
                *cage.nodes,
                CageNode(name="low", position=(0.3, 0.1, 1.0)),
                CageNode(name="high", position=(1.1, 0.1, 1.1390)),
            ),
        )
    )
    lonely = dataclasses.replace(cage, nodes=(*cage.nodes, CageNode(name="lonely", position=(0, 0, 3))))
    assert "node lonely: a node that no tube reaches" in _fault(lonely)
    two = dataclasses.replace(cage, feet=cage.feet[:3])
    assert "cage feet: 3 feet; 4 at least" in _fault(two)
    twice = dataclasses.replace(cage, feet=(*cage.feet, Foot(node="hoop foot left", fixing=Fixing.BOLTED)))
    assert "foot hoop foot left: 2 feet at this node" in _fault(twice)
    again = dataclasses.replace(cage, nodes=(*cage.nodes, cage.nodes[0]))
    assert "2 nodes of this name" in _fault(again)


def test_millimetres_taken_for_metres_are_seen():
    cage = cage_of(template())
    moved = dataclasses.replace(cage.nodes[0], position=(0.0, 625.0, 0.0))
    assert "Are millimetres written as metres?" in _fault(
        dataclasses.replace(cage, nodes=(moved, *cage.nodes[1:]))
    )


def test_steel_is_isotropic():
    assert STEEL.shear_modulus == pytest.approx(205e9 / 2.6)
