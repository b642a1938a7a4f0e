"""`tintop schema`: every field of the documents."""

import click

from tintop.commands.common import as_json, plainly, print_json

_DOCUMENTS = ("car.toml", "event.toml", "circuit.csv")


@click.command("schema")
@click.option("--document", type=click.Choice(_DOCUMENTS), help="One document only.")
@as_json
@plainly
def command(document: str | None, is_json: bool) -> None:
    """Give every field of the documents with its unit, default and source."""
    from dataclasses import asdict

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
