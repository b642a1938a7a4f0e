"""`tintop sensitivity`: what each number of the car is worth."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_table, progress, warm_kernels


@click.command("sensitivity")
@click.argument("car", type=FILE)
@click.argument("circuit", type=FILE)
@click.option("--event", type=FILE, help="Event document; its weather is used.")
@click.option("--line", type=click.Choice(["given", "optimal"]), help="Line in the file, or the quickest.")
@as_json
@plainly
def command(car: str, circuit: str, event: str | None, line: str | None, is_json: bool) -> None:
    """Give lap time against every number of CAR on CIRCUIT."""
    from tintop import garage
    from tintop.reports.lap_sheet import worth_content, worth_table

    described = garage.load_car(car)
    course = garage.load_circuit(circuit)
    weather = garage.load_weather(event)
    warm_kernels()
    with progress("Finding the line") as tell:
        found = garage.ask_how_quick(described, course, weather, garage.Line(line) if line else None, tell)
    if is_json:
        print_json({"lap_time_s": found.lap.lap_time, "sensitivities": worth_content(found.worth)})
        return
    table = worth_table(found.worth, len(found.worth))
    print_table(table.title, table.columns, [row for row in table.rows if float(row[2].split()[0]) != 0.0])
