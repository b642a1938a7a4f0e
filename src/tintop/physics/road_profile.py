"""Roads as the wheels feel them: the classes of ISO 8608, tracks drawn from them, and a kerb; SI.

Spatial frequency in cycles per metre, one-sided spectra of displacement [m³].
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from tintop.checks import require, within

FloatArray = NDArray[np.float64]

REFERENCE_FREQUENCY = 0.1  # n0 [cycles/m]
WAVINESS = 2.0
LOWEST_FREQUENCY, HIGHEST_FREQUENCY = 0.01, 10.0  # of the standard's range [cycles/m]
_MEAN_OF_A = 16e-6  # geometric mean of Gd(n0) of class A [m³]; from memory
_FITTED_FROM, _FITTED_TO = 0.03, 2.0  # octave bands used to find a class [cycles/m]


class RoadClass(StrEnum):
    """Classes of roughness of ISO 8608 from very good (A) to very poor (H).

    Source: ISO 8608:2016, Mechanical vibration – Road surface profiles, table of classes (from memory): the
    geometric mean at n0 = 0.1 cycles/m is 16·4^k × 10⁻⁶ m³, each class from half to twice its mean.
    """

    A = "A"
    B = "B"
    C = "C"
    D = "D"
    E = "E"
    F = "F"
    G = "G"
    H = "H"

    @property
    def roughness(self) -> float:
        """Geometric mean of Gd(n0) [m³]."""
        return float(_MEAN_OF_A * 4.0 ** "ABCDEFGH".index(self.value))

    @property
    def limits(self) -> tuple[float, float]:
        """Lower and upper limit of Gd(n0) [m³]; A has no lower, H no upper one."""
        low = 0.0 if self is RoadClass.A else 0.5 * self.roughness
        return low, np.inf if self is RoadClass.H else 2.0 * self.roughness


def class_of(roughness: float) -> RoadClass:
    """Give the class in which Gd(n0) [m³] lies."""
    return next(one for one in RoadClass if roughness < one.limits[1])


def displacement_spectrum(frequency: FloatArray, roughness: float) -> FloatArray:
    """Give Gd(n) [m³] at spatial frequencies [cycles/m] from Gd(n0). Source: ISO 8608 (from memory)."""
    spectrum: FloatArray = roughness * (frequency / REFERENCE_FREQUENCY) ** -WAVINESS
    return spectrum


def track_coherence(frequency: FloatArray, track: float) -> FloatArray:
    """Share of left and right track that moves alike, 1 for long waves and 0 for short ones.

    An isotropic surface of waviness 2: x K1(x) with x = 2π n track.
    Source: C. J. Dodds and J. D. Robson, The description of road surface roughness, J. Sound Vib. 31 (1973);
    K. M. A. Kamash and J. D. Robson, J. Sound Vib. 57 (1978) (both from memory).
    """
    from scipy.special import k1

    x = 2.0 * np.pi * frequency * track
    share: FloatArray = np.where(x > 1e-9, x * k1(np.maximum(x, 1e-9)), 1.0)
    return share


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadProfile:
    """Heights [m] of the left and the right track at even steps [m] along the road."""

    step: float
    left: FloatArray
    right: FloatArray

    def __post_init__(self) -> None:
        within(self.step, 1e-4, 1.0, "road step", "m")
        require(
            len(self.left) == len(self.right) >= 2,
            "road profile",
            f"{len(self.left)} heights on the left, {len(self.right)} on the right",
            "as many on both sides, two or more",
        )

    @property
    def length(self) -> float:
        """Length of the road [m]."""
        return self.step * (len(self.left) - 1)


def road_of_class(
    road_class: RoadClass, length: float, track: float, *, seed: int, step: float = 0.05
) -> RoadProfile:
    """Draw a road of a class: spectrum at the class's mean, random phases, tracks as alike as a surface is.

    The same seed gives the same road; it repeats itself after `length` [m]. BadInput for lengths under 100 m.
    """
    within(length, 100.0, 1e5, "road length", "m")
    count = 2 * round(0.5 * length / step)
    frequency: FloatArray = np.asarray(np.fft.rfftfreq(count, step), dtype=np.float64)
    inside = (frequency >= LOWEST_FREQUENCY) & (frequency <= HIGHEST_FREQUENCY)
    chosen: FloatArray = frequency[inside]
    coherence = track_coherence(chosen, track)
    whole = displacement_spectrum(chosen, road_class.roughness)
    chance = np.random.default_rng(seed)

    def part(share: FloatArray) -> FloatArray:
        amplitude = np.sqrt(2.0 * share * whole / (count * step))
        phases = np.exp(2j * np.pi * chance.random(len(chosen)))
        spectrum = np.zeros(len(frequency), dtype=complex)
        spectrum[inside] = 0.5 * count * amplitude * phases
        heights: FloatArray = np.fft.irfft(spectrum, count)
        return heights

    alike, against = part(0.5 * (1.0 + coherence)), part(0.5 * (1.0 - coherence))
    left, right = alike + against, alike - against
    return RoadProfile(step=step, left=np.append(left, left[0]), right=np.append(right, right[0]))


def measured_roughness(heights: FloatArray, step: float) -> tuple[float, float]:
    """Give Gd(n0) [m³] and the waviness of a profile: Welch's spectrum, octave bands, a line in logs.

    Needs some 100 m of road or more. Source: ISO 8608:2016, smoothed spectrum and fitted line (from memory).
    """
    from scipy.signal import welch

    require(len(heights) * step >= 100.0, "profile", f"{len(heights) * step:g} m", "100 m of road or more")
    segment = min(len(heights), round(200.0 / step))
    frequency, spectrum = welch(heights, fs=1.0 / step, nperseg=segment)
    centres, levels = [], []
    centre = REFERENCE_FREQUENCY * 2.0 ** np.ceil(np.log2(_FITTED_FROM / REFERENCE_FREQUENCY))
    while centre <= _FITTED_TO:
        band = (frequency >= centre / np.sqrt(2.0)) & (frequency < centre * np.sqrt(2.0))
        if band.any():
            centres.append(np.log(centre / REFERENCE_FREQUENCY))
            levels.append(np.log(np.mean(spectrum[band] * (frequency[band] / centre) ** WAVINESS)))
        centre *= 2.0
    slope, level = np.polyfit(centres, levels, 1)
    return float(np.exp(level)), float(-slope)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kerb:
    """A kerb taken with the wheels of one side: its height, the flat along its top, each ramp's length [m].

    The wheel touches the road at one point here: give a ramp no shorter than the tyre rolls it out to.
    """

    height: float = 0.05
    flat: float = 0.6
    ramp: float = 0.3

    def __post_init__(self) -> None:
        within(self.height, 0.0, 0.15, "kerb height", "m")
        within(self.flat, 0.0, 20.0, "kerb length", "m")
        within(self.ramp, 0.05, 5.0, "kerb ramp", "m")

    @property
    def length(self) -> float:
        """From its first rise to its last fall [m]."""
        return self.flat + 2.0 * self.ramp


def road_with_kerb(
    kerb: Kerb, *, run_up: float, run_off: float, is_left: bool, step: float = 0.01
) -> RoadProfile:
    """A flat road with a kerb on one side after `run_up` [m], and `run_off` [m] after it."""
    distance = np.arange(round((run_up + kerb.length + run_off) / step) + 1) * step - run_up
    rising = np.clip(distance / kerb.ramp, 0.0, 1.0)
    falling = np.clip((kerb.length - distance) / kerb.ramp, 0.0, 1.0)
    kerbed = kerb.height * np.minimum(_rounded(rising), _rounded(falling))
    flat = np.zeros(len(distance))
    return RoadProfile(step=step, left=kerbed if is_left else flat, right=flat if is_left else kerbed)


def _rounded(share: FloatArray) -> FloatArray:
    """A ramp without edges: half a cosine."""
    smooth: FloatArray = 0.5 - 0.5 * np.cos(np.pi * share)
    return smooth
