"""Sets of tyres and of pads: the car's own, or by class with what is known of them."""

from collections.abc import Sequence
from dataclasses import fields

from tintop.car.brakes import Pad
from tintop.car.chassis import PadSet, TyreSet
from tintop.car.described import DescribedCar
from tintop.car.tyres import Tyre, TyreKind
from tintop.store.documents import car_reader
from tintop.store.documents.chassis_document import PadSetTable, TyreSetTable
from tintop.store.documents.chassis_doubts import doubt_pressure
from tintop.store.documents.chassis_parts import say
from tintop.store.documents.defaults import load
from tintop.store.documents.fields import values_of
from tintop.store.documents.numbers import Numbers
from tintop.store.documents.written import Table

OF_THE_CAR = "as in car.toml"
_ENDS = ("front", "rear")


def read_tyre_sets(
    tables: Sequence[TyreSetTable], numbers: Numbers, described: DescribedCar, choices: dict[str, str]
) -> tuple[TyreSet, ...]:
    """Read the sets of tyres; without one there is that of car.toml alone."""
    car = described.car
    if not tables:
        choices["tyre_sets"] = f'only the tyres of car.toml, called "{OF_THE_CAR}"'
        return (TyreSet(name=OF_THE_CAR, front=car.tyre_front, rear=car.tyre_rear),)
    found: list[TyreSet] = []
    for place, table in enumerate(tables, 1):
        at = f"tyre_sets.{place}"
        name = _name(table.name, [one.name for one in found], at, numbers)
        if table.as_in_car:
            _refuse_own_numbers(table, at, ("name", "as_in_car"), numbers)
            _take_from_car(described, "tyre_{end}.", at, numbers)
            found.append(TyreSet(name=name, front=car.tyre_front, rear=car.tyre_rear))
            continue
        tyres = {end: _tyre(table, end, at, numbers) for end in _ENDS}
        if tyres["front"] is not None and tyres["rear"] is not None:
            if TyreKind.WET in (tyres["front"].kind, tyres["rear"].kind) and (
                tyres["front"].kind is not tyres["rear"].kind
            ):
                say(numbers, f"{at}.kind", "wet tyres at one end", "wet tyres at both ends or at none")
            found.append(TyreSet(name=name, front=tyres["front"], rear=tyres["rear"]))
    return tuple(found)


def _tyre(table: TyreSetTable, end: str, at: str, numbers: Numbers) -> Tyre | None:
    own = getattr(table, end)
    kind = own.kind or table.kind
    if kind is None:
        expected = "the class of tyre, or as_in_car = true"
        say(numbers, f"{at}.kind", "nothing", expected)
        return None
    prefix = f"{at}.{end}."
    _add(numbers, table, at, prefix, f"tyre_{end}.")
    _add(numbers, own, f"{at}.{end}", prefix, f"tyre_{end}.")
    defaults = load(f"tyres/{kind}.toml", car_reader.kinds(), f"tyre_{end}.")
    for path, default in defaults.items():
        numbers.defaults[path.replace(f"tyre_{end}.", prefix, 1)] = default
    slips = [
        doubt_pressure(getattr(each, name), f"{where}.{name}", numbers, when)
        for each, where in ((table, at), (own, f"{at}.{end}"))
        for name, when in (("pressure_cold", "set cold"), ("pressure_hot", "hot"))
    ]
    if any(slips):
        return None
    hot = f"{prefix}pressure_hot"
    return numbers.part(
        Tyre,
        f"{at}.{end}",
        kind=TyreKind(kind),
        pressure_hot=numbers.get(hot) if numbers.has(hot) else None,
    )


def read_pad_sets(
    tables: Sequence[PadSetTable], numbers: Numbers, described: DescribedCar, choices: dict[str, str]
) -> tuple[PadSet, ...]:
    """Read the sets of pads; without one there is that of car.toml alone."""
    front, rear = described.car.brakes.front.pad, described.car.brakes.rear.pad
    if not tables:
        choices["pad_sets"] = f'only the pads of car.toml, called "{OF_THE_CAR}"'
        return (PadSet(name=OF_THE_CAR, front=front, rear=rear),)
    found: list[PadSet] = []
    for place, table in enumerate(tables, 1):
        at = f"pad_sets.{place}"
        name = _name(table.name, [one.name for one in found], at, numbers)
        if table.as_in_car:
            _refuse_own_numbers(table, at, ("name", "as_in_car"), numbers)
            _take_from_car(described, "brakes.{end}.pad.", at, numbers)
            found.append(PadSet(name=name, front=front, rear=rear))
            continue
        pads = {end: _pad(table, end, at, numbers, described) for end in _ENDS}
        if pads["front"] is not None and pads["rear"] is not None:
            found.append(PadSet(name=name, front=pads["front"], rear=pads["rear"]))
    return tuple(found)


def _pad(table: PadSetTable, end: str, at: str, numbers: Numbers, described: DescribedCar) -> Pad | None:
    own = getattr(table, end)
    kind = own.kind or table.kind
    if kind is None:
        say(numbers, f"{at}.kind", "nothing", "the class of pad, or as_in_car = true")
        return None
    prefix, in_car = f"{at}.{end}.", f"brakes.{end}.pad."
    _add(numbers, own, f"{at}.{end}", prefix, in_car)
    for path, default in load(f"defaults/pads/{kind}.toml", car_reader.kinds(), in_car).items():
        numbers.defaults[path.replace(in_car, prefix, 1)] = default
    if f"{prefix}area" not in numbers.written:
        numbers.take(f"{prefix}area", described.known[f"{in_car}area"])  # the caliper's
    curve = car_reader.read_pad_curve(own, numbers, f"{at}.{end}", kind)
    if curve is None:
        return None
    return numbers.part(Pad, f"{at}.{end}", temps=curve[0], frictions=curve[1])


def _add(numbers: Numbers, table: Table, at: str, prefix: str, in_car: str) -> None:
    """Put the values written in one table below a prefix, with the kinds of the car's own field."""
    names = {field.name for field in fields(Tyre)} | {field.name for field in fields(Pad)}
    for path, value in values_of(table):
        if path in names:
            numbers.written[prefix + path] = (value, f"{at}.{path}")
            numbers.kinds[prefix + path] = car_reader.kinds()[in_car + path]


def _take_from_car(described: DescribedCar, pattern: str, at: str, numbers: Numbers) -> None:
    for end in _ENDS:
        prefix = pattern.format(end=end)
        for path, known in described.known.items():
            if path.startswith(prefix):
                numbers.take(f"{at}.{end}.{path.removeprefix(prefix)}", known)


def _refuse_own_numbers(table: Table, at: str, allowed: Sequence[str], numbers: Numbers) -> None:
    for path, _ in values_of(table):
        if path not in allowed:
            say(numbers, f"{at}.{path}", "a number beside as_in_car", "no numbers: car.toml has them")


def _name(name: str | None, before: Sequence[str], at: str, numbers: Numbers) -> str:
    if not name:
        say(numbers, f"{at}.name", "nothing", "a name, by which set-ups choose it")
    elif name in before:
        say(numbers, f"{at}.name", f"the name {name!r} again", "each name once")
    return name or ""
