"""`tintop ready`: is the car of a garage ready for its next event?"""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, reading


@click.command("ready")
@click.argument("garage", type=FILE, default=".")
@click.option("--all", "has_good", is_flag=True, help="List the lives that are good too.")
@as_json
@plainly
def command(garage: str, has_good: bool, is_json: bool) -> None:
    """Say whether the car of GARAGE (a folder; this one if not named) is ready for its next event."""
    from tintop.logbook.readiness import readiness_on
    from tintop.questions.is_it_ready import answer_of
    from tintop.reports.ready_sheet import ready_content, ready_sheet

    with reading(garage) as opened:
        ready = readiness_on(opened.book, opened.today())
        currency = opened.settings.currency
    answer = answer_of(ready, currency)
    if is_json:
        print_json(ready_content(answer))
    else:
        print_sheet(ready_sheet(answer, ready, currency, has_good))
