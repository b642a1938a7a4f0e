"""Frames for the tests: by hand, and drawn at random."""

from collections.abc import Mapping, Sequence

import numpy as np
from hypothesis import strategies as st

from tintop.physics.frame import Assembled, FloatArray, Frame, assemble
from tintop.physics.frame_limit import Strength, tube_strength
from tintop.physics.tubes import RoundTube, round_tube

TUBE = round_tube(0.045, 0.0025)
MODULUS, SHEAR = 205e9, 205e9 / 2.6
YIELD = 350e6
PLASTIC_MOMENT = YIELD * TUBE.plastic_modulus


def frame_of(
    nodes: Sequence[Sequence[float]],
    ends: Sequence[tuple[int, int]],
    held: Mapping[int, object],
    *,
    released: Sequence[tuple[bool, bool]] | None = None,
    sections: Sequence[RoundTube] | None = None,
) -> Frame:
    """A frame of one tube, or of the sections given; `held` gives all six movements or one flag each."""
    count = len(ends)
    sections = sections or [TUBE] * count
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    for node, flags in held.items():
        fixed[node] = flags
    return Frame(
        nodes=np.array(nodes, dtype=float),
        ends=np.array(ends),
        area=np.array([each.area for each in sections]),
        second_moment=np.array([each.second_moment for each in sections]),
        polar_moment=np.array([each.polar_moment for each in sections]),
        youngs_modulus=MODULUS,
        shear_modulus=SHEAR,
        released=np.zeros((count, 2), dtype=bool) if released is None else np.array(released),
        held=fixed,
    )


def ready(frame: Frame) -> Assembled:
    """The frame assembled; it must hold."""
    found = assemble(frame)
    assert isinstance(found, Assembled), found
    return found


def strength(frame: Frame) -> Strength:
    """Strength of a frame of `TUBE`."""
    count = frame.area.size
    return tube_strength(np.full(count, TUBE.area), np.full(count, TUBE.plastic_modulus), YIELD)


def force(frame: Frame, node: int, *components: float) -> FloatArray:
    """One load (1, n, 6): force and moment on a node."""
    found = np.zeros((1, frame.nodes.shape[0], 6))
    found[0, node, : len(components)] = components
    return found


@st.composite
def frames(draw: st.DrawFn, *, with_releases: bool = True) -> Frame:
    """A tower of crooked storeys: every storey braced, some ends released, feet clamped or pinned."""
    storeys = draw(st.integers(1, 3))
    shift = st.integers(-150, 150).map(lambda millimetres: 1e-3 * millimetres)
    nodes = [
        (x + draw(shift), y + draw(shift), 0.9 * level + draw(shift))
        for level in range(storeys + 1)
        for x, y in ((0.0, 0.0), (1.2, 0.0), (1.2, 1.0), (0.0, 1.0))
    ]
    ends = []
    for level in range(storeys):
        low, high = 4 * level, 4 * level + 4
        ends += [(low + k, high + k) for k in range(4)]
        ends += [(high + k, high + (k + 1) % 4) for k in range(4)]
        ends += [(low + k, high + (k + 1) % 4) for k in range(4) if draw(st.booleans())]
    released = [(False, False)] * len(ends)
    if with_releases:
        loose = st.sampled_from([(False, False), (False, False), (True, False), (False, True)])
        released = [draw(loose) if k % 12 > 7 else (False, False) for k in range(len(ends))]
    sizes = st.sampled_from([(0.045, 0.0025), (0.038, 0.0025), (0.050, 0.002), (0.0254, 0.0016)])
    sections = [round_tube(*draw(sizes)) for _ in ends]
    pinned = [True, True, True, False, False, False]
    held = {foot: draw(st.sampled_from([True, pinned])) for foot in range(4)}
    return frame_of(nodes, ends, held, released=released, sections=sections)


@st.composite
def loads(draw: st.DrawFn, frame: Frame) -> FloatArray:
    """One load (1, n, 6) of forces on the nodes that are not held."""
    found = np.zeros((1, frame.nodes.shape[0], 6))
    newtons = st.builds(lambda size, sense: size * sense, st.floats(10.0, 30e3), st.sampled_from((-1.0, 1.0)))
    for node in range(4, frame.nodes.shape[0]):
        found[0, node, :3] = [draw(newtons) for _ in range(3)]
    return found
