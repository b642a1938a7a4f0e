"""`tintop race`: a predicted race."""

from pathlib import Path

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, progress, warm_kernels


@click.command("race")
@click.argument("car", type=FILE)
@click.argument("circuit", type=FILE)
@click.argument("event", type=FILE)
@click.option("--races", type=click.IntRange(2, 1_000_000), default=10_000, help="Races drawn for the odds.")
@click.option("--seed", type=click.IntRange(0), default=1, help="The same seed draws the same races.")
@click.option("--line", type=click.Choice(["given", "optimal"]), help="Line in the file, or the quickest.")
@click.option("--charts", type=FILE, help="Write temperatures, wear, fuel and margins as SVG to this folder.")
@as_json
@plainly
def command(
    car: str,
    circuit: str,
    event: str,
    races: int,
    seed: int,
    line: str | None,
    charts: str | None,
    is_json: bool,
) -> None:
    """Predict EVENT's race for CAR on CIRCUIT: does everything last?"""
    from tintop import garage
    from tintop.reports.race_sheet import race_content, race_sheet

    described = garage.load_car(car)
    course = garage.load_circuit(circuit)
    meeting = garage.load_event(event)
    warm_kernels()
    chosen = garage.Line(line) if line else None
    with progress("Racing") as tell:
        found = garage.ask_will_it_last(
            described, course, meeting, chosen, races=races, seed=seed, progress=tell
        )
    if charts:
        garage.save_race_charts(found, Path(charts))
    parts = (found.answer, found.trace, found.judged, found.odds, found.cures)
    if is_json:
        print_json(race_content(*parts))
    else:
        print_sheet(race_sheet(*parts))
