"""Smooth a closed line of corner points without shrinking it.

Three steps: every chord is bowed into the arc its neighbours suggest (chords of a coarse line cut the corners);
the line is laid on an even fine mesh; a periodic low-pass filter takes out what is shorter than the file can
know. The filter 1/(1 + (k L)^6) is the exact answer of "stay near the points, with the least integral of the
third derivative squared"; it leaves a circle of radius R smaller by only (L/R)^6.
"""

from dataclasses import dataclass

import numpy as np

from tintop.circuit.circuit import FloatArray

FINE = 1.0  # spacing of the inner mesh [m]
LENGTH_KEPT = 0.0008  # relative change of length allowed
MOVED_MOST = 1.5  # [m]
BOW_MOST = 0.5  # [m] a chord may be bowed out
SMOOTHING_LENGTHS = (12.0, 10.0, 8.5, 7.0, 6.0, 5.0, 4.0, 3.2, 2.5, 2.0, 1.5, 1.0, 0.7, 0.5, 0.3)


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


def low_pass(values: FloatArray, spacing: float, smoothing_length: float) -> FloatArray:
    """Filter periodic values on an even mesh [m] with 1/(1 + (k L)^6), L the smoothing length [m]."""
    wave_numbers = 2.0 * np.pi * np.fft.rfftfreq(values.shape[-1], spacing)
    passed = 1.0 / (1.0 + (wave_numbers * smoothing_length) ** 6)
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
    """Lay the chords, bowed towards the arcs through three neighbours, on points at most FINE apart.

    Returns x, y and the distance along the chords as read, of each.
    """
    chord = chords_of(x, y)
    turn = turning(x, y)
    before = np.roll(chord, 1)
    # on the circle through three points the tangent leaves each chord by half the angle of its arc
    leaving = turn * chord / (chord + before)
    arriving = np.roll(turn * before / (chord + before), -1)
    most = 4.0 * BOW_MOST / chord
    leaving = share * np.clip(leaving, -most, most)
    arriving = share * np.clip(arriving, -most, most)
    counts = np.maximum(1, np.ceil(chord / FINE).astype(int))
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


def smooth_closed(x: FloatArray, y: FloatArray, smallest: float = 0.0) -> SmoothLine:
    """Smooth a closed line (n,) [m] whose last point is not the first repeated.

    The smoothing length begins at half the spacing of the points in the corners (at least `smallest`) and is
    lowered until the length is kept within LENGTH_KEPT and no point moves further than MOVED_MOST.
    """
    length_read = float(np.sum(chords_of(x, y)))
    read_at = np.concatenate(([0.0], np.cumsum(chords_of(x, y))))[:-1]
    wanted = max(smallest, min(SMOOTHING_LENGTHS[0], max(2.5, 0.5 * spacing_in_corners(x, y))))
    lengths = [wanted, *(one for one in SMOOTHING_LENGTHS if one < wanted)]
    for smoothing_length in lengths:
        for share in (1.0, 0.5, 0.0):
            bowed_x, bowed_y, read, spacing = _even(*_bowed(x, y, share), length_read)
            smooth_x = low_pass(bowed_x, spacing, smoothing_length)
            smooth_y = low_pass(bowed_y, spacing, smoothing_length)
            chord = chords_of(smooth_x, smooth_y)
            length = float(np.sum(chord))
            closed = np.append(read, length_read)
            at_x = np.interp(read_at, closed, np.append(smooth_x, smooth_x[0]))
            at_y = np.interp(read_at, closed, np.append(smooth_y, smooth_y[0]))
            moved = np.hypot(at_x - x, at_y - y)
            keeps_length = abs(length / length_read - 1.0) <= LENGTH_KEPT
            if keeps_length and np.max(moved) <= MOVED_MOST:
                break
        else:
            continue
        break
    dx, dy = derivative(smooth_x, spacing), derivative(smooth_y, spacing)
    ddx, ddy = derivative(smooth_x, spacing, 2), derivative(smooth_y, spacing, 2)
    return SmoothLine(
        x=smooth_x,
        y=smooth_y,
        distance=np.cumsum(chord) - chord,
        read_distance=read,
        curvature=(dx * ddy - dy * ddx) / np.maximum(dx * dx + dy * dy, 1e-12) ** 1.5,
        length=length,
        length_read=length_read,
        moved=moved,
        smoothing_length=smoothing_length,
    )
