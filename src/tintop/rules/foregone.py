"""Conditions that hold whatever is recorded of the car: they would prove nothing."""

from collections.abc import Mapping
from itertools import product

from tintop.rules.expression import Compared, Comparison, Denied, Expression, Joined, Truth

MOST_QUESTIONS = 10
_OPPOSITE: Mapping[Comparison, Comparison] = {"<": ">=", ">": "<=", "!=": "=="}


def is_foregone(condition: Expression) -> bool:
    """Whether no answer to the questions a condition is made of keeps it from holding: "a or not a".

    Of more than ten questions it is not looked for.
    """
    questions = tuple(dict.fromkeys(_questions(condition)))
    return len(questions) <= MOST_QUESTIONS and all(
        _holds(condition, dict(zip(questions, answers, strict=True)))
        for answers in product((False, True), repeat=len(questions))
    )


def _questions(part: Expression) -> list[Expression]:
    match part:
        case Joined(parts=parts):
            return [question for inner in parts for question in _questions(inner)]
        case Denied(part=inner):
            return _questions(inner)
        case Truth():
            return []
    return [_asked(part)[0]]


def _asked(part: Expression) -> tuple[Expression, bool]:
    """The question behind a part, and the answer the part wants."""
    if isinstance(part, Compared) and part.sign in _OPPOSITE:
        return Compared(_OPPOSITE[part.sign], part.left, part.right), False
    return part, True


def _holds(part: Expression, answers: Mapping[Expression, bool]) -> bool:
    match part:
        case Joined(sign=sign, parts=parts):
            outcomes = [_holds(inner, answers) for inner in parts]
            return all(outcomes) if sign == "and" else any(outcomes)
        case Denied(part=inner):
            return not _holds(inner, answers)
        case Truth(value=value):
            return value
    question, wanted = _asked(part)
    return answers[question] is wanted
