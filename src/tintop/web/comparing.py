"""Two texts side by side: which lines and words differ."""

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Literal

_AROUND = 3  # lines that are the same shown beside those that differ
_LONGEST_LINE = 500  # letters of a line in which single words are still looked for

Kind = Literal["same", "gone", "new", "skipped"]


@dataclass(frozen=True, slots=True)
class Run:
    """A run of text that is the same in both, gone from the first, new in the second, or left out here."""

    kind: Kind
    text: str


def compared(first: str, second: str) -> tuple[Run, ...]:
    """The second text against the first, with a few lines around what differs; empty if they are the same."""
    if first == second:
        return ()
    one, other = first.splitlines(keepends=True), second.splitlines(keepends=True)
    found: list[Run] = []
    for group in SequenceMatcher(None, one, other).get_grouped_opcodes(_AROUND):
        found.append(Run("skipped", f"line {group[0][3] + 1}\n"))
        for tag, a, b, c, d in group:
            if tag == "equal":
                found.append(Run("same", "".join(other[c:d])))
            elif tag == "replace" and b - a == d - c:
                for old, new in zip(one[a:b], other[c:d], strict=True):
                    found.extend(_in_line(old, new))
            else:
                found.extend(_whole("".join(one[a:b]), "".join(other[c:d])))
    return tuple(found)


def _whole(old: str, new: str) -> Iterator[Run]:
    if old:
        yield Run("gone", old if old.endswith("\n") else f"{old}\n")
    if new:
        yield Run("new", new if new.endswith("\n") else f"{new}\n")


def _in_line(old: str, new: str) -> Iterator[Run]:
    if max(len(old), len(new)) > _LONGEST_LINE:
        yield from _whole(old, new)
        return
    matcher = SequenceMatcher(None, old, new, autojunk=False)
    if matcher.ratio() < 0.5:
        yield from _whole(old, new)
        return
    for tag, a, b, c, d in matcher.get_opcodes():
        if tag == "equal":
            yield Run("same", new[c:d])
        else:
            if a < b:
                yield Run("gone", old[a:b])
            if c < d:
                yield Run("new", new[c:d])
