"""Comparisons on which no floating-point dust hangs: equal figures are equal."""

import math

from tintop.rules.expression import Comparison

TOLERANCE = 1e-9  # of the greater of the two
_DUST = 1e-15  # in SI, beside a figure of nothing


def are_equal(one: float, other: float) -> bool:
    """Whether two figures are equal but for how a computer writes them."""
    return math.isclose(one, other, rel_tol=TOLERANCE, abs_tol=_DUST)


def excess(value: float, limit: float) -> float:
    """Give how far a value lies above a limit, 0 when equal."""
    return 0.0 if are_equal(value, limit) else value - limit


def compares(sign: Comparison, left: float, right: float) -> bool:
    """Whether a comparison of two figures holds."""
    above = excess(left, right)
    match sign:
        case "<":
            return above < 0.0
        case "<=":
            return above <= 0.0
        case "==":
            return above == 0.0
        case "!=":
            return above != 0.0
        case ">=":
            return above >= 0.0
        case ">":
            return above > 0.0
