import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from frames import PLASTIC_MOMENT, TUBE, YIELD, force, frame_of, frames, loads, ready, strength
from tintop.physics.frame import BEND_Z_START, TORSION, solve
from tintop.physics.frame_limit import Strength, limit_factor, plastic_use, stressed, tube_strength

BEAM = [(0, 0, 0), (1, 0, 0), (2, 0, 0)]
TWO = [(0, 1), (1, 2)]


def test_strength_of_a_tube():
    found = tube_strength(np.array([TUBE.area]), np.array([TUBE.plastic_modulus]), YIELD)
    assert found.squash == pytest.approx([116.828e3], rel=1e-4)  # V10-04
    assert found.bending == pytest.approx([1582.3], rel=1e-4)  # 350 N/mm² times 4520.83 mm³
    radius, bore = 0.0225, 0.020
    torsion = 2.0 * math.pi / 3.0 * (radius**3 - bore**3) * YIELD / math.sqrt(3.0)
    assert found.torsion == pytest.approx([torsion])


@pytest.mark.parametrize(
    ("held", "load"),
    [
        ({0: True, 2: True}, 8.0),  # clamped at both ends: 8 Mp / L
        ({0: True, 2: [1, 1, 1, 0, 0, 0]}, 6.0),  # clamped and propped: 6 Mp / L
        ({0: [1, 1, 1, 1, 0, 0], 2: [0, 1, 1, 0, 0, 0]}, 4.0),  # resting at both: 4 Mp / L
    ],
    ids=["clamped", "propped", "resting"],
)
def test_beams_with_the_load_in_the_middle(held, load):
    """M. R. Horne, Plastic Theory of Structures, ch. 1 (from memory)."""
    frame = frame_of(BEAM, TWO, held)
    factor = limit_factor(
        ready(frame), strength(frame), force(frame, 1, 0, 0, -load * PLASTIC_MOMENT / 2.0).ravel()
    )
    assert factor == pytest.approx(1.0, rel=1e-6)


def portal(height: float, span: float):
    nodes = [(0, 0, 0), (0, 0, height), (span / 2, 0, height), (span, 0, height), (span, 0, 0)]
    return frame_of(nodes, [(0, 1), (1, 2), (2, 3), (3, 4)], {0: True, 4: True})


@given(
    st.floats(0.8, 2.0),
    st.floats(0.8, 2.0),
    st.floats(0.0, 1.0).filter(lambda share: share == 0.0 or share > 0.05),
)
@settings(max_examples=30, deadline=None)
def test_portal_by_its_three_mechanisms(height, span, share):
    """Sway H h = 4 Mp, beam V L / 4 = 2 Mp, both together H h + V L / 2 = 6 Mp (Horne, ch. 2, from memory).

    Axial force takes a little of each plastic moment, so strength in tension and torsion is made great.
    """
    frame = portal(height, span)
    sideways, down = 4.0 * PLASTIC_MOMENT / height * (1.0 - share), 8.0 * PLASTIC_MOMENT / span * share
    load = force(frame, 1, sideways) + force(frame, 2, 0, 0, -down)
    real = strength(frame)
    stout = Strength(1e6 * real.squash, real.torsion, real.bending)
    of_moments = []
    if share < 1.0:
        of_moments.append(4.0 / (sideways * height))
    if share > 0.0:
        of_moments.append(8.0 / (down * span))
        of_moments.append(6.0 / (sideways * height + 0.5 * down * span))
    by_hand = PLASTIC_MOMENT * min(of_moments)
    assert limit_factor(ready(frame), stout, load.ravel()) == pytest.approx(by_hand, rel=1e-5)
    assert limit_factor(ready(frame), real, load.ravel()) <= by_hand * (1.0 + 1e-6)


def test_pure_pull_is_the_squash_load():
    frame = frame_of([(0, 0, 0), (1, 0, 0)], [(0, 1)], {0: True})
    squash = YIELD * TUBE.area
    assert limit_factor(ready(frame), strength(frame), force(frame, 1, squash).ravel()) == pytest.approx(1.0)


@given(st.floats(0.0, 1.0))
def test_axial_force_and_bending_stay_inside_the_curve_of_a_thin_tube(share):
    """M/Mp = cos(pi/2 N/Np): the chords lie inside it, by 1 % of the plastic moment at most."""
    one = Strength(np.array([1.0]), np.array([1.0]), np.array([1.0]))
    forces = np.zeros((1, 6))
    forces[0, 0] = share
    forces[0, BEND_Z_START] = curve = math.cos(0.5 * math.pi * share)
    assert plastic_use(one, forces)[0, 0] >= 1.0 - 1e-12
    forces[0, BEND_Z_START] = max(curve - 0.01, 0.0)
    assert plastic_use(one, forces)[0, 0] <= 1.0 + 1e-9 or curve < 0.01


@given(st.floats(0.0, 2.0 * math.pi))
def test_bending_in_any_plane_and_torsion(angle):
    one = Strength(np.array([1.0]), np.array([1.0]), np.array([1.0]))
    forces = np.zeros((1, 6))
    forces[0, BEND_Z_START], forces[0, TORSION] = math.cos(angle), math.sin(angle)
    assert plastic_use(one, forces)[0, 0] == pytest.approx(1.0)


def test_the_order_and_the_sag_of_a_clamped_beam():
    """Clamped off its middle: between first hinge and limit it sags as a beam with a hinge does."""
    nodes, held = [(0, 0, 0), (1, 0, 0), (3, 0, 0)], {0: True, 2: True}
    frame = frame_of(nodes, TWO, held)
    near, far, whole = 1.0, 2.0, 3.0
    load = PLASTIC_MOMENT * whole**2 / (near * far**2)  # the near end's elastic moment is then Mp
    flat = force(frame, 1, 0, 0, -load).ravel()
    elastic = solve(ready(frame), flat.reshape(1, -1, 6))
    assert plastic_use(strength(frame), elastic.bar_forces[0]).max() == pytest.approx(1.0)
    limit = 2.0 * PLASTIC_MOMENT * whole / (near * far) / load
    assert limit_factor(ready(frame), strength(frame), flat) == pytest.approx(limit, rel=1e-6)
    factor = 1.0 + 0.4 * (limit - 1.0)
    pinned = frame_of(nodes, TWO, {0: [1, 1, 1, 1, 0, 0], 2: True})
    more = solve(ready(pinned), (factor - 1.0) * flat.reshape(1, -1, 6))
    state = stressed(ready(frame), strength(frame), flat, factor)
    if plastic_use(strength(frame), elastic.bar_forces[0] + more.bar_forces[0]).max() < 1.001:
        expected = elastic.moves + more.moves
        assert state.moves.reshape(-1, 6)[1, 2] == pytest.approx(expected[0, 1, 2], rel=1e-5)
    else:
        pytest.fail("choose a load at which only the near end has yielded")


def test_below_the_first_hinge_it_is_the_elastic_frame():
    frame = portal(1.0, 1.2)
    load = force(frame, 1, 2000.0) + force(frame, 2, 300.0, 500.0, -1000.0)
    elastic = solve(ready(frame), load)
    state = stressed(ready(frame), strength(frame), load.ravel(), 1.0)
    assert state.moves.reshape(-1, 6) == pytest.approx(elastic.moves[0], rel=1e-5, abs=1e-9)
    assert state.bar_forces == pytest.approx(elastic.bar_forces[0], rel=1e-5, abs=0.05)


def test_beyond_the_limit_there_is_nothing():
    frame = portal(1.0, 1.2)
    load = force(frame, 1, 4.0 * PLASTIC_MOMENT).ravel()
    limit = limit_factor(ready(frame), strength(frame), load)
    assert stressed(ready(frame), strength(frame), load, 0.999 * limit) is not None
    assert stressed(ready(frame), strength(frame), load, 1.01 * limit) is None


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_limit_is_never_below_the_first_hinge_and_more_steel_never_lowers_it(data):
    frame = data.draw(frames())
    frame = frame._replace(area=np.full(frame.area.size, TUBE.area))
    load = data.draw(loads(frame)).ravel()
    made = ready(frame)
    elastic = solve(made, load.reshape(1, -1, 6)).bar_forces[0]
    first_hinge = 1.0 / plastic_use(strength(frame), elastic).max()
    limit = limit_factor(made, strength(frame), load)
    assert limit >= first_hinge * (1.0 - 1e-6)
    bar = data.draw(st.integers(0, frame.area.size - 1))
    more = np.ones(frame.area.size)
    more[bar] = 2.0
    stronger = Strength(*(each * more for each in strength(frame)))
    assert limit_factor(made, stronger, load) >= limit * (1.0 - 1e-6)
    state = stressed(made, strength(frame), load, 0.5 * (first_hinge + limit))
    assert state is not None
    assert plastic_use(strength(frame), state.bar_forces).max() <= 1.0 + 1e-4
