"""Facts written as a person would, so that they read the same again; what value fits what fact."""

import math

from tintop.rules.facts import (
    Bolts,
    Fact,
    FactKind,
    FactValue,
    Marked,
    Tube,
    Unreadable,
)
from tintop.rules.placeholders import is_not_known
from tintop.rules.reading_facts import inches, read_fact
from tintop.units import UNITS, display_unit, format_quantity, unit_named

__all__ = ["fits", "read_fact", "write_fact"]


def write_fact(fact: Fact, value: FactValue) -> str:
    """Write a value of a fact as a person would; `read_fact` gives the same value from it."""
    match value:
        case bool():
            return "yes" if value else "no"
        case str():
            return value
        case Marked():
            return {"year": f"{value.day:%Y}", "month": f"{value.day:%Y-%m}"}.get(
                value.precision, value.day.isoformat()
            )
        case Unreadable():
            return "unreadable"
        case Tube():
            return _with_unit((value.diameter, value.wall), "length", fact.unit or "mm", " x ")
        case Bolts():
            size = value.thread or _size(value.diameter)
            return f"{value.count} x {size} {value.strength_class}".strip()
        case float() | int():
            quantity = fact.quantity or "number"
            return _with_unit((float(value),), quantity, fact.unit or display_unit(quantity), "")
        case tuple():
            return _write_list(fact, value)


def fits(fact: Fact, value: FactValue) -> bool:
    """Whether a value is of the kind the fact asks for."""
    match fact.kind:
        case FactKind.NUMBER:
            return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
        case FactKind.NUMBERS:
            return (
                isinstance(value, tuple) and bool(value) and all(isinstance(v, (int, float)) for v in value)
            )
        case FactKind.POINT:
            return (
                isinstance(value, tuple)
                and len(value) == 3
                and all(isinstance(v, (int, float)) for v in value)
            )
        case FactKind.OUTLINE:
            return isinstance(value, tuple) and all(isinstance(v, tuple) and len(v) == 2 for v in value)
        case FactKind.TUBE:
            return isinstance(value, Tube)
        case FactKind.BOLTS:
            return isinstance(value, Bolts)
        case FactKind.CHOICE:
            return isinstance(value, str) and bool(value)
        case FactKind.TEXT:
            return isinstance(value, str) and not is_not_known(value)
        case FactKind.NAMES:
            return isinstance(value, tuple) and bool(value) and all(isinstance(v, str) for v in value)
        case FactKind.YES_NO:
            return isinstance(value, bool)
        case FactKind.MARKED:
            return isinstance(value, (Marked, Unreadable))


def _size(diameter: float) -> str:
    for of in (8, 16, 32):
        part = round(diameter / 0.0254 * of)
        if part and inches(part, of) == diameter:
            return f"{part}/{of} in"
    return f"M{_digits(diameter, 1e-3)}"


def _write_list(fact: Fact, value: tuple[object, ...]) -> str:
    if fact.kind is FactKind.NAMES:
        return ", ".join(str(name) for name in value)
    unit = fact.unit or (
        "mm" if fact.kind is not FactKind.NUMBERS else display_unit(fact.quantity or "number")
    )
    if fact.kind is FactKind.OUTLINE:
        corners: list[tuple[float, float]] = list(value)  # type: ignore[arg-type]
        flat = [number for corner in corners for number in corner]
        pairs, name = _numbers(flat, "length", unit)
        joined = ", ".join(f"{x} {y}" for x, y in zip(pairs[::2], pairs[1::2], strict=True))
        return f"{joined} {name}"
    quantity = "length" if fact.kind is FactKind.POINT else fact.quantity or "number"
    return _with_unit(tuple(float(number) for number in value), quantity, unit, " ")  # type: ignore[arg-type]


def _with_unit(values: tuple[float, ...], quantity: str, unit: str, between: str) -> str:
    numbers, name = _numbers(values, quantity, unit)
    return f"{between.join(numbers)} {name}".strip()


def _numbers(values: tuple[float, ...] | list[float], quantity: str, unit: str) -> tuple[list[str], str]:
    """Digits in the wanted unit, or in SI where no digits in it give back exactly the same value."""
    plain = next(
        (found.name for found in UNITS[quantity] if found.factor == 1.0 and found.offset == 0.0), unit
    )
    for name in (unit, plain):
        written = [_exactly(value, quantity, name) for value in values]
        if None not in written:
            return [text for text in written if text is not None], name
    return [format_quantity(value, unit, 17, quantity).split(" ")[0] for value in values], unit


def _exactly(value: float, quantity: str, unit: str) -> str | None:
    found = unit_named(unit, quantity)
    number = (value - found.offset) / found.factor
    for near in (number, math.nextafter(number, math.inf), math.nextafter(number, -math.inf)):
        for digits in (*range(3, 16), 17):
            text = _plain(f"{near:.{digits}g}")
            if float(text) * found.factor + found.offset == value:
                return text
    return None


def _digits(value: float, factor: float) -> str:
    for digits in range(3, 18):
        text = _plain(f"{value / factor:.{digits}g}")
        if float(f"{text}e-3") == value:
            return text
    return _plain(repr(value / factor))


def _plain(text: str) -> str:
    """Digits without an exponent that a person would not write, where that is short enough."""
    number = float(text)
    if "e" not in text or not 1e-9 <= abs(number) < 1e16:
        return text
    return f"{number:.0f}" if abs(number) >= 1.0 else f"{number:.24f}".rstrip("0")
