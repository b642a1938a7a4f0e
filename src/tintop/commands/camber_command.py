"""`tintop camber`: how the wheels stand, what the strut top does, which camber is worth setting."""

import sys

import click

from tintop.commands.common import FILE, as_json, logbook_in, plainly, print_answer, warm_kernels


@click.command("camber")
@click.argument("folder", type=FILE)
@click.option("--setup", default="", help="Set-up by its file's name; without it the one on the car.")
@click.option(
    "--circuit", default="", help="Circuit by its file's name; without it the set-up's, or the first."
)
@click.option("--end", type=click.Choice(["front", "rear"]), default="front", show_default=True)
@click.option("--top-inward", default="0 mm", show_default=True, help='Strut tops moved in, such as "5 mm".')
@click.option("--road", default="", help='Road driven on these tyres, there and back, such as "180 km".')
@click.option("--wear-limit", default="", help='Most the drive may take off an inner edge, such as "0.4 mm".')
@as_json
@plainly
def command(
    folder: str,
    setup: str,
    circuit: str,
    end: str,
    top_inward: str,
    road: str,
    wear_limit: str,
    is_json: bool,
) -> None:
    """Camber, toe and strut of the car in FOLDER, a garage or a folder with car.toml and chassis.toml.

    Exit code 0: found; 1: no camber keeps the tread; 3: not proven; 2: bad input.
    """
    from tintop.car.chassis import End
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.garage.camber import ask_which_camber
    from tintop.owner_units import require_between
    from tintop.questions.which_camber import ROADS
    from tintop.reports.answer_content import exit_code
    from tintop.reports.camber_sheet import camber_content, camber_sheet
    from tintop.units import parse_quantity

    bench = load_bench(folder)
    inward = parse_quantity(top_inward, "length", "--top-inward")
    distance = parse_quantity(road, "length", "--road") if road else None
    if distance is not None:
        require_between(distance, *ROADS, "--road", "distance", bench.settings.units)
    limit = parse_quantity(wear_limit, "length", "--wear-limit") if wear_limit else None
    warm_kernels()
    book, day = logbook_in(folder)
    found = ask_which_camber(
        bench, setup, circuit, End(end), top_inward=inward, road_distance=distance, limit=limit,
        book=book, day=day,
    )  # fmt: skip
    print_answer(
        camber_sheet(found),
        camber_content(found),
        assumed_by(bench, "camber", bench.setup(setup), found.answer),
        bench.settings.units,
        is_json=is_json,
    )
    sys.exit(exit_code(found.answer))
