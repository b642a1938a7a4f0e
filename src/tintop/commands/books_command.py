"""`tintop books`: the rule books there are, their clauses, copies to edit, what changed, what reads."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, reading

if TYPE_CHECKING:
    from tintop.rules.book import RuleBook
    from tintop.rules.facts import Fact

_MOST_NEAR = 25

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
@click.option("--stack", "has_all", is_flag=True, help="Show those of the books it stands on too.")
@click.option("--group", "groups", multiple=True, help="One group alone, such as numbers; may come again.")
@in_garage
@as_json
@plainly
def show(book: str, has_all: bool, groups: tuple[str, ...], garage: str | None, is_json: bool) -> None:
    """Show the clauses of BOOK, an id or a file."""
    from dataclasses import replace

    from tintop.errors import did_you_mean, refuse
    from tintop.reports.books_sheet import book_content, book_sheet, stack_sheet
    from tintop.store.rule_books.document import GROUPS

    for group in groups:
        if group not in GROUPS:
            raise refuse("--group", repr(group), f"one of {', '.join(GROUPS)}", did_you_mean(group, GROUPS))
    found = _books(book, _own(garage))[0]
    if groups:
        kept = {one.id: tuple(c for c in one.clauses if c.group in groups) for one in found}
        found = tuple(replace(one, clauses=kept[one.id]) for one in found)
    if is_json:
        print_json([book_content(one) for one in found] if has_all else book_content(found[-1]))
    else:
        print_sheet(stack_sheet(found) if has_all else book_sheet(found[-1]))


@command.command("copy")
@click.argument("id")
@click.option("--garage", type=FILE, required=True, help="Folder of the garage to put the copy into.")
@click.option("--new", "title", help="Start a new book of this title under ID instead of copying one.")
@click.option("--on", "builds_on", multiple=True, help="A book the new one builds on; may be given again.")
@click.option("--from", "edition", help="Copy this book under ID, such as this year's for next year's.")
@plainly
def copy(id: str, garage: str, title: str | None, builds_on: tuple[str, ...], edition: str | None) -> None:
    """Put a copy of the shipped book ID into a garage for its owner to edit, or start a new one there."""
    from contextlib import closing

    from tintop.errors import refuse
    from tintop.garage.keeper import RULE_BOOKS, Garage
    from tintop.garage.rule_books import based_on, own_books
    from tintop.store.rule_books.copying import copy_text, new_book_text, next_edition_text

    if title is not None and edition is not None:
        raise refuse("--new", "--from beside it", "one of the two")
    name = f"{RULE_BOOKS}/{id}.toml"
    with closing(Garage.open(garage)) as opened:
        own = own_books(opened)
        if edition is not None:
            text = next_edition_text(own.get(edition) or copy_text(edition), edition, id)
        else:
            text = copy_text(id) if title is None else new_book_text(id, title, builds_on)
        if id in own:
            raise refuse(name, "a book of this name in the garage already", "a new one", "Edit that one.")
        why = "a new rule book" if title else f"copied from the book {edition or id}"
        opened.save_document(name, text, based_on=based_on(opened, id), who=opened.settings.owner, why=why)
        click.echo(f"Wrote {opened.folder / name}")
    if edition is not None:
        click.echo("Now write its edition, valid_from and valid_to, and check it.")


@command.command("forget")
@click.argument("id")
@click.option("--garage", type=FILE, required=True, help="Folder of the garage that has the copy.")
@plainly
def forget(id: str, garage: str) -> None:
    """Set your copy of the shipped book ID aside: the shipped one counts again, your revisions are kept."""
    from contextlib import closing

    from tintop.garage.keeper import Garage
    from tintop.garage.rule_books import forget_book

    with closing(Garage.open(garage)) as opened:
        forget_book(opened, id, opened.settings.owner)
    click.echo(f"The shipped book {id} counts again; your copy is among the document's revisions.")


@command.command("verify")
@click.argument("clause", metavar="BOOK:CLAUSE")
@click.option("--by", required=True, help="Who read the figure in the regulation itself.")
@click.option("--edition", required=True, help="The edition it was read in, such as 'Yearbook 2026, K 1.2'.")
@click.option("--on", "day", help="The day it was read, such as 2026-02-01; today if left out.")
@click.option(
    "--garage", type=FILE, required=True, help="Folder of the garage whose copy of the book says so."
)
@plainly
def verify(clause: str, by: str, edition: str, day: str | None, garage: str) -> None:
    """Note in a garage's own copy of a book that somebody read the figure of a clause from memory.

    Do so only when the figure the book has is the one you read; otherwise edit the copy.
    """
    from contextlib import closing
    from datetime import date

    from tintop.errors import refuse
    from tintop.garage.keeper import Garage
    from tintop.garage.rule_books import own_books
    from tintop.garage.verifying import revision_of
    from tintop.garage.verifying import verify as write
    from tintop.reports.books_sheet import clause_check

    book, _, id = clause.partition(":")
    if not id:
        raise refuse("BOOK:CLAUSE", repr(clause), "a book and a clause, such as international:steel-carbon")
    with closing(Garage.open(garage)) as opened:
        try:
            read_on = date.fromisoformat(day) if day else opened.today()
        except ValueError:
            raise refuse("--on", repr(day), "a day such as 2026-02-01") from None
        if read_on > opened.today():
            raise refuse("--on", read_on.isoformat(), "today or a day before")
        is_new = not (based_on := revision_of(opened, book))
        who = opened.settings.owner
        saved = write(
            opened, book, id, day=read_on, by=by, edition=edition, who=who, based_on=based_on
        )  # fmt: skip
        found = _book(book, own_books(opened)).clause(id)
        assert found is not None
        click.echo(f"{found.title}, {found.reference}: read in {edition} by {by}, {read_on.isoformat()}.")
        click.echo(f"The figure as the book has it: {clause_check(found)}")
        if is_new:
            click.echo(
                "The garage now has its own copy, which goes before the shipped book and later editions."
            )
        click.echo(f"Wrote {opened.folder / saved.name}, revision {saved.number}")


@command.command("changes")
@click.argument("old")
@click.argument("new", required=False)
@in_garage
@as_json
@plainly
def changes(old: str, new: str | None, garage: str | None, is_json: bool) -> None:
    """List what changed from OLD to NEW, each the id of a shipped book or a file.

    With a garage, both may be its own books, a shipped OLD is as shipped, and NEW is OLD's copy if not
    named; what the car has on record is picked out of what each change touches.
    """
    from tintop.errors import refuse
    from tintop.reports.books_sheet import changes_content, changes_sheet
    from tintop.rules.changes import changes as changes_of
    from tintop.store.rule_books import shipped_ids

    if new is None and garage is None:
        raise refuse("NEW", "nothing", "a second book, or --garage with a copy of OLD in it")
    own, recorded = _own_and_on_record(garage)
    before = _book(old, {} if old in shipped_ids() else own)
    after = _book(new or old, own)
    found = changes_of(before, after)
    if is_json:
        print_json(changes_content(found, recorded))
    else:
        print_sheet(changes_sheet(before, after, found, recorded))


@command.command("facts")
@click.argument("words", nargs=-1)
@as_json
@plainly
def facts(words: tuple[str, ...], is_json: bool) -> None:
    """List what the shipped books record of a car; with WORDS, what has each in name, question or how."""
    from tintop.reports.books_sheet import facts_content, facts_sheet
    from tintop.rules.finding_facts import facts_near, facts_with, words_near
    from tintop.store.rule_books import shipped_facts

    sought, shipped = " ".join(words), tuple(shipped_facts().values())
    found = facts_with(sought, shipped)
    if is_json:
        print_json(facts_content(found))
        return
    if found:
        print_sheet(facts_sheet(found))
        return
    click.echo(f"No shipped fact has all of {sought!r}.")
    if spelt := words_near(sought, shipped):
        click.echo(f"Words that are there: {', '.join(spelt)}.")
    near = facts_near(sought, shipped)
    if near and len(near) <= _MOST_NEAR:
        print_sheet(facts_sheet(near))
    click.echo(
        "Look under other words for the thing before you declare a fact of your own under [[fact]]: "
        "one measurement then serves every book. `tintop books facts` lists all."
    )


@command.command("evidence")
@click.argument("books", nargs=-1, required=True)
@in_garage
@plainly
def evidence(books: tuple[str, ...], garage: str | None) -> None:
    """Print a file of evidence to fill in: every fact that BOOKS, ids or files, and those below ask for."""
    from datetime import datetime

    from tintop.reports.evidence_form import evidence_form
    from tintop.rules.stack import stacked

    own = _own(garage)
    read = [_books(named, own) for named in books]
    known = {book.id: book for found, _ in read for book in found}
    facts = {name: fact for _, named in read for name, fact in named.items()}
    today = datetime.now().astimezone().date().isoformat()
    click.echo(evidence_form(stacked(tuple(known.values())), facts, today), nl=False)


@command.command("check")
@click.argument("file", type=FILE)
@plainly
def check(file: str) -> None:
    """Read the rule book FILE and say whether it can be used; books it builds on may lie beside it."""
    from datetime import datetime

    from tintop.rules.verified import book_on, is_early
    from tintop.store.rule_books import read_rule_book

    today = datetime.now().astimezone().date()
    read = read_rule_book(file)
    found = book_on(read, today)
    not_verified = sum(not clause.is_verified for clause in found.clauses)
    click.echo(f"{found.title}, edition {found.edition}: {len(found.clauses)} clauses, and all of it reads.")
    for clause in read.clauses:
        if is_early(clause, today):
            click.echo(f"{clause.id} is verified on {clause.verified_on}: that counts from that day on.")
    if not_verified:
        click.echo(
            f"{not_verified} rest on a figure from memory, which never gives a pass until it is verified."
        )


def _own(garage: str | None) -> Mapping[str, str]:
    """The texts of a garage's own books by id."""
    if garage is None:
        return {}
    from tintop.garage.rule_books import own_books

    with reading(garage) as opened:
        return own_books(opened)


def _own_and_on_record(garage: str | None) -> tuple[Mapping[str, str], frozenset[str] | None]:
    """The texts of a garage's own books by id, and the facts it has on record today; None without one."""
    if garage is None:
        return {}, None
    from tintop.garage.inspection import on_record
    from tintop.garage.rule_books import own_books

    with reading(garage) as opened:
        return own_books(opened), on_record(opened)


def _book(named: str, own: Mapping[str, str]) -> "RuleBook":
    """The book of an id, or of a file where a path is given."""
    return _books(named, own)[0][-1]


def _books(named: str, own: Mapping[str, str]) -> "tuple[tuple[RuleBook, ...], dict[str, Fact]]":
    """The same with the books it stands on, lowest first, and every fact."""
    from tintop.store.rule_books import load_books, read_rule_books

    if named.endswith(".toml") or "/" in named:
        return read_rule_books(named)
    return load_books([named], own)
