"""Text of a rule book to expressions as values; nothing in it can run."""

import difflib
import math
import re
from functools import cache
from typing import TYPE_CHECKING, Any, cast

from tintop.errors import BadInput, Problem, refuse
from tintop.rules.checking import parts_of
from tintop.rules.expression import (
    Amount,
    Arithmetic,
    Calculation,
    Call,
    Compared,
    Comparison,
    Denied,
    Expression,
    Joined,
    Named,
    Truth,
    Words,
)
from tintop.store.rule_books.grammar import parser, units_by_name

if TYPE_CHECKING:
    from lark import Lark
    from lark.exceptions import UnexpectedInput

LONGEST = 1000  # characters
DEEPEST = 40  # brackets, signs and words inside one another

_NAME = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*(?:\.[a-z][a-z0-9]*(?:_[a-z0-9]+)*)*")
_ASCII_SIGNS = {"≤": "<=", "≥": ">=", "≠": "!=", "×": "*", "−": "-"}
_CANNOT_RUN = "An expression is arithmetic on facts and figures; nothing in it is ever run."


class _Refused(Exception):
    def __init__(self, place: int, found: str, expected: str, cure: str = "") -> None:
        self.place, self.found, self.expected, self.cure = place, found, expected, cure


def parse_expression(text: str, where: str) -> Expression:
    """Read an expression such as "diameter(cage.hoop) >= 45 mm".

    Raises BadInput naming `where` and the character at which it cannot go on.
    """
    from lark.exceptions import UnexpectedInput

    if len(text) > LONGEST:
        raise refuse(where, f"an expression of {len(text):,} characters", f"{LONGEST:,} at most")
    if not text.strip():
        raise refuse(where, "nothing", "an expression such as 45 deg, or diameter(cage.main_hoop.tube)")
    try:
        expression = cast(Expression, _parser().parse(text))
    except _Refused as error:
        raise BadInput(_at(where, error.place, error.found, error.expected, error.cure)) from None
    except UnexpectedInput as error:
        raise BadInput(_unexpected(text, where, error)) from None
    if depth(expression) > DEEPEST:
        raise refuse(
            where,
            f"an expression nested {depth(expression)} deep",
            f"{DEEPEST} at most",
            "Make several clauses of it.",
        )
    return expression


def place_of(text: str, name: str) -> int:
    """Give the character, counted from 1, at which a name first stands in an expression; 0 if it does not."""
    found = re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", text)
    return found.start() + 1 if found else 0


def depth(expression: Expression) -> int:
    """Give how many expressions stand inside one another."""
    deepest, open_ones = 0, [(expression, 1)]
    while open_ones:
        one, level = open_ones.pop()
        deepest = max(deepest, level)
        open_ones += [(part, level + 1) for part in parts_of(one)]
    return deepest


@cache
def _parser() -> "Lark":
    from lark import Transformer, v_args

    @v_args(inline=True)
    class Building(Transformer[Any, Expression]):
        def start(self, expression: Expression) -> Expression:
            return expression

        def joined_by_or(self, *parts: Expression) -> Expression:
            return Joined("or", parts)

        def joined_by_and(self, *parts: Expression) -> Expression:
            return Joined("and", parts)

        def denied(self, part: Expression) -> Expression:
            return Denied(part)

        def compared(self, left: Expression, sign: str, right: Expression) -> Expression:
            return Compared(cast(Comparison, _ASCII_SIGNS.get(sign, str(sign))), left, right)

        def calculated(self, left: Expression, sign: str, right: Expression) -> Expression:
            return Calculation(cast(Arithmetic, _ASCII_SIGNS.get(sign, str(sign))), left, right)

        def turned_round(self, sign: Any, part: Expression) -> Expression:
            if isinstance(part, Amount):
                number, _, unit = part.written.partition(" ")
                turned = number[1:] if number.startswith("-") else f"-{number}"
                return _amount(turned, unit, sign.start_pos)
            return Calculation("*", Amount(-1.0, "number", "-1"), part)

        def amount(self, number: Any, unit: Any) -> Expression:
            return _amount(str(number), str(unit or ""), number.start_pos)

        def words(self, text: str) -> Expression:
            return Words(text[1:-1])

        def truth(self, word: str) -> Expression:
            return Truth(word == "yes")

        def named(self, name: Any, each: str | None) -> Expression:
            return Named(_checked_name(name), str(each or "").strip())

        def call(self, name: Any, *arguments: Expression) -> Expression:
            return Call(_checked_name(name), arguments)

    return parser(Building())


def _amount(number: str, unit: str, place: int) -> Amount:
    quantity, factor, offset = "number", 1.0, 0.0
    if unit:
        quantity, found = units_by_name()[unit]
        factor, offset = found.factor, found.offset
        unit = _usual_name(unit) if quantity == "sound level" else unit  # dB alone says no weighting
    value = float(number) * factor + offset
    if not math.isfinite(value):
        raise _Refused(place, "a figure too large to compute with", "a finite figure")
    return Amount(value, quantity, f"{number} {unit}".strip())


def _usual_name(unit: str) -> str:
    """The name a unit is shown by, whichever of its names was written."""
    quantity, found = units_by_name()[unit]
    return found.name if units_by_name().get(found.name) == (quantity, found) else unit


def _thousands(before: str, rest: str) -> str:
    """A figure such as "1,020 kg" as it is to be written; empty where there is none."""
    head = re.search(r"(?<![\w.])[1-9][0-9]{0,2}$", before)
    tail = re.match(r"((?:,[0-9]{3})+)(?![0-9])((?:\.[0-9]+)?\s*[^\W\d_]*)", rest)
    return f"{head[0]}{tail[1].replace(',', '')}{tail[2]}".strip() if head and tail else ""


def _checked_name(name: Any) -> str:
    if not _NAME.fullmatch(name):
        found = repr(str(name) if len(name) <= 60 else name[:57] + "...")
        small = str(name).casefold()
        cure = f"Write {small} in small letters." if small in _KEPT else _CANNOT_RUN
        raise _Refused(
            name.start_pos, found, "a fact or function in small letters, digits and single _", cure
        )
    return str(name)


def _at(where: str, place: int, found: str, expected: str, cure: str = "") -> Problem:
    return Problem(where=f"{where}, character {place + 1}", found=found, expected=expected, cure=cure)


def _unexpected(text: str, where: str, error: "UnexpectedInput") -> Problem:
    from lark.exceptions import UnexpectedCharacters, UnexpectedToken

    awaited: set[str] = set()
    if isinstance(error, UnexpectedToken):
        awaited = set(error.accepts or error.expected)
    elif isinstance(error, UnexpectedCharacters):
        awaited = set(error.allowed or ())
    is_end = isinstance(error, UnexpectedToken) and error.token.type == "$END"
    place = len(text.rstrip()) if is_end else (error.pos_in_stream or 0)
    rest = text[place:].lstrip()
    place = len(text) - len(rest) if rest else place
    found = repr(rest[:20] + ("..." if len(rest) > 20 else "")) if rest else "the end of the expression"
    before = text[:place].rstrip()
    if before.count("(") <= before.count(")"):
        awaited -= {"RPAR", "COMMA"}
    return _at(where, place, found, _awaited(awaited), _cure(before, rest, awaited))


def _awaited(awaited: set[str]) -> str:
    if "NAME" in awaited:
        return "a figure with its unit, a fact, a function of facts, or a bracket"
    if "INSTANCE" in awaited:
        return "the name of one of them, such as [left]"
    closing = {"RPAR": "a closing bracket )", "RSQB": "a closing bracket ]", "COMMA": "a comma"}
    words = [word for token, word in closing.items() if token in awaited]
    if awaited & {"PLUS", "COMPARISON", "_AND", "_OR"}:
        signs = "+ - * /" if "COMPARISON" not in awaited else "+ - * /, a comparison"
        words += [signs, "and, or"]
    return ", ".join(words) + (", or the end" if "$END" in awaited else "") if words else "the end"


_KEPT = ("and", "or", "not", "yes", "no")
_INSTEAD = (
    (r"[‘’“”]", "Write a text between straight single quotes, such as 'steel'."),
    (r"=", "Write == to compare."),
    (r"&|\||!", "Write and, or, not."),
    (r"\*\*|\*|\^", "There are no powers: multiply."),
    (r"['\"]", "Write a text between single quotes, such as 'steel'."),
    (r"\.[0-9]", "Write a figure with a digit before its point, such as 0.5."),
)


def _cure(before: str, rest: str, awaited: set[str]) -> str:
    if thousands := _thousands(before, rest):
        return f"Write {thousands}, without a comma in it."
    if re.match(r",[0-9]", rest) and re.search(r"[0-9]$", before):
        return "Write a decimal sign as a point, such as 0.5."
    for word in (re.search(r"[A-Za-z]+$", before), re.match(r"[A-Za-z]+", rest)):
        if word and word[0] not in _KEPT and word[0].casefold() in _KEPT:
            return f"Write {word[0].casefold()} in small letters."
    if "NAME" not in awaited and re.match(r"<|>|==|!=|[≤≥≠]", rest):
        return "Compare two things at a time, and join comparisons with and."
    for pattern, cure in _INSTEAD:
        if re.match(pattern, rest):
            return cure
    word = re.match(r"[^\W\d_][\w·°/]*", rest)
    if word and re.search(r"(?<![\w.])[0-9.]+$", before):
        longest_first = sorted(units_by_name(), key=len, reverse=True)
        near = [name for name in longest_first if len(name) > 1 and word[0].startswith(name)]
        near = near or difflib.get_close_matches(word[0], longest_first, n=1, cutoff=0.5)
        meant = f" Did you mean {_usual_name(near[0])}?" if near else ""
        return f"{word[0]!r} is no unit tintop knows.{meant}"
    return _CANNOT_RUN if re.match(r"[.:;\\{}\[\]@$`_()]|[A-Za-z]", rest) else ""
