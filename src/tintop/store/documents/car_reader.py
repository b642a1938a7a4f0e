"""car.toml to a described car."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from tintop.car.brakes import AxleBrake, Brakes, Pad
from tintop.car.car import Aero, Car, Dimensions, DrivenAxle, Masses, Suspension, Tank
from tintop.car.cooling import Cooling
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of
from tintop.car.powertrain import Differential, DifferentialKind, Engine, Fuel, Gearbox
from tintop.car.tyres import Tyre, TyreKind
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.store.documents.car_document import AxleBrakeTable, CarDocument, GearboxTable, PadTable
from tintop.store.documents.contradictions import refuse_contradictions_within
from tintop.store.documents.defaults import Default, load, pad_curve
from tintop.store.documents.engine_reader import read_curve
from tintop.store.documents.fields import declared, validated, values_of
from tintop.store.documents.numbers import Numbers, as_known
from tintop.store.documents.pulling import refuse_what_cannot_pull
from tintop.store.documents.text import Document, read_document
from tintop.store.documents.written import Written

IS_ENOUGH = {
    "dimensions.track_front": ("dimensions.track",),
    "engine.peak_power": ("engine.dyno",),
    "gearbox.ratios": ("gearbox.top_speed_per_gear",),
    "gearbox.final_drive": ("gearbox.top_speed_per_gear",),
    "tyres.kind": ("tyres.front.kind",),
}
_PAD_FOR_TYRE = {"road": "road", "semi_slick": "endurance", "slick": "endurance", "wet": "endurance"}
AXLES = ("front", "rear")


def read_car(path: Path | str) -> DescribedCar:
    """Read a car document.

    Raises BadInput with every problem found: file, line, field, what was found and what is expected.
    """
    return car_from(read_document(Path(path)))


def car_from(document: Document) -> DescribedCar:
    """Give the car of a parsed document; raises BadInput as `read_car` does."""
    tables = validated(CarDocument, document, IS_ENOUGH)
    choices: dict[str, str] = {}
    tyre_kinds = _tyre_kinds(tables)
    pad_kinds = _pad_kinds(tables, tyre_kinds, choices)
    differential = _differential_kind(tables.gearbox, choices)
    driven = str(tables.driven_axle)
    numbers = Numbers(
        document, _written(tables), defaults_for(driven, differential, tyre_kinds, pad_kinds), kinds()
    )
    car = _build(tables, numbers, choices, driven, differential, tyre_kinds, pad_kinds)
    if numbers.problems or car is None:
        raise BadInput(*dict.fromkeys(numbers.problems))
    known = {name: numbers.known[name] for name in numbers_of(car)}
    return DescribedCar(car=car, known=known, assumed_choices=choices)


@cache
def kinds() -> Mapping[str, str]:
    """Give the kind of quantity of every number by its path in the car, and in the document."""
    found: dict[str, str] = {}
    for field in declared(CarDocument):
        found[field.path] = field.kind
        if field.path.startswith(("tyres.front.", "tyres.rear.")):
            found[field.path.replace("tyres.", "tyre_", 1)] = field.kind
    return found


def defaults_for(
    driven: str, differential: str, tyre_kinds: Mapping[str, str], pad_kinds: Mapping[str, str]
) -> dict[str, Default]:
    """Give the defaults of a car with these choices, by the car's paths."""
    found = {
        **load("defaults/car.toml", kinds()),
        **load(f"defaults/driven_axle/{driven}.toml", kinds()),
        **load(f"defaults/differential/{differential}.toml", kinds()),
    }
    for axle in AXLES:
        found.update(load(f"tyres/{tyre_kinds[axle]}.toml", kinds(), f"tyre_{axle}."))
        found.update(load(f"defaults/pads/{pad_kinds[axle]}.toml", kinds(), f"brakes.{axle}.pad."))
    return found


def _tyre_kinds(tables: CarDocument) -> dict[str, str]:
    both = tables.tyres.kind or tables.tyres.front.kind
    return {axle: str(getattr(tables.tyres, axle).kind or both) for axle in AXLES}


def _pad_kinds(tables: CarDocument, tyres: Mapping[str, str], choices: dict[str, str]) -> dict[str, str]:
    found = {}
    for axle in AXLES:
        stated = getattr(tables.brakes, axle).pad.kind
        found[axle] = stated or _PAD_FOR_TYRE[tyres[axle]]
        if stated is None:
            choices[f"brakes.{axle}.pad.kind"] = f"{found[axle]} pads, as usual with {tyres[axle]} tyres"
    return found


def _differential_kind(gearbox: GearboxTable, choices: dict[str, str]) -> str:
    unit = gearbox.differential
    if unit.kind is not None:
        return unit.kind
    if unit.preload or unit.lock_share_drive or unit.torque_bias_ratio:
        choices["gearbox.differential.kind"] = "a limited-slip differential, as its numbers are given"
        return "limited_slip"
    choices["gearbox.differential.kind"] = "an open differential"
    return "open"


def _written(tables: CarDocument) -> dict[str, tuple[Written, str]]:
    found: dict[str, tuple[Written, str]] = {}
    for path, value in values_of(tables):
        if path == "dimensions.track":
            targets = ["dimensions.track_front", "dimensions.track_rear"]
        elif path.startswith(("tyres.front.", "tyres.rear.")):
            targets = [path.replace("tyres.", "tyre_", 1)]
        elif path.startswith("tyres."):
            targets = [path.replace("tyres.", f"tyre_{axle}.", 1) for axle in AXLES]
        else:
            targets = [path]
        for target in targets:
            is_own = target.replace("tyre_", "tyres.", 1) == path
            if is_own or target not in found:
                found[target] = (value, path)
    return found


def _build(
    tables: CarDocument,
    numbers: Numbers,
    choices: dict[str, str],
    driven: str,
    differential: str,
    tyre_kinds: Mapping[str, str],
    pad_kinds: Mapping[str, str],
) -> Car | None:
    masses = numbers.part(Masses, "masses")
    dimensions = numbers.part(Dimensions, "dimensions")
    curve = read_curve(tables.engine, numbers)
    engine = None
    if curve is not None:
        if curve.assumed:
            choices["engine.torques"] = curve.assumed
        numbers.take("engine.torques", curve.known)
        charged = bool(tables.engine.is_charged)
        engine = numbers.part(
            Engine, "engine", speeds=curve.speeds, torques=curve.torques, is_charged=charged
        )
    if tables.engine.is_charged is None:
        choices["engine.is_charged"] = "an engine without turbo or supercharger"
    tyres = {
        axle: numbers.part(
            Tyre, f"tyre_{axle}", kind=TyreKind(tyre_kinds[axle]), **_pressure_hot(numbers, axle)
        )
        for axle in AXLES
    }
    gearbox = None
    if engine is not None and tyres["front"] is not None and tyres["rear"] is not None:
        gearbox = _gearbox(tables.gearbox, numbers, driven, differential, engine)
    axles = {
        axle: _axle_brake(getattr(tables.brakes, axle), numbers, axle, pad_kinds[axle]) for axle in AXLES
    }
    is_tandem = _is_tandem(tables, numbers, choices)
    brakes = None
    if axles["front"] is not None and axles["rear"] is not None:
        brakes = numbers.part(Brakes, "brakes", is_tandem_cylinder=is_tandem, **axles)
    parts = {
        "masses": masses,
        "dimensions": dimensions,
        "aero": numbers.part(Aero, "aero"),
        "engine": engine,
        "fuel": numbers.part(Fuel, "fuel"),
        "gearbox": gearbox,
        "suspension": numbers.part(Suspension, "suspension"),
        "tyre_front": tyres["front"],
        "tyre_rear": tyres["rear"],
        "brakes": brakes,
        "cooling": numbers.part(Cooling, "cooling"),
        "tank": numbers.part(Tank, "tank"),
    }
    if numbers.problems or any(part is None for part in parts.values()):
        return None
    name = tables.name or "unnamed car"
    car = Car(name=name, driven_axle=DrivenAxle(driven), **parts)  # type: ignore[arg-type]
    refuse_what_cannot_pull(car, numbers)
    refuse_contradictions_within(car, numbers)
    return car


def _is_tandem(tables: CarDocument, numbers: Numbers, choices: dict[str, str]) -> bool:
    stated, bar = tables.brakes.is_tandem_cylinder, tables.brakes.bar_front_share
    if stated is None:
        what = (
            "one tandem master cylinder" if bar is None else "two master cylinders, as a balance bar is given"
        )
        choices["brakes.is_tandem_cylinder"] = what
        return bar is None
    if stated == (bar is not None):
        found = "a tandem cylinder with a balance bar" if stated else "two cylinders without the bar's share"
        expected = (
            "no such field" if stated else "the share of the pedal's push that goes to the front cylinder"
        )
        numbers.problems.append(numbers.document.problem("brakes.bar_front_share", found, expected))
    return stated


def _pressure_hot(numbers: Numbers, axle: str) -> dict[str, float | None]:
    path = f"tyre_{axle}.pressure_hot"
    return {"pressure_hot": numbers.get(path) if numbers.has(path) else None}


def _axle_brake(table: AxleBrakeTable, numbers: Numbers, axle: str, pad_kind: str) -> AxleBrake | None:
    prefix = f"brakes.{axle}"
    curve = read_pad_curve(table.pad, numbers, f"{prefix}.pad", pad_kind)
    pad = None
    if curve is not None:
        pad = numbers.part(Pad, f"{prefix}.pad", temps=curve[0], frictions=curve[1])
    rest = numbers.part(AxleBrake, prefix, pad=pad)
    return None if pad is None or rest is None else replace(rest, pad=pad)


def read_pad_curve(
    table: PadTable, numbers: Numbers, prefix: str, kind: str
) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    """Give temperatures and frictions of a pad, by class where none are stated; None with a problem noted."""
    if table.temps is None and table.frictions is None:
        curve = pad_curve(kind)
        known = Known(
            value=1.0,
            uncertainty=curve.uncertainty,
            origin=Origin.ASSUMED,
            note=f"class default of {kind} pads",
            source=curve.source,
        )
        numbers.take(f"{prefix}.frictions", known)
        return curve.temps, curve.frictions
    temps, frictions = table.temps or (), table.frictions or ()
    if len(temps) != len(frictions) or len(temps) < 2:
        found = f"{len(temps)} temps and {len(frictions)} frictions"
        expected = "two or more temps, each with its friction"
        numbers.problems.append(numbers.document.problem(f"{prefix}.frictions", found, expected))
        return None
    first = as_known(frictions[0], "number")
    share = first.uncertainty / abs(first.value) if first.value else 0.1
    numbers.take(f"{prefix}.frictions", replace(first, value=1.0, uncertainty=share))
    return tuple(t.value for t in temps), tuple(f.value for f in frictions)


def _gearbox(
    table: GearboxTable, numbers: Numbers, driven: str, differential: str, engine: Engine
) -> Gearbox | None:
    if table.ratios and table.top_speed_per_gear:
        problem = numbers.document.problem(
            "gearbox.top_speed_per_gear", "both ratios and top speeds", "one of the two"
        )
        numbers.problems.append(problem)
        return None
    if driven != "four" and "gearbox.front_drive_share" in numbers.written:
        problem = numbers.document.problem(
            "gearbox.front_drive_share",
            f"a share in a car that drives its {driven} axle alone",
            "no such field",
        )
        numbers.problems.append(problem)
    ratios: tuple[float, ...] | None
    if table.top_speed_per_gear:
        ratios = _ratios_from_speeds(table.top_speed_per_gear, numbers, driven, engine)
    else:
        ratios = tuple(written.value for written in table.ratios or ())
        for place, written in enumerate(table.ratios or (), 1):
            numbers.take(f"gearbox.ratios.{place}", as_known(written, "ratio"))
    if ratios is None:
        return None
    if not ratios:
        problem = numbers.document.problem("gearbox.ratios", "no gears", "1 to 12 gears")
        numbers.problems.append(problem)
        return None
    _lock_from_bias(table, numbers)
    unit = numbers.part(Differential, "gearbox.differential", kind=DifferentialKind(differential))
    return None if unit is None else numbers.part(Gearbox, "gearbox", ratios=ratios, differential=unit)


def _ratios_from_speeds(
    speeds: tuple[Written, ...], numbers: Numbers, driven: str, engine: Engine
) -> tuple[float, ...] | None:
    if "gearbox.final_drive" not in numbers.written:
        note = "only its product with the ratios counts, and they carry the uncertainty"
        numbers.take(
            "gearbox.final_drive", Known(value=4.0, uncertainty=0.0, origin=Origin.ESTIMATED, note=note)
        )
    if any(speed.value <= 0.0 for speed in speeds):
        problem = numbers.document.problem(
            "gearbox.top_speed_per_gear", "a speed of zero or less", "speeds above zero"
        )
        numbers.problems.append(problem)
        return None
    if numbers.get("gearbox.final_drive") <= 0.0:
        found, expected = numbers.written["gearbox.final_drive"][0].text, "0.5 to 12"
        numbers.problems.append(numbers.document.problem("gearbox.final_drive", found, expected))
        return None
    radius = "tyre_rear.radius" if driven == "rear" else "tyre_front.radius"
    wheel_speed_per_speed = engine.limiter_speed * numbers.get(radius) / numbers.get("gearbox.final_drive")
    ratios = []
    for place, speed in enumerate(speeds, 1):
        known = as_known(speed, "speed")
        ratio = wheel_speed_per_speed / speed.value
        uncertainty = ratio * known.uncertainty / speed.value
        note = f"from {speed.text} at the limiter"
        numbers.take(
            f"gearbox.ratios.{place}", replace(known, value=ratio, uncertainty=uncertainty, note=note)
        )
        ratios.append(ratio)
    return tuple(ratios)


def _lock_from_bias(table: GearboxTable, numbers: Numbers) -> None:
    bias = table.differential.torque_bias_ratio
    if bias is None:
        return
    path = "gearbox.differential.torque_bias_ratio"
    if "gearbox.differential.lock_share_drive" in numbers.written or bias.value < 1.0:
        expected = "a ratio of 1 or more, and no lock_share_drive beside it"
        numbers.problems.append(numbers.document.problem(path, bias.text, expected))
        return
    known = as_known(bias, "ratio")
    share = (bias.value - 1.0) / (bias.value + 1.0)
    slope = 2.0 / (bias.value + 1.0) ** 2
    note = "from the torque bias ratio"
    lock = replace(known, value=share, uncertainty=slope * known.uncertainty, note=note)
    numbers.take("gearbox.differential.lock_share_drive", lock)
