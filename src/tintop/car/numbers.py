"""Every number of a car by its path, such as "masses.cg_height" or "gearbox.ratios.3".

A curve is one number, the factor on all its values: "engine.torques", "brakes.front.pad.frictions" and
"brakes.rear.pad.frictions" are 1 for the car as it stands.
"""

from dataclasses import fields, is_dataclass, replace
from typing import Any

from tintop.car.car import Car
from tintop.errors import refuse

_CURVES = {"torques", "frictions"}
_AXES_OF_CURVES = {"speeds", "temps"}


def numbers_of(car: Car) -> dict[str, float]:
    """Give every number of the car by path, in SI; unknown ones (None) are left out."""
    found: dict[str, float] = {}
    _collect(car, "", found)
    return found


def _collect(part: Any, prefix: str, found: dict[str, float]) -> None:
    for field in fields(part):
        value = getattr(part, field.name)
        path = prefix + field.name
        if is_dataclass(value):
            _collect(value, path + ".", found)
        elif isinstance(value, float):
            found[path] = value
        elif field.name in _CURVES:
            found[path] = 1.0
        elif isinstance(value, tuple) and field.name not in _AXES_OF_CURVES:
            found.update({f"{path}.{place}": number for place, number in enumerate(value, 1)})


def with_number(car: Car, path: str, value: float) -> Car:
    """Give the car with one number changed; the value of a curve is the factor on it.

    Raises BadInput for a path that is no number of this car, or a value the part refuses.
    """
    changed = _changed(car, path.split("."), float(value), path)
    assert isinstance(changed, Car)
    return changed


def _changed(part: Any, steps: list[str], value: float, path: str) -> Any:
    name, rest = steps[0], steps[1:]
    old = getattr(part, name, None) if name in getattr(part, "__dataclass_fields__", ()) else None
    if is_dataclass(old) and rest:
        new = _changed(old, rest, value, path)
    elif isinstance(old, float) and not rest:
        new = value
    elif name in _CURVES and isinstance(old, tuple) and not rest:
        new = tuple(value * number for number in old)
    elif (
        isinstance(old, tuple)
        and name not in _CURVES | _AXES_OF_CURVES
        and len(rest) == 1
        and rest[0].isdecimal()
        and 1 <= int(rest[0]) <= len(old)
    ):
        place = int(rest[0]) - 1
        new = (*old[:place], value, *old[place + 1 :])
    else:
        raise refuse("car", repr(path), 'the path of one of its numbers, such as "masses.cg_height"')
    return replace(part, **{name: new})
