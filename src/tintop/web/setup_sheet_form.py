"""A set-up's sheet as it is typed back: every value read as it is written, doubts asked, nothing lost."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from tintop.car.chassis import CORNERS, BiasDevice, Chassis, End
from tintop.car.setup import AxleSetup, CornerSetup, Purpose, Setup
from tintop.car.setup_check import setup_problems
from tintop.errors import BadInput, TintopError
from tintop.handwriting import Understood
from tintop.handwriting.counted import SOFT
from tintop.handwriting.notes import number_text
from tintop.physics.toe import toe_angle
from tintop.store.documents.writing_setups import toe_text
from tintop.units import unit_named
from tintop.web.sheet_values import sheet_kind
from tintop.web.typed_form import TypedForm
from tintop.web.typed_values import value_typed

CORNER_FIELDS = {
    "camber": ("Camber", "camber"),
    "toe": ("Toe, each wheel's own", "toe"),
    "ride_height": ("Ride height", "ride height"),
    "bump": ("Bump clicks", "clicks"),
    "rebound": ("Rebound clicks", "clicks"),
    "pressure_cold": ("Cold pressure", "tyre pressure cold"),
}
PARTS = {"spring": "Springs", "bar": "Anti-roll bar", "bar_hole": "Hole", "damper": "Dampers"}
FRONT, REAR = "to the front", "to the rear"
_FIELD_OF = {"springs": "spring", "bar": "bar", "hole": "bar_hole", "dampers": "damper"}
_LONGEST_NAME = 60


def typed_setup(setup: Setup, chassis: Chassis, units: Mapping[str, str]) -> dict[str, str]:
    """A set-up as it would be typed, by field."""
    typed = {
        "name": setup.name,
        "purpose": setup.purpose.value,
        "circuit": setup.circuit,
        "note": setup.note,
        "tyres": setup.tyres,
        "pads": setup.pads,
        "final_drive": f"{setup.final_drive:g}",
        "bias_turns": number_text(abs(setup.brake_bias_turns)),
        "bias_way": REAR if setup.brake_bias_turns < 0.0 else FRONT,
        "fuel": _in_unit(setup.fuel_volume, "volume", units.get("volume", "L")),
        "ballast": _in_unit(setup.ballast, "mass", units.get("mass", "kg")) if setup.ballast else "",
        "ballast_place": setup.ballast_place,
    }
    for end in End:
        chosen = setup.at(end)
        typed |= {
            f"spring_{end.value}": chosen.spring,
            f"bar_{end.value}": chosen.bar,
            f"bar_hole_{end.value}": str(chosen.bar_hole),
            f"damper_{end.value}": chosen.damper,
        }
    for corner in CORNERS:
        one = setup.corner(corner)
        rim = chassis.at(_end(corner)).rim_diameter
        typed |= {
            f"camber_{corner}": _in_unit(one.camber, "angle", "deg"),
            f"toe_{corner}": toe_text(one.toe, rim).replace(" per wheel", " each"),
            f"ride_height_{corner}": _in_unit(one.ride_height, "length", units.get("length", "mm")),
            f"bump_{corner}": f"{one.bump} {SOFT}",
            f"rebound_{corner}": f"{one.rebound} {SOFT}",
            f"pressure_cold_{corner}": _in_unit(one.pressure_cold, "pressure", units.get("pressure", "bar")),
        }
    return typed


def read_setup_sheet(
    form: TypedForm, standing: Setup, chassis: Chassis, units: Mapping[str, str], circuits: tuple[str, ...]
) -> Setup | None:
    """The set-up as typed over the one that stands; None while something is asked or wrong.

    A field left as it stood keeps its value to the last digit.
    """
    stood = typed_setup(standing, chassis, units)
    one_knob = {end: _has_one_knob(form, chassis, end) for end in End}
    kinds = corner_kinds(standing, chassis, {end: form.text(f"damper_{end.value}") for end in End})
    _right_as_left(form)
    corners = [_corner(form, corner, standing, stood, chassis, one_knob, kinds) for corner in CORNERS]
    ends = {end: _axle(form, chassis, end) for end in End}
    name = form.words("name", needed=True)
    if len(name) > _LONGEST_NAME:
        form.refuse("name", f"Found {len(name)} characters; expected at most {_LONGEST_NAME}.")
    purpose = form.choice("purpose", [each.value for each in Purpose], standing.purpose.value)
    circuit = form.choice("circuit", ("", *circuits, standing.circuit))
    note = form.words("note", is_long=True)
    tyres = form.choice("tyres", [each.name for each in chassis.tyre_sets])
    pads = form.choice("pads", [each.name for each in chassis.pad_sets])
    drive = form.choice("final_drive", [f"{each:g}" for each in chassis.final_drives])
    turns = _bias(form, chassis)
    fuel = _value(form, "fuel", "fuel", stood, standing.fuel_volume)
    ballast = (
        0.0 if not form.text("ballast") else _value(form, "ballast", "part mass", stood, standing.ballast)
    )
    place = form.choice("ballast_place", ("", *(each.name for each in chassis.ballast_places)))
    if not form.is_good or any(one is None for one in corners) or fuel is None or ballast is None:
        return None
    fl, fr, rl, rr = (one for one in corners if one is not None)
    try:
        found = replace(
            standing,
            name=name,
            purpose=Purpose(purpose),
            circuit=circuit,
            note=note,
            corners=(fl, fr, rl, rr),
            front=ends[End.FRONT],
            rear=ends[End.REAR],
            tyres=tyres,
            pads=pads,
            final_drive=_drive(drive, standing, chassis),
            brake_bias_turns=turns,
            fuel_volume=fuel,
            ballast=ballast,
            ballast_place=place if ballast else "",
        )
    except TintopError as error:
        form.refuse_all(error)
        return None
    for problem in setup_problems(found, chassis):
        sentence = f"Found {problem.found}; expected {problem.expected}. {problem.cure}".strip()
        form.refuse(_field_of(problem.where), sentence)
    return found if form.is_good else None


def corner_kinds(standing: Setup, chassis: Chassis, dampers: Mapping[End, str]) -> dict[str, str]:
    """How each field at the wheels is read: near to what stands, clicks of the dampers named."""
    kinds = {}
    for corner in CORNERS:
        end, one = _end(corner), standing.corner(corner)
        damper = next((each for each in chassis.at(end).dampers if each.name == dampers[end]), None)
        for field, (_, item) in CORNER_FIELDS.items():
            stands: float | None = None
            if item == "clicks":
                side = damper and (damper.bump if field == "bump" else damper.rebound)
                stands = side.most_clicks if side else None
            elif item != "toe":
                stands = getattr(one, field)
            kinds[f"{field}_{corner}"] = sheet_kind(item, stands)
    return kinds


def changed_fields(typed: Mapping[str, str], stands: Mapping[str, str]) -> tuple[tuple[str, str, str], ...]:
    """Label, what stands, what was typed, of each field that differs."""
    return tuple(
        (label_of(name), text, typed.get(name, ""))
        for name, text in stands.items()
        if typed.get(name, "") != text
    )


def label_of(name: str) -> str:
    """A field's name as the sheet has it."""
    stem, _, place = name.rpartition("_")
    if place in CORNERS and stem in CORNER_FIELDS:
        return f"{place}, {CORNER_FIELDS[stem][0].lower()}"
    if place in (end.value for end in End) and stem in PARTS:
        return f"{place.capitalize()} {PARTS[stem].lower()}"
    words = name.replace("_", " ")
    return words[:1].upper() + words[1:]


def choices_of(chassis: Chassis) -> dict[str, Any]:
    """What may be chosen: parts by name, holes, final drives, places for ballast."""
    found: dict[str, Any] = {
        "tyres": [each.name for each in chassis.tyre_sets],
        "pads": [each.name for each in chassis.pad_sets],
        "final_drive": [f"{each:g}" for each in chassis.final_drives],
        "ballast_place": [each.name for each in chassis.ballast_places],
        "purpose": [each.value for each in Purpose],
        "bias_way": [FRONT, REAR],
        "has_bias": chassis.bias.device is not BiasDevice.NONE,
    }
    for end in End:
        axle = chassis.at(end)
        most = max((len(bar.roll_stiffness) for bar in axle.bars), default=0)
        holes = [("0", "unhooked"), *((str(number), f"hole {number}") for number in range(1, most + 1))]
        found |= {
            f"spring_{end.value}": [each.name for each in axle.springs],
            f"bar_{end.value}": [each.name for each in axle.bars],
            f"bar_hole_{end.value}": holes,
            f"damper_{end.value}": [each.name for each in axle.dampers],
        }
    return found


def _end(corner: str) -> End:
    return End.FRONT if corner[0] == "F" else End.REAR


def _in_unit(value: float, quantity: str, unit: str) -> str:
    found = unit_named(unit, quantity)
    return f"{number_text(round((value - found.offset) / found.factor, 6))} {unit}"


def _value(form: TypedForm, name: str, kind: str, stood: Mapping[str, str], standing: float) -> float | None:
    if form.text(name) == stood.get(name):
        return standing
    return form.value(name, kind, needed=True)


def _corner(
    form: TypedForm,
    corner: str,
    standing: Setup,
    stood: Mapping[str, str],
    chassis: Chassis,
    one_knob: Mapping[End, bool],
    kinds: Mapping[str, str],
) -> CornerSetup | None:
    old = standing.corner(corner)
    found: dict[str, float | int] = {}
    for field in CORNER_FIELDS:
        name = f"{field}_{corner}"
        if field == "bump" and one_knob[_end(corner)]:
            continue
        if form.text(name) == stood[name]:
            found[field] = getattr(old, field)
            continue
        meaning = form.meaning(name, kinds[name], needed=True)
        if isinstance(meaning, Understood):
            found[field] = _read(meaning, field, chassis.at(_end(corner)).rim_diameter)
    if one_knob[_end(corner)] and "rebound" in found:
        found["bump"] = found["rebound"]
    if len(found) < len(CORNER_FIELDS):
        return None
    try:
        return CornerSetup(**found)  # type: ignore[arg-type]
    except TintopError as error:
        form.refuse("", f"{corner}: {error}")
        return None


def _read(meaning: Understood, field: str, rim: float) -> float | int:
    if field == "toe" and meaning.quantity == "length":
        return toe_angle(meaning.value, rim)
    return round(meaning.value) if field in ("bump", "rebound") else meaning.value


def _right_as_left(form: TypedForm) -> None:
    """A wheel's field left empty on the right is as on the left."""
    for field in CORNER_FIELDS:
        for end in "FR":
            left, right = f"{field}_{end}L", f"{field}_{end}R"
            if not form.text(right):
                form.typed[right] = form.text(left)


def _has_one_knob(form: TypedForm, chassis: Chassis, end: End) -> bool:
    name = form.text(f"damper_{end.value}")
    return any(one.name == name and one.is_linked for one in chassis.at(end).dampers)


def _axle(form: TypedForm, chassis: Chassis, end: End) -> AxleSetup:
    axle = chassis.at(end)
    holes = max((len(bar.roll_stiffness) for bar in axle.bars), default=0)
    hole = form.choice(f"bar_hole_{end.value}", [str(number) for number in range(holes + 1)])
    return AxleSetup(
        spring=form.choice(f"spring_{end.value}", [each.name for each in axle.springs]),
        bar=form.choice(f"bar_{end.value}", [each.name for each in axle.bars]),
        bar_hole=int(hole) if hole.isdecimal() else 0,
        damper=form.choice(f"damper_{end.value}", [each.name for each in axle.dampers]),
    )


def _bias(form: TypedForm, chassis: Chassis) -> float:
    if chassis.bias.device is BiasDevice.NONE:
        return 0.0
    way = form.choice("bias_way", (FRONT, REAR), FRONT)
    try:
        turns = value_typed(form.text("bias_turns"), "number", "", "bias_turns")
    except BadInput:
        turns = -1.0
    if not 0.0 <= turns <= 100.0:
        form.refuse("bias_turns", "Found no number of turns; expected such as 1.5, and which way beside it.")
        return 0.0
    return -turns if way == REAR and turns else turns


def _drive(text: str, standing: Setup, chassis: Chassis) -> float:
    return next((each for each in chassis.final_drives if f"{each:g}" == text), standing.final_drive)


def _field_of(where: str) -> str:
    """The field of the sheet for a problem such as "front.springs" or "FL.bump"."""
    place, _, what = where.partition(".")
    if place in CORNERS:
        return f"{what}_{place}"
    if what:
        return f"{_FIELD_OF.get(what, what)}_{place}"
    return {"brake_bias_turns": "bias_turns"}.get(where, where)
