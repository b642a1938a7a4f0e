"""The frame against PyNite, an independent finite-element library."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from frames import frames, loads, ready
from tintop.physics.frame import FloatArray, Frame, solve

Pynite = pytest.importorskip("Pynite", reason="the oracle needs PyNiteFEA: install the extra named oracle")

WAYS = ("FX", "FY", "FZ", "MX", "MY", "MZ")


def solved_by_pynite(frame: Frame, load: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Movements and reactions (n, 6) of the same frame."""
    model = Pynite.FEModel3D()
    for place, (x, y, z) in enumerate(frame.nodes):
        model.add_node(str(place), x, y, z)
        model.def_support(str(place), *(bool(flag) for flag in frame.held[place]))
        for way, value in zip(WAYS, load[place], strict=True):
            if value:
                model.add_node_load(str(place), way, value)
    modulus, shear = frame.youngs_modulus, frame.shear_modulus
    model.add_material("steel", modulus, shear, modulus / (2.0 * shear) - 1.0, 7850.0)
    for place, (start, end) in enumerate(frame.ends):
        name = str(place)
        second = frame.second_moment[place]
        model.add_section(name, frame.area[place], second, second, frame.polar_moment[place])
        model.add_member(name, str(start), str(end), "steel", name)
        first, last = (bool(flag) for flag in frame.released[place])
        model.def_releases(name, Ryi=first, Rzi=first, Ryj=last, Rzj=last)
    model.analyze_linear()
    moves, reactions = np.zeros((2, *frame.held.shape))
    for place in range(frame.nodes.shape[0]):
        node = model.nodes[str(place)]
        moves[place] = [each["Combo 1"] for each in (node.DX, node.DY, node.DZ, node.RX, node.RY, node.RZ)]
        reactions[place] = [
            each["Combo 1"]
            for each in (node.RxnFX, node.RxnFY, node.RxnFZ, node.RxnMX, node.RxnMY, node.RxnMZ)
        ]
    return moves, reactions


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_agrees_with_pynite(data):
    frame = data.draw(frames())
    load = data.draw(loads(frame))
    ours = solve(ready(frame), load)
    moves, reactions = solved_by_pynite(frame, load[0])
    for kind in (slice(0, 3), slice(3, 6)):
        assert np.abs(ours.moves[0, :, kind] - moves[:, kind]).max() <= 1e-9 * np.abs(moves[:, kind]).max()
        theirs = np.where(frame.held, reactions, 0.0)[:, kind]
        assert np.abs(ours.reactions[0, :, kind] - theirs).max() <= 1e-9 * np.abs(reactions).max()
