"""How vibration is felt: the frequency weightings of ISO 2631-1, the weighted r.m.s., and its words; SI."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighting:
    """A weighting as filters: corners [Hz] and qualities; the upward step may be missing.

    Band limits at `low` and `high` (Butterworth), transition from acceleration to velocity, upward step.
    """

    low: float
    high: float
    transition: float
    transition_quality: float
    step_from: float | None = None
    step_to: float | None = None
    step_quality: float = 1.0

    def magnitude(self, frequency: FloatArray) -> FloatArray:
        """Factor on acceleration at frequencies [Hz]."""
        p = 2j * np.pi * frequency
        low, high, turn = (2.0 * np.pi * each for each in (self.low, self.high, self.transition))
        quality = self.transition_quality
        response = p**2 / (p**2 + np.sqrt(2.0) * low * p + low**2)
        response = response / (1.0 + np.sqrt(2.0) * p / high + (p / high) ** 2)
        response = response * (1.0 + p / turn) / (1.0 + p / (quality * turn) + (p / turn) ** 2)
        if self.step_from is not None and self.step_to is not None:
            lower, upper = 2.0 * np.pi * self.step_from, 2.0 * np.pi * self.step_to
            step = self.step_quality
            response = response * (p**2 + lower * p / step + lower**2) / (p**2 + upper * p / step + upper**2)
        factor: FloatArray = np.abs(response)
        return factor


# Source: ISO 2631-1:1997, Annex A, parameters of the principal weightings (from memory).
VERTICAL = Weighting(
    low=0.4,
    high=100.0,
    transition=12.5,
    transition_quality=0.63,
    step_from=2.37,
    step_to=3.35,
    step_quality=0.91,
)  # Wk
HORIZONTAL = Weighting(low=0.4, high=100.0, transition=2.0, transition_quality=0.63)  # Wd

# Source: ISO 2631-1:1997, Annex C, likely reactions in public transport (from memory); ranges overlap there.
_WORDS = (
    (0.0, 0.315, "not uncomfortable"),
    (0.315, 0.63, "a little uncomfortable"),
    (0.5, 1.0, "fairly uncomfortable"),
    (0.8, 1.6, "uncomfortable"),
    (1.25, 2.5, "very uncomfortable"),
    (2.0, np.inf, "extremely uncomfortable"),
)


def weighted_rms(frequency: FloatArray, spectrum: FloatArray, weighting: Weighting) -> FloatArray:
    """Give the weighted r.m.s. [m/s²] of a one-sided spectrum [(m/s²)²/Hz], along the last axis."""
    power = np.trapezoid(weighting.magnitude(frequency) ** 2 * spectrum, frequency, axis=-1)
    rms: FloatArray = np.sqrt(np.asarray(power))
    return rms


def weighted_rms_of(acceleration: FloatArray, time_step: float, weighting: Weighting) -> float:
    """Give the weighted r.m.s. [m/s²] of a record [m/s²] at even steps [s], its mean taken off."""
    count = len(acceleration)
    spectrum = np.fft.rfft(acceleration - acceleration.mean())
    factors = weighting.magnitude(np.maximum(np.fft.rfftfreq(count, time_step), 1e-6))
    weighted = np.fft.irfft(spectrum * factors, count)
    return float(np.sqrt(np.mean(weighted**2)))


def comfort_words(weighted: float) -> str:
    """Say a weighted r.m.s. [m/s²] in the standard's words; two where its ranges overlap."""
    said = [word for low, high, word in _WORDS if low <= weighted < high]
    return " to ".join(said)
