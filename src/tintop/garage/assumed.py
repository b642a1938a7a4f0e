"""What an answer of the bench stands on and nobody measured or looked up."""

from collections.abc import Collection, Mapping
from dataclasses import replace
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

from tintop.answer import Answer, Assumption
from tintop.car.chassis import Chassis, End
from tintop.car.measuring import words_of_path
from tintop.car.setup import Setup
from tintop.garage.bench import Bench, load_bench
from tintop.garage.keeper import CHASSIS, Garage
from tintop.garage.loading import load_car
from tintop.garage.predictions import CAR
from tintop.garage.written_numbers import written_number
from tintop.known import Known, Origin
from tintop.reports.sheet import Sheet, Table

TITLE = "What was assumed: class defaults, nobody measured them"
_BODY = ("masses.*", "dimensions.*", "*.motion_ratio", "*.tyre_rate")
_SIDE_GRIP = ("friction_lateral", "load_sensitivity", "reference_load", "camber_best", "camber_loss")
_LAP = (
    *("masses.*", "dimensions.*", "suspension.roll_centre_*", "suspension.camber_*", "aero.*"),
    *("engine.*", "gearbox.*", "tyre_*.friction_*", "tyre_*.load_sensitivity", "tyre_*.reference_load"),
    *("tyre_*.camber_*", "tyre_*.radius", "tyre_*.rolling_resistance", "tyre_*.slide_slip"),
)
_SETUP = (
    *("*.motion_ratio", "*.damper_motion_ratio", "*.tyre_rate", "*.tyre_damping", "*.bump_travel"),
    *("*.springs.*.rate", "*.bars.*.roll_stiffness", "*.dampers.*", "*_inertia", "*.pressure_loss"),
    *("*.tyre_air_rise_*", "tyre_*.pressure_hot", "*.wheel_path", "*.measured.*"),
)
_USED: Mapping[str, tuple[str, ...]] = {
    "springs": (
        *_BODY,
        *("*_inertia", "suspension.roll_centre_*", "*.bump_travel", "*.droop_travel", "*.spring_preload"),
        *("*.springs.*.rate", "*.bars.*.roll_stiffness", "*.pressure_loss", "*.tyre_air_rise_*"),
        *(f"tyre_*.{name}" for name in _SIDE_GRIP),
    ),
    "ride": (
        *_BODY,
        *("*_inertia", "*.damper_motion_ratio", "*.tyre_damping", "*.bump_travel", "*.bump_stop_rate"),
        *("*.springs.*.rate", "*.bars.*.roll_stiffness", "*.dampers.*", "tyre_*.load_sensitivity"),
    ),
    "camber": (
        *("masses.*", "dimensions.*", "suspension.*", "*.wheel_path", "*.measured.*", "*.strut.*"),
        *("*.rim_diameter", *(f"tyre_*.{name}" for name in _SIDE_GRIP)),
    ),
    "treads": ("tyre_*.pressure_hot", "tyre_*.temp_*", "tyre_*.camber_*", "*.rim_diameter", "*.wheel_path"),
    "pressures": ("tyre_*.pressure_hot", "*.tyre_air_rise_*", "*.pressure_loss", "tyre_*.carcass_*"),
    "weigh": ("masses.*", "*.motion_ratio", "*.tyre_rate", "*.springs.*.rate", "tyre_*.radius"),
    "gearing": (
        *("masses.*", "engine.*", "gearbox.*", "aero.*", "tyre_*.radius", "tyre_*.rolling_resistance"),
        *("tyre_*.friction_*", "tyre_*.load_sensitivity"),
    ),
    "setups": (*_LAP, *_SETUP),
    "search": (*_LAP, *_SETUP),
}
SUBJECTS = tuple(_USED)


def assumed_by(bench: Bench, subject: str, setup: Setup, answer: Answer | None) -> tuple[Assumption, ...]:
    """What was assumed behind an answer for a set-up; as `assumed_of`."""
    known = {**bench.described.known, **bench.chassis_known}
    return assumed_of(known, bench.chassis, subject, setup, answer)


def assumed_in(folder: str, subject: str, setup: str, answer: Answer | None) -> tuple[Assumption, ...]:
    """What was assumed behind an answer in a folder that may lack chassis.toml or a set-up."""
    path = Path(folder)
    is_garage = (path / "garage.sqlite").exists()
    if (path / CHASSIS).exists():
        bench = load_bench(path)
        known = {**bench.described.known, **bench.chassis_known}
        on_it = bench.setup(setup) if setup or bench.fitted else None
        return assumed_of(known, bench.chassis, subject, on_it, answer)
    if not is_garage:
        return assumed_of(load_car(path / CAR).known, None, subject, None, answer)
    garage = Garage.open(path, writing=False)
    try:
        return assumed_of(garage.car().known, None, subject, None, answer)
    finally:
        garage.close()


def assumed_of(
    numbers: Mapping[str, Known],
    chassis: Chassis | None,
    subject: str,
    setup: Setup | None,
    answer: Answer | None,
) -> tuple[Assumption, ...]:
    """Every class default behind an answer: those whose worth it told first, the rest by name.

    Of tyres, springs, bars and dampers those of the set-up alone; a subject without a list has none.
    """
    told = tuple(sorted(answer.assumptions if answer else (), key=lambda one: -one.effect))
    used = _USED.get(subject, ())
    found = []
    for path, known in numbers.items():
        if known.origin is not Origin.ASSUMED:
            continue
        plain = _as_fitted(path, chassis, setup) if chassis else path
        if plain and any(fnmatchcase(plain, pattern) for pattern in used):
            found.append(
                Assumption(
                    path=plain,
                    value=known.value,
                    uncertainty=known.uncertainty,
                    effect=0.0,
                    effect_unit="",
                    source=known.source,
                )
            )
    there = {one.path for one in told}
    return *told, *sorted((one for one in found if one.path not in there), key=lambda one: one.path)


def assumed_table(assumptions: Collection[Assumption], units: Mapping[str, str]) -> Table:
    """The assumed numbers in words and the owner's units; front and rear in one row where they agree."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for one in assumptions:
        end = next((end.value for end in End if end.value in one.path), "")
        name = words_of_path(one.path.replace(f"_{end}", "_END") if end else one.path)
        value, doubt = written_number(one.path, one.value, one.uncertainty, units)
        worth = f"±{one.effect:.2g} {one.effect_unit}" if one.effect else ""
        general = name.replace(end, "END") if end else name
        rows.setdefault((general, value, doubt, worth, one.source), []).append(end)
    return Table(
        title=TITLE,
        columns=("what", "taken as", "doubt", "worth", "from"),
        rows=[
            (general.replace("END", " and ".join(ends)), *cells) for (general, *cells), ends in rows.items()
        ],
    )


def with_assumed(sheet: Sheet, assumptions: Collection[Assumption], units: Mapping[str, str]) -> Sheet:
    """The sheet with what was assumed as its last table."""
    if not assumptions:
        return sheet
    return replace(sheet, tables=(*sheet.tables, assumed_table(assumptions, units)))


def assumed_content(assumptions: Collection[Assumption]) -> dict[str, Any]:
    """What was assumed as plain values, SI, under the name `assumed`."""
    return {
        "assumed": [
            {"path": one.path, "value": one.value, "uncertainty": one.uncertainty, "source": one.source}
            for one in assumptions
        ]
    }


def _as_fitted(path: str, chassis: Chassis, setup: Setup | None) -> str:
    """The path as the set-up has the part on the car; empty for a part that is not on it."""
    steps = path.split(".")
    if setup is None:
        return "" if steps[0] == "tyre_sets" or steps[1:2] in (["springs"], ["bars"], ["dampers"]) else path
    if steps[0] == "tyre_sets":
        names = [one.name for one in chassis.tyre_sets]
        return f"tyre_{steps[2]}.{steps[3]}" if names[int(steps[1]) - 1] == setup.tyres else ""
    if steps[0].startswith("tyre_") or steps[0] == "pad_sets":
        return ""  # the set-up's own sets are named in the chassis
    if len(steps) > 2 and steps[1] in ("springs", "bars", "dampers"):
        end = End(steps[0])
        chosen, axle = setup.at(end), chassis.at(end)
        fitted = {"springs": chosen.spring, "bars": chosen.bar, "dampers": chosen.damper}[steps[1]]
        return path if getattr(axle, steps[1])[int(steps[2]) - 1].name == fitted else ""
    return path
