"""A long list shown a hundred lines at a time."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

_Line = TypeVar("_Line")
LINES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Page(Generic[_Line]):
    """One page of a list: its lines, and where they lie in the whole."""

    lines: tuple[_Line, ...]
    number: int
    pages: int
    first: int
    last: int
    total: int


def page_of(whole: Sequence[_Line], number: int) -> Page[_Line]:
    """Give a page by its number from 1; the nearest there is for a number outside."""
    pages = max(-(-len(whole) // LINES), 1)
    number = min(max(number, 1), pages)
    start = (number - 1) * LINES
    lines = tuple(whole[start : start + LINES])
    return Page(
        lines=lines,
        number=number,
        pages=pages,
        first=start + 1 if lines else 0,
        last=start + len(lines),
        total=len(whole),
    )
