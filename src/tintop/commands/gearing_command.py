"""`tintop gearing`: which final drive and tyres for the circuits of the season."""

import click

from tintop.commands.common import FILE, NUMBER, as_json, plainly, print_answer, progress, warm_kernels


@click.command("gearing")
@click.argument("folder", type=FILE, default=".")
@click.option("--setup", "name", default="", help="Set-up by its file's name; else the one on the car.")
@click.option("--circuit", "circuits", multiple=True, help="Only this circuit; may be given again.")
@click.option("--final-drive", "more", type=NUMBER, multiple=True, help="Compare this too; again for more.")
@click.option("--event", default="", help="The weather of this event; else that the set-up is for.")
@as_json
@plainly
def command(
    folder: str,
    name: str,
    circuits: tuple[str, ...],
    more: tuple[float, ...],
    event: str,
    is_json: bool,
) -> None:
    """Rank final drives and tyres of FOLDER (a garage, or car and chassis documents) by whole laps."""
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.garage.gearing import ask_which_gearing
    from tintop.reports.gearing_sheet import gearing_content, gearing_sheet

    bench = load_bench(folder)
    setup = bench.setup(name)
    weather = bench.weather(event or setup.purpose)
    warm_kernels()
    with progress("Driving") as tell:
        found = ask_which_gearing(bench, setup, weather, circuits, more=more, progress=tell)
    print_answer(
        gearing_sheet(found),
        gearing_content(found),
        assumed_by(bench, "gearing", setup, found.answer),
        bench.settings.units,
        is_json=is_json,
    )
