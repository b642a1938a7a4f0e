"""`tintop setup`: the set-ups of a car, the way from one to another, their sheets, the best for a circuit."""

import importlib
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tintop.commands.common import (
    FILE,
    as_json,
    plainly,
    print_answer,
    print_json,
    print_sheet,
    progress,
    reading,
    warm_kernels,
)

if TYPE_CHECKING:
    from tintop.garage.keeper import Garage

SUGGEST = "suggest"
NO_CIRCUIT = "none"


def _garage_of(folder: str) -> AbstractContextManager["Garage | None"]:
    """The garage of a folder open for reading; None where it is a plain folder."""
    return reading(folder) if (Path(folder) / "garage.sqlite").exists() else nullcontext()


class _Group(click.Group):
    """The group; the search lives in a file of its own and is loaded only when called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return [*super().list_commands(ctx), SUGGEST]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name == SUGGEST:
            found: click.Command = importlib.import_module("tintop.commands.setup_suggest").command
            return found
        return super().get_command(ctx, cmd_name)


@click.group("setup", cls=_Group)
def command() -> None:
    """The set-ups of a car: shown, compared, printed, searched for.

    FOLDER is a garage, or a plain folder with car.toml, chassis.toml and setups.
    """


@command.command("show")
@click.argument("folder", type=FILE)
@click.argument("name", default="")
@as_json
@plainly
def show(folder: str, name: str, is_json: bool) -> None:
    """List the set-ups of FOLDER, or show the one called NAME."""
    from tintop.garage.bench import load_bench
    from tintop.garage.car_setup import front_share_of
    from tintop.garage.setup_limits import not_legal_of
    from tintop.reports.setup_sheet import setup_content, setup_sheet, setups_sheet

    bench = load_bench(folder)
    if name:
        setup, is_fitted = bench.setup(name), name == bench.fitted if bench.fitted else None
        with _garage_of(folder) as garage:
            not_legal = not_legal_of(garage, bench, name) if garage else ""
        if is_json:
            print_json({**setup_content(name, setup, is_fitted=is_fitted), "not_legal": not_legal})
        else:
            print_sheet(
                setup_sheet(
                    setup,
                    bench.chassis,
                    bench.settings.units,
                    is_fitted=is_fitted,
                    not_legal=not_legal,
                    front_share=front_share_of(bench, setup),
                )
            )
        return
    unreadable = {stem: str(error) for stem, error in bench.unreadable.items()}
    if unreadable and not bench.setups:
        bench.setup()
    notes = [note for stem in bench.setups for note in bench.notes_on(stem)]
    if is_json:
        listed = [
            setup_content(stem, one, is_fitted=stem == bench.fitted) for stem, one in bench.setups.items()
        ]
        print_json({"on_the_car": bench.fitted, "set_ups": listed, "unreadable": unreadable, "notes": notes})
    else:
        print_sheet(setups_sheet(bench.setups, bench.fitted, unreadable, notes))


@command.command("compare")
@click.argument("folder", type=FILE)
@click.argument("first", metavar="FROM")
@click.argument("second", metavar="TO")
@click.option("--circuit", default="", help="Drive both round it; a garage's is the next event's, or none.")
@as_json
@plainly
def compare(folder: str, first: str, second: str, circuit: str, is_json: bool) -> None:
    """Give the ordered jobs from set-up FROM to set-up TO of FOLDER, what differs, and what it does."""
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.garage.setup_limits import next_circuit
    from tintop.garage.setups import compare_setups
    from tintop.reports.setup_sheet import changeover_content, changeover_sheet

    bench = load_bench(folder)
    with _garage_of(folder) as garage:
        if garage and not circuit:
            circuit = next_circuit(garage, bench)
        circuit = "" if circuit == NO_CIRCUIT else circuit
        if circuit:
            warm_kernels()
        with progress("Both set-ups round the circuit") as tell:
            found = compare_setups(bench, first, second, circuit, tell if circuit else None, garage=garage)
    units = bench.settings.units
    print_answer(
        changeover_sheet(found, bench.chassis, units),
        changeover_content(found, bench.chassis, units),
        assumed_by(bench, "setups", bench.setup(second), found.answer) if circuit else (),
        units,
        is_json=is_json,
    )


@command.command("sheet")
@click.argument("folder", type=FILE)
@click.argument("name", default="")
@click.option("--out", "out", type=FILE, default=".", help="Folder the papers are written into.")
@click.option("--from", "before", default="", help="Mark what is changed from this set-up.")
@as_json
@plainly
def sheet(folder: str, name: str, out: str, before: str, is_json: bool) -> None:
    """Write the set-up sheet of NAME (else the one on the car) and its run sheet as PDF, one page each."""
    from datetime import datetime

    from tintop.garage.bench import load_bench
    from tintop.garage.setup_limits import not_legal_of
    from tintop.garage.setup_papers import run_sheet_pdf, setup_sheet_pdf
    from tintop.store.durable import disk_in_plain_words, write_whole

    bench = load_bench(folder)
    stem, today = name or bench.fitted, datetime.now().astimezone().date()
    with _garage_of(folder) as garage:
        not_legal = not_legal_of(garage, bench, stem) if garage else ""
    contents = {
        f"set-up-{stem}.pdf": setup_sheet_pdf(bench, stem, before, day=today, not_legal=not_legal),
        f"run-sheet-{stem}.pdf": run_sheet_pdf(bench, stem, day=today),
    }
    target = Path(out)
    with disk_in_plain_words(target):
        for file, content in contents.items():
            write_whole(target / file, content)
    if is_json:
        print_json({"written": [str(target / file) for file in contents]})
        return
    for file in contents:
        click.echo(f"Wrote {target / file} ({(target / file).stat().st_size / 1e3:.0f} kB).")
