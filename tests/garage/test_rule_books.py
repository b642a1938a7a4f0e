"""A garage's own copies of shipped books: made, set aside, made again."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from tintop.errors import BadInput
from tintop.garage.inspecting import inspect_in_garage
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import based_on, forget_book, own_books
from tintop.garage.verifying import verify
from tintop.settings import Settings
from tintop.store.garage_store import Store
from tintop.store.rule_books.copying import copy_text

ID, NAME, DAY = "united_kingdom_club", "rule_books/united_kingdom_club.toml", date(2026, 6, 20)


@pytest.fixture
def garage(tmp_path: Path) -> Iterator[Garage]:
    opened = Garage(Store.create(tmp_path, Settings(title="Shed", owner="Robin")), today=lambda: DAY)
    yield opened
    opened.close()


def copied(garage: Garage) -> None:
    garage.save_document(NAME, copy_text(ID), based_on=based_on(garage, ID), who="Robin", why="copied")


def is_own(garage: Garage) -> bool:
    (book,) = [one for one in inspect_in_garage(garage, [ID], DAY).inspection.books if one.id == ID]
    return book.departure is not None


def test_a_copy_set_aside_lets_the_shipped_book_stand_and_is_not_lost(garage):
    copied(garage)
    assert is_own(garage)
    forget_book(garage, ID, "Robin")
    assert not is_own(garage) and own_books(garage) == {}
    before = garage.store.revisions(NAME)
    assert copy_text(ID) in [revision.text for revision in before]
    copied(garage)
    assert is_own(garage) and len(garage.store.revisions(NAME)) == len(before) + 1


def test_a_figure_is_noted_as_read_in_a_new_copy_after_that(garage):
    copied(garage)
    forget_book(garage, ID, "Robin")
    shipped = inspect_in_garage(garage, [ID], DAY).inspection.books[-1]
    clause = next(one for one in shipped.clauses if not one.is_verified)
    verify(garage, ID, clause.id, day=DAY, by="Robin", edition="2026", who="Robin", based_on="")
    assert is_own(garage)


def test_only_copies_of_shipped_books_are_set_aside(garage):
    with pytest.raises(BadInput, match="no copy of yours"):
        forget_book(garage, ID, "Robin")
    series = copy_text(ID).replace(f'id = "{ID}"', 'id = "series"')
    garage.save_document("rule_books/series.toml", series, based_on=None, who="Robin", why="ours")
    with pytest.raises(BadInput, match="not shipped"):
        forget_book(garage, "series", "Robin")
    assert "series" in own_books(garage)


def test_a_copy_that_another_own_book_rests_on_is_not_set_aside(garage):
    own = copy_text(ID) + (
        '\n[[clause]]\nid = "ours"\ngroup = "kit"\ntitle = "Ours"\nrequirement = "One."\n'
        'reference = "1"\nseverity = "advice"\nknown = "own"\nshown = ["body.net"]\n'
    )
    garage.save_document(NAME, own, based_on=None, who="Robin", why="ours")
    series = (
        f'[book]\nid = "series"\ntitle = "Series"\nedition = "1"\njurisdiction = "x"\nbuilds_on = ["{ID}"]\n'
        'valid_from = 2026-01-01\ncautions = ["An aid."]\n[[clause]]\nid = "more"\ngroup = "kit"\n'
        'title = "More"\nrequirement = "Two."\nreference = "2"\nseverity = "advice"\nknown = "own"\n'
        f'shown = ["body.net"]\ntightens = "{ID}:ours"\n'
    )
    garage.save_document("rule_books/series.toml", series, based_on=None, who="Robin", why="ours")
    with pytest.raises(BadInput, match="ours"):
        forget_book(garage, ID, "Robin")
    assert ID in own_books(garage)


def test_from_the_command_line(garage, tmp_path):
    from tintop.cli import main

    copied(garage)
    garage.close()
    done = CliRunner().invoke(main, ["books", "forget", ID, "--garage", str(tmp_path)])
    assert done.exit_code == 0 and "counts again" in done.output
    again = CliRunner().invoke(main, ["books", "forget", ID, "--garage", str(tmp_path)])
    assert again.exit_code == 2 and "no copy of yours" in again.output
