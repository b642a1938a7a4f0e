"""Paths against closed forms and identities of curves in space."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapes import circle, circuit_of

from tintop.circuit.path import STANDARD_GRAVITY, path_along
from tintop.errors import BadInput


@settings(max_examples=20, deadline=None)
@given(st.floats(60.0, 300.0), st.floats(-6.0, 6.0))
def test_offset_of_a_circle_is_a_circle(radius: float, offset: float) -> None:
    circuit = circuit_of(*circle(radius, 400))
    path = path_along(circuit, np.full(circuit.x.size, offset))
    inner = radius - offset  # left of a left turn is inside
    assert path.lateral_curvature == pytest.approx(np.full(circuit.x.size, 1 / inner), rel=2e-3)
    assert path.length == pytest.approx(2 * np.pi * inner, rel=2e-3)
    assert path.normal_curvature == pytest.approx(np.zeros(circuit.x.size), abs=1e-9)
    assert path.gravity_z == pytest.approx(np.full(circuit.x.size, STANDARD_GRAVITY))


def test_a_banked_circle_presses_the_car_into_the_road() -> None:
    """Right edge higher in a left turn: curvature splits into cos and sin of the banking."""
    tilt = np.radians(12.0)
    circuit = circuit_of(*circle(150.0), banking=-tilt)
    path = path_along(circuit)
    assert path.lateral_curvature == pytest.approx(np.full(circuit.x.size, np.cos(tilt) / 150.0), rel=1e-3)
    assert path.normal_curvature == pytest.approx(np.full(circuit.x.size, np.sin(tilt) / 150.0), rel=1e-3)
    assert path.gravity_y == pytest.approx(np.full(circuit.x.size, STANDARD_GRAVITY * np.sin(tilt)))


def test_grade_crest_and_dip_have_their_signs() -> None:
    radius, rise = 200.0, 6.0
    x, y = circle(radius, 600)
    angle = np.arctan2(y, x)
    circuit = circuit_of(x, y, height=rise * np.sin(angle))
    path = path_along(circuit)
    here = np.arctan2(path.y, path.x)
    slope = rise * np.cos(here) / radius
    assert path.gravity_x == pytest.approx(-STANDARD_GRAVITY * slope / np.sqrt(1 + slope**2), abs=2e-3)
    top, bottom = int(np.argmax(path.z)), int(np.argmin(path.z))
    assert path.normal_curvature[top] == pytest.approx(-rise / radius**2, rel=0.02)
    assert path.normal_curvature[bottom] == pytest.approx(rise / radius**2, rel=0.02)
    assert path.length == pytest.approx(
        np.mean(np.hypot(radius, rise * np.cos(np.linspace(0, 2 * np.pi, 10_000)))) * 2 * np.pi, rel=1e-4
    )


@settings(max_examples=20, deadline=None)
@given(st.floats(0.0, 8.0), st.floats(-0.2, 0.2), st.integers(1, 3))
def test_gravity_and_curvature_are_only_turned(rise: float, banking: float, waves: int) -> None:
    x, y = circle(150.0, 300)
    circuit = circuit_of(x, y, height=rise * np.sin(waves * np.arctan2(y, x)), banking=banking)
    path = path_along(circuit, np.full(circuit.x.size, 2.0))
    pull = np.sqrt(path.gravity_x**2 + path.gravity_y**2 + path.gravity_z**2)
    assert pull == pytest.approx(np.full(circuit.x.size, STANDARD_GRAVITY))
    points = np.stack((path.x, path.y, path.z))
    ahead, behind = np.roll(points, -1, axis=1) - points, points - np.roll(points, 1, axis=1)
    turned = np.linalg.norm(np.cross(behind, ahead, axis=0), axis=0)
    menger = (
        2
        * turned
        / (
            np.linalg.norm(ahead, axis=0)
            * np.linalg.norm(behind, axis=0)
            * np.linalg.norm(ahead + behind, axis=0)
        )
    )
    assert np.hypot(path.lateral_curvature, path.normal_curvature) == pytest.approx(menger, rel=1e-3)


def test_a_line_off_the_mesh_or_beyond_the_centre_of_a_corner_is_refused() -> None:
    circuit = circuit_of(*circle(60.0))
    with pytest.raises(BadInput, match="one for each point"):
        path_along(circuit, np.zeros(5))
    with pytest.raises(BadInput, match="beyond the centre"):
        path_along(circuit, np.full(circuit.x.size, 60.0))


def test_five_thousand_points_take_less_than_thirty_milliseconds() -> None:
    circuit = circuit_of(*circle(800.0, 1000))
    assert circuit.x.size > 5000
    offset = np.sin(np.arange(circuit.x.size) / 50.0)
    taken = []
    for _ in range(5):
        begin = time.perf_counter()
        path_along(circuit, offset)
        taken.append(time.perf_counter() - begin)
    assert min(taken) < 0.030
