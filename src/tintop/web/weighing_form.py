"""The form of the weighing page: what stands in it, what is read from it, what is drawn of the answer."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.chassis import CORNERS, End
from tintop.car.on_scales import Lifted, OnScales, stated_total
from tintop.charts.four_corners import four_corners_svg
from tintop.errors import BadInput
from tintop.garage.bench import Bench
from tintop.garage.keeper import Garage
from tintop.garage.weighing import WeighingAsked, last_on_scales
from tintop.logbook.mass_ledger import CornerWeighing
from tintop.owner_units import in_owner_units, owner_unit
from tintop.questions.what_does_it_weigh import Weighed, quarter_turns
from tintop.web.bench_page import Asked, DrawnTwice, typed_as

LOADS = tuple(f"load_{corner}" for corner in CORNERS)
DRIVER = {"": None, "aboard": True, "not aboard": False}
PERCHES: Mapping[str, tuple[str, ...]] = {
    "all that turn": (),
    "FR and RL": ("FR", "RL"),
    "FL and RR": ("FL", "RR"),
    "front": ("FL", "FR"),
    "rear": ("RL", "RR"),
}
RAISED = {"": None, "rear": End.REAR, "front": End.FRONT}
SPRINGS, BARS = ("locked", "free"), ("unhooked", "hooked on")


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighingForm:
    """What was asked, read; `scales` and `wanted` are None where it could not be, or nothing was typed."""

    asked: Asked
    scales: OnScales | None
    wanted: WeighingAsked | None
    own: CornerWeighing | None  # the logbook's own loads, where nothing else was typed


def read_weighing(garage: Garage, bench: Bench | None, texts: Mapping[str, str]) -> WeighingForm:
    """Read the form; problems stand in `asked`."""
    units = garage.settings.units
    mass, length, volume = (owner_unit(each, units) for each in ("mass", "length", "volume"))
    last = last_on_scales(garage)
    asked = Asked(texts, _standing(last[0] if last else None, bench, mass, volume))
    if not any(asked.text(name) for name in LOADS):
        return WeighingForm(asked=asked, scales=None, wanted=None, own=None)
    driver = DRIVER[asked.choice("driver", tuple(DRIVER))]
    loads = [asked.needed(name, "mass", mass) for name in LOADS]
    fuel = asked.value("fuel", "volume", volume)
    pad = asked.needed("pad", "mass", mass)
    scales = None
    if not asked.problems:
        scales = _scales(asked, loads, driver, fuel, pad)
    wanted = _wanted(asked, bench, mass, length, volume)
    if scales is not None:
        total = asked.value("total", "mass", mass)
        if total is not None:
            asked.attempt(lambda: stated_total(scales, total), "total")
    is_own = last is not None and not asked.is_changed(*LOADS, "driver", "fuel")
    return WeighingForm(
        asked=asked, scales=scales, wanted=wanted, own=last[1] if last is not None and is_own else None
    )


def _standing(last: OnScales | None, bench: Bench | None, mass: str, volume: str) -> dict[str, str]:
    found = {
        **dict.fromkeys(LOADS, ""),
        "driver": "",
        "fuel": "",
        "pad": typed_as(1.0, "mass", mass, 1),
        "total": "",
        "target": "50.0",
        "perches": "all that turn",
        "bars": BARS[0],
        "setup": bench.fitted if bench else "",
        "raised": "",
        "down_left": "",
        "down_right": "",
        "lift": "",
        "springs": SPRINGS[0],
        "finish": "",
    }
    if last is not None:
        found |= {name: typed_as(load, "mass", mass, 1) for name, load in zip(LOADS, last.loads, strict=True)}
        found["driver"] = next(
            word for word, is_aboard in DRIVER.items() if is_aboard is last.is_driver_aboard
        )
        if last.fuel_volume is not None:
            found["fuel"] = typed_as(last.fuel_volume, "volume", volume, 1)
    return found


def _scales(
    asked: Asked, loads: list[float | None], driver: bool | None, fuel: float | None, pad: float | None
) -> OnScales | None:
    front_left, front_right, rear_left, rear_right = (load or 0.0 for load in loads)
    try:
        return OnScales(
            loads=(front_left, front_right, rear_left, rear_right),
            is_driver_aboard=driver,
            fuel_volume=fuel,
            pad_doubt=pad or 0.0,
        )
    except BadInput as error:
        where = {f"scale {corner}": name for corner, name in zip(CORNERS, LOADS, strict=True)}
        where |= {"doubt of one scale": "pad", "fuel aboard": "fuel"}
        asked.refuse(error, where.get(error.problems[0].where, ""))
        return None


def _wanted(asked: Asked, bench: Bench | None, mass: str, length: str, volume: str) -> WeighingAsked | None:
    target = asked.needed("target", "number", "")
    perches = asked.choice("perches", tuple(PERCHES))
    bars = asked.choice("bars", BARS)
    setup = asked.choice("setup", ("", *bench.setups)) if bench else ""
    finish = asked.value("finish", "volume", volume)
    lifted = _lifted(asked, mass, length)
    if asked.problems:
        return None
    return WeighingAsked(
        setup=setup,
        lifted=lifted,
        target=(target or 0.0) / 100.0,
        corners=PERCHES[perches],
        are_bars_hooked=bars == BARS[1],
        finish_fuel=finish or 0.0,
    )


def _lifted(asked: Asked, mass: str, length: str) -> Lifted | None:
    raised = RAISED[asked.choice("raised", tuple(RAISED))]
    if raised is None:
        return None
    left, right = (asked.needed(name, "mass", mass) for name in ("down_left", "down_right"))
    lift = asked.needed("lift", "length", length)
    springs = asked.choice("springs", SPRINGS)
    if left is None or right is None or lift is None:
        return None
    return asked.attempt(
        lambda: Lifted(raised=raised, down=(left, right), lift=lift, is_locked=springs == SPRINGS[0]), "lift"
    )


def drawn(found: Weighed, car: Car, units: Mapping[str, str]) -> DrawnTwice:
    """The car from above, wide and narrow, with load, share and turns at each wheel."""

    def kilograms(value: float) -> str:
        return in_owner_units(value, "mass", units)

    scales, turns = found.scales, found.turns
    corners = {}
    for place, corner in enumerate(CORNERS):
        load = scales.loads[place]
        rows = [kilograms(load), f"{100.0 * load / scales.total:.1f} %"]
        if turns is not None:
            rows.append(f"perch {quarter_turns(turns.turns[place])}")
            if not turns.is_still:
                rows.append(f"then {kilograms(turns.loads[place])}")
        corners[corner] = tuple(rows)
    shares = scales.corners
    middle = [kilograms(scales.total), f"cross {100.0 * shares.cross_share:.1f} %"]
    if turns is not None and not turns.is_still:
        middle.append(f"then {100.0 * turns.after:.1f} %")
    said = "; ".join(f"{corner} {', '.join(rows)}" for corner, rows in corners.items())

    def picture(is_narrow: bool, name: str) -> str:
        return four_corners_svg(
            corners,
            axles={
                End.FRONT: (f"front {100.0 * shares.front_share:.1f} %",),
                End.REAR: (f"rear {100.0 * (1.0 - shares.front_share):.1f} %",),
            },
            middle=middle,
            title="Corner loads from above",
            description=f"{found.answer.sentence} {said}.",
            car=car,
            is_narrow=is_narrow,
            name=name,
        )

    return DrawnTwice(wide=picture(False, "weigh-wide"), narrow=picture(True, "weigh-narrow"))
