"""setups/<name>.toml to a set-up of the car."""

import re
from dataclasses import replace
from pathlib import Path

from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import NO_BAR, AxleSetup, CornerSetup, Purpose, Setup
from tintop.car.setup_check import setup_problems
from tintop.errors import BadInput
from tintop.store.documents.chassis_doubts import doubt_pressure
from tintop.store.documents.chassis_parts import say
from tintop.store.documents.fields import declared, validated, values_of
from tintop.store.documents.numbers import Numbers, in_usual_unit
from tintop.store.documents.setup_document import EndTable, SetupDocument, WheelTable
from tintop.store.documents.text import Document, read_document
from tintop.store.documents.wheel_paths_reader import toe_from
from tintop.store.documents.written import Number

_EXPECTED = {
    "camber": 'a camber such as "-2.5 deg"',
    "toe": 'each wheel\'s own toe, such as "1 mm out per wheel"',
    "ride_height": 'the height at your reference point, such as "130 mm"',
    "bump": "bump clicks from full soft, 0 where the damper has none",
    "rebound": "rebound clicks from full soft, 0 where the damper has none",
    "pressure_cold": 'the pressure set cold, such as "1.6 bar" or "24 psi"',
}
_KINDS = {"camber": "angle", "ride_height": "length", "pressure_cold": "pressure"}


def read_setup(path: Path | str, chassis: Chassis) -> Setup:
    """Read one set-up of a car.

    Raises BadInput with every problem found: file, line, field, what was found and what is expected.
    """
    return setup_from(read_document(Path(path)), chassis)


def setup_from(document: Document, chassis: Chassis) -> Setup:
    """Give the set-up of a parsed document; raises BadInput as `read_setup` does."""
    tables = validated(SetupDocument, document, {})
    numbers = Numbers(
        document,
        {path: (value, path) for path, value in values_of(tables)},
        {},
        {field.path: field.kind for field in declared(SetupDocument)},
    )
    corners = [_corner(tables, name, chassis, numbers) for name in CORNERS]
    ends = {end: _end(getattr(tables, end.value), end, chassis, numbers) for end in End}
    for name in ("tyres", "pads"):
        if getattr(tables, name) is None:
            say(numbers, name, "nothing", f"one of the {name[:-1]}_sets of chassis.toml, by its name")
    for name, most in (("ballast", 400.0), ("fuel", 0.25)):
        written: Number = getattr(tables, name)
        if written is not None and not 0.0 <= written.value <= most:
            room = "0 to 400 kg" if name == "ballast" else "0 to 250 L"
            say(numbers, name, repr(written.text), room)
    front, rear = ends[End.FRONT], ends[End.REAR]
    fl, fr, rl, rr = corners
    if (
        numbers.problems
        or front is None
        or rear is None
        or fl is None
        or fr is None
        or rl is None
        or rr is None
        or tables.final_drive is None
    ):
        raise BadInput(*dict.fromkeys(numbers.problems))
    setup = Setup(
        name=tables.name or Path(document.name).stem,
        purpose=Purpose(tables.purpose or ""),
        corners=(fl, fr, rl, rr),
        front=front,
        rear=rear,
        tyres=tables.tyres or "",
        pads=tables.pads or "",
        final_drive=tables.final_drive.value,
        brake_bias_turns=_or_nought(tables.brake_bias_turns),
        fuel_volume=_or_nought(tables.fuel),
        ballast=_or_nought(tables.ballast),
        ballast_place=tables.ballast_place or "",
        circuit=tables.circuit or "",
        note=tables.note or "",
    )
    found = setup_problems(setup, chassis)
    if found:
        raise BadInput(*(replace(each, where=document.where(_place(each.where, document))) for each in found))
    return setup


def _or_nought(written: Number) -> float:
    return written.value if written is not None else 0.0


def _place(path: str, document: Document) -> str:
    """The field where something is written: of a wheel or of its end, of ballast without a place."""
    if path == "ballast_place" and path not in document.lines:
        return "ballast"
    return path if path in document.lines else re.sub(r"^F[LR]", "front", re.sub(r"^R[LR]", "rear", path))


def _corner(tables: SetupDocument, name: str, chassis: Chassis, numbers: Numbers) -> CornerSetup | None:
    end = End.FRONT if name[0] == "F" else End.REAR
    own: WheelTable = getattr(tables, name)
    both: EndTable = getattr(tables, end.value)
    before = len(numbers.problems)
    values: dict[str, float] = {}
    places: dict[str, str] = {}
    for field, expected in _EXPECTED.items():
        is_own = getattr(own, field) is not None
        written = getattr(own if is_own else both, field)
        places[field] = f"{name if is_own else end.value}.{field}"
        if written is None:
            say(numbers, f"{end.value}.{field}", "nothing", expected)
        elif field == "toe":
            toe = toe_from(written, chassis.at(end).rim_diameter, places[field], numbers)
            values[field] = toe if toe is not None else 0.0
        elif field in ("bump", "rebound"):
            values[field] = _whole(written, places[field], numbers)
        else:
            values[field] = written.value
            if field == "pressure_cold":
                doubt_pressure(written, places[field], numbers, "set cold")
    if len(numbers.problems) > before:
        return None
    try:
        return CornerSetup(
            camber=values["camber"],
            toe=values["toe"],
            ride_height=values["ride_height"],
            bump=int(values["bump"]),
            rebound=int(values["rebound"]),
            pressure_cold=values["pressure_cold"],
        )
    except BadInput as error:
        for each in error.problems:
            field = each.where.replace(" clicks", "").replace("cold pressure", "pressure_cold")
            field = field.replace("ride height", "ride_height")
            written = getattr(own, field) or getattr(both, field)
            text = written if isinstance(written, str) else written.text
            kind = _KINDS.get(field, "angle" if field == "toe" else "")
            expected = in_usual_unit(each.expected, kind) if kind else each.expected
            say(numbers, places[field], repr(text), expected, each.cure)
        return None


def _whole(written: Number, path: str, numbers: Numbers) -> float:
    if written is None or written.value != int(written.value) or written.value < 0.0:
        say(numbers, path, repr(written.text) if written else "nothing", "a whole number, from full soft")
        return 0.0
    return written.value


def _end(table: EndTable, end: End, chassis: Chassis, numbers: Numbers) -> AxleSetup | None:
    before = len(numbers.problems)
    has_bar = any(bar.name != NO_BAR for bar in chassis.at(end).bars)
    for name in ("springs", "bar", "dampers"):
        if getattr(table, name) is None and (name != "bar" or has_bar):
            say(numbers, f"{end.value}.{name}", "nothing", f"{name} by the name in chassis.toml")
    if table.hole is None and (has_bar or table.bar not in (None, NO_BAR)):
        say(numbers, f"{end.value}.hole", "nothing", "the bar's hole from 1, softest first; 0 = unhooked")
        return None
    hole = 0.0 if table.hole is None else _whole(table.hole, f"{end.value}.hole", numbers)
    if len(numbers.problems) > before:
        return None
    return AxleSetup(
        spring=table.springs or "", bar=table.bar or NO_BAR, bar_hole=int(hole), damper=table.dampers or ""
    )
