"""`tintop brakes`: which axle locks first, dry and wet, turns to make, pads through the race."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tintop.commands.common import (
    FILE,
    NUMBER,
    as_json,
    plainly,
    print_json,
    print_sheet,
    progress,
    reading,
    warm_kernels,
    write_picture,
)

if TYPE_CHECKING:
    from tintop.garage.bench import Bench
    from tintop.garage.brakes import BrakesAsked
    from tintop.race.brake_heat import BrakeHeat


@click.command("brakes")
@click.argument("folder", type=FILE)
@click.option("--setup", default="", help="The set-up on the car; else the one that is fitted.")
@click.option(
    "--turns", type=NUMBER, help="Where the bias device stands, by the document; else the set-up's."
)
@click.option("--friction", type=NUMBER, help="Grip of the road; else that of the tyres on such a road.")
@click.option("--front-pads", help='Temperature of the front pads, such as "350C".')
@click.option("--rear-pads", help='Temperature of the rear pads, such as "220C".')
@click.option("--fuel", help='Fuel, such as "20 L", or 20 for litres; none if not said, the less safe side.')
@click.option(
    "--knee", help='Pressure from which the rear valve holds back, such as "30 bar"; 0 if not said.'
)
@click.option("--event", default="", help="March the race of this event with each set of pads there is.")
@click.option("--circuit", default="", help="The circuit of that race; else the set-up's own.")
@click.option("--picture", type=FILE, help="Draw the grip each axle needs into this SVG file.")
@as_json
@plainly
def command(
    folder: str,
    setup: str,
    turns: float | None,
    friction: float | None,
    front_pads: str | None,
    rear_pads: str | None,
    fuel: str | None,
    knee: str | None,
    event: str,
    circuit: str,
    picture: str | None,
    is_json: bool,
) -> None:
    """How the brakes of the car of FOLDER, a garage or a folder with car.toml, are balanced.

    Exit code 1: the rear axle locks first, which is unsafe; 3: not proven that the front does; 0: it does, by
    this calculation; 2: bad input.
    """
    from tintop.errors import refuse
    from tintop.garage.bench import bench_of, load_bench
    from tintop.garage.brakes import BrakesAsked, brakes_for
    from tintop.owner_units import with_unit
    from tintop.reports.answer_content import exit_code
    from tintop.reports.brakes_sheet import brakes_content, brakes_sheet
    from tintop.units import parse_quantity

    if (Path(folder) / "garage.sqlite").exists():
        with reading(folder) as garage:
            bench = bench_of(garage)
    else:
        bench = load_bench(folder)
    if circuit:
        bench.circuit(circuit)
        if not event:
            raise refuse("--circuit", f"{circuit!r} without --event", "both", "The circuit is the race's.")
    volume = parse_quantity(with_unit(fuel, "L"), "volume", "--fuel") if fuel else 0.0
    asked = BrakesAsked(
        setup=setup,
        turns=turns,
        friction=friction,
        front_temp=_temperature(front_pads, "--front-pads"),
        rear_temp=_temperature(rear_pads, "--rear-pads"),
        fuel_mass=volume * bench.described.car.fuel.density,
        valve_knee=parse_quantity(knee, "pressure", "--knee") if knee else 0.0,
    )
    found = brakes_for(bench, asked, heat=_heat(bench, asked, event, circuit) if event else ())
    if picture:
        from tintop.charts.brake_chart import adhesion_svg

        write_picture(picture, adhesion_svg(found.cases[0]))
    if is_json:
        print_json(brakes_content(found))
    else:
        print_sheet(brakes_sheet(found))
    sys.exit(exit_code(found.answer))


def _heat(bench: "Bench", asked: "BrakesAsked", event: str, circuit: str) -> "tuple[BrakeHeat, ...]":
    from tintop.errors import refuse
    from tintop.garage.brakes import heat_of_each

    course = circuit or bench.setup(asked.setup).circuit
    if not course:
        raise refuse("--circuit", "none, and none in the set-up", "one of: " + ", ".join(bench.circuits))
    warm_kernels()
    with progress("Marching the race with each set of pads") as tell:
        return heat_of_each(bench, asked, event, course, tell)


def _temperature(text: str | None, where: str) -> float | None:
    if not text:
        return None
    from tintop.handwriting import read_value, taken

    return taken(read_value(text, "disc temperature"), where).value
