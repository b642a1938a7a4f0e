"""A value against its limits."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from tintop.rules.book import Limits
from tintop.rules.checking import facts_named
from tintop.rules.evaluate import Given, NotKnownError, needed, number, spread
from tintop.rules.exact import are_equal, excess
from tintop.rules.expression import Amount, Calculation, Expression
from tintop.rules.facts import FactKey
from tintop.rules.figures import shown_in, unit_of, write_amount, write_difference, write_figure
from tintop.rules.findings import Margin, Ruling
from tintop.rules.ruled import MORE_EXACTLY, TOO_NEAR, Ruled, not_known, written_out
from tintop.rules.writing_expressions import write_expression


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One limit as it came out: how far the value lies on its good side, and the ± of that."""

    expression: Expression
    limit: float
    is_least: bool
    is_recommended: bool
    gap: float
    error: float

    @property
    def is_near(self) -> bool:
        return self.error > 0.0 and (self.gap <= self.error or are_equal(self.gap, self.error))


def rule_limits(limits: Limits, given: Given) -> Ruled:
    """Rule a value against its limits; a mandatory one missed weighs more than what is not known."""
    used = facts_used(limits, given)
    try:
        value = number(limits.value, given)
        error = spread(limits.value, given)
    except NotKnownError as unknown:
        return not_known(unknown, given, used)
    sides, unknowns = _sides(limits, value, error, given)
    quantity, unit = shown_in(limits.value, [limit for limit, _, _ in _limits(limits)], given.facts)
    shown = write_figure(value, quantity, unit, error, (side.limit for side in sides))
    limit = _written(sides, quantity, unit)
    ruled = Ruled(
        ruling=Ruling.PASS,
        reason=shown if not limit else f"{shown}, {'' if _is_advice(sides) else 'limit '}{limit}",
        value=shown,
        limit=limit,
        margin=_margin(sides, quantity, unit),
        used=used,
        working=_working(limits, sides, shown, quantity, unit, given),
    )
    missed = [side for side in sides if side.gap < 0.0 and not side.is_recommended]
    if missed:
        return ruled.worse(Ruling.FAIL, _beyond(missed[0], quantity, unit))
    if unknowns or not sides:
        missing = (key for one in unknowns for key in one.missing)
        why = "; ".join(one.why for one in unknowns if one.why)
        lacking = not_known(NotKnownError(missing, why if sides or unknowns else "no limit is given"), given)
        return replace(
            ruled.worse(Ruling.NOT_PROVEN, lacking.reason, lacking.to_do),
            margin=None,
            missing=lacking.missing,
        )
    if any(side.is_near and not side.is_recommended for side in sides):
        return ruled.worse(Ruling.NOT_PROVEN, TOO_NEAR.replace("near to", "near the limit to"), MORE_EXACTLY)
    advised = [side for side in sides if side.is_recommended and (side.gap < 0.0 or side.is_near)]
    if advised:
        reason = (
            _beyond(advised[0], quantity, unit)
            if advised[0].gap < 0.0
            else "too near the recommended figure to say"
        )
        return ruled.worse(Ruling.ADVISED, f"allowed, but {reason}")
    return ruled


def facts_used(limits: Limits, given: Given) -> tuple[FactKey, ...]:
    """Give the facts value and limits rest on that are known."""
    expressions = [limits.value, *(limit for limit, _, _ in _limits(limits))]
    keys = (key for expression in expressions for key in needed(expression, given))
    return tuple(dict.fromkeys(key for key in keys if key in given.values))


def _limits(limits: Limits) -> Iterator[tuple[Expression, bool, bool]]:
    """Each limit with whether it is a least one, and whether it is only recommended."""
    for expression, is_least, is_recommended in (
        (limits.at_least, True, False),
        (limits.at_most, False, False),
        (limits.recommended_at_least, True, True),
        (limits.recommended_at_most, False, True),
    ):
        if expression is not None:
            yield expression, is_least, is_recommended


def _sides(
    limits: Limits, value: float, error: float, given: Given
) -> tuple[list[_Side], list[NotKnownError]]:
    sides, unknowns = [], []
    for expression, is_least, is_recommended in _limits(limits):
        try:
            limit = number(expression, given)
            doubt = (
                error
                if isinstance(expression, Amount)
                else spread(Calculation("-", limits.value, expression), given)
            )
        except NotKnownError as unknown:
            unknowns.append(unknown)
            continue
        above = excess(value, limit)
        sides.append(
            _Side(
                expression=expression,
                limit=limit,
                is_least=is_least,
                is_recommended=is_recommended,
                gap=(above if is_least else -above) + 0.0,
                error=doubt,
            )
        )
    return sides, unknowns


def _written(sides: list[_Side], quantity: str, unit: str) -> str:
    """Say the limits: "30° to 75°, recommended 45° at least"."""
    parts = []
    for is_recommended, word in ((False, ""), (True, "recommended ")):
        figures = {
            side.is_least: _limit(side, quantity, unit)
            for side in sides
            if side.is_recommended is is_recommended
        }
        if len(figures) == 2:
            parts.append(f"{word}{figures[True]} to {figures[False]}")
        elif figures:
            is_least, text = next(iter(figures.items()))
            parts.append(f"{word}{text} at {'least' if is_least else 'most'}")
    return ", ".join(parts)


def _is_advice(sides: list[_Side]) -> bool:
    return all(side.is_recommended for side in sides)


def _limit(side: _Side, quantity: str, unit: str) -> str:
    """A limit in its own unit, and in the value's where that is another."""
    in_unit = write_figure(side.limit, quantity, unit)
    if not isinstance(side.expression, Amount):
        is_plain = not facts_named(side.expression)
        return f"{write_expression(side.expression)} ({in_unit})" if is_plain else in_unit
    own = write_amount(side.expression)
    return own if unit_of(side.expression) == unit else f"{own} ({in_unit})"


def _beyond(side: _Side, quantity: str, unit: str) -> str:
    return f"{write_difference(-side.gap, quantity, unit)} too {'little' if side.is_least else 'much'}"


def _margin(sides: list[_Side], quantity: str, unit: str) -> Margin | None:
    """The margin to the nearest mandatory limit, or the nearest recommended one if there is no other."""
    ranked = [side for side in sides if not side.is_recommended] or sides
    if not ranked:
        return None
    nearest = min(ranked, key=lambda side: (side.gap, -abs(side.limit)))
    share = None if are_equal(nearest.limit, 0.0) else nearest.gap / abs(nearest.limit)
    written = write_difference(abs(nearest.gap), quantity, unit)
    return Margin(
        amount=nearest.gap,
        quantity=quantity,
        written=f"{written} {'beyond the limit' if nearest.gap < 0.0 else 'to the limit'}",
        share=share,
    )


def _working(
    limits: Limits, sides: list[_Side], shown: str, quantity: str, unit: str, given: Given
) -> tuple[str, ...]:
    lines = list(written_out(limits.value, given, shown))
    for side in sides:
        if not isinstance(side.expression, Amount):
            lines += written_out(side.expression, given, write_figure(side.limit, quantity, unit))
    return tuple(lines)
