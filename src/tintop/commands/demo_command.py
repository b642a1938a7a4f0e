"""`tintop demo`: the main job on the invented car, circuit and race."""

import click

from tintop.commands.common import FILE, plainly, print_sheet, progress, warm_kernels


@click.command("demo")
@click.option("--write", "folder", type=FILE, help="Write the demo's documents to this folder to start from.")
@plainly
def command(folder: str | None) -> None:
    """Predict the demo's lap and race, or write its documents."""
    from tintop import garage

    if folder:
        for path in garage.write_demo(folder):
            click.echo(f"Wrote {path}")
        return
    from tintop.reports.lap_sheet import lap_sheet
    from tintop.reports.race_sheet import race_sheet

    described = garage.load_car(garage.demo_path("car.toml"))
    course = garage.load_circuit(garage.demo_path("circuit.csv"))
    meeting = garage.load_event(garage.demo_path("event.toml"))
    warm_kernels()
    click.secho(f"{described.car.name} at {course.name}: {meeting.event.name}", bold=True)
    with progress("How quick?") as tell:
        quick = garage.ask_how_quick(described, course, meeting.event.weather, progress=tell)
    print_sheet(lap_sheet(quick.answer, quick.worth))
    click.echo()
    with progress("Will it last?") as tell:
        lasting = garage.ask_will_it_last(described, course, meeting, path=quick.path, progress=tell)
    print_sheet(race_sheet(lasting.answer, lasting.trace, lasting.judged, lasting.odds, lasting.cures))
