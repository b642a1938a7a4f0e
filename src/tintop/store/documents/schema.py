"""Every field of the documents, from the models and the defaults themselves."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cache
from typing import Any

from tintop.car.cage import Steel
from tintop.car.cage_loads import AS_WRITTEN
from tintop.car.cage_templates import Template
from tintop.store.documents import car_reader, event_reader
from tintop.store.documents.cage_document import CageDocument
from tintop.store.documents.car_document import PAD_KINDS, TYRE_KINDS, CarDocument
from tintop.store.documents.chassis_document import ChassisDocument
from tintop.store.documents.defaults import Default, load, pad_curve, plain_uncertainty_text
from tintop.store.documents.event_document import EventDocument
from tintop.store.documents.fields import Declared, declared
from tintop.store.documents.schema_of_setups import chassis_defaults, words_of_a_chassis, words_of_a_setup
from tintop.store.documents.setup_document import SetupDocument
from tintop.store.documents.written import Table
from tintop.units import UNITS

_AXLES_DRIVEN = ("front", "rear", "four")
_DIFFERENTIALS = ("open", "limited_slip", "locked")
_CHOSEN = {
    "name": "unnamed",
    "date": "unknown",
    "engine.is_charged": "false",
    "gearbox.differential.kind": "open",
    "brakes.is_tandem_cylinder": "true",
    "brakes.front.pad.kind": "road with road tyres, else endurance",
    "brakes.rear.pad.kind": "road with road tyres, else endurance",
    "tyres.front.kind": "tyres.kind",
    "tyres.rear.kind": "tyres.kind",
    "race.stops[].fuel_volume": "0 L",
    "race.stops[].new_pads": "false",
    "race.stops[].new_tyres": "false",
}


_CURVE_SHARES = {
    "engine.curve.torque_rise": "engine.peak_torque",
    "engine.curve.peak_torque_speed_share": "engine.peak_torque_speed",
}
_CURVE_BASES = {
    "engine.peak_torque": "the torque at peak power",
    "engine.peak_torque_speed": "engine.peak_power_speed",
}
_REQUIRED_IN_A_LIST = (
    *("tubes[].role", "tubes[].tube", "tubes[].through"),
    *("loads[].name", "loads[].case", "loads[].nodes", "loads[].source"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One field: `kind` is its quantity, `units` how it may be written; a default by class says of which."""

    document: str
    path: str
    kind: str
    units: str
    default: str
    uncertainty: str
    source: str
    meaning: str
    uncertainty_if_written: str  # standard uncertainty of a value written without one


def describe() -> list[Row]:
    """Give a row for every field of the documents and every column of the circuit's CSV.

    A field with different defaults by class (tyre, pad, driven axle, differential) has a row for each.
    """
    return [
        *_rows("car.toml", CarDocument, _car_defaults()),
        *_rows("event.toml", EventDocument, _event_defaults()),
        *_rows("cage.toml", CageDocument, {}),
        *_rows("chassis.toml", ChassisDocument, chassis_defaults()),
        *_rows("setup.toml", SetupDocument, {}),
        *_circuit_rows(),
    ]


def _car_defaults() -> dict[str, list[tuple[str, Default]]]:
    kinds = car_reader.kinds()
    found: dict[str, list[tuple[str, Default]]] = {}

    def add(name: str, label: str, prefix: str = "") -> None:
        for path, default in load(name, kinds, prefix).items():
            found.setdefault(path, []).append((label, default))

    add("defaults/car.toml", "")
    for share, path in _CURVE_SHARES.items():
        found[path] = [(f"times {_CURVE_BASES[path]}", default) for _, default in found.pop(share)]
    for driven in _AXLES_DRIVEN:
        add(f"defaults/driven_axle/{driven}.toml", f"{driven} drive")
    for kind in _DIFFERENTIALS:
        add(f"defaults/differential/{kind}.toml", kind)
    for kind in TYRE_KINDS:
        add(f"tyres/{kind}.toml", kind, "tyres.")
    for axle in car_reader.AXLES:
        for kind in PAD_KINDS:
            add(f"defaults/pads/{kind}.toml", kind, f"brakes.{axle}.pad.")
    return found


def _event_defaults() -> dict[str, list[tuple[str, Default]]]:
    labels = {"weather.road_temp": "warmer than weather.air_temp"}
    defaults = load("defaults/event.toml", event_reader.kinds())
    return {path: [(labels.get(path, ""), default)] for path, default in defaults.items()}


def _rows(
    document: str, model: type[Table], defaults: Mapping[str, list[tuple[str, Default]]]
) -> Iterator[Row]:
    for field in declared(model):
        entries = defaults.get(field.path, [])
        for label, default in entries:
            yield _row(
                document,
                field,
                _labelled(label, default),
                default.uncertainty_text,
                default.source,
            )
        if not entries:
            yield from _without_default(document, field)


def _labelled(label: str, default: Default) -> str:
    text = default.text
    if default.scales_with:
        power = "" if default.power == 1.0 else f" to the power {default.power:g}"
        text += f" at {default.scales_with} = {default.at_text}, growing with it{power}"
    return f"{label}: {text}" if label else text


def _without_default(document: str, field: Declared) -> Iterator[Row]:
    if document == "car.toml" and field.path.endswith(".pad.frictions"):
        for kind in PAD_KINDS:
            curve = pad_curve(kind)
            values = ", ".join(
                f"{f:g} at {t:g} °C" for t, f in zip(curve.temps, curve.frictions, strict=True)
            )
            yield _row(document, field, f"{kind}: {values}", f"{100 * curve.uncertainty:g} %", curve.source)
        return
    yield _row(document, field, _default_of(document, field), "", "")


def _default_of(document: str, field: Declared) -> str:
    stands_in = car_reader.IS_ENOUGH.get(field.path, ()) if document == "car.toml" else ()
    if field.is_required:
        return "required" + (f", unless {stands_in[0]} is given" if stands_in else "")
    chosen = _CHOSEN_OF[document]() if document in _CHOSEN_OF else _CHOSEN
    if field.path in chosen:
        return chosen[field.path]
    if field.path.startswith(("tyres.front.", "tyres.rear.")):
        return "as tyres." + field.path.rpartition(".")[2]
    return "none"


@cache
def _chosen_of_a_cage() -> dict[str, str]:
    steel: dict[str, Any] = {each.name: each.default for each in fields(Steel)}
    template = {each.name.removeprefix("has_"): each.default for each in fields(Template)}
    words: dict[Any, str] = {True: "true", False: "false", MISSING: "required"}
    return {
        "name": "unnamed cage",
        "steel.youngs_modulus": f"{1e-6 * steel['youngs_modulus']:.0f} MPa",
        "steel.density": f"{steel['density']:g} kg/m3",
        "tubes[].name": "its role",
        "proof.kilogram_counts_as": f"{AS_WRITTEN:g} N",
        "proof.front_corner": "where the windscreen bar ends on the driver's side",
        "proof.older_editions": "false",
        **{
            f"template.{name}": str(default) if type(default) is int else words.get(default, str(default))
            for name, default in template.items()
        },
        **dict.fromkeys(_REQUIRED_IN_A_LIST, "required"),
        **dict.fromkeys(("loads[].force", "loads[].direction"), "required, unless components is given"),
    }


_CHOSEN_OF: Mapping[str, Callable[[], Mapping[str, str]]] = {
    "cage.toml": _chosen_of_a_cage,
    "chassis.toml": words_of_a_chassis,
    "setup.toml": words_of_a_setup,
}


def _row(document: str, field: Declared, default: str, uncertainty: str, source: str) -> Row:
    return Row(
        document=document,
        path=field.path,
        kind="one of " + ", ".join(field.choices) if field.choices else field.kind,
        units=_units(field.kind),
        default=default,
        uncertainty=uncertainty,
        source=source,
        meaning=field.meaning,
        uncertainty_if_written=plain_uncertainty_text(field.kind) if field.kind in UNITS else "",
    )


def _units(kind: str) -> str:
    if kind not in UNITS:
        return ""
    return ", ".join(unit.name or "plain number" for unit in UNITS[kind])


def _circuit_rows() -> Iterator[Row]:
    columns = (
        ("x", "m", "required", "east; or longitude"),
        ("y", "m", "required", "north; or latitude"),
        ("z", "m", "flat road", "height"),
        ("width_left", "m", "assumed, and said with the answer", "centre line to the left edge"),
        ("width_right", "m", "assumed, and said with the answer", "centre line to the right edge"),
        ("width", "m", "none", "whole width, in place of width_left and width_right"),
        ("banking_deg", "deg", "0", "tilt about the driven direction, left edge higher is positive"),
        ("banking_rad", "rad", "0", "the same in radians"),
        ("longitude", "deg", "none", "WGS84, in place of x"),
        ("latitude", "deg", "none", "WGS84, in place of y"),
    )
    for name, unit, default, meaning in columns:
        yield Row(
            document="circuit.csv",
            path=name,
            kind="column",
            units=unit,
            default=default,
            uncertainty="",
            source="",
            meaning=meaning,
            uncertainty_if_written="",
        )
