"""The rule books shipped, counted: the tables of docs/rules_shipped.md.

`python tests/shipped_rules.py` makes them anew.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path

from tintop.rules.book import Clause, Expiry, ExpiryKind, Holds, Limits, ListedTubes, OneOf, Read, RuleBook
from tintop.rules.checking import parts_of
from tintop.rules.expression import Amount, Expression
from tintop.rules.facts import Fact
from tintop.store.rule_books import load_books, shipped_ids

DOCUMENT = Path(__file__).parents[1] / "docs" / "rules_shipped.md"
INVENTED = ("harrow_down_series", "larkmoor_bulletin")


@cache
def books() -> tuple[Mapping[str, RuleBook], Mapping[str, Fact]]:
    """All books shipped, those of the demonstration among them, by id; all facts."""
    demo = files("tintop") / "data" / "demo" / "rule_books"
    own = {id: demo.joinpath(f"{id}.toml").read_text("utf-8") for id in INVENTED}
    found, facts = load_books([*shipped_ids(), *INVENTED], own)
    return {book.id: book for book in found}, facts


def names_a_figure(expression: Expression) -> bool:
    """Whether a figure stands anywhere in it."""
    return isinstance(expression, Amount) or any(map(names_a_figure, parts_of(expression)))


def computes(clause: Clause) -> bool:
    """Whether its verdict follows from a figure, a date or a list, not from a plain yes or no."""
    match clause.check:
        case Limits() | ListedTubes() | OneOf() | Expiry():
            return True
        case Holds(holds=holds, recommended=recommended):
            return any(names_a_figure(one) for one in (holds, recommended) if one is not None)
        case _:
            return False


def _table(head: Iterable[str], rows: Iterable[Iterable[object]]) -> str:
    columns = list(head)
    lines = [columns, ["---"] * len(columns), *([str(cell) for cell in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def counted() -> str:
    """The table of books: clauses, how many compute, and how their figures are known."""
    rows: list[list[object]] = []
    for book in books()[0].values():
        known = Counter(clause.read for clause in book.clauses)
        computing = sum(map(computes, book.clauses))
        rows.append(
            [f"`{book.id}`", len(book.clauses), computing, *(known[read] or "–" for read in Read)],
        )
    total = [sum(int(str(row[place]).replace("–", "0")) for row in rows) for place in range(1, len(Read) + 3)]
    return _table(["book", "clauses", "compute", *Read], [*rows, ["all", *(count or "–" for count in total)]])


def editions() -> str:
    """The table of books: whose figures, which edition, in force when, on what they stand."""
    return _table(
        ["book", "title", "edition", "in force", "builds on"],
        (
            [
                f"`{book.id}`",
                book.title,
                book.edition,
                f"from {book.valid_from}" + (f" to {book.valid_to}" if book.valid_to else ""),
                ", ".join(f"`{id}`" for id in book.builds_on) or "–",
            ]
            for book in books()[0].values()
        ),
    )


def from_memory() -> str:
    """The clauses whose figures are from memory, by book."""
    rows = (
        [f"`{book.id}`", ", ".join(f"`{clause.id}`" for clause in book.clauses if clause.read is Read.MEMORY)]
        for book in books()[0].values()
    )
    return _table(["book", "clauses"], (row for row in rows if row[1]))


def expiries() -> str:
    """For each form of expiry the clauses that name it."""
    named: dict[ExpiryKind, list[str]] = {kind: [] for kind in ExpiryKind}
    for book in books()[0].values():
        for clause in book.clauses:
            if isinstance(clause.check, Expiry):
                named[clause.check.kind].append(f"`{book.id}:{clause.id}`")
    return _table(["form", "clauses"], ([kind, ", ".join(clauses)] for kind, clauses in named.items()))


TABLES = {"editions": editions, "counts": counted, "from memory": from_memory, "expiry": expiries}


def renewed(text: str) -> str:
    """The document with each table between its marks made anew."""
    for name, make in TABLES.items():
        before, start, rest = text.partition(f"<!-- {name} -->\n")
        _, end, after = rest.partition("<!-- end -->")
        text = f"{before}{start}{make()}\n{end}{after}"
    return text


if __name__ == "__main__":
    DOCUMENT.write_text(renewed(DOCUMENT.read_text("utf-8")), encoding="utf-8")
