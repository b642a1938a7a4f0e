"""Rule books as the page shows them: those shipped and the garage's own, each clause's check in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.errors import TintopError
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import own_books
from tintop.logbook.entries import MeetingPlanned
from tintop.rules.book import Check, Expiry, Holds, Limits, ListedTubes, OneOf, RuleBook, Shown
from tintop.rules.expression import Expression
from tintop.rules.writing_expressions import write_expression
from tintop.store.rule_books.load import load_books
from tintop.store.rule_books.shipped import shipped_ids


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedBook:
    """One book on the list; `problem` says why it cannot be read."""

    id: str
    book: RuleBook | None
    is_own: bool
    is_shipped: bool
    problem: str = ""

    @property
    def title(self) -> str:
        """Its title, or its name where it cannot be read."""
        return self.book.title if self.book is not None else self.id

    @property
    def words(self) -> str:
        """Title, edition, and whether it is the garage's own."""
        edition = self.book.edition if self.book is not None else "cannot be read"
        return f"{self.title}, {edition}{', your copy' if self.is_own else ''}"


def listed_books(garage: Garage) -> tuple[ListedBook, ...]:
    """Every book there is, the garage's own in place of the shipped of the same id."""
    own = own_books(garage)
    return tuple(one_book(id, own) for id in sorted({*own, *shipped_ids()}))


def book_choices(garage: Garage) -> list[tuple[str, str]]:
    """The ids and names of the books an event can name, those named before included."""
    named = [id for _entry, planned in garage.book.of(MeetingPlanned) for id in planned.rule_books]
    listed = {each.id: each for each in listed_books(garage)}
    return [
        (id, listed[id].words if id in listed else f"{id}, which is not there any more")
        for id in dict.fromkeys((*named, *listed))
    ]


def one_book(id: str, own: Mapping[str, str]) -> ListedBook:
    """One book by its id, or why it cannot be read."""
    book, problem = None, ""
    try:
        book = load_books([id], own)[0][-1]
    except TintopError as error:
        problem = str(error)
    return ListedBook(id=id, book=book, is_own=id in own, is_shipped=id in shipped_ids(), problem=problem)


def check_words(check: Check | None) -> tuple[str, ...]:
    """How a clause is decided, line by line; none for one that waives another."""
    match check:
        case Limits():
            limits = (
                ("at least", check.at_least),
                ("at most", check.at_most),
                ("better at least", check.recommended_at_least),
                ("better at most", check.recommended_at_most),
            )
            return (
                write_expression(check.value),
                *(f"{words} {write_expression(each)}" for words, each in limits if each),
            )
        case Holds():
            return (*_written("holds: ", check.holds), *_written("better: ", check.recommended))
        case ListedTubes():
            by = f", by {write_expression(check.by)}" if check.by else ""
            rows = [
                f"{f'up to {write_expression(row.up_to)}: ' if row.up_to else ''}{', '.join(row.written)}"
                for row in check.rows
            ]
            return (f"{write_expression(check.tube)} at least one of{by}", *rows)
        case OneOf():
            return (f"{write_expression(check.value)} is one of {', '.join(check.words)}",)
        case Expiry():
            return _expiry(check)
        case Shown():
            return (f"on record: {', '.join(map(str, check.facts))}",)
    return ()


def _written(words: str, expression: Expression | None) -> tuple[str, ...]:
    return (f"{words}{write_expression(expression)}",) if expression is not None else ()


def _expiry(check: Expiry) -> tuple[str, ...]:
    marked = f"{check.marked}: " if check.marked else ""
    adds = [f"{check.years} years" if check.years else "", f"{check.months} months" if check.months else ""]
    plus = " and ".join(filter(None, adds))
    lines = [f"{marked}{check.kind.value}{f', and {plus}' if plus else ''}"]
    if check.earliest_of:
        lines.append(f"the earliest of it and {', '.join(map(str, check.earliest_of))}")
    if check.extended_from is not None:
        lines.append(f"{check.extension_years} years more from {check.extended_from}")
    if check.until:
        lines += [f"{name}: {day.isoformat() if day else 'no end'}" for name, day in check.until.items()]
    return tuple(lines)
