"""`tintop pressures`: cold pressures for today, what to bleed to and when, and which tyre loses air."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, as_json, plainly, print_answer, reading, warm_kernels

if TYPE_CHECKING:
    from tintop.car.pressure_plan import Four


@click.command("pressures")
@click.argument("folder", type=FILE)
@click.option("--event", default="", help="An event by its short name or document; else the next one.")
@click.option("--setup", default="", help="The set-up on the car; else the one that is fitted.")
@click.option("--circuit", default="", help="A circuit; else the event's, or the set-up's own.")
@click.option("--air", help='Air at the first session, such as "14C"; else the event\'s.')
@click.option("--later", help='Air at the last session, such as "22C"; else the event\'s.')
@click.option("--tyres-at", help='How warm the tyres are when they are set, such as "20C"; else as the air.')
@click.option("--target", help='Hot pressure to aim at, one for all or FL FR RL RR: "2.15 bar", "32/30 psi".')
@click.option("--set-height", help='Height above the sea where they are set, such as "40 m".')
@click.option("--height", help='Height above the sea of the circuit, such as "300 m".')
@as_json
@plainly
def command(
    folder: str,
    event: str,
    setup: str,
    circuit: str,
    air: str | None,
    later: str | None,
    tyres_at: str | None,
    target: str | None,
    set_height: str | None,
    height: str | None,
    is_json: bool,
) -> None:
    """What cold pressures for the car of FOLDER, a garage or a folder with car.toml, and what to bleed.

    Nothing is written: readings are saved on the page.

    Exit code 0: worked out; 2: bad input.
    """
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import bench_of, load_bench
    from tintop.garage.pressures import PressuresAsked, pressures_for, pressures_in
    from tintop.reports.pressures_sheet import pressures_content, pressures_sheet

    warm_kernels()
    targets, also = _targets(target) if target else (None, "")
    asked = PressuresAsked(
        setup=setup,
        circuit=circuit,
        event=event,
        air=_temperature(air, "--air"),
        later=_temperature(later, "--later"),
        tyres_at=_temperature(tyres_at, "--tyres-at"),
        targets=targets,
        also=also,
        set_height=_height(set_height, "--set-height"),
        height=_height(height, "--height"),
    )
    if (Path(folder) / "garage.sqlite").exists():
        with reading(folder) as garage:
            bench = bench_of(garage)
            found = pressures_in(garage, bench, asked)
    else:
        bench = load_bench(folder)
        found = pressures_for(bench, asked)
    print_answer(
        pressures_sheet(found),
        pressures_content(found),
        assumed_by(bench, "pressures", bench.setup(setup), found.answer),
        bench.settings.units,
        is_json=is_json,
    )


def _height(text: str | None, where: str) -> float | None:
    from tintop.owner_units import with_unit
    from tintop.units import parse_quantity

    return parse_quantity(with_unit(text, "m"), "length", where) if text else None


def _temperature(text: str | None, where: str) -> float | None:
    if not text:
        return None
    from tintop.handwriting import read_value, taken

    return taken(read_value(text, "ambient temperature"), where).value


def _targets(text: str) -> "tuple[Four, str]":
    """The four, and the unit they were typed in."""
    from tintop.handwriting import read_corners, taken

    row = taken(read_corners(text, "tyre pressure hot"), "--target")
    first, second, third, fourth = (each.value for each in row.values)
    return (first, second, third, fourth), row.values[0].unit
