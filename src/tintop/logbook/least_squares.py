"""A straight line through readings."""

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """y = `at_zero` + `slope` x; `slope_error` is the slope's standard error, None with two points."""

    slope: float
    at_zero: float
    slope_error: float | None
    spread_x: float  # square root of the sum of squares of x about its mean
    points: int


def line_through(x: Sequence[float], y: Sequence[float]) -> Line | None:
    """The line of least squares through points; None unless two of them differ in x.

    Slope = Sxy / Sxx, its standard error sqrt(Σ residual² / ((n − 2) Sxx)).

    Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd ed., 1998, sections 1.2 and 1.4
    (from memory); checked against scipy.stats.linregress.
    """
    n = len(x)
    if n < 2:
        return None
    mean_x, mean_y = math.fsum(x) / n, math.fsum(y) / n
    squares = math.fsum((each - mean_x) ** 2 for each in x)
    if squares <= 0.0 or max(x) - min(x) < 1e-9 * max(abs(max(x)), 1.0):
        return None
    slope = math.fsum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / squares
    at_zero = mean_y - slope * mean_x
    error = None
    if n > 2:
        residual = math.fsum((b - at_zero - slope * a) ** 2 for a, b in zip(x, y, strict=True))
        error = math.sqrt(residual / ((n - 2) * squares))
    return Line(slope=slope, at_zero=at_zero, slope_error=error, spread_x=math.sqrt(squares), points=n)


_STUDENT = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145,
    2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
)  # fmt: skip


def student_factor(freedom: int) -> float:
    """Half-width in standard errors of a 95 % range with this many degrees of freedom (1 or more).

    Source: quantiles of Student's distribution, from memory, checked against scipy.stats; beyond twenty
    degrees the first terms of M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 26.7.5 (from
    memory) at the normal distribution's 1.95996.
    """
    if freedom <= len(_STUDENT):
        return _STUDENT[max(freedom, 1) - 1]
    return 1.95996 + 2.3723 / freedom + 2.8225 / freedom**2
