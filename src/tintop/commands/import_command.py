"""`tintop import`: a new garage from an exported folder."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json


@click.command("import")
@click.argument("folder", type=FILE)
@click.argument("garage", type=FILE)
@as_json
@plainly
def command(folder: str, garage: str, is_json: bool) -> None:
    """Make a new GARAGE of a FOLDER that `tintop export` wrote: same entries, revisions and originals.

    Devices are not carried: pair them anew.
    """
    from dataclasses import asdict
    from pathlib import Path

    from tintop.store.exchange.garage_folder import import_garage

    carried = import_garage(Path(folder), Path(garage))
    if is_json:
        print_json({"garage": garage, **asdict(carried)})
        return
    click.echo(
        f"{carried.entries:,} entries, {carried.documents} documents in {carried.revisions} revisions and "
        f"{carried.originals} originals are in the new garage {garage}."
    )
