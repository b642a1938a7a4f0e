import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from frames import MODULUS, SHEAR, TUBE, force, frame_of, frames, loads, ready
from published import check
from tintop.physics.frame import AXIAL, Assembled, Loose, assemble, critical_factor, on_nodes, solve

BENDING = MODULUS * TUBE.second_moment
PINNED = [True, True, True, False, False, False]


def test_published_gable_frame():
    check("V10-01")


def test_published_portal_frames():
    check("V10-02")


@given(st.floats(0.2, 3.0), st.floats(0.0, 2.0 * math.pi), st.floats(-1.2, 1.2))
def test_cantilever_in_any_direction(length, turn, climb):
    along = np.array([math.cos(turn) * math.cos(climb), math.sin(turn) * math.cos(climb), math.sin(climb)])
    across = np.cross(along, [0.3, -0.5, 0.7])
    across /= np.linalg.norm(across)
    frame = frame_of([(0, 0, 0), length * along], [(0, 1)], {0: True})
    by_force = solve(ready(frame), force(frame, 1, *(1000.0 * across)))
    assert by_force.moves[0, 1, :3] == pytest.approx(1000.0 * length**3 / (3.0 * BENDING) * across)
    assert np.linalg.norm(by_force.moves[0, 1, 3:]) == pytest.approx(1000.0 * length**2 / (2.0 * BENDING))
    by_pull = solve(ready(frame), force(frame, 1, *(1000.0 * along)))
    assert by_pull.moves[0, 1, :3] == pytest.approx(1000.0 * length / (MODULUS * TUBE.area) * along)
    assert by_pull.bar_forces[0, 0, AXIAL] == pytest.approx(1000.0)
    by_twist = solve(ready(frame), force(frame, 1, 0, 0, 0, *(100.0 * along)))
    assert by_twist.moves[0, 1, 3:] == pytest.approx(100.0 * length / (SHEAR * TUBE.polar_moment) * along)


def test_propped_cantilever():
    """Load in the middle, far end resting: reaction 5/16 of it (closed form, Timoshenko, from memory)."""
    frame = frame_of([(0, 0, 0), (1, 0, 0), (2, 0, 0)], [(0, 1), (1, 2)], {0: True, 2: [0, 0, 1, 0, 0, 0]})
    found = solve(ready(frame), force(frame, 1, 0, 0, -1600.0))
    assert found.reactions[0, 2, 2] == pytest.approx(500.0)
    assert abs(found.reactions[0, 0, 4]) == pytest.approx(3.0 / 16.0 * 1600.0 * 2.0)


def test_a_released_end_passes_no_bending():
    """A clamped beam released at one end is the propped cantilever again."""
    nodes, ends = [(0, 0, 0), (1, 0, 0), (2, 0, 0)], [(0, 1), (1, 2)]
    frame = frame_of(nodes, ends, {0: True, 2: True}, released=[(False, False), (False, True)])
    found = solve(ready(frame), force(frame, 1, 0, 300.0, -1600.0))
    assert found.reactions[0, 2, 2] == pytest.approx(500.0)
    assert found.end_forces[0, 1, 10:] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert found.reactions[0, 2, 4:] == pytest.approx([0.0, 0.0], abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_everything_is_in_equilibrium(data):
    frame = data.draw(frames())
    load = data.draw(loads(frame))
    found = solve(ready(frame), load)
    whole = load[0, :, :3] + found.reactions[0, :, :3]
    size = np.abs(load).sum()
    assert np.abs(whole.sum(axis=0)).max() < 1e-9 * size
    turning = np.cross(frame.nodes, whole).sum(axis=0) + found.reactions[0, :, 3:].sum(axis=0)
    assert np.abs(turning).max() < 1e-9 * size
    at_nodes = on_nodes(ready(frame), found.bar_forces).reshape(-1, 6)
    free = ~frame.held
    assert np.abs((at_nodes - load[0])[free]).max() < 1e-9 * size


@settings(max_examples=25, deadline=None)
@given(st.data(), st.floats(-3.0, 3.0))
def test_loads_add_up(data, factor):
    frame = data.draw(frames())
    one, other = data.draw(loads(frame)), data.draw(loads(frame))
    found = solve(ready(frame), np.concatenate((one, other, one + factor * other))).moves
    size = np.abs(found).max()
    assert np.abs(found[2] - found[0] - factor * found[1]).max() < 1e-9 * size


@settings(max_examples=25, deadline=None)
@given(st.data(), st.floats(0.0, 6.3), st.floats(0.0, 6.3))
def test_the_axes_do_not_matter(data, first, second):
    frame = data.draw(frames(with_releases=False))
    frame = frame._replace(held=np.repeat(frame.held.all(axis=1, keepdims=True), 6, axis=1))
    frame.held[:4] = True
    load = data.draw(loads(frame))
    c, s = math.cos(first), math.sin(first)
    about_z = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    c, s = math.cos(second), math.sin(second)
    turn = np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]]) @ about_z
    turned = frame._replace(nodes=frame.nodes @ turn.T)
    turned_load = (load.reshape(-1, 3) @ turn.T).reshape(load.shape)
    plain, other = solve(ready(frame), load), solve(ready(turned), turned_load)
    expected = (plain.moves.reshape(-1, 3) @ turn.T).reshape(plain.moves.shape)
    assert np.abs(other.moves - expected).max() < 1e-8 * np.abs(expected).max()
    assert np.abs(other.bar_forces[..., AXIAL] - plain.bar_forces[..., AXIAL]).max() < 1e-6 * 30e3


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_the_mirrored_frame_moves_like_a_mirror(data):
    frame = data.draw(frames())
    load = data.draw(loads(frame))
    mirror = np.array([1.0, -1.0, 1.0])
    turns = np.concatenate((mirror, -mirror))  # a turn is an axial vector
    mirrored = frame._replace(nodes=frame.nodes * mirror)
    plain, other = solve(ready(frame), load).moves, solve(ready(mirrored), load * turns).moves
    assert np.abs(other - plain * turns).max() < 1e-9 * np.abs(plain).max()


@settings(max_examples=40, deadline=None)
@given(st.data(), st.floats(1.01, 5.0))
def test_a_stiffer_tube_never_lets_the_load_go_farther(data, factor):
    frame = data.draw(frames())
    load = data.draw(loads(frame))
    bar = data.draw(st.integers(0, frame.area.size - 1))
    stiff = np.ones(frame.area.size)
    stiff[bar] = factor
    stiffer = frame._replace(
        area=frame.area * stiff,
        second_moment=frame.second_moment * stiff,
        polar_moment=frame.polar_moment * stiff,
    )
    before = float((solve(ready(frame), load).moves * load).sum())
    assert float((solve(ready(stiffer), load).moves * load).sum()) <= before * (1.0 + 1e-9)


@pytest.mark.parametrize(
    ("held", "factor"),
    [
        ({0: True}, 0.25),
        ({0: [1, 1, 1, 0, 0, 1], 8: [1, 1, 0, 0, 0, 0]}, 1.0),
        ({0: True, 8: [1, 1, 0, 0, 0, 0]}, 2.0457),
        ({0: True, 8: [1, 1, 0, 1, 1, 1]}, 4.0),
    ],
    ids=["free", "pinned", "clamped and pinned", "clamped"],
)
def test_columns_buckle_as_euler_says(held, factor):
    nodes = [(0.0, 0.0, 0.25 * place) for place in range(9)]
    frame = frame_of(nodes, [(k, k + 1) for k in range(8)], held)
    expected = factor * math.pi**2 * BENDING / 4.0
    assert critical_factor(ready(frame), np.full(8, -1.0)) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(
    ("released", "factor"),
    [((False, False), 4.0), ((False, True), 2.0457), ((True, True), 1.0)],
    ids=["no end", "one end", "both ends"],
)
def test_a_released_end_between_clamped_nodes_buckles_as_a_pin(released, factor):
    """Eight bars between clamped nodes, the released ends being the column's own."""
    nodes = [(0.0, 0.0, 0.25 * place) for place in range(9)]
    joints = [(released[0] and k == 0, released[1] and k == 7) for k in range(8)]
    held = {0: True, 8: [1, 1, 0, 1, 1, 1]}
    frame = frame_of(nodes, [(k, k + 1) for k in range(8)], held, released=joints)
    expected = factor * math.pi**2 * BENDING / 4.0
    assert critical_factor(ready(frame), np.full(8, -1.0)) == pytest.approx(expected, rel=2e-3)


def test_one_bar_released_at_one_end_is_seen_to_buckle():
    """Its other node free to turn: 15 EI/L² of one cubic bar, where Euler says 9.87."""
    frame = frame_of(
        [(0, 0, 0), (0, 0, 1)], [(0, 1)], {0: True, 1: [1, 1, 0, 0, 0, 1]}, released=[(True, False)]
    )
    assert critical_factor(ready(frame), np.array([-1.0])) == pytest.approx(15.0 * BENDING)


def test_tension_never_buckles():
    frame = frame_of([(0, 0, 0), (0, 0, 1)], [(0, 1)], {0: True})
    assert critical_factor(ready(frame), np.array([1e5])) == math.inf


def test_a_swaying_portal_of_pins_is_loose():
    nodes, ends = [(0, 0, 0), (0, 0, 1), (1, 0, 1), (1, 0, 0)], [(0, 1), (1, 2), (2, 3)]
    released = [(False, True), (False, False), (True, False)]
    found = assemble(frame_of(nodes, ends, {0: PINNED, 3: PINNED}, released=released))
    assert isinstance(found, Loose)
    assert found.node in (1, 2)


def test_a_piece_held_by_nothing_is_loose():
    nodes = [(0, 0, 0), (1, 0, 0), (0, 1, 0), (1, 1, 0)]
    found = assemble(frame_of(nodes, [(0, 1), (2, 3)], {0: True}))
    assert isinstance(found, Loose)
    assert found.node in (2, 3)


def test_a_node_where_every_end_is_released_only_spins():
    """Three bolted struts to one point: a truss, held though its node has nothing to turn against."""
    nodes = [(0, 0, 0), (1, 0, 0), (0, 1, 0), (0.3, 0.3, 1.0)]
    ends = [(0, 3), (1, 3), (2, 3)]
    frame = frame_of(nodes, ends, dict.fromkeys(range(3), True), released=[(True, True)] * 3)
    found = assemble(frame)
    assert isinstance(found, Assembled)
    down = solve(found, force(frame, 3, 0, 0, -1000.0))
    assert down.reactions[0, :, 2].sum() == pytest.approx(1000.0)
    directions = frame.nodes[3] - frame.nodes[:3]
    directions /= np.linalg.norm(directions, axis=1)[:, None]
    by_hand = np.linalg.solve(directions.T, [0.0, 0.0, -1000.0])
    assert down.bar_forces[0, :, AXIAL] == pytest.approx(by_hand, rel=1e-6)
