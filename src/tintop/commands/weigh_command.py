"""`tintop weigh`: four scales to shares, cross-weight, centre of gravity, perch turns and ballast."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tintop.commands.common import FILE, NUMBER, as_json, plainly, print_answer, reading

if TYPE_CHECKING:
    from tintop.car.on_scales import Lifted, OnScales


@click.command("weigh")
@click.argument("folder", type=FILE)
@click.option("--loads", help='Four loads FL FR RL RR, such as "312 298 251 239"; else the last readings.')
@click.option("--with-driver/--without-driver", "is_driver_aboard", default=None, help="Who sat in it.")
@click.option("--fuel", help='Fuel aboard, such as "20 L"; a bare number is litres.')
@click.option("--total", help="The total read beside the four, to be held against their sum.")
@click.option("--scale-error", help='Standard error of one scale, such as "0.5 kg"; 1 kg if not said.')
@click.option("--raised", help='Both scales of the axle that stayed down, the other raised: "330 321".')
@click.option("--lift", help='How far the raised hubs rose, such as "400 mm".')
@click.option("--raised-end", type=click.Choice(["rear", "front"]), default="rear", help="Which was raised.")
@click.option("--free-springs", is_flag=True, help="The suspension was not locked for the raised weighing.")
@click.option("--target-cross", type=NUMBER, default=50.0, help="Cross-weight wanted, per cent.")
@click.option("--corners", default="", help="Only these perches, such as FR,RL.")
@click.option("--bars-hooked", is_flag=True, help="Work out the turns with the anti-roll bars hooked on.")
@click.option("--finish-fuel", help='Fuel left at the finish, such as "4 L", or 4; none if not said.')
@click.option("--setup", default="", help="The set-up on the car; else the one that is fitted.")
@as_json
@plainly
def command(
    folder: str,
    loads: str | None,
    is_driver_aboard: bool | None,
    fuel: str | None,
    total: str | None,
    scale_error: str | None,
    raised: str | None,
    lift: str | None,
    raised_end: str,
    free_springs: bool,
    target_cross: float,
    corners: str,
    bars_hooked: bool,
    finish_fuel: str | None,
    setup: str,
    is_json: bool,
) -> None:
    """Weigh the car of FOLDER, a garage or a folder with car.toml, by four scales.

    Nothing is written: the page of the bench saves readings.

    Exit code 1: under the least mass at the finish; 3: a question stands open; 0: worked out; 2: bad input.
    """
    from tintop.car.on_scales import stated_total
    from tintop.garage.assumed import assumed_in
    from tintop.garage.weighing import WeighingAsked, last_on_scales, weighed_at, weighed_in
    from tintop.owner_units import with_unit
    from tintop.reports.answer_content import exit_code
    from tintop.reports.weigh_sheet import weigh_content, weigh_sheet
    from tintop.units import parse_quantity

    asked = WeighingAsked(
        setup=setup,
        lifted=_lifted(raised, lift, raised_end, free_springs),
        target=target_cross / 100.0,
        corners=tuple(name.strip().upper() for name in corners.split(",") if name.strip()),
        are_bars_hooked=bars_hooked,
        finish_fuel=parse_quantity(with_unit(finish_fuel or "0", "L"), "volume", "--finish-fuel"),
    )

    def scales_of(last: "OnScales | None") -> "OnScales":
        scales = _scales(loads, is_driver_aboard, fuel, scale_error, last)
        if total:
            stated_total(scales, parse_quantity(with_unit(total, "kg"), "mass", "--total"))
        return scales

    if (Path(folder) / "garage.sqlite").exists():
        with reading(folder) as garage:
            last, own = (None, None) if loads else last_on_scales(garage) or (None, None)
            found = weighed_in(garage, scales_of(last), asked, own)
    else:
        found = weighed_at(Path(folder), scales_of(None), asked)
    print_answer(
        weigh_sheet(found),
        weigh_content(found),
        assumed_in(folder, "weigh", setup, found.answer),
        {},
        is_json=is_json,
    )
    sys.exit(exit_code(found.answer))


def _scales(
    loads: str | None,
    is_driver_aboard: bool | None,
    fuel: str | None,
    scale_error: str | None,
    last: "OnScales | None",
) -> "OnScales":
    """What was typed, or the last four loads of the logbook with what is known of how the car stood."""
    from tintop.car.on_scales import OnScales
    from tintop.errors import refuse
    from tintop.handwriting import read_corners
    from tintop.handwriting.meaning import Ask
    from tintop.owner_units import with_unit
    from tintop.units import parse_quantity

    volume = parse_quantity(with_unit(fuel, "L"), "volume", "--fuel") if fuel else None
    pad = parse_quantity(with_unit(scale_error, "kg"), "mass", "--scale-error") if scale_error else 1.0
    if loads is None:
        if last is None:
            raise refuse("--loads", "nothing, and no corner loads in the logbook", "four loads FL FR RL RR")
        if is_driver_aboard is None:
            is_driver_aboard = last.is_driver_aboard
        volume = last.fuel_volume if volume is None else volume
        four = last.loads
    else:
        row = read_corners(loads, "corner mass", usual_unit="kg")
        if isinstance(row, Ask):
            raise refuse("--loads", repr(loads), row.question)
        front_left, front_right, rear_left, rear_right = (each.value for each in row.values)
        four = (front_left, front_right, rear_left, rear_right)
    return OnScales(loads=four, is_driver_aboard=is_driver_aboard, fuel_volume=volume, pad_doubt=pad)


def _lifted(raised: str | None, lift: str | None, raised_end: str, is_free: bool) -> "Lifted | None":
    from tintop.car.chassis import End
    from tintop.car.on_scales import Lifted
    from tintop.errors import refuse
    from tintop.units import parse_quantity

    if raised is None and lift is None:
        return None
    if raised is None or lift is None:
        raise refuse(
            "--raised and --lift",
            "only one of them",
            'both, such as --raised "330 321" --lift "400 mm"',
        )
    parts = raised.replace(",", ".").split()
    unit = parts.pop() if len(parts) == 3 and not parts[2][:1].isdigit() else "kg"
    if len(parts) != 2:
        raise refuse(
            "--raised", repr(raised), 'the two scales of the axle that stayed down, such as "330 321"'
        )
    left, right = (parse_quantity(f"{part} {unit}", "mass", "--raised") for part in parts)
    return Lifted(
        raised=End(raised_end),
        down=(left, right),
        lift=parse_quantity(lift, "length", "--lift"),
        is_locked=not is_free,
    )
