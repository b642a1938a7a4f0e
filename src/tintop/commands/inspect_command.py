"""`tintop inspect`: a car inspected clause by clause under rule books, for the days of an event."""

import sys
from datetime import UTC, date, datetime

import click

from tintop.commands.common import DAY, FILE, as_json, plainly, print_json, print_sheet, tell


@click.command("inspect")
@click.argument("car", type=FILE, default=".")
@click.option("--book", "books", multiple=True, help="Id or file of a rule book; may come several times.")
@click.option("--on", "first", type=DAY, help="First day of the event, such as 2026-06-20.")
@click.option("--until", "last", type=DAY, help="Last day of the event, if not the first.")
@click.option("--evidence", type=FILE, help="File of entries that prove the car's facts, beside a car.toml.")
@click.option("--calendar", type=FILE, help="Write dates and events to this iCalendar file.")
@click.option("--all", "has_all", is_flag=True, help="List the clauses that are met too.")
@as_json
@plainly
def command(
    car: str,
    books: tuple[str, ...],
    first: date | None,
    last: date | None,
    evidence: str | None,
    calendar: str | None,
    has_all: bool,
    is_json: bool,
) -> None:
    """Inspect CAR, a garage's folder (this one if not named) or a car.toml with its evidence.

    In a garage, books and days not given are those of the next event. Exit code 1: something stops you
    racing; 3: something that would is not proven; 0: neither; 2: bad input.
    """
    from tintop.garage.inspecting import inspect_car, save_calendar
    from tintop.questions.is_it_legal import is_it_legal
    from tintop.reports.inspection_sheet import exit_code, inspection_content, inspection_sheet

    found = inspect_car(car, books, first, last, evidence=evidence)
    tell(found.notices)
    answer = is_it_legal(found.meeting, found.inspection)
    if calendar:
        days = save_calendar(car, found, calendar, datetime.now(UTC))
        said = f"Wrote {len(days)} dates to {calendar}." if days else "No date is known: no calendar written."
        click.echo(said, err=True)
    if is_json:
        print_json(inspection_content(answer, found.inspection))
    else:
        print_sheet(inspection_sheet(answer, found.inspection, has_all))
    sys.exit(exit_code(found.inspection))
