"""Expressions with the car's facts put in: figures with their ±; conditions that hold, fail or are open."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from tintop.errors import BadInput
from tintop.rules.checking import parts_of
from tintop.rules.exact import are_equal, compares, excess
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
from tintop.rules.facts import Bolts, Fact, FactKey, FactKind, FactValue, Tube
from tintop.rules.functions import CHOOSES, FUNCTIONS
from tintop.rules.placeholders import is_placeholder


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What is known of the car: values and ± in SI, and the instance under check."""

    values: Mapping[FactKey, FactValue]
    errors: Mapping[FactKey, float]
    facts: Mapping[str, Fact]
    each: str = ""
    fallen: Mapping[FactKey, str] = field(default_factory=dict)  # why what was recorded does not count

    def key(self, named: Named | FactKey) -> FactKey:
        """The fact meant: of the instance named, or of the one under check where the fact has instances."""
        each = named.each or (self.each if self.facts[named.fact].each else "")
        return FactKey(named.fact, each)


class NotKnownError(Exception):
    """An expression that cannot be worked out: facts missing, or why else."""

    def __init__(self, missing: Iterable[FactKey] = (), why: str = "") -> None:
        self.missing = tuple(dict.fromkeys(missing))
        self.why = why
        super().__init__(why)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One comparison of a condition as it came out; `truth` is None when it lies within its ±."""

    expression: Expression
    truth: bool | None
    wanted: bool | None  # which way it has to come out
    left: FactValue = ""
    right: FactValue = ""
    error: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """Whether a condition holds: yes, no, None for open; facts missing and used; its statements."""

    truth: bool | None
    missing: tuple[FactKey, ...] = ()
    used: tuple[FactKey, ...] = ()
    statements: tuple[Statement, ...] = ()
    why: tuple[str, ...] = ()


def figure(expression: Expression, given: Given) -> FactValue:
    """Work an expression out.

    Raises NotKnownError when facts are missing or there is no result, BadInput when a value makes no sense.
    """
    match expression:
        case Amount():
            return expression.value
        case Words():
            return expression.text
        case Named():
            key = given.key(expression)
            value = given.values.get(key)
            if value is None:
                raise NotKnownError((key,))
            return value
        case Call():
            return _called(expression, given)
        case Calculation(sign, left, right):
            one, other = _numbers((left, right), given)
            return _finite(_calculated(sign, one, other))
        case Truth() | Compared() | Joined() | Denied():
            decision = decide(expression, given)
            if decision.truth is None:
                raise NotKnownError(decision.missing, "; ".join(decision.why))
            return decision.truth


def number(expression: Expression, given: Given) -> float:
    """Work out an expression that gives a number; errors as `figure`."""
    value = figure(expression, given)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise NotKnownError(why="this is no number")
    return float(value)


def spread(expression: Expression, given: Given) -> float:
    """Give the ± of a number: each figure put in moved by its own ±, the changes added as squares.

    Of the moves up and down the greater counts. Source: first-order propagation of independent errors
    (JCGM 100:2008, 5.1), by finite differences. Errors as `figure`.
    """
    uncertain = [key for key in needed(expression, given) if given.errors.get(key, 0.0) > 0.0]
    if not uncertain:
        return 0.0
    if isinstance(expression, Named):
        return given.errors[uncertain[0]]
    middle = number(expression, given)
    total = 0.0
    for key in uncertain:
        for moves in _moves(given.values[key], given.errors[key]):
            total += max(_change(expression, given, key, value, middle) for value in moves) ** 2
    return math.sqrt(total)


def needed(expression: Expression, given: Given) -> tuple[FactKey, ...]:
    """Give the facts an expression rests on as it comes out; of an "if" only the side that is chosen."""
    return tuple(dict.fromkeys(_needed(expression, given)))


def decide(expression: Expression, given: Given, wanted: bool | None = None) -> Decision:
    """Say whether a condition holds.

    `wanted` is how it has to come out: a comparison that comes out so by less than its ± is open; with
    None, so is one that comes out either way by less. Raises BadInput when a value makes no sense.
    """
    match expression:
        case Truth():
            return Decision(truth=expression.value)
        case Named():
            return _decide_fact(expression, given, wanted)
        case Denied(part):
            inner = decide(part, given, None if wanted is None else not wanted)
            return replace(inner, truth=None if inner.truth is None else not inner.truth)
        case Joined(sign, parts):
            return _joined(sign == "and", [decide(part, given, wanted) for part in parts])
        case Compared():
            return _compared(expression, given, wanted)
        case Call(function=function, arguments=arguments) if function == CHOOSES:
            condition = decide(arguments[0], given)
            if condition.truth is None:
                return condition
            chosen = decide(arguments[1 if condition.truth else 2], given, wanted)
            return replace(chosen, used=(*condition.used, *chosen.used))
        case _:
            return Decision(truth=None, why=("this is no condition",))


def _decide_fact(named: Named, given: Given, wanted: bool | None) -> Decision:
    key = given.key(named)
    value = given.values.get(key)
    if not isinstance(value, bool):
        return Decision(truth=None, missing=(key,))
    statement = Statement(expression=named, truth=value, wanted=wanted, left=value)
    return Decision(truth=value, used=(key,), statements=(statement,))


def _joined(is_all: bool, decisions: list[Decision]) -> Decision:
    """Three-valued and/or; it rests on the parts that settle it, or on all of them."""
    settling = [one for one in decisions if one.truth is not None and one.truth is not is_all]
    if settling:
        return settling[0] if not is_all else _together(settling, truth=False)
    return _together(decisions, truth=None if any(one.truth is None for one in decisions) else is_all)


def _together(decisions: list[Decision], truth: bool | None) -> Decision:
    return Decision(
        truth=truth,
        missing=tuple(dict.fromkeys(key for one in decisions for key in one.missing)),
        used=tuple(dict.fromkeys(key for one in decisions for key in one.used)),
        statements=tuple(statement for one in decisions for statement in one.statements),
        why=tuple(why for one in decisions for why in one.why),
    )


def _compared(compared: Compared, given: Given, wanted: bool | None) -> Decision:
    used = tuple(key for key in needed(compared, given) if key in given.values)
    try:
        left, right = _arguments((compared.left, compared.right), given)
    except NotKnownError as unknown:
        return Decision(
            truth=None, missing=unknown.missing, used=used, why=(unknown.why,) if unknown.why else ()
        )
    if placeholders := _placeholders((compared.left, left), (compared.right, right), given):
        return Decision(truth=None, missing=placeholders, used=used)
    if isinstance(left, (bool, str)) or isinstance(right, (bool, str)):
        is_same = _plain(left) == _plain(right)
        truth: bool | None = is_same if compared.sign == "==" else not is_same
        error = 0.0
    elif isinstance(left, (int, float)) and isinstance(right, (int, float)):
        error = spread(Calculation("-", compared.left, compared.right), given)
        truth = compares(compared.sign, left, right)
        is_near = error > 0.0 and (abs(excess(left, right)) <= error or are_equal(abs(left - right), error))
        if is_near and (wanted is None or truth is wanted):
            truth = None
    else:
        return Decision(truth=None, used=used, why=("these cannot be compared",))
    statement = Statement(
        expression=compared, truth=truth, wanted=wanted, left=left, right=right, error=error
    )
    return Decision(truth=truth, used=used, statements=(statement,))


def _placeholders(
    left: tuple[Expression, FactValue], right: tuple[Expression, FactValue], given: Given
) -> tuple[FactKey, ...]:
    """Of two texts recorded, those that stand for nothing: two of them would be alike, and prove nothing."""
    sides = [(given.key(part), value) for part, value in (left, right) if isinstance(part, Named)]
    if len(sides) < 2:
        return ()
    return tuple(
        key
        for key, value in sides
        if given.facts[key.fact].kind is FactKind.TEXT and isinstance(value, str) and is_placeholder(value)
    )


def _plain(value: FactValue) -> FactValue:
    return " ".join(value.casefold().split()) if isinstance(value, str) else value


def _called(call: Call, given: Given) -> FactValue:
    if call.function == CHOOSES:
        condition = decide(call.arguments[0], given)
        if condition.truth is None:
            raise NotKnownError(
                condition.missing, "; ".join(condition.why) or "a condition is too near to say"
            )
        return figure(call.arguments[1 if condition.truth else 2], given)
    return _finite(FUNCTIONS[call.function].work(*_arguments(call.arguments, given)))


def _arguments(parts: tuple[Expression, ...], given: Given) -> list[FactValue]:
    """All arguments, or all that is missing for them together."""
    values, unknown = [], []
    for part in parts:
        try:
            values.append(figure(part, given))
        except NotKnownError as error:
            unknown.append(error)
    if unknown:
        raise NotKnownError(
            (key for error in unknown for key in error.missing),
            "; ".join(error.why for error in unknown if error.why),
        )
    return values


def _numbers(parts: tuple[Expression, ...], given: Given) -> list[float]:
    values = _arguments(parts, given)
    if any(isinstance(value, bool) or not isinstance(value, (int, float)) for value in values):
        raise NotKnownError(why="this is no number")
    return [float(value) for value in values]  # type: ignore[arg-type]


def _calculated(sign: str, one: float, other: float) -> float:
    match sign:
        case "+":
            return one + other
        case "-":
            return one - other
        case "*":
            return one * other
        case _:
            if other == 0.0:
                raise NotKnownError(why="a figure is divided by nothing")
            return one / other


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise NotKnownError(why="the figures give no finite result")
    return value


def _needed(expression: Expression, given: Given) -> Iterator[FactKey]:
    if isinstance(expression, Named):
        yield given.key(expression)
    elif isinstance(expression, Call) and expression.function == CHOOSES:
        condition, one, other = expression.arguments
        yield from _needed(condition, given)
        truth = decide(condition, given).truth
        if truth is not False:
            yield from _needed(one, given)
        if truth is not True:
            yield from _needed(other, given)
    else:
        for part in parts_of(expression):
            yield from _needed(part, given)


def _change(expression: Expression, given: Given, key: FactKey, value: FactValue, middle: float) -> float:
    moved = Given(
        values=_Moved(given.values, key, value), errors=given.errors, facts=given.facts, each=given.each
    )
    try:
        return abs(number(expression, moved) - middle)
    except (NotKnownError, BadInput):
        return math.inf


class _Moved(Mapping[FactKey, FactValue]):
    """The values with one of them moved; the others are looked up where they are."""

    def __init__(self, others: Mapping[FactKey, FactValue], key: FactKey, value: FactValue) -> None:
        self._others, self._key, self._value = others, key, value

    def __getitem__(self, key: FactKey) -> FactValue:
        return self._value if key == self._key else self._others[key]

    def __iter__(self) -> Iterator[FactKey]:
        return iter(self._others)

    def __len__(self) -> int:
        return len(self._others)


def _moves(value: FactValue, error: float) -> Iterator[tuple[FactValue, ...]]:
    """The values to try for each figure a value is made of: moved up, and moved down."""
    match value:
        case bool() | str() | Bolts():
            return
        case float() | int():
            yield value + error, value - error
        case Tube(diameter=diameter, wall=wall):
            yield (
                Tube(diameter=diameter + error, wall=wall),
                Tube(diameter=max(diameter - error, 2.0 * wall), wall=wall),
            )
            yield (
                Tube(diameter=diameter, wall=min(wall + error, 0.5 * diameter)),
                Tube(diameter=diameter, wall=max(wall - error, 1e-9)),
            )
        case tuple() if value and isinstance(value[0], tuple):
            for at, (x, y) in enumerate(value):
                yield tuple(_with(value, at, (x + move, y)) for move in (error, -error))
                yield tuple(_with(value, at, (x, y + move)) for move in (error, -error))
        case tuple() if value and isinstance(value[0], (int, float)):
            for at, one in enumerate(value):
                yield tuple(_with(value, at, one + move) for move in (error, -error))
        case _:
            return


def _with(values: tuple[object, ...], at: int, value: object) -> FactValue:
    return (*values[:at], value, *values[at + 1 :])  # type: ignore[return-value]
