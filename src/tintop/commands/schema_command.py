"""`tintop schema`: every field of the documents."""

import click

from tintop.commands.common import as_json, plainly, print_json

_RULE_BOOK = "rule_book.toml"
_DOCUMENTS = ("car.toml", "event.toml", "cage.toml", "chassis.toml", "setup.toml", "circuit.csv", _RULE_BOOK)


@click.command("schema")
@click.option("--document", type=click.Choice(_DOCUMENTS), help="One document only.")
@click.option(
    "--json-schema", "is_json_schema", is_flag=True, help=f"JSON Schema of {_RULE_BOOK}, for an editor."
)
@as_json
@plainly
def command(document: str | None, is_json_schema: bool, is_json: bool) -> None:
    """Give every field of the documents with its unit, default and source."""
    from dataclasses import asdict

    if is_json_schema:
        from tintop.store.rule_books.schema import rule_book_json_schema

        print_json(rule_book_json_schema())
        return

    from tintop import garage

    rows = [row for row in garage.schema() if document in (None, row.document)]
    if is_json:
        print_json([asdict(row) for row in rows])
        return
    title = ""
    for row in rows:
        if row.document != title:
            title = row.document
            click.secho(f"\n{title}", bold=True)
        doubt = f" ± {row.uncertainty}" if row.uncertainty else ""
        click.echo(f"{row.path}: {row.meaning}")
        click.echo(f"    written in {row.units or row.kind}; default {row.default}{doubt}")
        if row.source:
            click.echo(f"    source: {row.source}")
