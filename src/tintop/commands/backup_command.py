"""`tintop backup`: a verified copy of a garage's database."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json


@click.command("backup")
@click.argument("garage", type=FILE)
@as_json
@plainly
def command(garage: str, is_json: bool) -> None:
    """Make a verified backup of a garage now; its page may stay open."""
    from tintop.store.garage_store import Store

    with Store.open(garage, writing=False) as store:
        path = store.back_up()
        kept = store.backups()
    if is_json:
        print_json({"backup": str(path), "size_bytes": path.stat().st_size, "backups": len(kept)})
        return
    click.echo(f"Backed up and compared: {path} ({path.stat().st_size / 1e6:.1f} MB).")
    click.echo(
        f"{len(kept)} backups are kept. Originals and documents are safe only if you copy the whole folder."
    )
