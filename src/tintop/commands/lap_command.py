"""`tintop lap`: a predicted lap."""

from pathlib import Path

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, progress, warm_kernels


@click.command("lap")
@click.argument("car", type=FILE)
@click.argument("circuit", type=FILE)
@click.option("--event", type=FILE, help="Event document; its weather is used.")
@click.option(
    "--line",
    type=click.Choice(["given", "optimal"]),
    help="Line in the file, or the quickest within the widths (the default where the file has widths).",
)
@click.option("--trace", type=FILE, help="Write the lap metre by metre to this CSV file.")
@click.option("--charts", type=FILE, help="Write map, traces and envelope as SVG files to this folder.")
@as_json
@plainly
def command(
    car: str,
    circuit: str,
    event: str | None,
    line: str | None,
    trace: str | None,
    charts: str | None,
    is_json: bool,
) -> None:
    """Predict a flying lap of CAR on CIRCUIT."""
    from tintop import garage
    from tintop.reports.lap_sheet import lap_content, lap_sheet

    described = garage.load_car(car)
    course = garage.load_circuit(circuit)
    weather = garage.load_weather(event)
    warm_kernels()
    with progress("Finding the line") as tell:
        found = garage.ask_how_quick(described, course, weather, garage.Line(line) if line else None, tell)
    if trace:
        garage.save_trace(found.lap, Path(trace))
    if charts:
        garage.save_lap_charts(found, Path(charts))
    if is_json:
        print_json(lap_content(found.answer, found.lap, found.circuit, found.path))
    else:
        print_sheet(lap_sheet(found.answer, found.worth))
