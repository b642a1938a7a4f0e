"""Expressions written as a book has them, and with figures put in."""

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

_LOOSEST_FIRST = {"or": 0, "and": 1, "not": 2, "compare": 3, "+": 4, "-": 4, "*": 5, "/": 5}
_ALONE = 9


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
