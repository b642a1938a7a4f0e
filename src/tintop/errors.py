"""What tintop says when it cannot go on: one plain sentence, never a traceback.

The tree of errors::

    TintopError            anything the owner can mend
    ├── BadInput           a file, line or field: what was found, what is expected
    └── Conflict           somebody else changed the same thing first; nothing was written
"""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


class TintopError(Exception):
    """Something the owner can mend; its text is one plain sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with an input: where, what was found, what is expected, and the likely cure."""

    where: str
    found: str
    expected: str
    cure: str = ""

    def __str__(self) -> str:
        sentence = f"{self.where}: found {self.found}; expected {self.expected}."
        return f"{sentence} {self.cure}" if self.cure else sentence


class BadInput(TintopError):
    """An input that cannot be used; carries every problem found, not only the first."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


def refuse(where: str, found: object, expected: str, cure: str = "") -> BadInput:
    """Give the error for one problem, to be raised by the caller."""
    return BadInput(Problem(where=where, found=str(found), expected=expected, cure=cure))


def did_you_mean(found: object, names: Iterable[str]) -> str:
    """Give "Did you mean x?" for a near name, or nothing."""
    near = difflib.get_close_matches(str(found), list(names), n=1, cutoff=0.6)
    return f"Did you mean {near[0]}?" if near else ""


class Conflict(TintopError):
    """Somebody else changed the same thing first; nothing was written, and `theirs` is what stands now."""

    def __init__(self, what: str, theirs: str) -> None:
        self.what = what
        self.theirs = theirs
        super().__init__(f"{what} was changed meanwhile; nothing was written. What stands now: {theirs}")
