"""Conditions that have to hold, said so that a mechanic sees which part does not."""

from tintop.rules.book import Holds
from tintop.rules.checking import facts_named
from tintop.rules.evaluate import Decision, Given, NotKnownError, Statement, decide
from tintop.rules.exact import are_equal, excess
from tintop.rules.expression import Amount, Compared, Denied, Expression, Joined, Named, Words
from tintop.rules.facts import FactKey
from tintop.rules.figures import shown_in, write_amount, write_difference, write_figure
from tintop.rules.findings import Margin, Ruling
from tintop.rules.ruled import MORE_EXACTLY, TOO_NEAR, Ruled, not_known, write_ask, written_out
from tintop.rules.writing_expressions import say_expression

_TURNED = {"<": ">=", "<=": ">", "==": "!=", "!=": "==", ">=": "<", ">": "<="}
_SAID = {
    "<": "less than ",
    "<=": "at most ",
    "==": "",
    "!=": "anything but ",
    ">=": "at least ",
    ">": "more than ",
}
_IS = {"!=": "not "}


def rule_condition(holds: Holds, given: Given) -> Ruled:
    """Rule a condition that has to hold, and one that is recommended."""
    mandatory = Decision(truth=True) if holds.holds is None else decide(holds.holds, given, True)
    advice = Decision(truth=True) if holds.recommended is None else decide(holds.recommended, given, True)
    both = (*mandatory.statements, *advice.statements)
    ruled = Ruled(
        ruling=Ruling.PASS,
        reason="; ".join(dict.fromkeys(say(one, given, is_wanted_said=False) for one in both)) or "holds",
        value="; ".join(dict.fromkeys(say(one, given, is_wanted_said=False) for one in both)),
        limit=_limit(both, given),
        margin=_margin(mandatory, given),
        used=tuple(dict.fromkeys((*mandatory.used, *advice.used))),
        working=tuple(
            line
            for part in (holds.holds, holds.recommended)
            if part is not None
            for line in written_out(part, given, _outcome(part, mandatory, advice, holds))
        ),
    )
    for decision, is_advice in ((mandatory, False), (advice, True)):
        if decision.truth is True:
            continue
        if decision.truth is False:
            said = "; ".join(say(one, given) for one in decision.statements if one.truth is not one.wanted)
            return Ruled(
                ruling=Ruling.ADVISED if is_advice else Ruling.FAIL,
                reason=f"allowed, but {said}" if is_advice else said or "does not hold",
                value=ruled.value,
                limit=ruled.limit,
                margin=ruled.margin,
                used=ruled.used,
                working=ruled.working,
            )
        return _open(decision, given, ruled)
    return ruled


def _limit(statements: tuple[Statement, ...], given: Given) -> str:
    """How each comparison has to come out; of several, each with what it is of."""
    said = dict.fromkeys((_of(one, given), wanted(one, given)) for one in statements)
    if len(said) == 1:
        return next(iter(said))[1]
    return "; ".join(f"{of}: {words}" for of, words in said)


def _open(decision: Decision, given: Given, ruled: Ruled) -> Ruled:
    near = [say(one, given) for one in decision.statements if one.truth is None]
    whys = [*decision.why, *(f"{text}: {TOO_NEAR}" for text in near)]
    unknown = not_known(NotKnownError(decision.missing, "; ".join(whys)), given)
    return Ruled(
        ruling=Ruling.NOT_PROVEN,
        reason=unknown.reason,
        value=ruled.value,
        limit=ruled.limit,
        used=ruled.used,
        missing=decision.missing,
        working=ruled.working,
        to_do=MORE_EXACTLY if near and not decision.why else unknown.to_do,
    )


def not_applicable(condition: Expression, decision: Decision, given: Given) -> Ruled:
    """Give "not applicable" with what the clause is for and what the car has."""
    said = "; ".join(dict.fromkeys(say(one, given, is_wanted_said=False) for one in decision.statements))
    where = "" if isinstance(condition, Named) and said else f"only where {_plainly(condition, given)}"
    return Ruled(
        ruling=Ruling.NOT_APPLICABLE,
        reason="; ".join(filter(None, (where, said))),
        used=decision.used,
    )


def condition_open(condition: Expression, decision: Decision, given: Given) -> Ruled:
    """Give "not proven" for a clause of which it is not known whether it applies."""
    near = [f"{say(one, given)}: too near to say" for one in decision.statements if one.truth is None]
    unknown = not_known(NotKnownError(decision.missing, "; ".join((*decision.why, *near))), given)
    return Ruled(
        ruling=Ruling.NOT_PROVEN,
        reason=f"only where {_plainly(condition, given)}, which is open: {unknown.reason}",
        used=decision.used,
        missing=decision.missing,
        to_do=unknown.to_do,
    )


def condition_doubted(condition: Expression, decision: Decision, given: Given, why: str, to_do: str) -> Ruled:
    """Give "not proven" for a clause whose condition came out, but on proof that does not count."""
    said = "; ".join(dict.fromkeys(say(one, given, is_wanted_said=False) for one in decision.statements))
    where = f"only where {_plainly(condition, given)}"
    return Ruled(
        ruling=Ruling.NOT_PROVEN,
        reason="; ".join(filter(None, (where, "" if decision.truth else said, why))),
        used=decision.used,
        to_do=to_do,
    )


def say(statement: Statement, given: Given, is_wanted_said: bool = True) -> str:
    """Say a comparison as it came out: "extra fasteners 1, wanted at least 2"."""
    text = f"{_of(statement, given)}: {_side(_left(statement), statement.left, statement, given)}"
    if is_wanted_said and statement.truth is not statement.wanted and statement.wanted is not None:
        return f"{text}, wanted {wanted(statement, given)}"
    return text


def _left(statement: Statement) -> Expression:
    expression = statement.expression
    return expression.left if isinstance(expression, Compared) else expression


def _of(statement: Statement, given: Given) -> str:
    return _subject(_left(statement), given)


def wanted(statement: Statement, given: Given) -> str:
    """Say how a comparison has to come out: "at least 2"."""
    expression = statement.expression
    if not isinstance(expression, Compared):
        return "yes" if statement.wanted is not False else "no"
    sign = expression.sign if statement.wanted is not False else _TURNED[expression.sign]
    return f"{_SAID[sign]}{_side(expression.right, statement.right, statement, given)}"


def _subject(expression: Expression, given: Given) -> str:
    return say_expression(expression, lambda named: write_ask(FactKey(named.fact, named.each), given))


def _side(expression: Expression, value: object, statement: Statement, given: Given) -> str:
    if isinstance(expression, Amount):
        return write_amount(expression)
    if isinstance(expression, Words):
        return expression.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, (int, float)):
        return str(value)
    compared = statement.expression
    others = (compared.left, compared.right) if isinstance(compared, Compared) else ()
    quantity, unit = shown_in(expression, others, given.facts)
    is_left = isinstance(compared, Compared) and expression is compared.left
    apart = [statement.right] if is_left and isinstance(statement.right, (int, float)) else []
    return write_figure(float(value), quantity, unit, statement.error if is_left else 0.0, map(float, apart))


def _plainly(condition: Expression, given: Given) -> str:
    """A condition in words: "engine capacity is more than 2000 cm³"."""
    match condition:
        case Compared(sign, left, right):
            return f"{_subject(left, given)} is {_IS.get(sign, _SAID[sign])}{_plain_side(right, given)}"
        case Joined(sign, parts):
            return f" {sign} ".join(_plainly(part, given) for part in parts)
        case Denied(part):
            return f"not: {_plainly(part, given)}"
        case _:
            return _subject(condition, given)


def _plain_side(side: Expression, given: Given) -> str:
    if isinstance(side, Words):
        return side.text
    return write_amount(side) if isinstance(side, Amount) else _subject(side, given)


def _outcome(part: Expression, mandatory: Decision, advice: Decision, holds: Holds) -> str:
    truth = (mandatory if part is holds.holds else advice).truth
    return "open" if truth is None else "yes" if truth else "no"


def _margin(decision: Decision, given: Given) -> Margin | None:
    """The least margin, as a share, over the comparisons of figures with a better and a worse side."""
    margins = [margin for one in decision.statements if (margin := _margin_of(one, given)) is not None]
    return min(margins, key=lambda margin: margin.share or 0.0, default=None)


def _margin_of(statement: Statement, given: Given) -> Margin | None:
    compared, left, right = statement.expression, statement.left, statement.right
    if not isinstance(compared, Compared) or compared.sign in ("==", "!=") or statement.wanted is None:
        return None
    if isinstance(left, bool) or not isinstance(left, (int, float)) or not isinstance(right, (int, float)):
        return None
    above = excess(left, right)
    is_least = (compared.sign in (">", ">=")) is statement.wanted
    gap = (above if is_least else -above) + 0.0
    if not facts_named(compared.left) or are_equal(right, 0.0):
        return None
    quantity, unit = shown_in(compared.left, (compared.right,), given.facts)
    written = write_difference(abs(gap), quantity, unit)
    return Margin(
        amount=gap,
        quantity=quantity,
        written=f"{written} {'beyond the limit' if gap < 0.0 else 'to the limit'}",
        share=gap / abs(right),
    )
