"""Smooth a closed line of corner points without shrinking it.

Three steps: every chord is bowed into the arc its neighbours suggest (chords of a coarse line cut the
corners); the line is laid on an even fine mesh; a periodic low-pass filter takes out what is finer than the
file can know. The filter is a Gaussian used twice, the second time on what the first took away ("twicing",
J.W. Tukey, "Exploratory Data Analysis", 1977, from memory): 1 - (1 - exp(-(k L)²/2))². A circle of radius R
comes out smaller by only (L/R)⁴/4, and a sudden change of curvature rings by 3 %.
"""

from dataclasses import dataclass

import numpy as np

from tintop.circuit.circuit import FloatArray

FINE = 1.0  # spacing of the inner mesh [m]
FINEST = 0.2  # spacing of the points it is drawn through [m]
LENGTH_KEPT = 0.0008  # relative change of length allowed
CURVATURE_NOISE = 0.001  # [1/m] left by scattered points
BOWED_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0.0)
BOW_OF_STRAIGHT = 0.5  # [m] a chord much longer than its neighbours may be bowed out
LONGEST = 15.0  # smoothing length [m]
RUNG = 1.2  # between one smoothing length tried and the next
ABRUPT = 0.006  # [1/m²] change of curvature along a road: to a radius of 15 m in 11 m; common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class SmoothLine:
    """A closed smooth line on a fine mesh: positions, distance along it, curvature; and what was done."""

    x: FloatArray
    y: FloatArray
    distance: FloatArray  # [m] of each point; the closed length is `length`
    read_distance: FloatArray  # [m] of each point along the line as read
    curvature: FloatArray
    length: float
    length_read: float
    moved: FloatArray  # [m] of each point read
    smoothing_length: float
    scatter: float  # [m] of the points about a smooth line

    @property
    def most_abrupt(self) -> float:
        """Change of curvature along the line [1/m²] exceeded on a thousandth of it only."""
        change = np.abs(np.roll(self.curvature, -1) - self.curvature) / (self.length / self.x.size)
        return float(np.quantile(change, 0.999))


def low_pass(values: FloatArray, spacing: float, smoothing_length: float) -> FloatArray:
    """Filter periodic values on an even mesh [m] by the twice-used Gaussian of `smoothing_length` [m]."""
    wave_numbers = 2.0 * np.pi * np.fft.rfftfreq(values.shape[-1], spacing)
    passed = 1.0 - (1.0 - np.exp(-0.5 * (wave_numbers * smoothing_length) ** 2)) ** 2
    return np.fft.irfft(np.fft.rfft(values) * passed, values.shape[-1])


def derivative(values: FloatArray, spacing: float, order: int = 1) -> FloatArray:
    """Give the derivative of smooth periodic values on an even mesh, by their Fourier series."""
    wave_numbers = 2.0 * np.pi * np.fft.rfftfreq(values.shape[-1], spacing)
    return np.fft.irfft(np.fft.rfft(values) * (1j * wave_numbers) ** order, values.shape[-1])


def chords_of(x: FloatArray, y: FloatArray) -> FloatArray:
    """Give the distance from each point to the next, the last to the first [m]."""
    return np.hypot(np.roll(x, -1) - x, np.roll(y, -1) - y)


def turning(x: FloatArray, y: FloatArray) -> FloatArray:
    """Give the change of direction at each point of a closed line [rad], left positive."""
    heading = np.arctan2(np.roll(y, -1) - y, np.roll(x, -1) - x)
    return (heading - np.roll(heading, 1) + np.pi) % (2.0 * np.pi) - np.pi


def _bowed(x: FloatArray, y: FloatArray, share: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Lay the chords, bowed towards the arcs through three neighbours, on points at most FINEST apart.

    Returns x, y and the distance along the chords as read, of each.
    """
    chord = chords_of(x, y)
    turn = turning(x, y)
    before = np.roll(chord, 1)
    # on the circle through three points the tangent leaves each chord by half the angle of its arc
    leaving = turn * chord / (chord + before)
    arriving = np.roll(turn * before / (chord + before), -1)
    evenness = np.minimum(1.0, np.minimum(before, np.roll(chord, -1)) / chord)
    bow = chord * np.minimum(0.1, np.maximum(BOW_OF_STRAIGHT / chord, 0.1 * evenness**2))
    most = 4.0 * bow / chord
    leaving = share * np.clip(leaving, -most, most)
    arriving = share * np.clip(arriving, -most, most)
    counts = np.maximum(1, np.ceil(chord / FINEST).astype(int))
    which = np.repeat(np.arange(x.size), counts)
    along = (np.arange(which.size) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which]
    # cubic over the chord with slopes -leaving at its start and +arriving at its end
    sideways = (
        chord[which] * along * (1.0 - along) * (-leaving[which] * (1.0 - along) - arriving[which] * along)
    )
    dx, dy = (np.roll(x, -1) - x) / chord, (np.roll(y, -1) - y) / chord
    read = np.cumsum(chord) - chord
    return (
        x[which] + dx[which] * along * chord[which] - dy[which] * sideways,
        y[which] + dy[which] * along * chord[which] + dx[which] * sideways,
        read[which] + along * chord[which],
    )


def _even(
    x: FloatArray, y: FloatArray, read: FloatArray, length_read: float
) -> tuple[FloatArray, FloatArray, FloatArray, float]:
    """Lay a closed line on an even mesh near FINE; returns x, y, distance as read, and the spacing."""
    chord = chords_of(x, y)
    distance = np.concatenate(([0.0], np.cumsum(chord)))
    count = max(16, int(np.ceil(distance[-1] / FINE)))
    mesh = distance[-1] * np.arange(count) / count
    return (
        np.interp(mesh, distance, np.append(x, x[0])),
        np.interp(mesh, distance, np.append(y, y[0])),
        np.interp(mesh, distance, np.append(read, length_read)),
        distance[-1] / count,
    )


def spacing_in_corners(x: FloatArray, y: FloatArray) -> float:
    """Give the spacing of points where the line turns [m]: the finest detail the file can know."""
    chord = chords_of(x, y)
    turn = np.abs(turning(x, y))
    return float(np.sum(turn * (chord + np.roll(chord, 1)) / 2.0) / max(np.sum(turn), 1e-12))


def scatter_of(x: FloatArray, y: FloatArray) -> float:
    """Estimate how far the points scatter about a smooth line [m, standard deviation across it].

    From the median of the fourth differences across the line: zero for corners with eased ends, robust
    against the few places where an arc meets a straight. White scatter s gives them a variance of 70 s².
    """
    turn, chord = turning(x, y), chords_of(x, y)
    uneven = turn - (np.roll(turn, 1) + np.roll(turn, -1)) / 2.0
    median_square = float(np.median((uneven * (chord + np.roll(chord, 1)) / 2.0) ** 2))
    return float(np.sqrt(median_square / (70.0 / 4.0 * 0.455)))  # 0.455: median of a squared normal variable


def smooth_closed(x: FloatArray, y: FloatArray, is_log: bool = False) -> SmoothLine:
    """Smooth a closed line (n,) [m] whose last point is not the first repeated.

    The smoothing length begins at 0.65 of the spacing of the points in the corners, or at what brings the
    scatter of a recorded drive (`is_log`) down to CURVATURE_NOISE. It is lowered until the length is kept
    within LENGTH_KEPT and no point moves further than a quarter of that spacing (at least 1 m) or four times
    the scatter; it is raised within the same bounds while the curvature changes more abruptly than a car can
    be steered. The zigzag of scattered points, s²/chord for every chord, is no length of the road.
    """
    detail, scatter = spacing_in_corners(x, y), scatter_of(x, y) if is_log else 0.0
    chord = chords_of(x, y)
    length = float(np.sum(chord))
    zigzag = min(0.02 * length, float(np.sum(scatter**2 / np.maximum(chord, 1e-3))))
    bounds = ((length - zigzag) * (1.0 - LENGTH_KEPT), length * (1.0 + LENGTH_KEPT))
    moved_most = max(1.0, 0.25 * detail, 4.0 * scatter)

    def kept(smoothing_length: float) -> SmoothLine | None:
        for share in BOWED_SHARES:
            line = _smoothed(x, y, share, smoothing_length, scatter)
            if line.length < bounds[0]:
                return None
            if line.length <= bounds[1] and np.max(line.moved) <= moved_most:
                return line
        return None

    for_scatter = (0.29 * scatter * np.sqrt(np.median(chord)) / CURVATURE_NOISE) ** 0.4
    wanted = float(min(LONGEST, max(3.0, 0.65 * detail, for_scatter)))
    line = kept(wanted)
    while line is None and wanted > 0.3:
        wanted /= RUNG
        line = kept(wanted)
    if line is None:
        return _smoothed(x, y, 0.0, wanted, scatter)
    while line.most_abrupt > ABRUPT and wanted * RUNG <= LONGEST:
        wanted *= RUNG
        smoother = kept(wanted)
        if smoother is None:
            break
        line = smoother
    return line


def _smoothed(
    x: FloatArray, y: FloatArray, share: float, smoothing_length: float, scatter: float
) -> SmoothLine:
    length_read = float(np.sum(chords_of(x, y)))
    bowed_x, bowed_y, read, spacing = _even(*_bowed(x, y, share), length_read)
    smooth_x, smooth_y = (low_pass(one, spacing, smoothing_length) for one in (bowed_x, bowed_y))
    chord = chords_of(smooth_x, smooth_y)
    dx, dy = derivative(smooth_x, spacing), derivative(smooth_y, spacing)
    ddx, ddy = derivative(smooth_x, spacing, 2), derivative(smooth_y, spacing, 2)
    speed = np.maximum(np.hypot(dx, dy), 1e-6)

    read_at = np.cumsum(chords_of(x, y)) - chords_of(x, y)
    off_x, off_y, left_x, left_y = (
        np.interp(read_at, np.append(read, length_read), np.append(one, one[0]))
        for one in (smooth_x, smooth_y, -dy / speed, dx / speed)
    )
    return SmoothLine(
        x=smooth_x,
        y=smooth_y,
        distance=np.cumsum(chord) - chord,
        read_distance=read,
        curvature=(dx * ddy - dy * ddx) / speed**3,
        length=float(np.sum(chord)),
        length_read=length_read,
        moved=np.abs((off_x - x) * left_x + (off_y - y) * left_y),
        smoothing_length=smoothing_length,
        scatter=scatter,
    )
