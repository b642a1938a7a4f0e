"""The trade's units at the edge: text such as "32 psi" or "1:43.2" to SI, and back.

SI inside means: kg, m, s, N, Pa, W, J, rad, rad/s; temperatures are in °C, temperature differences in K.
Factors are exact by definition where the unit is defined (NIST SP 811:2008, appendix B.8); the
metric horsepower is 75 kgf·m/s.
"""

import difflib
import math
import re
from dataclasses import dataclass

from tintop.errors import BadInput, refuse

_POUND = 0.45359237
_GRAVITY = 9.80665
_INCH = 0.0254
_FOOT = 0.3048
_MILE = 1609.344
_HORSEPOWER = 550.0 * _FOOT * _POUND * _GRAVITY
_DEGREE = math.pi / 180.0


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: SI value = number × factor + offset; `usual` is the range a bare number of it often has."""

    name: str
    factor: float
    offset: float = 0.0
    usual: tuple[float, float] | None = None
    also: tuple[str, ...] = ()


UNITS: dict[str, tuple[Unit, ...]] = {
    "mass": (
        Unit("kg", 1.0, usual=(0.5, 2000.0), also=("kilo", "kilos")),
        Unit("g", 1e-3),
        Unit("t", 1000.0),
        Unit("lb", _POUND, usual=(1200.0, 5000.0), also=("lbs",)),
    ),
    "length": (
        Unit("m", 1.0, usual=(0.2, 5.0)),
        Unit("mm", 1e-3, usual=(5.0, 5000.0)),
        Unit("cm", 1e-2),
        Unit("km", 1e3),
        Unit("in", _INCH, also=("inch", '"')),
        Unit("ft", _FOOT),
        Unit("mi", _MILE, also=("mile", "miles")),
    ),
    "area": (
        Unit("m2", 1.0, usual=(0.01, 3.0)),
        Unit("cm2", 1e-4, usual=(3.0, 400.0)),
        Unit("mm2", 1e-6, usual=(400.0, 1e5)),
        Unit("in2", _INCH**2),
        Unit("ft2", _FOOT**2),
    ),
    "volume": (
        Unit("L", 1e-3, usual=(1.0, 250.0), also=("l", "litre", "litres", "dm3")),
        Unit("cm3", 1e-6, usual=(250.0, 8000.0), also=("cc", "ml", "mL", "ccm")),
        Unit("m3", 1.0),
        Unit("gal_uk", 4.54609e-3),
        Unit("gal_us", 231.0 * _INCH**3),
    ),
    "pressure": (
        Unit("bar", 1e5, usual=(0.3, 5.0)),
        Unit("psi", _POUND * _GRAVITY / _INCH**2, usual=(14.0, 60.0)),
        Unit("kPa", 1e3, usual=(60.0, 500.0)),
        Unit("hPa", 1e2, usual=(700.0, 1100.0), also=("mbar", "mb")),
        Unit("Pa", 1.0, usual=(2e4, 6e5)),
        Unit("MPa", 1e6),
        Unit("N/mm2", 1e6, usual=(100.0, 2000.0)),
        Unit("inHg", 3386.389),
    ),
    "temperature": (
        Unit("°C", 1.0, usual=(-30.0, 1000.0), also=("C", "degC", "celsius")),
        Unit("°F", 5.0 / 9.0, -160.0 / 9.0, also=("F", "degF", "fahrenheit")),
        Unit("K", 1.0, -273.15, also=("kelvin",)),
    ),
    "temperature difference": (
        Unit("K", 1.0, usual=(0.0, 1000.0), also=("°C", "C", "degC", "kelvin")),
        Unit("°F", 5.0 / 9.0, also=("F", "degF")),
    ),
    "speed": (
        Unit("km/h", 1.0 / 3.6, usual=(20.0, 350.0), also=("kph", "kmh")),
        Unit("m/s", 1.0),
        Unit("mph", _MILE / 3600.0, usual=(20.0, 220.0), also=("mi/h",)),
        Unit("mm/s", 1e-3),
        Unit("in/s", _INCH),
    ),
    "engine speed": (
        Unit("rpm", math.pi / 30.0, usual=(400.0, 12000.0), also=("1/min", "r/min", "revs")),
        Unit("rad/s", 1.0),
    ),
    "torque": (
        Unit("N·m", 1.0, usual=(60.0, 900.0), also=("Nm",)),
        Unit("lb-ft", _POUND * _GRAVITY * _FOOT, usual=(50.0, 600.0), also=("ft-lb", "lbf-ft", "ft-lbf")),
        Unit("kgf·m", _GRAVITY, also=("mkg", "kgm")),
    ),
    "power": (
        Unit("kW", 1e3, usual=(30.0, 500.0)),
        Unit("hp", _HORSEPOWER, usual=(40.0, 700.0), also=("bhp", "whp")),
        Unit("PS", 75.0 * _GRAVITY, also=("cv", "ch", "pk")),
        Unit("W", 1.0),
    ),
    "force": (
        Unit("N", 1.0, usual=(50.0, 20000.0)),
        Unit("kN", 1e3),
        Unit("lbf", _POUND * _GRAVITY, also=("lb",)),
        Unit("kgf", _GRAVITY),
    ),
    "spring rate": (
        Unit("N/mm", 1e3, usual=(15.0, 260.0)),
        Unit("lb/in", _POUND * _GRAVITY / _INCH, usual=(100.0, 1500.0), also=("lbf/in", "lbs/in")),
        Unit("N/m", 1.0),
        Unit("kgf/mm", _GRAVITY * 1e3, also=("kg/mm",)),
    ),
    "damping": (
        Unit("N·s/m", 1.0, usual=(50.0, 20000.0)),
        Unit("N·s/mm", 1e3),
        Unit("lb·s/in", _POUND * _GRAVITY / _INCH, also=("lbf·s/in",)),
    ),
    "roll stiffness": (
        Unit("N·m/deg", 1.0 / _DEGREE, usual=(100.0, 10000.0), also=("N·m/°",)),
        Unit("N·m/rad", 1.0, usual=(10000.0, 500000.0)),
        Unit("kN·m/rad", 1e3),
    ),
    "angle": (
        Unit("deg", _DEGREE, usual=(-10.0, 90.0), also=("°", "degree", "degrees")),
        Unit("rad", 1.0),
        Unit("arcmin", _DEGREE / 60.0, also=("'",)),
    ),
    "time": (
        Unit("s", 1.0, usual=(0.0, 600.0), also=("sec", "seconds")),
        Unit("ms", 1e-3),
        Unit("min", 60.0, also=("minute", "minutes")),
        Unit("h", 3600.0, also=("hour", "hours", "hr")),
    ),
    "duration": (
        Unit("h", 3600.0, usual=(0.5, 24.0), also=("hour", "hours", "hr")),
        Unit("min", 60.0, usual=(1.0, 1440.0), also=("minute", "minutes")),
        Unit("s", 1.0, usual=(60.0, 86400.0), also=("sec", "seconds")),
    ),
    "share": (Unit("", 1.0), Unit("%", 1e-2, also=("percent",))),
    "number": (Unit("", 1.0),),
    "ratio": (Unit("", 1.0),),
    "rate": (Unit("1/h", 1.0, also=("", "per hour", "/h")),),
    "specific consumption": (
        Unit("g/kWh", 1e-3 / 3.6e6, usual=(180.0, 500.0)),
        Unit("lb/hph", _POUND / (_HORSEPOWER * 3600.0), usual=(0.3, 0.9), also=("lb/(hp·h)",)),
    ),
    "density": (
        Unit("kg/m3", 1.0, usual=(600.0, 900.0)),
        Unit("kg/L", 1e3, usual=(0.6, 0.9), also=("kg/l", "g/cm3", "kg/dm3")),
    ),
    "specific energy": (Unit("MJ/kg", 1e6, usual=(15.0, 50.0)), Unit("J/kg", 1.0)),
    "heat capacity": (Unit("J/K", 1.0, usual=(500.0, 500000.0)), Unit("kJ/K", 1e3, usual=(0.5, 500.0))),
    "conductance": (Unit("W/K", 1.0, usual=(0.1, 20000.0)), Unit("kW/K", 1e3)),
    "mass flow": (
        Unit("kg/s", 1.0, usual=(0.01, 10.0)),
        Unit("kg/min", 1.0 / 60.0),
        Unit("kg/h", 1.0 / 3600.0),
    ),
    "specific heat": (
        Unit("J/(kg·K)", 1.0, usual=(1500.0, 4300.0)),
        Unit("kJ/(kg·K)", 1e3, usual=(1.5, 4.3)),
    ),
    "inertia": (Unit("kg·m2", 1.0, usual=(0.0, 10.0)),),
    "wear depth": (Unit("mm/GJ", 1e-12), Unit("um/MJ", 1e-12), Unit("m/J", 1.0)),
    "wear volume": (Unit("mm3/MJ", 1e-15), Unit("mm3/kJ", 1e-12), Unit("m3/J", 1.0)),
    "camber loss": (Unit("1/rad2", 1.0), Unit("1/deg2", 1.0 / _DEGREE**2)),
    "sound level": (Unit("dB(A)", 1.0, usual=(60.0, 140.0), also=("dB", "dBA")),),
    "power to mass": (
        Unit("W/kg", 1.0, usual=(30.0, 500.0), also=("kW/t",)),
        Unit("hp/t", _HORSEPOWER / 1e3, usual=(40.0, 700.0), also=("bhp/t",)),
        Unit("PS/t", 75.0 * _GRAVITY / 1e3),
        Unit("hp/lb", _HORSEPOWER / _POUND),
    ),
    "mass to power": (
        Unit("kg/kW", 1e-3, usual=(2.0, 30.0)),
        Unit("kg/hp", 1.0 / _HORSEPOWER, usual=(1.5, 25.0), also=("kg/bhp",)),
        Unit("kg/PS", 1.0 / (75.0 * _GRAVITY)),
        Unit("lb/hp", _POUND / _HORSEPOWER, usual=(3.0, 50.0), also=("lb/bhp",)),
        Unit("kg/W", 1.0),
    ),
    "electrical resistance": (
        Unit("ohm", 1.0, usual=(0.0, 1e6), also=("Ω", "ohms")),
        Unit("kohm", 1e3, also=("kΩ",)),
    ),
    "voltage": (Unit("V", 1.0, usual=(0.0, 60.0), also=("volt", "volts")), Unit("mV", 1e-3)),
    "acceleration": (
        Unit("m/s2", 1.0, usual=(0.0, 500.0)),
        Unit("gn", _GRAVITY, usual=(0.1, 100.0), also=("g",)),
    ),
}

_NEEDS_NO_UNIT = {"share", "number", "ratio", "rate"}
_NUMBER = re.compile(r"([+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?)(.*)", re.DOTALL)
_CLOCK = re.compile(r"(?:([0-9]{1,2})[:.])?([0-9]{1,3})[:.]([0-5][0-9](?:[.,][0-9]{1,4})?)")
_CLOCK_COLON = re.compile(r"[0-9.,:]*:[0-9.,:]*")
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")


def _plain(name: str) -> str:
    name = name.replace("²", "2").replace("³", "3").replace("º", "°").replace("µ", "u").replace("μ", "u")
    return re.sub(r"[\s·*^().\-⋅_]", "", name)


def _names(unit: Unit) -> tuple[str, ...]:
    return (unit.name, *unit.also)


_EXACT = {
    (quantity, _plain(name)): unit
    for quantity, units in UNITS.items()
    for unit in reversed(units)
    for name in reversed(_names(unit))
}
_ANY_CASE = {
    (quantity, _plain(name).casefold()): unit
    for quantity, units in UNITS.items()
    for unit in reversed(units)
    for name in _names(unit)
    if not name.startswith("M")  # mega against milli: the capital is the meaning
}


def _find(quantity: str, name: str) -> Unit | None:
    plain = _plain(name)
    return _EXACT.get((quantity, plain)) or (
        _ANY_CASE.get((quantity, plain.casefold()))
        if not plain.startswith("m") or len(plain) < 2 or (quantity, "M" + plain[1:]) not in _EXACT
        else None
    )


def unit_named(name: str, quantity: str | None = None) -> Unit:
    """Give the unit of a name, of the given quantity or of the first that has it.

    Raises BadInput for an unknown name.
    """
    for kind in [quantity] if quantity else UNITS:
        found = _find(kind, name) if kind in UNITS else None
        if found is not None:
            return found
    raise refuse("unit", repr(name), _examples(quantity) if quantity in UNITS else "a unit tintop knows")


def display_unit(quantity: str) -> str:
    """Name of the unit in which a quantity is usually written."""
    if quantity == "share":
        return "%"
    return UNITS[quantity][0].name


def with_article(words: str) -> str:
    """The words with "a" or "an" before them."""
    return f"{'an' if words[:1] in 'aeiou' else 'a'} {words}"


def _examples(quantity: str | None) -> str:
    names = [unit.name for unit in UNITS[quantity or "number"] if unit.name]
    return f"{with_article(quantity or 'number')} in " + (
        " or ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else names[0]
    )


def parse_quantity(text: str | int | float, quantity: str, where: str = "value") -> float:
    """Read a value with its unit and give it in SI.

    `quantity` is a key of `UNITS`; a bare number is accepted only for a share, a number or a rate per
    hour. A decimal comma is read as a point; a time may be written "1:43.2" or "2:00:00",
    a duration only "2:00:00".
    Raises BadInput naming `where` for a missing, unknown or wrong unit, or a number that is not finite.
    """
    written = (f"{text!r}" if isinstance(text, (int, float)) else text).strip().replace("−", "-")
    shown = repr(written[:60])
    if isinstance(text, bool):
        raise refuse(where, str(text).lower(), _expected(quantity))
    if quantity in ("time", "duration") and _CLOCK_COLON.fullmatch(written):
        return _clock(written, quantity, where)
    match = _NUMBER.fullmatch(written)
    if match is None:
        raise refuse(where, shown if written else "nothing", _expected(quantity))
    digits, name = match[1], match[2].strip()
    if _THOUSANDS.fullmatch(digits):
        whole, fraction = digits.replace(",", ""), digits.replace(",", ".")
        raise refuse(
            where,
            shown,
            "a number that reads only one way",
            f"Write {whole} or {float(fraction):g}, as is meant.",
        )
    number = float(digits.replace(",", "."))
    if not math.isfinite(number):
        raise refuse(where, shown, "a finite number")
    if not name and quantity not in _NEEDS_NO_UNIT:
        raise refuse(where, f"{shown} without a unit", _expected(quantity), _guess(number, quantity))
    unit = _find(quantity, name)
    if unit is None:
        raise _unknown_unit(where, shown, name, quantity)
    if quantity == "share" and not name and abs(number) > 1.5:
        raise refuse(
            where, shown, "a share from 0 to 1, or a percentage", f'Write "{number:g} %" if that is meant.'
        )
    value = number * unit.factor + unit.offset
    if not math.isfinite(value):
        raise refuse(where, shown, "a finite number")
    if quantity == "temperature" and value < -273.15 - 1e-9:
        raise refuse(where, shown, "a temperature above absolute zero")
    return value


def _expected(quantity: str) -> str:
    if quantity in ("number", "ratio"):
        return "a plain number"
    if quantity == "share":
        return 'a share such as 0.55 or "55 %"'
    return _examples(quantity)


def _guess(number: float, quantity: str) -> str:
    likely = [u.name for u in UNITS[quantity] if u.usual and u.usual[0] <= abs(number) <= u.usual[1]]
    if not likely:
        return ""
    return "Write " + " or ".join(f'"{number:g} {name}"' for name in likely) + ", as is meant."


def _unknown_unit(where: str, shown: str, name: str, quantity: str) -> BadInput:
    for other in UNITS:
        if name and other not in _NEEDS_NO_UNIT and _find(other, name) is not None:
            return refuse(where, f"{shown}, which is {with_article(other)}", _expected(quantity))
    known = {_plain(n): u.name for u in UNITS[quantity] for n in _names(u) if n}
    near = difflib.get_close_matches(_plain(name), known, n=1, cutoff=0.5)
    cure = f"Did you mean {known[near[0]]}?" if near else ""
    return refuse(where, f"{shown} with the unknown unit {name[:30]!r}", _expected(quantity), cure)


def _clock(written: str, quantity: str, where: str) -> float:
    match = _CLOCK.fullmatch(written)
    if match is not None and match[1] is None and quantity == "duration":
        hours, minutes = int(match[2]), match[3]
        raise refuse(
            where,
            repr(written),
            "a duration that reads only one way",
            f'Write "{hours}:{minutes[:2]}:00" for hours, or "0:{hours:02d}:{minutes}" for minutes.',
        )
    if match is None or (match[1] is not None and int(match[2]) > 59):
        raise refuse(where, repr(written[:60]), 'a time such as "1:43.2", "2:00:00" or "103.2 s"')
    return 3600.0 * int(match[1] or 0) + 60.0 * int(match[2]) + float(match[3].replace(",", "."))


def format_quantity(value: float, unit: str, digits: int = 4, quantity: str | None = None) -> str:
    """Write an SI value in the named unit with so many significant digits, such as "1.25 bar"."""
    found = unit_named(unit, quantity)
    number = (value - found.offset) / found.factor
    text = f"{number:.{digits}g}"
    if "e" in text and abs(number) < 1e7 and abs(number) >= 1.0:
        text = f"{number:.0f}"
    return f"{text} {found.name}".strip()
