"""`tintop setup suggest`: the few changes that matter on a circuit, from what can be adjusted."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tintop.commands.common import (
    FILE,
    as_json,
    logbook_in,
    plainly,
    print_json,
    print_sheet,
    progress,
    warm_kernels,
)
from tintop.errors import refuse

if TYPE_CHECKING:
    from tintop.garage.bench import Bench
    from tintop.questions.best_setup import BestSetup, Legality

_EXIT = {"found": 0, "yes": 0, "close": 0, "no": 1, "not proven": 3}


@click.command("suggest")
@click.argument("folder", type=FILE)
@click.option(
    "--circuit", "circuits", multiple=True, required=True, help="Circuit; may be given several times."
)
@click.option("--setup", default="", help="Set-up to start from; else the one on the car.")
@click.option("--adjust", multiple=True, help='Adjuster to try, such as "front camber"; else all there are.')
@click.option("--balance", default="", help='Limit balance accepted, such as "1 % to 8 %" understeer.')
@click.option("--save", "name", default="", help="Write the suggestion as a set-up of this name.")
@as_json
@plainly
def command(
    folder: str,
    circuits: tuple[str, ...],
    setup: str,
    adjust: tuple[str, ...],
    balance: str,
    name: str,
    is_json: bool,
) -> None:
    """Search for the best set-up for a circuit of FOLDER (a garage, or a folder with car and chassis).

    The gain is confirmed by whole laps. Exit code 1: nothing is worth turning; 3: it is not proven.
    """
    from tintop.garage.assumed import assumed_by, assumed_content, with_assumed
    from tintop.garage.bench import load_bench
    from tintop.garage.setups_search import ask_best_setup, balance_typed
    from tintop.garage.suggested_setup import check_free, save_in_folder
    from tintop.reports.suggest_sheet import suggest_content, suggest_sheet

    if name and len(circuits) > 1:
        raise refuse("--save", f"{len(circuits)} circuits", "one circuit, for one set-up is written")
    if name:
        check_free(Path(folder), name)
    window = balance_typed(balance, "--balance")
    bench = load_bench(folder)
    book, day = logbook_in(folder)
    warm_kernels()
    found: list[BestSetup] = []
    for circuit in circuits:
        legality = _legality(folder, bench, setup, circuit)
        with progress(f"Set-up for {circuit}") as tell:
            found.append(
                ask_best_setup(
                    bench,
                    setup,
                    circuit,
                    adjust=adjust,
                    balance=window,
                    legality=legality,
                    book=book,
                    day=day,
                    progress=tell,
                )
            )
    if name and found[0].has_changes:
        document = save_in_folder(Path(folder), bench.settings.units, found[0], name, circuits[0])
        click.echo(f"Written: {document}", err=True)
    elif name:
        click.echo("Nothing is worth turning: no set-up was written.", err=True)
    assumed = assumed_by(bench, "search", bench.setup(setup), None)
    if is_json:
        print_json(suggest_content(found) | assumed_content(assumed))
    else:
        print_sheet(with_assumed(suggest_sheet(found, bench.settings.units), assumed, bench.settings.units))
    worst = max(_EXIT[one.answer.verdict.value] for one in found)
    if worst:
        raise SystemExit(worst)


def _legality(folder: str, bench: "Bench", setup: str, circuit: str) -> "Legality":
    from tintop.commands.common import reading
    from tintop.garage.setup_limits import legality_at
    from tintop.questions.best_setup import NOT_CHECKED

    if not (Path(folder) / "garage.sqlite").exists():
        return NOT_CHECKED
    with reading(folder) as garage:
        return legality_at(garage, bench, setup, circuit)
