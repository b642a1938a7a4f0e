"""What a paper holds before it is set: chapters of words, facts, tables and pictures, all finished text."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph; `is_small` for what is said beside the matter."""

    text: str
    is_small: bool = False
    kind: str = "words"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Names with their values, one under another."""

    pairs: tuple[tuple[str, str], ...]
    kind: str = "facts"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """The head of a column and its share of the width; numbers stand to the right, digests in small type."""

    head: str
    share: float = 1.0
    is_number: bool = False
    is_digest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of text, `note` said above it; rows in `strong` are set heavy, `bars` are shares at its end."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    note: str = ""
    empty: str = "Nothing is written down."
    strong: frozenset[int] = frozenset()
    bars: tuple[float | None, ...] = ()
    kind: str = "table"

    def __post_init__(self) -> None:
        assert all(len(row) == len(self.columns) for row in self.rows)
        assert len(self.bars) in (0, len(self.rows))


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing as SVG text, with what it shows."""

    svg: str
    caption: str = ""
    kind: str = "picture"


Block = Words | Facts | Table | Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """One chapter."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildBook:
    """The build book: what stands on its first page, then its chapters."""

    title: str
    lead: str
    edition: str
    day: date
    facts: tuple[tuple[str, str], ...]
    by_hand: tuple[str, ...]  # to be filled in with a pen
    failed: tuple[str, ...]  # parts still on the car, above the drawing
    drawing: str  # SVG, or empty
    chapters: tuple[Chapter, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardAnswer:
    """One of the five answers: the verdict's sign and word, the question, a sentence, margin, next thing."""

    sign: str
    verdict: str
    question: str
    sentence: str
    margin: str
    next_thing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Corners:
    """One row of values at FL FR RL RR, and where they come from."""

    name: str
    values: tuple[str, str, str, str]
    known: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EventCard:
    """The event card, one page: finished text throughout."""

    event: str
    days: str
    day: date  # on which the card was made
    place: str
    car: str
    sessions: tuple[str, ...]
    weather: str
    answers: tuple[CardAnswer, ...]
    pressures: tuple[Corners, ...]
    fuel: tuple[tuple[str, str], ...]
    stops: tuple[tuple[str, ...], ...]  # number, planned, window by fuel, fuel left, put in, standing
    stop_notes: tuple[str, ...]
    no_stops: str
    watch: tuple[tuple[str, ...], ...]  # item, used of limit, left, range, lasts in races of a hundred
    stopping_jobs: tuple[str, ...]
    other_jobs: tuple[str, ...]
    map: str  # SVG, or empty
    cautions: tuple[str, ...]


def plain(text: object) -> str:
    """One line of text as it is set: runs of white space and control characters become a single space."""
    found = "".join(each if each.isprintable() else " " for each in str(text))
    return " ".join(found.split())


def shortened(text: str, most: int) -> str:
    """A text of at most so many characters, cut after a word and marked where it was cut."""
    if len(text) <= most:
        return text
    cut = text[: most - 1].rsplit(" ", 1)[0]
    return f"{cut if len(cut) > most // 2 else text[: most - 1]}…"


def listed(names: Mapping[str, object] | tuple[str, ...], most: int, between: str = ", ") -> str:
    """Names in a sentence, the first few and how many more."""
    found = tuple(names)
    more = len(found) - most
    return between.join(found[:most]) + (f" and {more} more" if more > 0 else "")
