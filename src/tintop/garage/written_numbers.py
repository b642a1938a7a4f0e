"""Numbers of the documents as a mechanic reads them: value and doubt in the owner's units."""

import re
from collections.abc import Mapping
from functools import cache

from tintop.charts.car_words import MINUS
from tintop.garage.loading import schema
from tintop.units import UNITS, display_unit, unit_named

_THIN = "\u202f"
_CURVES = ("torques", "frictions", "forces")  # one number each: the factor on the whole curve
_SHORT = 2.0  # [m]: below it lengths are read in millimetres
_SMALL_AREA = 0.05  # [m²]: below it areas are read in square centimetres
_MINUTES = (300.0, 7200.0)  # [s]: between them times are read in minutes


def written_number(path: str, value: float, uncertainty: float, units: Mapping[str, str]) -> tuple[str, str]:
    """Write a number of a document and its doubt in the owner's units, by the kind of the number."""
    kind = _kind(path)
    unit = unit_named(units.get(kind) or _usual(kind, value), kind)
    name = unit.name.replace("m2", "m²").replace("m3", "m³").replace("rad2", "rad²")
    return (
        f"{_digits((value - unit.offset) / unit.factor, 4)}{_THIN}{name}".strip(),
        f"±{_digits(uncertainty / unit.factor, 2)}{_THIN}{name}".strip(),
    )


def _usual(kind: str, value: float) -> str:
    if kind == "length" and abs(value) < _SHORT:
        return "mm"
    if kind == "area" and 0.0 < abs(value) < _SMALL_AREA:
        return "cm2"
    if kind in ("time", "duration") and _MINUTES[0] <= abs(value) < _MINUTES[1]:
        return "min"
    return display_unit(kind)


def _kind(path: str) -> str:
    steps = path.split(".")
    if steps[-1] in _CURVES:
        return "share"
    general = re.sub(r"^tyre_(front|rear)\.", "tyres.", path)
    general = re.sub(r"\.stops\.\d+\.", ".stops[].", general)
    kind = _kinds().get(re.sub(r"\.\d+$", "", general), "number")
    return kind if kind in UNITS else "number"


@cache
def _kinds() -> Mapping[str, str]:
    return {row.path: row.kind for row in schema()}


def _digits(value: float, digits: int) -> str:
    text = f"{value:.{digits}g}"
    if "e" in text and abs(value) >= 1.0:
        text = f"{float(text):.0f}"
    return text.replace("-", MINUS)
