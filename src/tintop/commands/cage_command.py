"""`tintop cage`: a cage under proof loads."""

import sys
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, print_sheet, write_picture

if TYPE_CHECKING:
    from tintop.car.cage import CageLoad
    from tintop.store.documents.cage_reader import DescribedCage


@click.command("cage")
@click.argument("frame", type=FILE)
@click.option("--load", "loads", multiple=True, help="Only the load of this name; may be given again.")
@click.option(
    "--lateral",
    help='The lateral load of your regulations: "FORCE DIRECTION; NODE, NODE; PERMITTED; SOURCE", such as '
    '"30 kN left; hoop shoulder right; 50 mm; yearbook 2026, 8.2".',
)
@click.option("--picture", type=FILE, help="Draw the hardest load, or the one named, into this SVG file.")
@as_json
@plainly
def command(
    frame: str, loads: tuple[str, ...], lateral: str | None, picture: str | None, is_json: bool
) -> None:
    """Hold the cage of FRAME, a cage document, against its proof loads.

    A calculation on your own drawing is no homologation, no certificate and no substitute for an approved
    fabricator.

    Exit code 1: no, the cage does not hold a load; 3: not proven; 0: calculated, or close; 2: bad input.
    """
    from tintop.questions.will_the_cage_hold import will_the_cage_hold
    from tintop.reports.answer_content import exit_code
    from tintop.reports.cage_sheet import cage_content, cage_sheet, hardest
    from tintop.store.documents.cage_reader import read_cage

    described = _with_lateral(read_cage(frame), lateral)
    found = will_the_cage_hold(described.cage, _chosen(described, loads))
    if picture:
        from tintop.charts.cage_drawing import cage_load_svg

        write_picture(picture, cage_load_svg(found.cage, hardest(found)))
    if is_json:
        print_json(cage_content(found))
    else:
        print_sheet(cage_sheet(found))
    sys.exit(exit_code(found.answer))


def _chosen(described: "DescribedCage", names: tuple[str, ...]) -> "tuple[CageLoad, ...]":
    """The loads of these names, all without; BadInput for a name there is not."""
    from tintop.errors import BadInput, Problem, did_you_mean

    known = [load.name for load in described.loads]
    wrong = [name for name in names if name not in known]
    if wrong:
        raise BadInput(
            *(
                Problem(
                    where="--load",
                    found=repr(name),
                    expected="one of: " + "; ".join(known),
                    cure=did_you_mean(name, known),
                )
                for name in wrong
            )
        )
    return tuple(load for load in described.loads if not names or load.name in names)


def _with_lateral(described: "DescribedCage", lateral: str | None) -> "DescribedCage":
    if lateral is None:
        return described
    from dataclasses import replace

    from tintop.store.documents.writing_cages import load_from_line

    return replace(described, loads=(*described.loads, load_from_line(lateral, described.cage)))
