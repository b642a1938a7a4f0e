"""Expressions written as a book has them, with figures put in, and in words."""

from collections.abc import Callable

from tintop.rules.expression import (
    Amount,
    Calculation,
    Call,
    Compared,
    Denied,
    Expression,
    Joined,
    Named,
    Truth,
    Words,
)
from tintop.rules.functions import CHOOSES

_LOOSEST_FIRST = {"or": 0, "and": 1, "not": 2, "compare": 3, "+": 4, "-": 4, "*": 5, "/": 5}
_ALONE = 9
_SUMS = {"+": "plus", "-": "less", "*": "times", "/": "divided by"}
_OF_ONE = {
    "min": "the least",
    "max": "the greatest",
    "mean": "the mean",
    "abs": "without its sign",
    "count": "how many",
    "x": "how far forward",
    "y": "how far to the left",
    "z": "height",
    "diameter": "outside diameter",
    "wall": "wall",
    "area": "area",
    "perimeter": "length round it",
    "least_width": "least width",
    "bolt_section": "section of all",
    "bolt_count": "how many",
    "bolt_diameter": "thread diameter",
    "bolt_class": "strength class",
    "bolt_tension": "what all carry in tension",
    "bolt_shear": "what all carry across",
    "year": "year",
}
_FROM_TO = {
    "angle_below": "fall rearwards",
    "plan_angle": "angle to the centre line",
    "angle_from_vertical": "lean from vertical",
    "stay_angle": "lean rearwards",
    "lap_angle": "fall",
    "distance": "distance",
}


def write_expression(expression: Expression, put_in: Callable[[Named], str] | None = None) -> str:
    """Write an expression as a book would; `put_in` writes what stands for a fact."""
    return _written(expression, put_in or _name)[0]


def _name(named: Named) -> str:
    return f"{named.fact}[{named.each}]" if named.each else named.fact


def _written(expression: Expression, put_in: Callable[[Named], str]) -> tuple[str, int]:
    def inside(part: Expression, rank: int) -> str:
        text, own = _written(part, put_in)
        return text if own >= rank else f"({text})"

    match expression:
        case Amount():
            return expression.written, _ALONE
        case Words():
            return f"'{expression.text}'", _ALONE
        case Truth():
            return "yes" if expression.value else "no", _ALONE
        case Named():
            return put_in(expression), _ALONE
        case Call():
            arguments = ", ".join(_written(part, put_in)[0] for part in expression.arguments)
            return f"{expression.function}({arguments})", _ALONE
        case Calculation(sign, left, right):
            rank = _LOOSEST_FIRST[sign]
            return f"{inside(left, rank)} {sign} {inside(right, rank + 1)}", rank
        case Compared(sign, left, right):
            rank = _LOOSEST_FIRST["compare"]
            return f"{inside(left, rank + 1)} {sign} {inside(right, rank + 1)}", rank
        case Joined(sign, parts):
            rank = _LOOSEST_FIRST[sign]
            return f" {sign} ".join(inside(part, rank + 1) for part in parts), rank
        case Denied(part):
            return f"not {inside(part, _LOOSEST_FIRST['not'])}", _LOOSEST_FIRST["not"]


def say_expression(expression: Expression, name: Callable[[Named], str]) -> str:
    """Say in words what a figure is worked out from, for a reader of paper; `name` names a fact."""
    match expression:
        case Named():
            return name(expression)
        case Amount():
            return _amount(expression)
        case Words():
            return expression.text
        case Call(function="abs", arguments=(Calculation("-", one, other),)):
            return f"{say_expression(one, name)}, away from {_within(say_expression(other, name))}"
        case Call():
            return _say_call(expression, name)
        case Calculation(sign, left, right):
            rank = _LOOSEST_FIRST[sign]
            first, second = _part(left, rank, name), _part(right, rank + 1, name)
            return f"{first} {_SUMS[sign]} {_within(second)}"
        case _:
            return write_expression(expression, name)


def _part(part: Expression, rank: int, name: Callable[[Named], str]) -> str:
    """One side of a sum, in brackets where another order would be read."""
    said = say_expression(part, name)
    is_looser = isinstance(part, Calculation) and _LOOSEST_FIRST[part.sign] < rank
    return f"({said})" if is_looser else said


def _say_call(call: Call, name: Callable[[Named], str]) -> str:
    function, parts = call.function, call.arguments
    if function == CHOOSES:
        one, other = (say_expression(part, name) for part in parts[1:])
        return f"{one} or {_within(other)}, whichever applies"
    if function == "share":
        one, other = (say_expression(part, name) for part in parts)
        return f"{one} as a share of {_within(other)}"
    listed = _listed(parts, name)
    if function in _OF_ONE:
        return f"{listed}, {_OF_ONE[function]}"
    if function in _FROM_TO:
        one, other = (say_expression(part, name) for part in parts)
        return f"{one} to {_within(other)}, {_FROM_TO[function]}"
    return f"{listed}, {function.replace('_', ' ')}"


def _listed(parts: tuple[Expression, ...], name: Callable[[Named], str]) -> str:
    """Several figures in a row; the instances of one fact by their names alone after the first."""
    first = parts[0]
    if isinstance(first, Named) and all(
        isinstance(each, Named) and each.fact == first.fact for each in parts
    ):
        others = [each.each for each in parts[1:] if isinstance(each, Named)]
        return " and ".join([name(first), *others])
    said = [say_expression(part, name) for part in parts]
    return " and ".join([said[0], *(_within(each) for each in said[1:])])


def _amount(amount: Amount) -> str:
    return amount.written.replace(" deg", "°")


def _within(words: str) -> str:
    """Words within a sentence: a capital that only begins them goes, an abbreviation keeps its own."""
    return f"{words[:1].lower()}{words[1:]}" if words[1:2].islower() else words
