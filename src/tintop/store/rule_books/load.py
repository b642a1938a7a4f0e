"""Rule books put on one another: what each builds on is found, lowest first."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from tintop.errors import BadInput, Problem, did_you_mean
from tintop.rules.book import RuleBook
from tintop.rules.facts import Fact
from tintop.rules.own_copies import departure_of
from tintop.rules.stack import Stack, stacked
from tintop.store.documents.fields import MOST_PROBLEMS
from tintop.store.documents.text import read_text
from tintop.store.rule_books.document import RuleBookText, book_text
from tintop.store.rule_books.reader import declared_facts, rule_book_from
from tintop.store.rule_books.shipped import shipped_facts, shipped_ids, shipped_text

MOST_BOOKS = 40
FOLDER = "rule_books"  # of a garage


def load_stack(ids: Sequence[str], own: Mapping[str, str] | None = None) -> tuple[Stack, dict[str, Fact]]:
    """Give the books of the ids and all they build on as a stack, and every fact they speak of.

    `own` are a garage's texts by id; they win over the shipped. Raises BadInput with every problem found:
    a missing book, a ring of books, a clause pointing at nothing, and all a book itself may have wrong.
    """
    books, facts = load_books(ids, own)
    return stacked(books), facts


def load_books(
    ids: Sequence[str], own: Mapping[str, str] | None = None
) -> tuple[tuple[RuleBook, ...], dict[str, Fact]]:
    """Give the books of the ids and all they build on, lowest first, and every fact; as `load_stack`."""
    own = own or {}

    def text_of(id: str) -> RuleBookText | None:
        if id in own:
            return book_text(own[id], f"{FOLDER}/{id}.toml")
        return _shipped(id) if id in shipped_ids() else None

    books, facts = _load(ids, text_of, set(own), {*own, *shipped_ids()})
    return tuple(_compared(book) if book.id in own else book for book in books), facts


def _compared(book: RuleBook) -> RuleBook:
    """An own book with how it departs from the shipped one of its id, if there is one."""
    if book.id not in shipped_ids():
        return book
    return replace(book, departure=departure_of(book, load_books([book.id])[0][-1]))


def read_rule_book(path: Path | str) -> RuleBook:
    """Read a rule book's file; as `read_rule_books`, which gives the books it builds on too."""
    return read_rule_books(path)[0][-1]


def read_rule_books(path: Path | str) -> tuple[tuple[RuleBook, ...], dict[str, Fact]]:
    """Read a rule book's file and those it builds on, looked for beside it, then among the shipped.

    Gives the books, lowest first, and every fact. Raises BadInput with every problem of them: file, line,
    clause and field.
    """
    path = Path(path)
    beside = {entry.stem for entry in path.parent.glob("*.toml")} if path.parent.is_dir() else set()

    def text_of(id: str) -> RuleBookText | None:
        file = path.parent / f"{id}.toml"
        if id == path.stem or id in beside:
            return book_text(read_text(file), file.name)
        return _shipped(id) if id in shipped_ids() else None

    read_text(path)
    return _load([path.stem], text_of, beside | {path.stem}, beside | set(shipped_ids()))


@lru_cache(maxsize=64)
def _shipped(id: str) -> RuleBookText:
    return book_text(shipped_text(id), f"{id}.toml")


@dataclass(slots=True)
class _Search:
    text_of: Callable[[str], RuleBookText | None]
    known: set[str]
    found: dict[str, RuleBookText] = field(default_factory=dict)  # lowest first
    problems: list[Problem] = field(default_factory=list)

    def find(self, id: str, where: str, above: tuple[str, ...]) -> None:
        if id in above:
            ring = " → ".join((*above[above.index(id) :], id))
            self._refuse(where, f"rule books in a ring ({ring})", "books that build on lower ones alone")
            return
        if id in self.found or len(self.problems) >= MOST_PROBLEMS:
            return
        if len(above) >= MOST_BOOKS or len(self.found) >= MOST_BOOKS:
            self._refuse(where, f"more than {MOST_BOOKS} rule books on one another", "a few")
            return
        try:
            document = self.text_of(id)
        except BadInput as error:
            self.problems += error.problems
            return
        if document is None:
            cure = did_you_mean(id, self.known) or f"Put it into the folder {FOLDER} as {id}.toml."
            self._refuse(where, f"no rule book {id!r}", f"one of {', '.join(sorted(self.known)[:30])}", cure)
            return
        for lower in builds_on(document):
            self.find(lower, document.where("book.builds_on"), (*above, id))
        self.found[id] = document

    def _refuse(self, where: str, found: str, expected: str, cure: str = "") -> None:
        self.problems.append(Problem(where=where, found=found, expected=expected, cure=cure))


def _load(
    ids: Iterable[str], text_of: Callable[[str], RuleBookText | None], own: set[str], known: set[str]
) -> tuple[tuple[RuleBook, ...], dict[str, Fact]]:
    search = _Search(text_of, known)
    for id in dict.fromkeys(ids):
        search.find(id, "rule books", ())
    problems = search.problems
    facts = dict(shipped_facts())
    books: list[RuleBook] = []
    below: dict[str, set[str]] = {}
    for id, document in search.found.items():
        lower = [one for one in builds_on(document) if one in below]
        below[id] = {id, *(deeper for one in lower for deeper in below[one])}
        try:
            book = _book(_Text(document), id in own, tuple(facts.values()))
        except BadInput as error:
            problems += error.problems
            facts |= {fact.name: fact for fact in declared_facts(document, facts)}
            continue
        facts |= {fact.name: fact for fact in book.facts}
        problems += _pointing_at_nothing(book, document, below[id] - {id}, search.found, known)
        books.append(book)
    if problems:
        raise BadInput(*dict.fromkeys(problems[:MOST_PROBLEMS]))
    return tuple(books), facts


class _Text:
    """A text as the key of what was read from it."""

    def __init__(self, document: RuleBookText) -> None:
        self.document = document

    def __hash__(self) -> int:
        return hash((self.document.name, self.document.text))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Text) and (other.document.name, other.document.text) == (
            self.document.name,
            self.document.text,
        )


@lru_cache(maxsize=32)
def _book(text: _Text, is_own: bool, facts: tuple[Fact, ...]) -> RuleBook:
    return rule_book_from(text.document, {fact.name: fact for fact in facts}, is_own_copy=is_own)


def builds_on(document: RuleBookText) -> list[str]:
    """Give the ids of the books a text says it builds on, as far as they can be read."""
    head = document.tables.get("book")
    ids = head.get("builds_on") if isinstance(head, dict) else None
    return list(dict.fromkeys(id for id in ids if isinstance(id, str))) if isinstance(ids, list) else []


def _pointing_at_nothing(
    book: RuleBook,
    document: RuleBookText,
    below: set[str],
    texts: Mapping[str, RuleBookText],
    known: set[str],
) -> list[Problem]:
    problems = []
    for place, clause in enumerate(book.clauses, 1):
        if not clause.on:
            continue
        path = f"clause.{place}.{clause.act}"
        lower, _, target = clause.on.partition(":")
        if lower not in below:
            expected = f"a book below this one: {', '.join(sorted(below)) or 'it builds on none'}"
            cure = did_you_mean(lower, below)
            if lower == book.id:
                cure = "Change the clause itself."
            elif lower in known or not cure:
                cure = f"Add {lower!r} to builds_on."
            problems.append(document.problem(path, f"the book {lower!r}", expected, cure))
        elif target not in (ids := _clause_ids(texts[lower])):
            cure = did_you_mean(target, ids)
            problems.append(document.problem(path, f"{clause.on!r}", f"a clause of {lower}", cure))
    return problems


def _clause_ids(document: RuleBookText) -> list[str]:
    clauses = document.tables.get("clause")
    return [
        clause["id"]
        for clause in (clauses if isinstance(clauses, list) else [])
        if isinstance(clause, dict) and isinstance(clause.get("id"), str)
    ]
