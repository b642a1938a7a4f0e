"""`tintop envelope`: what the car can do at each speed."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_table, warm_kernels


@click.command("envelope")
@click.argument("car", type=FILE)
@click.option("--event", type=FILE, help="Event document; its weather is used.")
@as_json
@plainly
def command(car: str, event: str | None, is_json: bool) -> None:
    """Give what CAR can do at each speed: cornering, accelerating, braking on a flat road."""
    from dataclasses import asdict

    from tintop import garage
    from tintop.reports.envelope_sheet import envelope_table

    described = garage.load_car(car)
    weather = garage.load_weather(event)
    warm_kernels()
    found = garage.envelope_of(described, weather)
    if is_json:
        print_json(asdict(found))
    else:
        table = envelope_table(found)
        print_table(table.title, table.columns, table.rows)
