"""`tintop restore`: back to a backup."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_table


@click.command("restore")
@click.argument("garage", type=FILE)
@click.option("--from", "backup", type=FILE, help="A backup by its file; the newest whole one if not named.")
@click.option("--list", "is_list", is_flag=True, help="Only list the backups.")
@as_json
@plainly
def command(garage: str, backup: str | None, is_list: bool, is_json: bool) -> None:
    """Go back to a backup; what stands now is set aside, not deleted, and devices must be paired anew."""
    from pathlib import Path

    from tintop.store.backups import list_backups
    from tintop.store.garage_store import Store

    if is_list:
        found = list_backups(Path(garage))
        if is_json:
            print_json(
                [{"path": str(one.path), "made_at": one.made_at, "size_bytes": one.size} for one in found]
            )
        elif found:
            rows = [(one.made_at, f"{one.size / 1e6:.1f}", str(one.path)) for one in found]
            print_table("Backups, newest first", ("made (UTC)", "MB", "file"), rows)
        else:
            click.echo("There is no backup.")
        return
    with Store.restore(garage, backup) as store:
        said, last = store.notices, store.last_entry()
    if is_json:
        print_json({"notices": list(said), "entries": last})
        return
    for words in said:
        click.echo(words)
    click.echo(f"Entries in the logbook: {last}.")
