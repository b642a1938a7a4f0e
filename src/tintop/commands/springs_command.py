"""`tintop springs`: which springs and bars."""

import sys
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, WHOLE, as_json, plainly, print_answer, progress, warm_kernels

if TYPE_CHECKING:
    from tintop.car.chassis import Chassis
    from tintop.car.setup import Setup
    from tintop.garage.bench import Bench


@click.command("springs")
@click.argument("folder", type=FILE, default=".")
@click.option("--setup", "name", default="", help="Set-up by its file's name; else the one on the car.")
@click.option("--circuit", default="", help="Drive it round this circuit, by its file's name.")
@click.option("--event", default="", help="The weather of this event; else that the set-up is for.")
@click.option("--map", "varied", type=click.Choice(["springs", "bars"]), help="Every pair of them, by a lap.")
@click.option("--front-spring", default="", help='A spring on the list, or a rate such as "65 N/mm".')
@click.option("--rear-spring", default="", help="As --front-spring.")
@click.option("--front-hole", type=WHOLE, help="Hole of the front bar, 1 the softest, 0 unhooked.")
@click.option("--rear-hole", type=WHOLE, help="As --front-hole.")
@as_json
@plainly
def command(
    folder: str,
    name: str,
    circuit: str,
    event: str,
    varied: str | None,
    front_spring: str,
    rear_spring: str,
    front_hole: int | None,
    rear_hole: int | None,
    is_json: bool,
) -> None:
    """Say what springs and bars of FOLDER (a garage, or car and chassis documents) do, and the next step.

    Exit code 0: found; 3: something needs a look first, such as a stop that is
    touched, or which end slides first is not proven; 2: bad input.
    """
    from tintop.answer import Verdict
    from tintop.errors import refuse
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.garage.springs import ask_which_springs, map_of
    from tintop.lap.spring_map import Varied
    from tintop.reports.springs_sheet import springs_content, springs_sheet

    bench = load_bench(folder)
    setup = bench.setup(name)
    weather = bench.weather(event or setup.purpose)
    chassis, setup = _changed(bench, setup, (front_spring, rear_spring), (front_hole, rear_hole))
    if varied and not circuit:
        raise refuse("--map", "no circuit", "one of: " + ", ".join(bench.circuits), "Name it with --circuit.")
    warm_kernels()
    with progress("Driving") as tell:
        found = ask_which_springs(bench, setup, weather, circuit, chassis=chassis, progress=tell)
        mapped = None
        if varied:
            speed = found.corner.speed
            mapped = map_of(
                bench, setup, weather, circuit, Varied(varied), speed, chassis=chassis, progress=tell
            )
    print_answer(
        springs_sheet(found, mapped, bench.settings.currency),
        springs_content(found, mapped),
        assumed_by(bench, "springs", setup, found.answer),
        bench.settings.units,
        is_json=is_json,
    )
    sys.exit(3 if found.answer.verdict in (Verdict.CLOSE, Verdict.NOT_PROVEN) else 0)


def _changed(
    bench: "Bench", setup: "Setup", springs: tuple[str, str], holes: tuple[int | None, int | None]
) -> "tuple[Chassis, Setup]":
    """The set-up with what was asked for; a rate that is no part's name becomes a spring of its own."""
    from dataclasses import replace

    from tintop.car.chassis import End
    from tintop.car.free_parts import with_spring_named

    chassis = bench.chassis
    for end, spring, hole in zip(End, springs, holes, strict=True):
        if spring:
            chassis, setup = with_spring_named(
                bench.described.car, chassis, setup, end, spring, "", f"--{end.value}-spring"
            )
        if hole is not None:
            setup = replace(setup, **{end.value: replace(setup.at(end), bar_hole=hole)})  # type: ignore[arg-type]
    return chassis, setup
