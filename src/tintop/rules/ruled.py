"""What one check says of one instance, before proof, accidents and the books' order are looked at."""

from dataclasses import dataclass, replace
from datetime import date

from tintop.rules.checking import facts_named
from tintop.rules.evaluate import Given, NotKnownError
from tintop.rules.expression import Expression, Named
from tintop.rules.facts import FactKey
from tintop.rules.figures import write_value
from tintop.rules.findings import Margin, Ruling
from tintop.rules.functions import FUNCTIONS
from tintop.rules.writing_expressions import write_expression

LOOK_AGAIN = "Look again at what is recorded; if it is right, ask the scrutineer."
TOO_NEAR = "too near to say; measure again more exactly"
MORE_EXACTLY = "Measure again more exactly, or bring it further inside the limit."


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """A ruling with its reason; `used` are the facts it rests on, `missing` those it lacks."""

    ruling: Ruling
    reason: str
    value: str = ""
    limit: str = ""
    margin: Margin | None = None
    expires: date | None = None
    used: tuple[FactKey, ...] = ()
    missing: tuple[FactKey, ...] = ()
    working: tuple[str, ...] = ()
    to_do: str = ""

    def worse(self, ruling: Ruling, reason: str, to_do: str = "") -> "Ruled":
        """The same with another ruling, the reason added."""
        return replace(self, ruling=ruling, reason=f"{self.reason}: {reason}", to_do=to_do)


def not_known(unknown: NotKnownError, given: Given, used: tuple[FactKey, ...] = ()) -> Ruled:
    """Give "not proven" for what cannot be worked out."""
    lacks = [write_ask(key, given) for key in unknown.missing if key not in given.fallen]
    fallen = [
        f"{write_ask(key, given)} ({given.fallen[key]})" for key in unknown.missing if key in given.fallen
    ]
    reasons = [f"not recorded: {', '.join(lacks)}"] if lacks else []
    reasons += [f"does not count: {', '.join(fallen)}"] if fallen else []
    reasons += [unknown.why] if unknown.why else []
    return Ruled(
        ruling=Ruling.NOT_PROVEN,
        reason="; ".join(reasons) or "this cannot be worked out",
        used=tuple(key for key in used if key in given.values),
        missing=unknown.missing,
        to_do=LOOK_AGAIN,
    )


def write_ask(key: FactKey, given: Given) -> str:
    """Say what is asked: "shoulder anchor, left"."""
    ask = given.facts[key.fact].ask
    return f"{ask}, {key.each}" if key.each else ask


def written_out(expression: Expression, given: Given, result: str) -> tuple[str, ...]:
    """Give an expression line by line: as the book has it, with its figures put in, and what comes of it."""
    formula = write_expression(expression)
    numbers = write_expression(
        expression,
        lambda named: (
            write_value(given.facts[named.fact], given.values[key])
            if (key := given.key(named)) in given.values
            else "?"
        ),
    )
    behind = [f"{name} = {function.formula}" for name, function in FUNCTIONS.items() if f"{name}(" in formula]
    lines = [formula, *behind]
    if facts_named(expression) and not isinstance(expression, Named):
        lines.append(f"= {numbers}")
    return (*lines, f"= {result}") if result != formula else (formula,)
