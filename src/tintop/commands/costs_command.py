"""`tintop costs`: what running the car of a garage costs."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, reading


@click.command("costs")
@click.argument("garage", type=FILE, default=".")
@as_json
@plainly
def command(garage: str, is_json: bool) -> None:
    """Say what running the car of GARAGE (a folder; this one if not named) has cost and is to cost."""
    from tintop.logbook.costs import costs_on
    from tintop.logbook.readiness import readiness_on
    from tintop.logbook.support import supporters
    from tintop.questions.what_will_it_cost import answer_of
    from tintop.reports.costs_sheet import costs_content, costs_sheet

    with reading(garage) as opened:
        book, day, currency = opened.book, opened.today(), opened.settings.currency
    ready = readiness_on(book, day)
    costs, helpers = costs_on(book, day, ready.orders, ready.jobs.open), supporters(book, day)
    answer = answer_of(costs, helpers, currency)
    if is_json:
        print_json(costs_content(answer, costs))
    else:
        print_sheet(costs_sheet(answer, costs, helpers, currency))
