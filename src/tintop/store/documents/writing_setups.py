"""Set-ups written as documents: what is written reads back as it was."""

from collections.abc import Callable, Mapping
from decimal import Decimal

from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import CornerSetup, Setup
from tintop.physics.toe import toe_angle, toe_over_rim
from tintop.settings import USUAL_UNITS
from tintop.store.exchange.toml_writing import toml_lines, toml_value
from tintop.units import parse_quantity, unit_named

_HEAD = "# One set-up of the car; names are those of chassis.toml. Driver aboard, corners FL FR RL RR.\n"
_FIELDS = ("camber", "toe", "ride_height", "bump", "rebound", "pressure_cold")
_SAID = {
    "camber": "negative = top inwards",
    "toe": "each wheel's own",
    "ride_height": "at the reference point",
    "bump": "clicks from full soft",
    "rebound": "clicks from full soft",
    "pressure_cold": "above the air",
}
_COLUMN = 34
_NOTHING = 1e-12  # in SI: no tool tells it from nought
_LONG = 9  # characters of a value with its unit
_OTHER_UNITS = {"pressure": ("bar", "psi"), "length": ("mm", "in"), "volume": ("L",)}


def write_setup(setup: Setup, chassis: Chassis, units: Mapping[str, str] = USUAL_UNITS) -> str:
    """Write a set-up as the text of its document, in the owner's units; it reads back as it was."""
    head = {"name": setup.name, "purpose": setup.purpose.value}
    head |= {name: text for name, text in (("circuit", setup.circuit),) if text}
    lines = [_HEAD, *(_line(name, toml_value(text)) for name, text in head.items())]
    if setup.note:
        note = toml_lines(setup.note) if "\n" in setup.note else toml_value(setup.note)
        lines.append(_line("note", note))
    lines += ["", _line("tyres", toml_value(setup.tyres)), _line("pads", toml_value(setup.pads))]
    lines.append(_line("final_drive", toml_value(_number(setup.final_drive))))
    lines.append(_line("brake_bias_turns", toml_value(_number(setup.brake_bias_turns)), "towards the front"))
    lines.append(
        _line("fuel", _quoted(setup.fuel_volume, "volume", units.get("volume", "L")), "at the start")
    )
    lines.append(_line("ballast", _quoted(setup.ballast, "mass", units.get("mass", "kg"))))
    if setup.ballast_place:
        lines.append(_line("ballast_place", toml_value(setup.ballast_place)))
    for end in End:
        lines += _end(setup, end, chassis.at(end).rim_diameter, units)
    return "\n".join(lines) + "\n"


def _end(setup: Setup, end: End, rim: float, units: Mapping[str, str]) -> list[str]:
    chosen, (left, right) = setup.at(end), setup.pair(end)
    lines = ["", f"[{end.value}]", _line("springs", toml_value(chosen.spring))]
    lines += [
        _line("bar", toml_value(chosen.bar)),
        _line("hole", str(chosen.bar_hole), "softest first, 0 = off"),
    ]
    lines.append(_line("dampers", toml_value(chosen.damper)))
    alike = [name for name in _FIELDS if getattr(left, name) == getattr(right, name)]
    lines += [_line(name, _corner_value(left, name, rim, units), _SAID[name]) for name in alike]
    if len(alike) < len(_FIELDS):
        names = CORNERS[:2] if end is End.FRONT else CORNERS[2:]
        for corner, letters in zip((left, right), names, strict=True):
            lines += ["", f"[{letters}]"]
            lines += [
                _line(name, _corner_value(corner, name, rim, units), _SAID[name])
                for name in _FIELDS
                if name not in alike
            ]
    return lines


def _corner_value(corner: CornerSetup, name: str, rim: float, units: Mapping[str, str]) -> str:
    if name == "camber":
        return _quoted(corner.camber, "angle", "deg")
    if name == "toe":
        return toml_value(toe_text(corner.toe, rim))
    if name == "ride_height":
        return _quoted(corner.ride_height, "length", units.get("length", "mm"))
    if name == "pressure_cold":
        return _quoted(corner.pressure_cold, "pressure", units.get("pressure", "bar"))
    return str(getattr(corner, name))


def toe_text(toe: float, rim_diameter: float) -> str:
    """A wheel's own toe in words: millimetres over the rim, in or out."""
    if abs(toe) < _NOTHING:
        return "0 mm"
    over_rim = abs(1e3 * toe_over_rim(toe, rim_diameter))
    number = _shortest(over_rim, abs(toe), lambda text: toe_angle(1e-3 * float(text), rim_diameter))
    return f"{number} mm {'in' if toe > 0.0 else 'out'} per wheel"


def _quoted(value: float, kind: str, unit: str) -> str:
    """A value in the owner's unit, or in another one where that says it in fewer digits."""
    text = _in_unit(value, kind, unit)
    others = [_in_unit(value, kind, other) for other in _OTHER_UNITS.get(kind, ())]
    return toml_value(text if len(text) <= _LONG else min([text, *others], key=len))


def _in_unit(value: float, kind: str, unit: str) -> str:
    if abs(value) < _NOTHING:
        return f"0 {unit}"
    found = unit_named(unit, kind)
    number = (value - found.offset) / found.factor
    return f"{_shortest(number, value, lambda text: parse_quantity(f'{text} {unit}', kind))} {unit}"


def _number(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _shortest(number: float, value: float, read: Callable[[str], float]) -> str:
    """The shortest decimal of a number that reads back as the value, or as near as decimals come."""
    texts = [_plain(number, digits) for digits in range(1, 18)]
    return min(texts, key=lambda text: (abs(read(text) - value), len(text)))


def _plain(number: float, digits: int) -> str:
    return f"{Decimal(f'{number:.{digits}g}'):f}"


def _line(name: str, value: str, said: str = "") -> str:
    line = f"{name} = {value}"
    return f"{line:<{_COLUMN}}  # {said}" if said else line
