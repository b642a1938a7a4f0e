"""`tintop treads`: tread temperatures, pressures and the driver's words read into one change."""

import sys
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, NUMBER, as_json, plainly, print_answer, reading, warm_kernels

if TYPE_CHECKING:
    from tintop.car.treads import TreadReading
    from tintop.garage.bench import Bench


@click.command("treads")
@click.argument("folder", type=FILE)
@click.option(
    "--temps", multiple=True, help='One wheel, such as "FL 82 78 74"; four times. Without: the logbook.'
)
@click.option(
    "--order", type=click.Choice(["inner first", "outer first"]), default="inner first", show_default=True
)
@click.option("--hot", default="", help='Pressures hot, FL FR RL RR, such as "2.15 2.2 2.1 2.1 bar".')
@click.option("--cold", default="", help="Pressures cold, the same way.")
@click.option(
    "--says", multiple=True, help='The driver: "understeers mid, fine out", "loose on exit", "fine".'
)
@click.option("--laps", type=click.IntRange(0, 10_000), help="Hard laps before it was read.")
@click.option("--cool-down/--no-cool-down", default=None, help="Whether a cool-down lap came before.")
@click.option("--minutes", type=NUMBER, help="Minutes since the car came in.")
@click.option("--lap-before", default="", help="Best lap before the last change.")
@click.option("--lap-after", default="", help="Best lap since.")
@click.option("--last-change", default="", help='What was changed last, such as "the softer rear bar".')
@click.option("--setup", default="", help="Set-up by its file's name; without it the one on the car.")
@click.option(
    "--circuit", default="", help="Circuit by its file's name; without it the set-up's, or the first."
)
@as_json
@plainly
def command(
    folder: str,
    temps: tuple[str, ...],
    order: str,
    hot: str,
    cold: str,
    says: tuple[str, ...],
    laps: int | None,
    cool_down: bool | None,
    minutes: float | None,
    lap_before: str,
    lap_after: str,
    last_change: str,
    setup: str,
    circuit: str,
    is_json: bool,
) -> None:
    """What the treads of the car in FOLDER ask for: ONE change and a second best, or measure again.

    Exit code 0: found; 1: a tyre is losing air; 3: measure again; 2: bad input.
    """
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.garage.treads import ask_the_tyres, reading_from
    from tintop.reports.answer_content import exit_code
    from tintop.reports.treads_sheet import treads_content, treads_sheet

    bench = load_bench(folder)
    if temps:
        read = reading_from(
            _by_corner(temps),
            hot=hot,
            cold=cold,
            says=says,
            laps=laps,
            is_after_cool_down=cool_down,
            minutes_since_in=minutes,
            lap_before=lap_before,
            lap_after=lap_after,
            last_change=last_change,
            units=bench.settings.units,
            order=order,
        )
    else:
        read = _of_logbook(folder, bench, setup, says, cool_down)
    warm_kernels()
    found = ask_the_tyres(bench, read, setup, circuit)
    print_answer(
        treads_sheet(found, bench.settings.units),
        treads_content(found),
        assumed_by(bench, "treads", bench.setup(setup), found.answer),
        bench.settings.units,
        is_json=is_json,
    )
    sys.exit(exit_code(found.answer))


def _by_corner(temps: tuple[str, ...]) -> dict[str, str]:
    """The texts by the corner each begins with; BadInput for one that names none or one named twice."""
    from tintop.car.chassis import CORNERS
    from tintop.errors import refuse

    found: dict[str, str] = {}
    for text in temps:
        corner, _, rest = text.strip().partition(" ")
        corner = corner.upper().rstrip(":")
        if corner not in CORNERS or corner in found:
            raise refuse(
                "--temps", repr(text), 'a wheel and three temperatures, each wheel once: "FL 82 78 74"'
            )
        found[corner] = rest
    return found


def _of_logbook(
    folder: str, bench: "Bench", setup: str, says: tuple[str, ...], cool_down: bool | None
) -> "TreadReading":
    from dataclasses import replace

    from tintop.car.driver_words import said_from
    from tintop.garage.logged_treads import last_reading, taken_with

    with reading(folder) as garage:
        read, session = last_reading(garage.book, garage.today())
        other = taken_with(bench, bench.setup(setup), garage.book, session)
    click.echo(f"From the logbook: {session.run.name}, {session.day.isoformat()}.", err=True)
    return replace(read, said=said_from(says), is_after_cool_down=cool_down, taken_with=other)
