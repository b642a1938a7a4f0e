import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import cage_of, template
from tintop.car.cage import CageNode, pieces
from tintop.car.cage_holding import hold, stand
from tintop.car.cage_loads import standard_loads
from tintop.car.cage_sharing import die_shares, shared


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 6), st.integers(0, 10_000))
def test_what_is_pressed_moves_equally_far_and_nothing_is_pulled(count, seed):
    made = np.random.default_rng(seed).normal(size=(count, count))
    flexibility = made @ made.T + 0.05 * np.eye(count)
    shares = die_shares(flexibility)
    assert (shares >= 0.0).all()
    assert shares.sum() == pytest.approx(1.0)
    pressed = (flexibility @ shares)[shares > 0.0]
    assert pressed == pytest.approx(np.full(pressed.size, pressed.mean()), rel=1e-9)


def test_independent_springs_share_by_their_stiffness():
    assert die_shares(np.diag([1.0, 2.0, 4.0])) == pytest.approx([4 / 7, 2 / 7, 1 / 7])


def test_a_block_on_a_cage_pushes_its_nodes_equally_far():
    cage = cage_of(template())
    standing = stand(cage)
    nodes, down = ["hoop top left", "screen top left", "dash left"], (0.0, 0.0, -1.0)
    load = standard_loads(cage)[0]
    forces = shared(standing, nodes, down, 5000.0)
    (result,) = hold(standing, (dataclasses.replace(load, forces=forces),))
    moved = {each.node: -each.move[2] for each in result.moves}
    assert math.fsum(each.force[2] for each in forces) == pytest.approx(-5000.0)
    assert [moved[each.node] for each in forces] == pytest.approx([result.deflection] * len(forces))


def test_more_nodes_on_the_hoops_top_hardly_change_what_it_carries():
    """A rigid stamp spares the middle of a flat tube, however finely it is drawn."""
    cage = cage_of(template())
    (top,) = [each for each in cage.members if {each.start, each.end} == {"hoop top left", "hoop top right"}]
    (x, y, z), between = cage.position(top.start), ["between 1", "between 2", "between 3"]
    nodes = tuple(
        CageNode(name=name, position=(x, y * (1.0 - 0.5 * place), z)) for place, name in enumerate(between, 1)
    )
    cut = pieces("cut", top.role, (top.start, *between, top.end), top.tube)
    finer = tuple(
        new
        for each in cage.members
        for new in ([dataclasses.replace(piece, part=top.part) for piece in cut] if each is top else [each])
    )
    fine = dataclasses.replace(cage, nodes=cage.nodes + nodes, members=finer)
    (coarse,) = hold(stand(cage), standard_loads(cage)[:1])
    (other,) = hold(stand(fine), standard_loads(fine)[:1])
    assert other.deflection == pytest.approx(coarse.deflection, rel=0.05)
    assert other.limit.mechanism == pytest.approx(coarse.limit.mechanism, rel=0.05)
