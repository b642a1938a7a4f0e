"""`tintop new`: a garage of one's own, empty, and how to go on."""

from pathlib import Path

import click

from tintop.commands.common import FILE, plainly


@click.command("new")
@click.argument("folder", type=FILE)
@click.option("--title", help="What the garage is called; the folder's name if left out.")
@click.option("--owner", default="", help="Whose it is.")
@click.option("--currency", default="£", show_default=True, help="The money you write in.")
@click.option("--car", type=FILE, help="A car.toml of yours to begin with.")
@plainly
def command(folder: str, title: str | None, owner: str, currency: str, car: str | None) -> None:
    """Make an empty garage in FOLDER: settings, a car to describe, and no entries.

    A folder that holds a garage already is refused.
    """
    import shlex

    from tintop.garage.keeper import CHASSIS, SETUPS
    from tintop.settings import Settings
    from tintop.store.starting import CAR, start_garage

    named = title if title is not None else _title_of(Path(folder))
    start_garage(folder, Settings(title=named, owner=owner, currency=currency), car).close()
    click.echo(f"Made an empty garage in {folder}.")
    if car is None:
        click.echo(f"Describe the car when you like: fill in {Path(folder) / CAR}, or on the page.")
    click.echo(
        f"For the bench as well: {CHASSIS} and a set-up in {SETUPS}, each to be filled in, on the page under "
        f"Documents (every field: tintop schema --document {CHASSIS})."
    )
    click.echo(
        "For laps: a circuit, as a CSV of its line or a GPX or GeoJSON trace of it, on the page under "
        "Circuits or in the folder circuits."
    )
    click.echo(f"Next: tintop serve {shlex.quote(folder)}")


def _title_of(folder: Path) -> str:
    words = " ".join(folder.absolute().name.replace("_", " ").replace("-", " ").split())
    return words[:1].upper() + words[1:] or "My car"
