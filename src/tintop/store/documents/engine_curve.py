"""The engine's full-load curve from a dyno sheet, or drawn through its peaks."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Peaks:
    """Peak power [W] and torque [N·m] with their speeds [rad/s]."""

    power: float
    power_speed: float
    torque: float
    torque_speed: float


def drawn_through(
    peaks: Peaks, low_speed_fall: float, over_speed_fall: float, lowest: float, highest: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Draw a torque curve through both peaks, at 24 speeds from the lowest to the highest.

    Below the torque peak torque falls as the square of the speed missing; between the peaks a cubic has
    no slope of torque at the torque peak and no slope of power at the power peak; above it power falls
    as the square of the over-speed share. Own construction, no source.
    """
    count = 24
    even = [lowest + (highest - lowest) * place / (count - 1) for place in range(count)]
    inner = [w for w in even if all(abs(w - p) > 3.0 for p in (peaks.torque_speed, peaks.power_speed))]
    peak_speeds = [w for w in {peaks.torque_speed, peaks.power_speed} if lowest < w < highest]
    speeds = sorted([*inner, *peak_speeds])
    torques = tuple(_torque(w, peaks, low_speed_fall, over_speed_fall) for w in speeds)
    return tuple(speeds), torques


def _torque(speed: float, peaks: Peaks, low_speed_fall: float, over_speed_fall: float) -> float:
    at_power = peaks.power / peaks.power_speed
    if speed <= peaks.torque_speed:
        missing = 1.0 - speed / peaks.torque_speed
        return peaks.torque * (1.0 - low_speed_fall * missing**2)
    if speed >= peaks.power_speed:
        over = speed / peaks.power_speed - 1.0
        return max(peaks.power * (1.0 - over_speed_fall * over**2), 0.05 * peaks.power) / speed
    span = peaks.power_speed - peaks.torque_speed
    s = (speed - peaks.torque_speed) / span
    end_slope = -at_power / peaks.power_speed * span
    # a slope steeper than three times the chord would overshoot (Fritsch and Carlson 1980)
    end_slope = max(end_slope, 3.0 * (at_power - peaks.torque))
    cubic = (
        peaks.torque * (2.0 * s**3 - 3.0 * s**2 + 1.0)
        + at_power * (3.0 * s**2 - 2.0 * s**3)
        + end_slope * (s**3 - s**2)
    )
    return min(cubic, peaks.power / speed)
