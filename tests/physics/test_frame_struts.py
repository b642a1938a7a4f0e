"""Bars pressed and bent at once: the exact beam-column, and its ends, Euler, Johnson and the plastic tube."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from frames import MODULUS, PLASTIC_MOMENT, TUBE, YIELD, force, frame_of, ready, strength
from tintop.physics.frame import AXIAL, BEND_Y_END, BEND_Y_START, BEND_Z_END, BEND_Z_START, solve
from tintop.physics.frame import critical_factor as critical_of
from tintop.physics.frame_limit import limit_factor, tube_strength
from tintop.physics.frame_struts import Struts, bent_strut_excess, bent_strut_use
from tintop.physics.tubes import buckling_load, euler_load, round_tube

ONE = tube_strength(np.array([TUBE.area]), np.array([TUBE.plastic_modulus]), YIELD)
SQUASH = TUBE.area * YIELD


def struts(length: float, pieces: int = 1) -> Struts:
    """A column of a length [m] in equal pieces."""
    ends = np.linspace(0.0, 1.0, pieces + 1)
    return Struts(
        euler=np.full(pieces, euler_load(TUBE, length / pieces, MODULUS)),
        buckling=np.full(pieces, buckling_load(TUBE, length, MODULUS, YIELD)),
        start=ends[:-1],
        end=ends[1:],
    )


def forces(push: float, start: float = 0.0, end: float = 0.0) -> np.ndarray:
    """A bar's six from a push [N] and moments on its ends [N·m]."""
    found = np.zeros((1, 6))
    found[0, AXIAL], found[0, BEND_Z_START], found[0, BEND_Z_END] = -push, start, end
    return found


def exact(length: float, push: float, first: float, last: float) -> float:
    """The multiple at which a straight beam-column pinned at both ends is plastic somewhere, or buckles.

    Bending is first cos kx + B sin kx, with k² = N / EI and B so that it ends in last; Timoshenko and Gere,
    Theory of Elastic Stability, ch. 1 (from memory). The plastic moment under axial force as Horne's.
    """
    along = np.linspace(0.0, length, 801)

    def beyond(times: float) -> float:
        k = math.sqrt(times * push / (MODULUS * TUBE.second_moment))
        sine = (last - first * math.cos(k * length)) / math.sin(k * length)
        bent = times * np.abs(first * np.cos(k * along) + sine * np.sin(k * along)).max()
        return float(bent - PLASTIC_MOMENT * math.cos(0.5 * math.pi * min(times * push / SQUASH, 1.0)))

    most = buckling_load(TUBE, length, MODULUS, YIELD) / push * (1.0 - 1e-7)
    return brentq(beyond, 1e-6, most) if beyond(most) > 0.0 else most


def carried(
    length: float, push: float, first: float, last: float, *, is_released: bool, pieces: int
) -> float:
    """What the frame gives for the same column, as `LimitEstimate.carries` does."""
    nodes = [(0.0, 0.0, length * place / pieces) for place in range(pieces + 1)]
    frame = frame_of(
        nodes,
        [(place, place + 1) for place in range(pieces)],
        {0: [1, 1, 1, 0, 0, 1], pieces: [1, 1, 0, 0, 0, 0]},
        released=[(is_released and place == 0, False) for place in range(pieces)],
    )
    load = force(frame, pieces, 0, 0, -push, 0, last) + force(frame, 0, 0, 0, 0, 0, -first)
    made = ready(frame)
    bars = solve(made, load).bar_forces[0]
    mechanism = limit_factor(made, strength(frame), load.ravel())
    whole = 1.0 / (1.0 / mechanism + 1.0 / critical_of(made, bars[:, AXIAL]))
    return min(whole, 1.0 / float(bent_strut_use(strength(frame), struts(length, pieces), bars).max()))


@pytest.mark.parametrize(("pieces", "most"), [(1, 1.0), (2, 1.05), (3, 1.05)])
@pytest.mark.parametrize("length", [0.3, 0.9, 1.8, 2.4])
@pytest.mark.parametrize(
    ("first", "is_released"), [(1.0, False), (0.0, False), (-1.0, False), (0.0, True)],
    ids=["bent round", "bent at one end", "bent to and fro", "other end released"],
)  # fmt: skip
def test_never_more_than_the_exact_beam_column(length, pieces, most, first, is_released):
    """One bar never; a straight tube drawn in pieces 5 % at most, and that where it is 2.4 m long."""
    for pushed, bent in itertools.product((0.1, 0.3, 0.5, 0.7, 0.9), (0.05, 0.2, 0.4, 0.8)):
        push = pushed * buckling_load(TUBE, length, MODULUS, YIELD)
        last = bent * PLASTIC_MOMENT
        told = carried(length, push, first * last, last, is_released=is_released, pieces=pieces)
        assert 0.5 < told / exact(length, push, first * last, last) <= most, (pushed, bent)


def test_the_bar_that_was_once_taken_for_straight():
    """38 x 2.5 mm, 1.5 m, one end released, 0.7 of its buckling load and 0.4 of its plastic moment."""
    tube = round_tube(0.038, 0.0025)
    euler, limit = euler_load(tube, 1.5, MODULUS), buckling_load(tube, 1.5, MODULUS, YIELD)
    one = tube_strength(np.array([tube.area]), np.array([tube.plastic_modulus]), YIELD)
    alone = Struts(*(np.array([each]) for each in (euler, limit, 0.0, 1.0)))
    bars = forces(0.7 * limit, 0.0, 0.4 * tube.plastic_modulus * YIELD)
    assert 0.85 * 1.028 < 1.0 / bent_strut_use(one, alone, bars)[0] < 1.028


@given(st.floats(0.2, 2.5), st.floats(0.01, 3.0))
def test_without_bending_it_is_the_buckling_load(length, share):
    limit = buckling_load(TUBE, length, MODULUS, YIELD)
    assert bent_strut_use(ONE, struts(length), forces(share * limit))[0] == pytest.approx(share, rel=1e-12)


@given(st.floats(0.01, 2.0), st.floats(-0.9, 0.9))
def test_a_stub_is_the_plastic_section(share, other):
    """Hardly any length: cos(pi/2 N/Np) of its plastic moment at the end bent most, no more and no less."""
    moment = share * PLASTIC_MOMENT
    use = bent_strut_use(ONE, struts(1e-3), forces(0.3 * share * SQUASH, -other * moment, moment))[0]
    nearest = moment * (1.0 + (max(other, -1.0) - 1.0) / 22.0)  # the last place looked at before the end
    assert nearest / use == pytest.approx(
        PLASTIC_MOMENT * math.cos(0.5 * math.pi * 0.3 * share / use), rel=1e-3
    )


@given(
    st.floats(0.2, 2.5), st.floats(0.05, 1.5), st.floats(0.0, 1.5), st.floats(-1.0, 1.0), st.floats(0.0, 6.3)
)
def test_the_plane_of_bending_does_not_matter(length, pushed, bent, other, turn):
    push = pushed * buckling_load(TUBE, length, MODULUS, YIELD)
    plain = forces(push, other * bent * PLASTIC_MOMENT, bent * PLASTIC_MOMENT)
    turned = plain.copy()
    for z, y in ((BEND_Z_START, BEND_Y_START), (BEND_Z_END, BEND_Y_END)):
        turned[0, z], turned[0, y] = plain[0, z] * math.cos(turn), plain[0, z] * math.sin(turn)
    uses = [bent_strut_use(ONE, struts(length), each)[0] for each in (plain, turned)]
    assert uses[0] == pytest.approx(uses[1], rel=1e-9)
    assert bent_strut_excess(ONE, struts(length), plain / uses[0])[0] == pytest.approx(0.0, abs=1e-6)


@given(st.floats(0.2, 2.5), st.floats(0.05, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 0.5))
def test_more_bending_and_more_push_never_use_less(length, pushed, bent, more):
    push = pushed * buckling_load(TUBE, length, MODULUS, YIELD)
    use = bent_strut_use(ONE, struts(length), forces(push, 0.0, bent * PLASTIC_MOMENT))[0]
    for harder in (
        forces(push * (1.0 + more), 0.0, bent * PLASTIC_MOMENT),
        forces(push, 0.0, (bent + more) * PLASTIC_MOMENT),
    ):
        assert bent_strut_use(ONE, struts(length), harder)[0] >= use * (1.0 - 1e-9)


def test_a_pulled_bar_is_no_strut():
    assert bent_strut_use(ONE, struts(1.0), forces(-5e4, 0.0, 0.5 * PLASTIC_MOMENT))[0] == 0.0
    assert bent_strut_excess(ONE, struts(1.0), forces(-5e4, 0.0, 0.5 * PLASTIC_MOMENT))[0] < 0.0
