"""Roads: the standard's classes, generated roads within their class, kerbs as they were asked for."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import csd, welch

from tintop.errors import BadInput
from tintop.physics.road_profile import (
    Kerb,
    RoadClass,
    class_of,
    displacement_spectrum,
    measured_roughness,
    road_of_class,
    road_with_kerb,
    track_coherence,
)


def test_classes_of_iso_8608():
    """ISO 8608:2016, table of classes, Gd(n0) in 1e-6 m3: lower limit, mean, upper limit (from memory)."""
    table = {
        "A": (0, 16, 32), "B": (32, 64, 128), "C": (128, 256, 512), "D": (512, 1024, 2048),
        "E": (2048, 4096, 8192), "F": (8192, 16384, 32768), "G": (32768, 65536, 131072),
        "H": (131072, 262144, np.inf),
    }  # fmt: skip
    for letter, (low, mean, high) in table.items():
        one = RoadClass[letter]
        assert one.roughness == pytest.approx(1e-6 * mean)
        assert one.limits == pytest.approx((1e-6 * low, 1e-6 * high))
        assert class_of(one.roughness) is one


@pytest.mark.parametrize("road_class", RoadClass)
@pytest.mark.parametrize("seed", [1, 2])
def test_a_road_drawn_is_found_back_in_its_class(road_class, seed):
    road = road_of_class(road_class, 600.0, 1.5, seed=seed)
    for heights in (road.left, road.right):
        found, waviness = measured_roughness(heights, road.step)
        low, high = road_class.limits
        assert low < found < high
        assert class_of(found) is road_class
        assert found == pytest.approx(road_class.roughness, rel=0.15)
        assert waviness == pytest.approx(2.0, abs=0.1)


def test_a_road_of_another_waviness_is_measured_so():
    """A road not made here: white slopes summed have waviness 2 and a spectrum known beforehand."""
    step, chance = 0.05, np.random.default_rng(3)
    slopes = chance.normal(size=80_000)
    once = np.cumsum(slopes) * step
    found, waviness = measured_roughness(once, step)
    at_n0 = 2.0 * step / (2.0 * np.pi * 0.1) ** 2  # one-sided, of unit white slopes
    assert found == pytest.approx(at_n0, rel=0.2)
    assert waviness == pytest.approx(2.0, abs=0.2)


def test_the_same_seed_gives_the_same_road_and_another_another():
    one, again = (road_of_class(RoadClass.B, 200.0, 1.5, seed=7) for _ in range(2))
    other = road_of_class(RoadClass.B, 200.0, 1.5, seed=8)
    assert np.array_equal(one.left, again.left) and np.array_equal(one.right, again.right)
    assert not np.array_equal(one.left, other.left)


def test_tracks_move_together_as_on_an_even_rough_surface():
    """Long waves lift both sides, short ones each by itself; measured coherence against x K1(x)."""
    track, step = 1.5, 0.05
    road = road_of_class(RoadClass.C, 20_000.0, track, seed=5, step=step)
    count = 4096
    frequency, both = csd(road.left, road.right, fs=1.0 / step, nperseg=count)
    _, left = welch(road.left, fs=1.0 / step, nperseg=count)
    _, right = welch(road.right, fs=1.0 / step, nperseg=count)
    share = both.real / np.sqrt(left * right)
    for low, high in ((0.02, 0.04), (0.1, 0.2), (0.4, 0.6)):
        band = (frequency >= low) & (frequency < high)
        assert np.mean(share[band]) == pytest.approx(
            np.mean(track_coherence(frequency[band], track)), abs=0.08
        )


def test_coherence_from_one_to_none():
    share = track_coherence(np.array([0.0, 1e-4, 0.1, 1.0, 5.0]), 1.5)
    assert share[0] == 1.0 and share[1] == pytest.approx(1.0, abs=1e-4)
    assert np.all(np.diff(share) < 0.0) and share[-1] < 1e-15


def test_spectrum_halves_twice_for_twice_the_frequency():
    spectrum = displacement_spectrum(np.array([0.1, 0.2]), 64e-6)
    assert spectrum[0] == pytest.approx(64e-6) and spectrum[1] == pytest.approx(16e-6)


@settings(max_examples=25, deadline=None)
@given(
    height=st.floats(0.01, 0.12), flat=st.floats(0.0, 3.0), ramp=st.floats(0.1, 1.0), is_left=st.booleans()
)
def test_a_kerb_rises_to_its_height_on_its_side_only(height, flat, ramp, is_left):
    kerb = Kerb(height=height, flat=flat, ramp=ramp)
    road = road_with_kerb(kerb, run_up=1.0, run_off=1.0, is_left=is_left, step=0.005)
    kerbed, other = (road.left, road.right) if is_left else (road.right, road.left)
    assert kerbed.max() == pytest.approx(height, rel=0.01)
    assert not other.any()
    assert kerbed[0] == kerbed[-1] == 0.0
    assert np.sum(kerbed > 0.5 * height) * road.step == pytest.approx(flat + ramp, abs=0.03)


def test_nonsense_is_refused():
    with pytest.raises(BadInput, match="kerb height"):
        Kerb(height=0.4)
    with pytest.raises(BadInput, match="road length"):
        road_of_class(RoadClass.A, 10.0, 1.5, seed=1)
    with pytest.raises(BadInput, match="100 m"):
        measured_roughness(np.zeros(50), 0.05)
