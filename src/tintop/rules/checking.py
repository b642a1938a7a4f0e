"""Whether an expression makes sense before any figure is put in: names, kinds, quantities, instances."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from tintop.errors import did_you_mean, refuse
from tintop.rules.dimensions import PLAIN, Dimension, dimension_of, in_words, quantity_of, times
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
from tintop.rules.facts import Fact, FactKind
from tintop.rules.foregone import is_foregone
from tintop.rules.functions import ANY, CHOOSES, FUNCTION_NAMES, FUNCTIONS, Argument
from tintop.rules.writing_expressions import write_expression

_TEXTS = (FactKind.TEXT, FactKind.CHOICE)
_ORDERED = ("<", "<=", ">=", ">")


@dataclass(frozen=True, slots=True)
class Sense:
    """What an expression gives: its kind, and for numbers their dimension."""

    kind: FactKind
    dimension: Dimension = PLAIN

    @property
    def quantity(self) -> str:
        """The quantity a number is shown as; "" where it has no name, or is no number."""
        return quantity_of(self.dimension) if self.kind in (FactKind.NUMBER, FactKind.NUMBERS) else ""

    def __str__(self) -> str:
        if self.kind is FactKind.NUMBER:
            return in_words(self.dimension)
        if self.kind is FactKind.NUMBERS:
            return f"several numbers, each {in_words(self.dimension)}"
        return _IN_WORDS[self.kind]


_IN_WORDS = {
    FactKind.POINT: "a point",
    FactKind.OUTLINE: "an outline",
    FactKind.TUBE: "a tube",
    FactKind.BOLTS: "bolts",
    FactKind.TEXT: "a text",
    FactKind.CHOICE: "a text",
    FactKind.NAMES: "a list of names",
    FactKind.YES_NO: "a condition",
    FactKind.MARKED: "a date on a label",
}
CONDITION = Sense(FactKind.YES_NO)


def facts_named(*expressions: Expression | None) -> tuple[Named, ...]:
    """Give the facts that expressions name, each once, in the order they stand in."""
    return tuple(dict.fromkeys(named for expression in expressions for named in _named(expression)))


def parts_of(expression: Expression) -> tuple[Expression, ...]:
    """Give what an expression is directly made of."""
    match expression:
        case Call():
            return expression.arguments
        case Calculation() | Compared():
            return (expression.left, expression.right)
        case Joined():
            return expression.parts
        case Denied():
            return (expression.part,)
        case _:
            return ()


def _named(expression: Expression | None) -> Iterator[Named]:
    if isinstance(expression, Named):
        yield expression
    elif expression is not None:
        for part in parts_of(expression):
            yield from _named(part)


def check_expression(expression: Expression, facts: Mapping[str, Fact], where: str = "expression") -> Sense:
    """Give what an expression gives.

    Raises BadInput naming `where` for an unknown fact, instance or function, arguments that do not fit,
    quantities that do not go together, or facts recorded for two different lists of instances.
    """
    sense = _sense(expression, facts, where)
    check_instances(facts_named(expression), facts, where)
    return sense


def check_condition(expression: Expression, facts: Mapping[str, Fact], where: str = "condition") -> None:
    """Raise BadInput unless the expression is a condition; as `check_expression`."""
    sense = check_expression(expression, facts, where)
    if sense.kind is not FactKind.YES_NO:
        raise refuse(
            where,
            f"{write_expression(expression)}, which is {sense}",
            "a condition, such as a comparison or a fact that is yes or no",
        )
    if is_foregone(expression):
        raise refuse(
            where,
            f"{write_expression(expression)}, which always holds",
            "a condition that hangs on what is recorded of the car",
        )


def check_alike(one: Sense, other: Sense, where: str) -> None:
    """Raise BadInput unless two numbers are of one dimension."""
    for sense in (one, other):
        if sense.kind is not FactKind.NUMBER:
            raise refuse(where, str(sense), "a number with its unit")
    if one.dimension != other.dimension:
        raise refuse(where, f"{one} beside {other}", "two figures of one kind")


def check_instances(named: Iterable[Named], facts: Mapping[str, Fact], where: str) -> tuple[str, ...] | str:
    """Give the list of instances the facts are checked for: words, the name of a list of names, or ().

    Raises BadInput when facts of different lists are mixed.
    """
    lists: dict[tuple[str, ...] | str, str] = {}
    for one in named:
        fact = facts[one.fact]
        if fact.each and not one.each:
            lists.setdefault(fact.each, one.fact)
    if len(lists) > 1:
        raise refuse(
            where,
            " beside ".join(f"{name} (each {_listed(each)})" for each, name in lists.items()),
            "facts recorded for one list of instances",
            f"Name one instance, such as {next(iter(lists.values()))}[…].",
        )
    return next(iter(lists), ())


def _listed(each: tuple[str, ...] | str) -> str:
    return f"of {each}" if isinstance(each, str) else ", ".join(each)


def _sense(expression: Expression, facts: Mapping[str, Fact], where: str) -> Sense:
    match expression:
        case Amount():
            return Sense(FactKind.NUMBER, dimension_of(expression.quantity))
        case Words():
            return Sense(FactKind.TEXT)
        case Truth():
            return CONDITION
        case Named():
            return _fact_sense(expression, facts, where)
        case Call():
            return _call_sense(expression, facts, where)
        case Calculation():
            return _calculation_sense(expression, facts, where)
        case Compared():
            _check_comparison(expression, facts, where)
            return CONDITION
        case Joined() | Denied():
            for part in parts_of(expression):
                sense = _sense(part, facts, where)
                if sense.kind is not FactKind.YES_NO:
                    raise refuse(
                        where,
                        f"{write_expression(part)}, which is {sense}, joined by and, or, not",
                        "conditions on either side",
                    )
            return CONDITION


def check_fact(named: Named, facts: Mapping[str, Fact], where: str) -> Fact:
    """Give the fact of a name; BadInput when there is none, or not that instance of it."""
    fact = facts.get(named.fact)
    if fact is None:
        raise refuse(
            where, f"the fact {named.fact!r}", "a fact that is declared", did_you_mean(named.fact, facts)
        )
    if not named.each:
        return fact
    if not fact.each:
        raise refuse(where, f"{named.fact}[{named.each}]", f"{named.fact} alone: there is one of it")
    if isinstance(fact.each, tuple) and named.each not in fact.each:
        raise refuse(
            where,
            f"{named.fact}[{named.each}]",
            f"one of {', '.join(fact.each)}",
            did_you_mean(named.each, fact.each),
        )
    return fact


def _fact_sense(named: Named, facts: Mapping[str, Fact], where: str) -> Sense:
    fact = check_fact(named, facts, where)
    if fact.kind in (FactKind.NUMBER, FactKind.NUMBERS):
        return Sense(fact.kind, dimension_of(fact.quantity or "number"))
    return Sense(FactKind.TEXT if fact.kind is FactKind.CHOICE else fact.kind)


def _call_sense(call: Call, facts: Mapping[str, Fact], where: str) -> Sense:
    if call.function == CHOOSES:
        return _choice_sense(call, facts, where)
    function = FUNCTIONS.get(call.function)
    if function is None:
        raise refuse(
            where,
            f"the function {call.function!r}",
            f"one of {', '.join(FUNCTION_NAMES)}",
            did_you_mean(call.function, FUNCTION_NAMES),
        )
    wanted, given = len(function.arguments), len(call.arguments)
    if given < wanted or (given > wanted and not function.repeats):
        raise refuse(where, f"{call.function} with {given} arguments", function.written)
    senses = [_sense(argument, facts, where) for argument in call.arguments]
    shared: Dimension | None = None
    for number, sense in enumerate(senses):
        argument = function.arguments[min(number, wanted - 1)]
        if sense.kind not in argument.kinds:
            raise _misfit(call, number, sense, argument, where)
        if sense.kind not in (FactKind.NUMBER, FactKind.NUMBERS):
            continue
        if argument.quantity != ANY:
            if sense.dimension != dimension_of(argument.quantity):
                raise _misfit(call, number, sense, argument, where)
        elif shared is None:
            shared = sense.dimension
        elif sense.dimension != shared and call.function != "count":
            raise refuse(
                where,
                f"{in_words(shared)} beside {in_words(sense.dimension)} in {call.function}",
                "figures of one kind",
            )
    return Sense(FactKind.NUMBER, shared or PLAIN if function.gives == ANY else dimension_of(function.gives))


def _misfit(call: Call, number: int, sense: Sense, argument: Argument, where: str) -> Exception:
    expected = " or ".join(
        str(Sense(kind, dimension_of(argument.quantity) if argument.quantity else PLAIN))
        if argument.quantity or kind not in (FactKind.NUMBER, FactKind.NUMBERS)
        else {FactKind.NUMBER: "a number", FactKind.NUMBERS: "several numbers"}[kind]
        for kind in argument.kinds
    )
    return refuse(
        where,
        f"{write_expression(call.arguments[number])}, which is {sense}, in {call.function}",
        f"{expected} as {argument.name}",
    )


def _choice_sense(call: Call, facts: Mapping[str, Fact], where: str) -> Sense:
    if len(call.arguments) != 3:
        raise refuse(where, f"if with {len(call.arguments)} arguments", "if(condition, a, b)")
    condition, one, other = (_sense(argument, facts, where) for argument in call.arguments)
    if condition.kind is not FactKind.YES_NO:
        raise refuse(
            where, f"{write_expression(call.arguments[0])}, which is {condition}, in if", "a condition first"
        )
    if one != other:
        raise refuse(where, f"{one} beside {other} in if", "two of one kind to choose from")
    return one


def _calculation_sense(calculation: Calculation, facts: Mapping[str, Fact], where: str) -> Sense:
    left, right = (_sense(part, facts, where) for part in (calculation.left, calculation.right))
    for part, sense in ((calculation.left, left), (calculation.right, right)):
        if sense.kind is not FactKind.NUMBER:
            cure = "Take min, max or mean of it first." if sense.kind is FactKind.NUMBERS else ""
            raise refuse(where, f"{write_expression(part)}, which is {sense}, in a sum", "a number", cure)
    if calculation.sign in ("+", "-"):
        if left.dimension != right.dimension:
            raise refuse(
                where, f"{left} {calculation.sign} {right}", "figures of one kind to add or take away"
            )
        return left
    return Sense(
        FactKind.NUMBER, times(left.dimension, right.dimension, 1 if calculation.sign == "*" else -1)
    )


def _check_comparison(compared: Compared, facts: Mapping[str, Fact], where: str) -> None:
    left, right = (_sense(part, facts, where) for part in (compared.left, compared.right))
    shown = write_expression(compared)
    if compared.left == compared.right:
        raise refuse(where, f"{shown}: the same on both sides", "two that may differ")
    if not facts_named(compared):
        raise refuse(where, f"{shown}: no fact on either side", "a fact of the car on one side")
    if left.kind is FactKind.NUMBER and right.kind is FactKind.NUMBER:
        if left.dimension != right.dimension:
            raise refuse(where, f"{shown}: {left} against {right}", "figures of one kind to compare")
    elif left.kind != right.kind or left.kind not in (*_TEXTS, FactKind.YES_NO):
        cure = "Take min or max of the list." if FactKind.NUMBERS in (left.kind, right.kind) else ""
        raise refuse(where, f"{shown}: {left} against {right}", "two figures, texts or conditions", cure)
    elif compared.sign in _ORDERED:
        raise refuse(where, f"{shown}: {left} put in order", "== or != between them")
    else:
        _check_choices(compared, facts, where)


def _check_choices(compared: Compared, facts: Mapping[str, Fact], where: str) -> None:
    """A word set against a fact of fixed words has to be one of them."""
    for one, other in ((compared.left, compared.right), (compared.right, compared.left)):
        if isinstance(one, Named) and isinstance(other, Words):
            check_word(other.text, facts[one.fact], where)


def check_word(word: str, fact: Fact, where: str) -> None:
    """Raise BadInput when a fact of fixed words does not know a word."""
    if fact.kind is FactKind.CHOICE and word not in fact.choices:
        raise refuse(
            where,
            f"{word!r} for {fact.name}",
            f"one of {', '.join(fact.choices)}",
            did_you_mean(word, fact.choices),
        )
