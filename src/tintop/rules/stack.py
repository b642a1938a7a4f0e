"""Rule books laid one on another: which clauses speak of one requirement, in the order the books stand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tintop.errors import BadInput, Problem, refuse
from tintop.rules.book import Clause, RuleBook
from tintop.rules.cautions import CAUTIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedClause:
    """A clause and the book it stands in."""

    book: RuleBook
    clause: Clause

    @property
    def name(self) -> str:
        """What names it in every book: "book:clause"."""
        return f"{self.book.id}:{self.clause.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """All clauses on one matter, lowest book first; `id` names the lowest."""

    id: str
    placed: tuple[PlacedClause, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Books lowest first, and what they require together."""

    books: tuple[RuleBook, ...]
    requirements: tuple[Requirement, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """What every screen and print has to carry: those of every inspection, then those of the books."""
        return tuple(
            dict.fromkeys((*CAUTIONS, *(caution for book in self.books for caution in book.cautions)))
        )


def stacked(books: Sequence[RuleBook]) -> Stack:
    """Lay books on one another: those a book builds on below it, otherwise in the order given.

    A clause that tightens, replaces or waives another joins its requirement.
    Raises BadInput for a circle, a book missing or given twice, or a clause that acts on nothing below
    its book.
    """
    ordered = _lowest_first(books)
    below = _below(ordered)
    requirements: dict[str, list[PlacedClause]] = {}
    belongs: dict[str, str] = {}
    problems: list[Problem] = []
    for book in ordered:
        known = dict(belongs)  # of the books before this one: a clause cannot act within its own
        for clause in book.clauses:
            placed = PlacedClause(book=book, clause=clause)
            if clause.act == "adds":
                belongs[placed.name] = placed.name
                requirements[placed.name] = [placed]
                continue
            problem = _problem(placed, known, below[book.id])
            if problem is not None:
                problems.append(problem)
                continue
            belongs[placed.name] = known[clause.on]
            requirements[known[clause.on]].append(placed)
    if problems:
        raise BadInput(*problems)
    return Stack(
        books=ordered,
        requirements=tuple(Requirement(id=id, placed=tuple(placed)) for id, placed in requirements.items()),
    )


def _lowest_first(books: Sequence[RuleBook]) -> tuple[RuleBook, ...]:
    by_id: dict[str, RuleBook] = {}
    for book in books:
        if book.id in by_id:
            raise refuse(_where(book), f"the book {book.id!r} twice", "each book once")
        by_id[book.id] = book
    ordered: dict[str, RuleBook] = {}

    def place(book: RuleBook, above: tuple[str, ...]) -> None:
        if book.id in ordered:
            return
        if book.id in above:
            circle = " on ".join((*above[above.index(book.id) :], book.id))
            raise refuse(
                f"{_where(book)}, builds_on",
                f"a circle: {circle}",
                "books that stand on others without coming back to themselves",
            )
        for base in book.builds_on:
            if base not in by_id:
                raise refuse(
                    f"{_where(book)}, builds_on",
                    f"the book {base!r}, which is not at hand",
                    f"one of {', '.join(sorted(set(by_id) - {book.id})) or 'the books given with it'}",
                )
            place(by_id[base], (*above, book.id))
        ordered[book.id] = book

    for book in books:
        place(book, ())
    return tuple(ordered.values())


def _below(ordered: Sequence[RuleBook]) -> Mapping[str, frozenset[str]]:
    below: dict[str, frozenset[str]] = {}
    for book in ordered:
        below[book.id] = frozenset(book.builds_on).union(*(below[base] for base in book.builds_on))
    return below


def _problem(placed: PlacedClause, known: Mapping[str, str], below: frozenset[str]) -> Problem | None:
    clause = placed.clause
    base = clause.on.partition(":")[0]
    where = f"{_where(placed.book)}, line {clause.line}, clause {clause.id}, {clause.act}"
    if base not in below:
        cure = "Name the book in builds_on." if base != placed.book.id else "Change the clause itself."
        return Problem(
            where=where, found=f"{clause.on!r}", expected="a clause of a book this one builds on", cure=cure
        )
    if clause.on not in known:
        return Problem(
            where=where, found=f"{clause.on!r}, which is not in {base}", expected="a clause that is there"
        )
    return None


def _where(book: RuleBook) -> str:
    return book.name or book.id
