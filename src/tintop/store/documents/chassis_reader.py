"""chassis.toml to a described chassis."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from tintop.car.adjuster_rooms import adjuster_problems
from tintop.car.chassis import AxleChassis, BallastPlace, BiasDevice, BrakeBias, Chassis, End
from tintop.car.described import DescribedCar
from tintop.checks import within
from tintop.errors import BadInput
from tintop.known import Known
from tintop.store.documents import car_reader
from tintop.store.documents.chassis_chores import read_adjusters, read_chores
from tintop.store.documents.chassis_document import AxleTable, BiasTable, ChassisDocument
from tintop.store.documents.chassis_doubts import (
    doubt_springs,
    say_how_ratios_are_measured,
    say_of_motion_ratios,
)
from tintop.store.documents.chassis_parts import kinds_within, read_bars, read_dampers, read_springs
from tintop.store.documents.chassis_sets import read_pad_sets, read_tyre_sets
from tintop.store.documents.defaults import Default, load
from tintop.store.documents.fields import declared, validated, values_of
from tintop.store.documents.numbers import Numbers, as_known
from tintop.store.documents.text import Document, read_document
from tintop.store.documents.wheel_paths_reader import read_wheel_path, refuse_links_that_part
from tintop.store.documents.written import Written

_FARTHEST = 5.0  # of ballast from the middle of the front axle [m]
_LISTS = ("springs", "bars", "dampers")


@dataclass(frozen=True, slots=True, kw_only=True)
class DescribedChassis:
    """The chassis; `known` says of each number how it is known, by a path such as "front.motion_ratio".

    `assumed_choices` says, by path, what was taken where the owner said nothing and no number tells it.
    """

    chassis: Chassis
    known: Mapping[str, Known]
    assumed_choices: Mapping[str, str]


def read_chassis(path: Path | str, described: DescribedCar) -> DescribedChassis:
    """Read a chassis document of a car.

    Raises BadInput with every problem found: file, line, field, what was found and what is expected.
    """
    return chassis_from(read_document(Path(path)), described)


@cache
def kinds() -> Mapping[str, str]:
    """Give the kind of quantity of every field by its path, and of the car's that defaults grow with."""
    own = {field.path.replace("[]", ""): field.kind for field in declared(ChassisDocument)}
    return {**car_reader.kinds(), **own}


@cache
def defaults() -> Mapping[str, Default]:
    """Give the class defaults by path."""
    return load("defaults/chassis.toml", kinds())


def chassis_from(document: Document, described: DescribedCar) -> DescribedChassis:
    """Give the chassis of a parsed document; raises BadInput as `read_chassis` does."""
    try:
        tables = validated(ChassisDocument, document, {})
    except BadInput as error:
        raise say_how_ratios_are_measured(error) from None
    choices: dict[str, str] = {}
    numbers = _numbers(tables, document, described)
    axles = {end: _axle(tables, end, numbers, described, choices) for end in End}
    tyre_sets = read_tyre_sets(tables.tyre_sets, numbers, described, choices)
    pad_sets = read_pad_sets(tables.pad_sets, numbers, described, choices)
    bias = _bias(tables.bias, numbers)
    inertias = {name: numbers.get(name) for name in ("pitch_inertia", "roll_inertia")}
    places = _ballast_places(tables, numbers)
    least_mass = _least_mass(tables, numbers)
    front, rear = axles[End.FRONT], axles[End.REAR]
    rims = {end: axle.rim_diameter for end, axle in axles.items() if axle is not None}
    adjusters = read_adjusters(tables.adjusters, rims, numbers)
    chores = read_chores(tables.chores, numbers)
    say_of_motion_ratios(numbers)
    finals = _final_drives(tables, numbers)
    if front is None or rear is None or bias is None or numbers.problems:
        raise BadInput(*dict.fromkeys(numbers.problems))
    if not finals:
        choices["final_drives"] = "only the final drive of car.toml"
    try:
        chassis = Chassis(
            front=front,
            rear=rear,
            bias=bias,
            tyre_sets=tyre_sets,
            pad_sets=pad_sets,
            final_drives=finals or (described.car.gearbox.final_drive,),
            adjusters=adjusters,
            chores=chores,
            ballast_places=places,
            least_mass=least_mass,
            **inertias,
        )
    except BadInput as error:
        raise BadInput(
            *(
                document.problem(each.where.replace(" ", "_"), each.found, each.expected)
                for each in error.problems
            )
        ) from None
    _refuse_adjusters_beyond_their_parts(chassis, tables, document)
    known = {path: one for path, one in numbers.known.items() if path not in described.known}
    return DescribedChassis(chassis=chassis, known=known, assumed_choices=choices)


def _refuse_adjusters_beyond_their_parts(
    chassis: Chassis, tables: ChassisDocument, document: Document
) -> None:
    problems = []
    for place, adjuster in enumerate(chassis.adjusters, 1):
        for each in adjuster_problems(adjuster, chassis):
            text = getattr(tables.adjusters[place - 1], each.where)
            found = repr(text) if isinstance(text, str) else each.found
            where = f"adjusters.{place}.{each.where}"
            problems.append(document.problem(where, found, each.expected, each.cure))
    if problems:
        raise BadInput(*problems)


def _numbers(tables: ChassisDocument, document: Document, described: DescribedCar) -> Numbers:
    written = {path: (value, path) for path, value in values_of(tables)}
    all_kinds = dict(kinds())
    for end in End:
        axle: AxleTable = getattr(tables, end.value)
        for name in _LISTS:
            for place, table in enumerate(getattr(axle, name), 1):
                prefix = f"{end.value}.{name}.{place}."
                written |= {path: (value, path) for path, value in values_of(table, prefix)}
                all_kinds |= kinds_within(type(table), prefix)
    found = Numbers(document, written, dict(defaults()), all_kinds)
    for path in {default.scales_with for default in defaults().values()} & described.known.keys():
        found.take(path, described.known[path])
    return found


def _axle(
    tables: ChassisDocument, end: End, numbers: Numbers, described: DescribedCar, choices: dict[str, str]
) -> AxleChassis | None:
    table: AxleTable = getattr(tables, end.value)
    prefix = end.value
    springs = read_springs(table.springs, f"{prefix}.springs", numbers)
    bars = read_bars(table.bars, f"{prefix}.bars", _track(described, end), numbers, choices)
    dampers = read_dampers(table.dampers, f"{prefix}.dampers", numbers, choices)
    rim = numbers.get(f"{prefix}.rim_diameter")
    path = read_wheel_path(table, end, rim, described, numbers, choices)
    if path is None:
        return None
    optional = {
        name: numbers.get(f"{prefix}.{name}") if f"{prefix}.{name}" in numbers.written else None
        for name in ("perch_pitch", "spring_base")
    }
    axle = numbers.part(
        AxleChassis,
        prefix,
        wheel_path=path,
        springs=springs,
        bars=bars,
        dampers=dampers,
        **optional,
    )
    if axle is not None:
        doubt_springs(table, axle, end, numbers, described)
        refuse_links_that_part(axle, end, numbers)
    return axle


def _track(described: DescribedCar, end: End) -> float:
    dimensions = described.car.dimensions
    return dimensions.track_front if end is End.FRONT else dimensions.track_rear


def _bias(table: BiasTable, numbers: Numbers) -> BrakeBias | None:
    device = BiasDevice(table.device) if table.device else BiasDevice.NONE
    if device is not BiasDevice.NONE and table.share_per_turn is None:
        numbers.problems.append(
            numbers.document.problem(
                "bias.share_per_turn",
                "nothing",
                f"what one turn of the {device.value} adds to the front's share",
                'Unknown? Write device = "none" until you have measured it.',
            )
        )
    return numbers.part(BrakeBias, "bias", device=device)


def _final_drives(tables: ChassisDocument, numbers: Numbers) -> tuple[float, ...]:
    found = []
    for place, written in enumerate(tables.final_drives or (), 1):
        if not 0.5 <= written.value <= 12.0:
            problem = numbers.document.problem("final_drives", repr(written.text), "ratios from 0.5 to 12")
            numbers.problems.append(problem)
            continue
        numbers.take(f"final_drives.{place}", as_known(written, "ratio"))
        found.append(written.value)
    return tuple(found)


def _ballast_places(tables: ChassisDocument, numbers: Numbers) -> tuple[BallastPlace, ...]:
    found = []
    for number, table in enumerate(tables.ballast_places, 1):
        path = f"ballast_places.{number}"
        place = table.place or ()
        if table.name is None or len(place) != 3 or table.most is None:
            numbers.problems.append(
                numbers.document.problem(
                    path, "a place half described", "a name, place (three lengths) and most (a mass)"
                )
            )
            continue
        if not 0.0 < table.most.value <= 400.0:
            problem = numbers.document.problem(f"{path}.most", table.most.text, "more than 0, at most 400 kg")
            numbers.problems.append(problem)
            continue
        numbers.take(f"{path}.most", as_known(table.most, "mass"))
        x, y, z = (one.value for one in place)
        if not max(abs(x), abs(y), abs(z)) <= _FARTHEST:
            found_at = ", ".join(one.text for one in place)
            expected = f"three lengths, none beyond {_FARTHEST:g} m"
            numbers.problems.append(numbers.document.problem(f"{path}.place", found_at, expected))
            continue
        found.append(BallastPlace(name=table.name, x=x, y=y, z=z, most=table.most.value))
    return tuple(found)


def _least_mass(tables: ChassisDocument, numbers: Numbers) -> float | None:
    written: Written | None = tables.least_mass
    if written is None:
        return None
    try:
        within(written.value, 300.0, 3500.0, "least_mass", "kg")
    except BadInput as error:
        problem = replace(error.problems[0], where=numbers.document.where("least_mass"), found=written.text)
        numbers.problems.append(problem)
    return numbers.get("least_mass")
