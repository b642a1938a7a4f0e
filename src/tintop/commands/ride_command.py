"""`tintop ride`: dampers and ride of a set-up."""

import sys

import click

from tintop.commands.common import FILE, as_json, plainly, print_answer, write_picture


@click.command("ride")
@click.argument("folder", type=FILE)
@click.option("--setup", "name", default="", help="Set-up by its file's name; the one on the car without.")
@click.option("--road", default="", help='A road by name, such as "B road", or a class A to H of ISO 8608.')
@click.option("--speed", default="", help='Speed on that road, such as "80 km/h".')
@click.option("--drive", "is_driven", is_flag=True, help="Drive 30 s of that road in time as well.")
@click.option("--kerb", default="", help='Run the left wheels over a kerb of this height, such as "60 mm".')
@click.option("--kerb-speed", default="", help='Speed over the kerb, such as "90 km/h"; the road\'s without.')
@click.option("--picture", type=FILE, help="Draw the trade-off into this SVG file.")
@as_json
@plainly
def command(
    folder: str,
    name: str,
    road: str,
    speed: str,
    is_driven: bool,
    kerb: str,
    kerb_speed: str,
    picture: str | None,
    is_json: bool,
) -> None:
    """Which clicks for road, dry and wet: the dampers of FOLDER's car, a garage or a plain folder.

    Exit code 0: found; 3: not proven, a damper without a measured curve; 2: bad input.
    """
    from tintop.car.ride_in_time import SPEEDS, drive_over, kerb_strike
    from tintop.car.ride_quality import ROAD_FOR, road_named
    from tintop.errors import refuse
    from tintop.garage.assumed import assumed_by
    from tintop.garage.bench import load_bench
    from tintop.owner_units import require_between
    from tintop.physics.road_profile import Kerb
    from tintop.questions.which_clicks import which_clicks
    from tintop.reports.answer_content import exit_code
    from tintop.reports.ride_sheet import ride_content, ride_sheet
    from tintop.units import parse_quantity

    bench = load_bench(folder)
    car, chassis, setup = bench.described.car, bench.chassis, bench.setup(name)
    units = bench.settings.units

    def speed_typed(text: str, option: str) -> float:
        value = parse_quantity(text, "speed", option)
        require_between(value, *SPEEDS, option, "speed", units)
        return value

    where = road_named(road, speed_typed(speed, "--speed") if speed else None, ROAD_FOR[setup.purpose])
    struck = driven = None
    if kerb_speed and not kerb:
        raise refuse("--kerb-speed", f"{kerb_speed!r} without --kerb", "both", 'Such as --kerb "60 mm".')
    if kerb:
        over = speed_typed(kerb_speed, "--kerb-speed") if kerb_speed else where.speed
        struck = kerb_strike(car, chassis, setup, Kerb(height=parse_quantity(kerb, "length", "--kerb")), over)
    if is_driven:
        driven = drive_over(car, chassis, setup, where.road_class, where.speed)
    found = which_clicks(
        car, chassis, setup, road=where, known=bench.chassis_known, drive=driven, kerb=struck
    )
    if picture:
        from tintop.charts.trade_off import trade_off_svg

        write_picture(picture, trade_off_svg(found))
    print_answer(
        ride_sheet(found),
        ride_content(found),
        assumed_by(bench, "ride", setup, found.answer),
        bench.settings.units,
        is_json=is_json,
    )
    sys.exit(exit_code(found.answer))
