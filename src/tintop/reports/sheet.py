"""What is shown, the same for screen, paper and terminal."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A titled table of text."""

    title: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Title, the verdict's sentences, tables, and the cautions it ends in."""

    title: str
    sentences: tuple[str, ...]
    tables: tuple[Table, ...]
    cautions: tuple[str, ...]
