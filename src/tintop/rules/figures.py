"""Figures as a mechanic reads them: the usual unit, sensible digits, never rounded onto a limit they miss."""

import math
import re
from collections.abc import Iterable, Mapping
from datetime import date

from tintop.rules.checking import check_expression, facts_named
from tintop.rules.dimensions import dimension_of
from tintop.rules.exact import are_equal
from tintop.rules.expression import Amount, Expression, Named
from tintop.rules.facts import Bolts, Fact, FactKind, FactValue, Marked, Tube, Unreadable
from tintop.rules.writing_facts import write_fact
from tintop.units import UNITS, Unit, display_unit, unit_named

_NUMBERS = (FactKind.NUMBER, FactKind.NUMBERS)
_DIGITS = 4
_MOST_DIGITS = 12
_SIGNS = {"deg": "°", "ohm": "Ω", "kohm": "kΩ"}
_POWER = re.compile(r"(?<=[a-z])([23])(?![0-9])")
_AMOUNT = re.compile(r"\s*[-+]?[0-9.,]+(?:[eE][-+]?[0-9]+)?\s*(.*)", re.DOTALL)


def write_day(day: date) -> str:
    """Write a day: "5 March 2026"."""
    return f"{day.day} {day:%B %Y}"


def write_figure(
    value: float, quantity: str, unit: str, error: float = 0.0, apart_from: Iterable[float] = ()
) -> str:
    """Write a number in SI in a unit, with its ±, such as "12.4° ± 1.3°".

    Digits are added until it reads differently from each figure of `apart_from` that it is not equal to.
    """
    found = _unit(quantity, unit)
    number = (value - found.offset) / found.factor
    if not math.isfinite(error):
        return f"{_text(number, None)}{_sign(found)} (± not known)"
    decimals = _decimals(error / found.factor) if error > 0.0 else None
    digits = _DIGITS
    others = [(other - found.offset) / found.factor for other in apart_from if not are_equal(other, value)]
    while digits < _MOST_DIGITS and any(
        _text(number, decimals, digits) in (_text(other, decimals, digits), _text(other, None))
        for other in others
    ):
        digits += 1
        decimals = None if decimals is None else decimals + 1
    text = f"{_text(number, decimals, digits)}{_sign(found)}"
    if error > 0.0:
        text += f" ± {_text(error / found.factor, decimals, digits)}{_sign(found)}"
    return text


def write_difference(value: float, quantity: str, unit: str) -> str:
    """Write a difference of two figures in SI in a unit, without the offset of a scale."""
    found = _unit(quantity, unit)
    return f"{_text(value / found.factor, None, 3)}{_sign(found)}"


def write_amount(amount: Amount) -> str:
    """Write a figure of a book in its own unit: "45 deg" as "45°"."""
    return write_figure(amount.value, amount.quantity, unit_of(amount))


def unit_of(amount: Amount) -> str:
    """Give the unit a book wrote a figure in."""
    match = _AMOUNT.fullmatch(amount.written)
    name = match[1].strip() if match else ""
    return name or ("" if amount.quantity in ("number", "ratio") else display_unit(amount.quantity))


def shown_in(value: Expression, others: Iterable[Expression], facts: Mapping[str, Fact]) -> tuple[str, str]:
    """Give quantity and unit to write a number in: the fact's own, its limits', or the usual."""
    amounts = [other for other in others if isinstance(other, Amount)]
    if isinstance(value, Amount):
        return value.quantity, unit_of(value)
    if isinstance(value, Named):
        fact = facts[value.fact]
        quantity = fact.quantity or "number"
        return quantity, fact.unit or display_unit(quantity)
    quantity = check_expression(value, facts).quantity
    if not quantity:
        return "", ""
    if quantity == "number" and any(amount.quantity == "share" for amount in amounts):
        return "share", "%"
    of_limits = [unit_of(amount) for amount in amounts if amount.quantity == quantity]
    like = [
        fact.unit
        for fact in (facts[named.fact] for named in facts_named(value))
        if fact.kind in _NUMBERS and dimension_of(fact.quantity or "number") == dimension_of(quantity)
    ]
    return quantity, next((unit for unit in (*of_limits, *like) if unit), display_unit(quantity))


def write_value(fact: Fact, value: FactValue, error: float = 0.0) -> str:
    """Write the value of a fact for reading: rounded sensibly, with its ±."""
    match value:
        case bool() | str() | Bolts():
            return write_fact(fact, value)
        case float() | int():
            quantity = fact.quantity or "number"
            return write_figure(float(value), quantity, fact.unit or display_unit(quantity), error)
        case Marked(day=day, precision=precision):
            return {"year": f"{day:%Y}", "month": f"{day:%B %Y}", "day": write_day(day)}[precision]
        case Unreadable():
            return "missing or unreadable"
        case Tube():
            return _several((value.diameter, value.wall), "length", fact.unit or "mm", error, " x ")
        case tuple():
            return _write_list(fact, value, error)


def _write_list(fact: Fact, value: tuple[object, ...], error: float) -> str:
    if fact.kind is FactKind.NAMES:
        return ", ".join(str(name) for name in value)
    if fact.kind is FactKind.OUTLINE:
        return f"outline of {len(value)} corners"
    quantity = (fact.quantity or "number") if fact.kind is FactKind.NUMBERS else "length"
    unit = fact.unit or (display_unit(quantity) if fact.kind is FactKind.NUMBERS else "mm")
    return _several([float(one) for one in value], quantity, unit, error, " ")  # type: ignore[arg-type]


def _several(values: Iterable[float], quantity: str, unit: str, error: float, between: str) -> str:
    found = _unit(quantity, unit)
    joined = between.join(_text((value - found.offset) / found.factor, None, 5) for value in values)
    spread = f" ± {_text(error / found.factor, None, 2)}" if error > 0.0 else ""
    return f"{joined}{spread}{_sign(found)}"


def _unit(quantity: str, unit: str) -> Unit:
    for found in UNITS.get(quantity, ()):
        if unit == found.name or unit in found.also:
            return found
    return unit_named(unit, quantity) if quantity in UNITS else Unit("", 1.0)


def _sign(unit: Unit) -> str:
    if unit.name == "deg":
        return "°"
    name = _POWER.sub(lambda match: {"2": "²", "3": "³"}[match[1]], _SIGNS.get(unit.name, unit.name))
    return f" {name}" if name else ""


def _decimals(error: float) -> int:
    """So many that the ± shows two digits when it starts with 1 or 2, else one."""
    if error <= 0.0:
        return 0
    first = math.floor(math.log10(error))
    leading = error / 10.0**first
    return max(0, -first + (1 if leading < 2.95 else 0))


def _text(number: float, decimals: int | None, digits: int = _DIGITS) -> str:
    number = number + 0.0  # no minus before nothing
    if decimals is not None:
        text = f"{number:.{min(decimals, 15)}f}"
        return text[1:] if text.startswith("-") and not text.strip("-0.") else text
    size = abs(number)
    if size != 0.0 and (size < 1e-4 or size >= 1e9):
        return f"{number:.{digits}g}"
    whole = len(f"{int(size)}") if size >= 1.0 else 0
    text = f"{number:.{max(digits - whole, 0) if size >= 1.0 else digits + 2}f}"
    if size < 1.0:
        text = f"{float(f'{number:.{digits}g}'):.{digits + 4}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
