"""`tintop export`: a garage as text or as a spreadsheet."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json


@click.command("export")
@click.argument("garage", type=FILE)
@click.argument("target", type=FILE, metavar="FOLDER|FILE.xlsx")
@as_json
@plainly
def command(garage: str, target: str, is_json: bool) -> None:
    """Write a garage to a new FOLDER of readable text with its originals, or its logbook to FILE.xlsx.

    The folder holds everything but paired devices and backups; `tintop import` makes a garage of it again.
    """
    from dataclasses import asdict
    from datetime import datetime
    from pathlib import Path

    from tintop.store.garage_store import Store

    path = Path(target)
    with Store.open(garage, writing=False) as store:
        for notice in store.notices:
            click.echo(notice, err=True)
        if path.suffix.lower() == ".xlsx":
            from tintop.store.exchange.spreadsheet import logbook_to_spreadsheet

            entries, settings = store.entries(), store.settings
            logbook_to_spreadsheet(
                entries,
                path,
                title=settings.title,
                currency=settings.currency,
                today=datetime.now().astimezone().date(),
            )
            if is_json:
                print_json({"file": str(path), "entries": len(entries)})
            else:
                click.echo(f"{len(entries):,} entries written to {path}.")
            return
        from tintop.store.exchange.garage_folder import export_garage

        carried = export_garage(store, path)
    if is_json:
        print_json({"folder": str(path), **asdict(carried)})
        return
    click.echo(
        f"{carried.entries:,} entries, {carried.documents} documents in {carried.revisions} revisions and "
        f"{carried.originals} originals written to {path}."
    )
