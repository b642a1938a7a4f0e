"""`tintop books`: the rule books there are, their clauses, copies to edit, what changed, what reads."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet

if TYPE_CHECKING:
    from tintop.rules.book import RuleBook

in_garage = click.option("--garage", type=FILE, help="Folder of a garage whose own books count too.")


@click.group("books", invoke_without_command=True)
@click.pass_context
@in_garage
@as_json
@plainly
def command(context: click.Context, garage: str | None, is_json: bool) -> None:
    """List the rule books shipped, and a garage's own; or show, copy, compare or check one."""
    if context.invoked_subcommand is not None:
        return
    from tintop.errors import BadInput
    from tintop.reports.books_sheet import books_content, books_sheet
    from tintop.store.rule_books import load_books, shipped_ids

    own = _own(garage)
    found, unread = [], []
    for id in sorted({*own, *shipped_ids()}):
        try:
            found.append(load_books([id], own)[0][-1])
        except BadInput as error:
            unread.append(f"{id} does not read:\n{error}")
    if is_json:
        print_json(books_content(found))
    else:
        print_sheet(books_sheet(found))
    for words in unread:
        click.echo(words, err=True)
    if unread:
        raise click.exceptions.Exit(2)


@command.command("show")
@click.argument("book")
@in_garage
@as_json
@plainly
def show(book: str, garage: str | None, is_json: bool) -> None:
    """Show the clauses of BOOK, an id or a file."""
    from tintop.reports.books_sheet import book_content, book_sheet

    found = _book(book, _own(garage))
    if is_json:
        print_json(book_content(found))
    else:
        print_sheet(book_sheet(found))


@command.command("copy")
@click.argument("id")
@click.option("--garage", type=FILE, required=True, help="Folder of the garage to put the copy into.")
@click.option("--new", "title", help="Start a new book of this title under ID instead of copying one.")
@click.option("--on", "builds_on", multiple=True, help="A book the new one builds on; may be given again.")
@plainly
def copy(id: str, garage: str, title: str | None, builds_on: tuple[str, ...]) -> None:
    """Put a copy of the shipped book ID into a garage for its owner to edit, or start a new one there."""
    from contextlib import closing

    from tintop.errors import refuse
    from tintop.garage.keeper import RULE_BOOKS, Garage
    from tintop.store.rule_books.copying import copy_text, new_book_text

    text = copy_text(id) if title is None else new_book_text(id, title, builds_on)
    name = f"{RULE_BOOKS}/{id}.toml"
    with closing(Garage.open(garage)) as opened:
        if name in opened.document_names(RULE_BOOKS):
            raise refuse(name, "a book of this name in the garage already", "a new one", "Edit that one.")
        why = "a new rule book" if title else "copied from the shipped book"
        opened.save_document(name, text, based_on=None, who=opened.settings.owner, why=why)
        click.echo(f"Wrote {opened.folder / name}")


@command.command("changes")
@click.argument("old")
@click.argument("new", required=False)
@in_garage
@as_json
@plainly
def changes(old: str, new: str | None, garage: str | None, is_json: bool) -> None:
    """List what changed from OLD to NEW, each the id of a shipped book or a file.

    With a garage, NEW may be one of its own books (OLD's copy if not named), and what the car has on record
    is picked out of what each change touches.
    """
    from tintop.errors import refuse
    from tintop.reports.books_sheet import changes_content, changes_sheet
    from tintop.rules.changes import changes as changes_of

    if new is None and garage is None:
        raise refuse("NEW", "nothing", "a second book, or --garage with a copy of OLD in it")
    before, after = _book(old, {}), _book(new or old, _own(garage))
    found = changes_of(before, after)
    on_record = None if garage is None else _on_record(garage)
    if is_json:
        print_json(changes_content(found, on_record))
    else:
        print_sheet(changes_sheet(before, after, found, on_record))


@command.command("facts")
@click.argument("word", default="")
@as_json
@plainly
def facts(word: str, is_json: bool) -> None:
    """List what the shipped books record of a car; with WORD, what has it in its name or question."""
    from tintop.reports.books_sheet import facts_content, facts_sheet
    from tintop.store.rule_books import shipped_facts

    sought = word.casefold()
    found = [fact for fact in shipped_facts().values() if sought in f"{fact.name} {fact.ask}".casefold()]
    if is_json:
        print_json(facts_content(found))
    elif found:
        print_sheet(facts_sheet(found))
    else:
        click.echo(f"No shipped fact has {word!r} in its name or question: declare one under [[fact]].")


@command.command("check")
@click.argument("file", type=FILE)
@plainly
def check(file: str) -> None:
    """Read the rule book FILE and say whether it can be used; books it builds on may lie beside it."""
    from tintop.store.rule_books import read_rule_book

    found = read_rule_book(file)
    not_verified = sum(not clause.is_verified for clause in found.clauses)
    click.echo(f"{found.title}, edition {found.edition}: {len(found.clauses)} clauses, and all of it reads.")
    if not_verified:
        click.echo(
            f"{not_verified} rest on a figure from memory, which never gives a pass until it is verified."
        )


def _own(garage: str | None) -> Mapping[str, str]:
    """The texts of a garage's own books by id."""
    if garage is None:
        return {}
    from contextlib import closing

    from tintop.garage.keeper import Garage
    from tintop.garage.rule_books import own_books

    with closing(Garage.open(garage, writing=False)) as opened:
        return own_books(opened)


def _on_record(garage: str) -> frozenset[str]:
    """The facts a garage's logbook proves today."""
    from contextlib import closing

    from tintop.garage.keeper import Garage
    from tintop.garage.rule_books import facts_of
    from tintop.logbook.proofs import evidence_of

    with closing(Garage.open(garage, writing=False)) as opened:
        evidence = evidence_of(opened.book, facts_of(opened), opened.today())
    return frozenset(key.fact for key in evidence.proven)


def _book(named: str, own: Mapping[str, str]) -> "RuleBook":
    """The book of an id, or of a file where a path is given."""
    from tintop.store.rule_books import load_books, read_rule_book

    if named.endswith(".toml") or "/" in named:
        return read_rule_book(named)
    return load_books([named], own)[0][-1]
