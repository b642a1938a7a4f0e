"""The levers of the what-if as fields of a form, in the owner's units, and what was typed read back."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from tintop.car.car import Car
from tintop.errors import BadInput, Problem
from tintop.lap.what_if import NAMES, Levers, as_it_stands, room
from tintop.settings import Settings
from tintop.units import unit_named
from tintop.web.typed_values import value_typed

_LONGEST = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverField:
    """One field: name, words, unit, and as text in that unit its value as it stands, range and step."""

    name: str
    label: str
    hint: str
    quantity: str
    unit: str
    digits: int
    step: str
    now: str
    low: str
    high: str

    @property
    def label_with_unit(self) -> str:
        """What stands beside the field."""
        return f"{self.label}, {self.unit_words}" if self.unit else self.label

    @property
    def unit_words(self) -> str:
        """The unit as it is printed."""
        return self.unit.replace("m2", "m²")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    label: str
    hint: str
    quantity: str
    unit: str
    digits: int
    step: float


_KINDS: Mapping[str, _Kind] = {
    "mass": _Kind(
        label="Mass of the car",
        hint="without driver and fuel",
        quantity="mass",
        unit="kg",
        digits=0,
        step=1.0,
    ),
    "power": _Kind(
        label="Peak power",
        hint="at the crank; the whole curve goes with it",
        quantity="power",
        unit="hp",
        digits=0,
        step=1.0,
    ),
    "grip": _Kind(
        label="Tyre grip",
        hint="friction of the tyres at their best, all four",
        quantity="number",
        unit="",
        digits=2,
        step=0.01,
    ),
    "drag_area": _Kind(
        label="Drag area",
        hint="drag coefficient times frontal area",
        quantity="area",
        unit="m2",
        digits=2,
        step=0.01,
    ),
    "brake_front_share": _Kind(
        label="Brake balance",
        hint="share of the braking at the front",
        quantity="share",
        unit="%",
        digits=1,
        step=0.5,
    ),
    "roll_front_share": _Kind(
        label="Roll stiffness",
        hint="share of springs and bars at the front",
        quantity="share",
        unit="%",
        digits=1,
        step=0.5,
    ),
    "final_drive": _Kind(
        label="Final drive",
        hint="turns of the shaft per turn of the wheels",
        quantity="number",
        unit="",
        digits=2,
        step=0.01,
    ),
}


def lever_fields(car: Car, settings: Settings) -> tuple[LeverField, ...]:
    """The fields for a car, in the owner's units."""
    now, limits = as_it_stands(car), room(car)
    found = []
    for name in NAMES:
        kind = _KINDS[name]
        unit = settings.units.get(kind.quantity, kind.unit) if kind.quantity != "area" else kind.unit
        low, high = limits[name]
        factor = unit_named(unit, kind.quantity).factor
        found.append(
            LeverField(
                name=name,
                label=kind.label,
                hint=kind.hint,
                quantity=kind.quantity,
                unit=unit,
                digits=kind.digits,
                step=f"{kind.step:g}",
                now=f"{getattr(now, name) / factor:.{kind.digits}f}",
                low=f"{low / factor:.{kind.digits}f}",
                high=f"{high / factor:.{kind.digits}f}",
            )
        )
    return tuple(found)


def levers_typed(car: Car, fields: tuple[LeverField, ...], typed: Mapping[str, str]) -> Levers:
    """Read what was typed; a field left out or as it stands keeps the car's own value.

    Raises BadInput naming each field that is no number or beyond what the car may be, in the owner's unit.
    """
    now, limits = as_it_stands(car), room(car)
    changes: dict[str, float] = {}
    problems: list[Problem] = []
    for field in fields:
        text = typed.get(field.name, "").strip()
        if not text or text == field.now:
            continue
        try:
            value = value_typed(text, field.quantity, field.unit, field.name)
        except BadInput as error:
            problems += error.problems
            continue
        low, high = limits[field.name]
        slack = 0.5 * 10.0**-field.digits * unit_named(field.unit, field.quantity).factor
        if not low - slack <= value <= high + slack:
            problems.append(
                Problem(
                    where=field.name,
                    found=f"{text[:_LONGEST]} {field.unit}".strip(),
                    expected=f"{field.low} to {field.high} {field.unit}".strip(),
                )
            )
            continue
        changes[field.name] = min(max(value, low), high)
    if problems:
        raise BadInput(*problems)
    return replace(now, **changes)
