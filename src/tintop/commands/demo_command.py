"""`tintop demo`: an invented car, season and circuit; the five answers, and the page on the next event."""

from pathlib import Path

import click

from tintop.commands.common import FILE, plainly, print_sheet, progress, warm_kernels

FOLDER = "demo_garage"


@click.command("demo")
@click.argument("folder", type=FILE, default=FOLDER)
@click.option("--no-serve", "is_terminal_alone", is_flag=True, help="Print the answers, serve no page.")
@click.option("--no-open", "is_quiet", is_flag=True, help="Do not open the page in a browser.")
@click.option(
    "--port", type=click.IntRange(1, 65535), default=8046, show_default=True, help="Port to serve on."
)
@click.option("--write", "documents", type=FILE, help="Only write the demo's documents to this folder.")
@plainly
def command(folder: str, is_terminal_alone: bool, is_quiet: bool, port: int, documents: str | None) -> None:
    """Make the demo's garage in FOLDER (demo_garage if not named), answer, and open the page."""
    if documents:
        from tintop.store.demo import write_demo

        for path in write_demo(documents):
            click.echo(f"Wrote {path}")
        return
    _make(Path(folder))
    _answer(folder)
    if not is_terminal_alone:
        from tintop.web.serving import serve

        serve(folder, port=port, opens_browser=not is_quiet, tell=click.echo)


def _make(folder: Path) -> None:
    from datetime import date

    from tintop.store.demo_garage import write_demo_garage

    if (folder / "garage.sqlite").exists():
        click.echo(f"{folder} is there already and is used as it stands; delete it to start afresh.")
        return
    write_demo_garage(folder, date.today()).close()  # noqa: DTZ011 (the owner's own calendar day)
    click.echo(f"Made the demo's garage in {folder}.")
    click.echo(
        "Its entries and proofs are invented and would count for your own car: never go on from it; "
        "start yours with: tintop new my_car"
    )


def _answer(folder: str) -> None:
    from tintop.garage.answers import keep_answers, standings
    from tintop.garage.keeper import Garage
    from tintop.reports.answers_sheet import answers_sheet

    warm_kernels()
    garage = Garage.open(folder)
    try:
        meeting = garage.next_meeting()
        if meeting is None:
            click.echo("No event is planned in this garage.")
            return
        with progress("Lap and race") as tell:
            garage.predict(meeting, tell)
        keep_answers(garage, meeting)
        found = [(each.title, each.answer) for each in standings(garage, meeting)]
        click.secho(f"{meeting.name}, {meeting.first_day:%d %B %Y}", bold=True)
        print_sheet(answers_sheet(meeting.name, found))
    finally:
        garage.close()
