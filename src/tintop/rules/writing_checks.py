"""Checks in words, part by part: for the list of clauses, for what changed between editions, for the page."""

from collections.abc import Iterator

from tintop.rules.book import Check, Expiry, Holds, Limits, ListedTubes, OneOf, Shown, TubeRow
from tintop.rules.expression import Expression
from tintop.rules.figures import write_day
from tintop.rules.writing_expressions import write_expression


def check_parts(check: Check | None) -> tuple[tuple[str, str], ...]:
    """Give the parts of a check, each by its name and as words; none for a clause that waives."""
    return tuple((name, text) for name, text in _parts(check) if text)


def check_lines(check: Check | None) -> tuple[str, ...]:
    """Give a check line by line: "at least: 230 mm"."""
    return tuple(f"{name}: {text}" for name, text in check_parts(check))


def _parts(check: Check | None) -> Iterator[tuple[str, str]]:
    match check:
        case Limits():
            yield "value", _written(check.value)
            yield "at least", _written(check.at_least)
            yield "at most", _written(check.at_most)
            yield "recommended at least", _written(check.recommended_at_least)
            yield "recommended at most", _written(check.recommended_at_most)
        case Holds():
            yield "has to hold", _written(check.holds)
            yield "recommended", _written(check.recommended)
        case ListedTubes():
            yield "tube", _written(check.tube)
            yield "by", _written(check.by)
            yield "tubes", ", ".join(_row(row, is_only=len(check.rows) == 1) for row in check.rows)
        case OneOf():
            yield "value", _written(check.value)
            yield "one of", ", ".join(check.words)
        case Expiry():
            yield from _expiry_parts(check)
        case Shown():
            yield "on record", ", ".join(map(str, check.facts))
        case None:
            return


def _expiry_parts(expiry: Expiry) -> Iterator[tuple[str, str]]:
    yield "expires", expiry.kind
    yield "marked", str(expiry.marked or "")
    yield "years", str(expiry.years or "")
    yield "months", str(expiry.months or "")
    yield "earliest of", ", ".join(map(str, expiry.earliest_of))
    yield "extended from", str(expiry.extended_from or "")
    yield "years more from then", str(expiry.extension_years or "")
    yield "standard", str(expiry.standard or "")
    ends = (expiry.until or {}).items()
    yield "until", ", ".join(f"{name} {write_day(day) if day else 'no end'}" for name, day in ends)


def _row(row: TubeRow, is_only: bool) -> str:
    tubes = " or ".join(row.written)
    if row.up_to is None:
        return tubes if is_only else f"above: {tubes}"
    return f"up to {_written(row.up_to)}: {tubes}"


def _written(expression: Expression | None) -> str:
    return "" if expression is None else write_expression(expression)
