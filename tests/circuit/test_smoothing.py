"""Length and curvature of closed forms survive smoothing; noise does not."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapes import circle, circuit_of, of_curvature, oval


@pytest.mark.parametrize(("radius", "count"), [(60.0, 24), (60.0, 80), (300.0, 70), (300.0, 600)])
def test_a_circle_keeps_its_length_and_curvature(radius: float, count: int) -> None:
    circuit = circuit_of(*circle(radius, count))
    assert circuit.length == pytest.approx(circuit.smoothing.length_read, rel=1e-3)
    # chords of n points are short by (pi/n)²/6: a coarse circle may be read that much too small
    assert circuit.length == pytest.approx(2 * np.pi * radius, rel=1e-4 + (np.pi / count) ** 2 / 6)
    assert circuit.curvature == pytest.approx(np.full(circuit.x.size, 1 / radius), rel=0.01)


def test_an_oval_of_two_straights_and_two_semicircles() -> None:
    circuit = circuit_of(*oval(400.0, 80.0))
    assert circuit.length == pytest.approx(800.0 + 2 * np.pi * 80.0, rel=2e-4)
    middle_of_straight = int(200.0 / circuit.step)
    middle_of_bend = int((400.0 + np.pi * 40.0) / circuit.step)
    assert abs(circuit.curvature[middle_of_straight]) < 1e-6
    assert circuit.curvature[middle_of_bend] == pytest.approx(1 / 80.0, rel=2e-3)
    assert np.sum(circuit.curvature) * circuit.step == pytest.approx(2 * np.pi, rel=1e-4)
    assert [corner.is_left for corner in circuit.corners] == [True, True]
    assert circuit.corners[0].radius == pytest.approx(80.0, rel=0.05)


def test_curvature_grows_evenly_along_a_clothoid() -> None:
    """A clothoid of 60 m to a radius of 40 m ends at x 56.711758, y 14.408003 (Fresnel integrals)."""
    spacing, length, radius, straight = 0.25, 60.0, 40.0, 100.0
    arc = (np.pi / 2 - length / radius) * radius
    count = int(length / spacing)
    ramp = (np.arange(count) + 0.5) / count / radius
    flat = np.zeros(int(straight / spacing))
    arcs = np.full(11, arc / spacing / 11 / radius)  # 11 steps that together turn what the ramps leave over
    quarter = np.concatenate((flat, ramp, arcs, ramp[::-1]))
    x, y = of_curvature(np.tile(quarter, 4), spacing)
    start = flat.size
    assert x[start + count] - x[start] == pytest.approx(56.711758, abs=1e-3)
    assert y[start + count] - y[start] == pytest.approx(14.408003, abs=1e-3)
    circuit = circuit_of(x[:-1:8], y[:-1:8])  # a point every 2 m is read
    distance = np.arange(circuit.x.size) * circuit.step - straight
    inside = (distance > 8.0) & (distance < length - 8.0)
    assert circuit.curvature[inside] == pytest.approx(distance[inside] / (length * radius), abs=2e-4)
    end = int(np.argmin(np.abs(distance - length)))
    assert np.hypot(circuit.x[end] - x[start + count], circuit.y[end] - y[start + count]) < 0.6 * circuit.step


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.floats(0.0, 0.5), st.floats(8.0, 25.0))
def test_scatter_of_a_recorded_lap_is_taken_out(seed: int, scatter: float, spacing: float) -> None:
    chance = np.random.default_rng(seed)
    x, y = oval(500.0, 90.0, spacing)
    circuit = circuit_of(
        x + chance.normal(0, scatter, x.size), y + chance.normal(0, scatter, x.size), is_log=True, step=1.0
    )
    assert circuit.length == pytest.approx(1000.0 + 180.0 * np.pi, rel=2.5e-3)
    # a lap of half a metre's scatter keeps a bump here and there, since its length must be kept too
    assert np.mean(np.abs(circuit.curvature) > 2 / 90.0) < 0.02
    spacing_made = np.hypot(np.roll(circuit.x, -1) - circuit.x, np.roll(circuit.y, -1) - circuit.y)
    assert spacing_made == pytest.approx(np.full(circuit.x.size, circuit.step), rel=5e-3)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.floats(0.0, 0.6), st.floats(3.0, 25.0))
def test_the_length_of_a_drawn_line_is_kept(seed: int, scatter: float, spacing: float) -> None:
    chance = np.random.default_rng(seed)
    x, y = oval(500.0, 90.0, spacing)
    circuit = circuit_of(x + chance.normal(0, scatter, x.size), y + chance.normal(0, scatter, x.size))
    assert abs(circuit.length / circuit.smoothing.length_read - 1.0) < 1e-3


def test_the_report_says_what_was_done() -> None:
    x, y = oval(400.0, 80.0, 10.0)
    circuit = circuit_of(x, y)
    report = circuit.smoothing
    assert report.points_read == x.size
    assert 0.0 < report.moved_mean <= report.moved_max < 3.0
    assert any("smoothed over" in note for note in report.notes)
    assert any("10 m in all assumed" in note for note in report.notes)
    assert not circuit.has_widths and not circuit.has_heights


def test_heights_of_whole_metres_make_no_jumps() -> None:
    x, y = oval(500.0, 90.0, 5.0)
    height = np.round(20.0 + 8.0 * np.sin(2 * np.pi * np.arange(x.size) / x.size))
    circuit = circuit_of(x, y, height=height)
    bend = np.diff(circuit.z, 2) / circuit.step**2
    assert np.max(np.abs(bend)) < 1 / 150.0
    assert np.ptp(circuit.z) == pytest.approx(16.0, abs=1.0)
