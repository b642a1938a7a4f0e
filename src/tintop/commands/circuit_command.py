"""`tintop circuit`: what was found in a circuit file."""

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet


@click.command("circuit")
@click.argument("circuit", type=FILE)
@as_json
@plainly
def command(circuit: str, is_json: bool) -> None:
    """Read CIRCUIT (CSV, GeoJSON or GPX): length, corners, and what smoothing did."""
    from tintop import garage
    from tintop.reports.circuit_sheet import circuit_content, circuit_sheet

    found = garage.load_circuit(circuit)
    if is_json:
        print_json(circuit_content(found))
    else:
        print_sheet(circuit_sheet(found))
