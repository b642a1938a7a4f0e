"""The grammar of expressions; a parser of it is built at the first use."""

import re
from functools import cache
from typing import TYPE_CHECKING

from tintop.units import UNITS, Unit

if TYPE_CHECKING:
    from lark import Lark, Transformer

    from tintop.rules.expression import Expression

GRAMMAR = r"""
start: either
?either: both | both (_OR both)+ -> joined_by_or
?both: denial | denial (_AND denial)+ -> joined_by_and
?denial: comparison | _NOT denial -> denied
?comparison: sum | sum COMPARISON sum -> compared
?sum: product | sum (PLUS | MINUS) product -> calculated
?product: signed | product (TIMES | OVER) signed -> calculated
?signed: operand | MINUS signed -> turned_round
?operand: amount
        | TEXT -> words
        | (YES | NO) -> truth
        | NAME ["[" INSTANCE "]"] -> named
        | NAME "(" either ("," either)* ")" -> call
        | "(" either ")"
amount: NUMBER [UNIT]

_OR.2: /or\b/
_AND.2: /and\b/
_NOT.2: /not\b/
YES.2: /yes\b/
NO.2: /no\b/
COMPARISON: "<=" | ">=" | "==" | "!=" | "<" | ">" | "≤" | "≥" | "≠"
PLUS: "+"
MINUS: "-" | "−"
TIMES: "*" | "×"
OVER: "/"
NUMBER: /[0-9]+(\.[0-9]+)?/
UNIT: /UNITS/
NAME: /[A-Za-z_][A-Za-z0-9_]*(\.[A-Za-z_][A-Za-z0-9_]*)*/
INSTANCE: /[A-Za-z0-9][A-Za-z0-9 _-]*/
TEXT: /'[^'\n]*'/
%ignore /[ \t\r\n]+/
"""


@cache
def units_by_name() -> dict[str, tuple[str, Unit]]:
    """Every way a unit may be written in an expression: its quantity and the unit."""
    found: dict[str, tuple[str, Unit]] = {}
    for quantity, units in UNITS.items():
        for unit in units:
            for name in (unit.name, *unit.also):
                if re.match(r"[^\W\d_]|[°%]", name):
                    for written in (name, name.replace("2", "²").replace("3", "³")):
                        found.setdefault(written, (quantity, unit))
    return found


def parser(building: "Transformer[object, Expression]") -> "Lark":
    """Build the parser; what it reads is put together by `building`, without recursion."""
    from lark import Lark

    longest_first = sorted(units_by_name(), key=len, reverse=True)
    units = rf"(?:{'|'.join(re.escape(name).replace('/', chr(92) + '/') for name in longest_first)})(?!\w)"
    grammar = GRAMMAR.replace("/UNITS/", f"/{units}/")
    return Lark(grammar, parser="lalr", lexer="contextual", transformer=building, maybe_placeholders=True)
