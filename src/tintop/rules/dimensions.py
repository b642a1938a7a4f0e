"""What quantities are made of: exponents for + − × ÷ and comparisons, and the quantity a result is shown as.

An angle counts as a base quantity of its own, so that 45° is never compared with a plain 45. So do a sound
level, a temperature on its scale, and a rate per hour, which are not powers of SI units here.
"""

from collections.abc import Mapping

Dimension = tuple[tuple[str, int], ...]
PLAIN: Dimension = ()

_MECHANICAL = {
    "mass": (1, 0, 0, 0),
    "length": (0, 1, 0, 0),
    "time": (0, 0, 1, 0),
    "angle": (0, 0, 0, 1),
    "area": (0, 2, 0, 0),
    "volume": (0, 3, 0, 0),
    "pressure": (1, -1, -2, 0),
    "speed": (0, 1, -1, 0),
    "engine speed": (0, 0, -1, 1),
    "torque": (1, 2, -2, 0),
    "power": (1, 2, -3, 0),
    "force": (1, 1, -2, 0),
    "spring rate": (1, 0, -2, 0),
    "damping": (1, 0, -1, 0),
    "roll stiffness": (1, 2, -2, -1),
    "duration": (0, 0, 1, 0),
    "specific consumption": (0, -2, 2, 0),
    "density": (1, -3, 0, 0),
    "specific energy": (0, 2, -2, 0),
    "mass flow": (1, 0, -1, 0),
    "inertia": (1, 2, 0, 0),
    "wear depth": (-1, -1, 2, 0),
    "wear volume": (-1, 1, 2, 0),
    "camber loss": (0, 0, 0, -2),
    "power to mass": (0, 2, -3, 0),
    "mass to power": (0, -2, 3, 0),
    "acceleration": (0, 1, -2, 0),
}
_BASES = ("mass", "length", "time", "angle")


def _of(powers: Mapping[str, int]) -> Dimension:
    return tuple(sorted((base, power) for base, power in powers.items() if power))


DIMENSIONS: dict[str, Dimension] = {
    **{quantity: _of(dict(zip(_BASES, powers, strict=True))) for quantity, powers in _MECHANICAL.items()},
    "share": PLAIN,
    "number": PLAIN,
    "ratio": PLAIN,
    "rate": _of({"rate": 1}),
    "temperature": _of({"temperature": 1}),
    "temperature difference": _of({"temperature difference": 1}),
    "heat capacity": _of({"mass": 1, "length": 2, "time": -2, "temperature difference": -1}),
    "conductance": _of({"mass": 1, "length": 2, "time": -3, "temperature difference": -1}),
    "specific heat": _of({"length": 2, "time": -2, "temperature difference": -1}),
    "sound level": _of({"sound level": 1}),
    "electrical resistance": _of({"voltage": 1, "current": -1}),
    "voltage": _of({"voltage": 1}),
}
_SHOWN_AS = {dimension: quantity for quantity, dimension in reversed(DIMENSIONS.items())} | {PLAIN: "number"}


def dimension_of(quantity: str) -> Dimension:
    """Give the exponents of a quantity of `units.UNITS`; KeyError for any other."""
    return DIMENSIONS[quantity]


def quantity_of(dimension: Dimension) -> str:
    """Give the quantity a dimension is shown as, or "" when it has no name."""
    return _SHOWN_AS.get(dimension, "")


def times(one: Dimension, other: Dimension, power: int = 1) -> Dimension:
    """Give the dimension of a product; with power -1 of a quotient."""
    powers = dict(one)
    for base, exponent in other:
        powers[base] = powers.get(base, 0) + power * exponent
    return _of(powers)


def in_words(dimension: Dimension) -> str:
    """Say a dimension as a person would: "a length", "a plain number", "length² × mass"."""
    if dimension == PLAIN:
        return "a plain number"
    quantity = quantity_of(dimension)
    if quantity:
        return f"{'an' if quantity[0] in 'aeiou' else 'a'} {quantity}"
    return " × ".join(base if power == 1 else f"{base}^{power}" for base, power in dimension)
