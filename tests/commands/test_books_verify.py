"""A figure from memory, read: noted in the garage's copy by command."""

from contextlib import closing

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import own_books
from tintop.rules.book import Read
from tintop.settings import Settings
from tintop.store.garage_store import Store
from tintop.store.rule_books import load_books, shipped_book

BOOK = "international"
CLAUSES = [clause.id for clause in shipped_book(BOOK).clauses if clause.read is Read.MEMORY][:2]


@pytest.fixture
def folder(tmp_path):
    found = tmp_path / "garage"
    Store.create(found, Settings(title="Lantern", owner="Robin")).close()
    return found


def verify(folder, clause: str, **options: str):
    given = {"by": "Robin", "edition": "Yearbook 2026", "garage": str(folder), **options}
    words = [word for name, value in given.items() for word in (f"--{name}", value)]
    return CliRunner().invoke(main, ["books", "verify", clause, *words])


def verified(folder) -> set[str]:
    with closing(Garage.open(folder)) as garage:
        book = load_books([BOOK], own_books(garage))[0][-1]
    return {clause.id for clause in book.clauses if clause.read is Read.MEMORY and clause.is_verified}


def test_the_first_makes_a_copy_and_the_second_goes_into_it(folder):
    first = verify(folder, f"{BOOK}:{CLAUSES[0]}", on="2026-01-05")
    assert first.exit_code == 0, first.output
    assert "goes before the shipped book and later editions" in first.output
    assert shipped_book(BOOK).clause(CLAUSES[0]).title in first.output and "2026-01-05" in first.output
    second = verify(folder, f"{BOOK}:{CLAUSES[1]}")
    assert second.exit_code == 0 and "goes before" not in second.output
    assert verified(folder) == set(CLAUSES)


@pytest.mark.parametrize(
    ("clause", "options", "said"),
    [
        (BOOK, {}, "a book and a clause"),
        (f"{BOOK}:none-such", {}, "none-such"),
        (f"none_such:{CLAUSES[0]}", {}, "none_such"),
        (f"../car:{CLAUSES[0]}", {}, "../car"),
        (f"{BOOK}:{CLAUSES[0]}", {"on": "2999-01-01"}, "today or a day before"),
        (f"{BOOK}:{CLAUSES[0]}", {"on": "soon"}, "a day such as"),
        (f"{BOOK}:{CLAUSES[0]}", {"by": " "}, "one line of text"),
        (f"{BOOK}:{CLAUSES[0]}", {"edition": "a;b"}, "without ;"),
    ],
)
def test_what_cannot_be_meant_is_refused_and_no_copy_is_made(folder, clause, options, said):
    result = verify(folder, clause, **options)
    assert result.exit_code == 2 and said in result.output
    assert "Traceback" not in result.output
    assert verified(folder) == set()
    assert not (folder / "rule_books").exists() or not list((folder / "rule_books").iterdir())
