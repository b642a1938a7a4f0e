"""The command line; each command lives in its own file of `commands` and is loaded only when called."""

import importlib
import os

import click

from tintop import __version__

# The cage's small matrices gain nothing from threads; threads that wait keep the other core from its work.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

COMMANDS = {
    "new": "A garage of your own, empty: its settings and a car to describe.",
    "serve": "The page of a garage: the five answers for the next event, on laptop and phones.",
    "inspect": "Is the car legal: every clause of the rule books, with its proof, for the days of an event?",
    "ready": "Is the car of a garage ready for its next event: what is worn, out of life or left undone?",
    "costs": "What running the car of a garage has cost, and is still to cost.",
    "books": "Rule books: list them, show, copy to edit, what changed, whether one reads.",
    "backup": "A verified copy of a garage's logbook and documents, now.",
    "papers": "The event card and the build book as PDF, with prices and without.",
    "restore": "Back to a backup; what stands now is set aside.",
    "export": "A garage as a folder of readable text, or its logbook as a spreadsheet.",
    "import": "A new garage from a folder that export wrote.",
    "lap": "Predict a lap: its time, and what limits it metre by metre.",
    "race": "Predict a race: do fuel, brakes, tyres and cooling last, and how surely?",
    "weigh": "Four scales: shares, cross-weight, centre of gravity, perch turns, ballast.",
    "setup": "Set-ups: shown, compared job by job, printed as sheets, and the best for a circuit.",
    "pressures": "Cold pressures for today, what to bleed to and when, and which tyre loses air.",
    "brakes": "Which axle locks first, dry and wet, turns to make, pads through the race.",
    "cage": "A cage under proof loads: what each tube carries, and what is not proven.",
    "ride": "Dampers and ride: which clicks for road, dry circuit and wet, comfort, a kerb.",
    "treads": "Read tread temperatures, pressures and the driver's words into one change.",
    "camber": "How the wheels stand: camber, toe, strut top, and which camber is worth setting.",
    "sensitivity": "What each number of the car is worth on the lap.",
    "envelope": "What the car can do at each speed: cornering, accelerating, braking.",
    "springs": "Springs and bars of a set-up: rates, roll, load moved, balance, and the next step.",
    "gearing": "Final drives and tyres ranked by the lap at the circuits of the season.",
    "circuit": "Read a circuit and say what was found: length, corners, what smoothing did.",
    "check": "Rerun the published cases and compare.",
    "schema": "Every field of the documents: unit, default, source.",
    "demo": "An invented car, season and circuit: the five answers, and the page on the next event.",
}


class _LazyCommands(click.Group):
    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"tintop.commands.{cmd_name}_command")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=_LazyCommands)
@click.version_option(__version__, prog_name="tintop")
def main() -> None:
    """Is the car legal, ready, quick, lasting and affordable, for its next event?"""
