"""cage.toml to a cage and the loads it is to be held against."""

from dataclasses import dataclass, replace
from pathlib import Path

from tintop.car.cage import Cage, CageLoad, CageMember, CageNode, Fixing, Foot, Role, Side, Steel, pieces
from tintop.car.cage_faults import Fault, faults
from tintop.car.cage_loads import AS_WRITTEN, standard_loads
from tintop.errors import BadInput, Problem
from tintop.known import Origin
from tintop.store.documents.cage_document import CageDocument, SteelTable, TubeTable
from tintop.store.documents.cage_parts import Notes, drawn_template, own_load, read_place, read_tube
from tintop.store.documents.fields import validated
from tintop.store.documents.text import Document, read_document

_MOST_LOADS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class DescribedCage:
    """The cage, the published loads it has the tubes for, and the owner's own after them."""

    cage: Cage
    loads: tuple[CageLoad, ...]


def read_cage(path: Path | str) -> DescribedCage:
    """Read a cage document.

    Raises BadInput with every problem found: file, line, field, what was found and what is expected.
    """
    return cage_from(read_document(Path(path)))


def cage_from(document: Document) -> DescribedCage:
    """Give the cage of a parsed document; raises BadInput as `read_cage` does."""
    tables = validated(CageDocument, document, {})
    notes = Notes(document)
    nodes, members, feet = _drawn(tables, notes)
    steel = _steel(tables.steel, notes)
    if notes.problems or steel is None or tables.car_mass is None or tables.driver_side is None:
        raise BadInput(*dict.fromkeys(notes.problems))
    with notes.at(""):
        cage = Cage(
            name=tables.name or "unnamed cage",
            car_mass=tables.car_mass.value,
            driver_side=Side(tables.driver_side),
            nodes=nodes,
            members=members,
            feet=feet,
            steel=steel,
        )
    notes.raise_any()
    found = [_placed(fault, tables, document) for fault in faults(cage)]
    if found:
        raise BadInput(*dict.fromkeys(found))
    loads = (*_published(cage, tables, notes), *_own(cage, tables, notes))
    notes.raise_any()
    return DescribedCage(cage=cage, loads=loads)


def _drawn(
    tables: CageDocument, notes: Notes
) -> tuple[tuple[CageNode, ...], tuple[CageMember, ...], tuple[Foot, ...]]:
    drawn = drawn_template(tables.template, notes) if tables.template is not None else None
    nodes = [*(drawn.nodes if drawn else ())]
    for name, raw in tables.nodes.items():
        place = read_place(name, raw, notes)
        if place is not None:
            nodes.append(CageNode(name=name, position=place))
    members = [*(drawn.members if drawn else ())]
    for number, table in enumerate(tables.tubes, 1):
        members += _tube(table, f"tubes.{number}", notes)
    feet = [*(drawn.feet if drawn else ())]
    feet += [Foot(node=node, fixing=Fixing.WELDED) for node in tables.feet.welded]
    feet += [Foot(node=node, fixing=Fixing.BOLTED) for node in tables.feet.bolted]
    if not members and not notes.problems:
        notes.say("tubes", "nothing", "tubes, each under [[tubes]], or a [template]")
    return tuple(nodes), tuple(members), tuple(feet)


def _tube(table: TubeTable, path: str, notes: Notes) -> tuple[CageMember, ...]:
    role = notes.required(table.role, f"{path}.role", "one of " + ", ".join(role.value for role in Role))
    tube = read_tube(table.tube, f"{path}.tube", notes)
    name = table.name or role or "tube"
    if len(table.through) < 2:
        notes.say(f"{path}.through", f"{len(table.through)} nodes", "two or more nodes in a list")
        return ()
    for node in table.bolted:
        if node not in (table.through[0], table.through[-1]):
            notes.say(f"{path}.bolted", repr(node), f"its ends: {table.through[0]} or {table.through[-1]}")
    if role is None or tube is None:
        return ()
    return pieces(name, Role(role), table.through, tube, table.bolted)


def _steel(table: SteelTable, notes: Notes) -> Steel | None:
    if table.yield_strength is None:
        return None
    written = table.yield_strength
    stated = {
        name: value.value
        for name in ("tensile_strength", "youngs_modulus", "density")
        if (value := getattr(table, name)) is not None
    }
    with notes.at("steel"):
        return Steel(
            yield_strength=written.value,
            origin=written.origin or Origin.ESTIMATED,
            source=written.source or written.note,
            **stated,
        )
    return None


def _placed(fault: Fault, tables: CageDocument, document: Document) -> Problem:
    """Name the line of a fault: of the node, the tube or the feet it stands at."""
    if fault.kind == "node" and fault.name in tables.nodes:
        return fault.problem(document.where(f"nodes.{fault.name}"))
    if fault.kind == "tube":
        for number, table in enumerate(tables.tubes, 1):
            if fault.name == (table.name or table.role):
                return fault.problem(f"{document.where(f'tubes.{number}')}, {fault.name}")
    if fault.kind == "foot" or fault.name == "feet":
        return fault.problem(f"{document.where('feet')}{'' if fault.kind == 'cage' else f', {fault.name}'}")
    return fault.problem(f"{document.name}, {fault.kind} {fault.name}".strip())


def _published(cage: Cage, tables: CageDocument, notes: Notes) -> tuple[CageLoad, ...]:
    proof = tables.proof
    kilogram = proof.kilogram_counts_as.value if proof.kilogram_counts_as else AS_WRITTEN
    if not 9.7 <= kilogram <= 10.1:
        notes.say("proof.kilogram_counts_as", f"{kilogram:g} N", "9.80665 N (its weight) or 10 N (a daN)")
    free = {node.name for node in cage.nodes} - {foot.node for foot in cage.feet}
    if proof.front_corner is not None and proof.front_corner not in free:
        notes.say("proof.front_corner", repr(proof.front_corner), "a node of the cage that is no foot")
        return ()
    try:
        return standard_loads(
            cage, kilogram=kilogram, with_older=bool(proof.older_editions), front_corner=proof.front_corner
        )
    except BadInput as error:
        raise BadInput(
            *(_at_its_node(problem, tables, notes.document) for problem in error.problems)
        ) from None


def _at_its_node(problem: Problem, tables: CageDocument, document: Document) -> Problem:
    node = problem.where.removeprefix("node ")
    where = document.where(f"nodes.{node}") if node in tables.nodes else f"{document.name}, {problem.where}"
    return replace(problem, where=where)


def _own(cage: Cage, tables: CageDocument, notes: Notes) -> tuple[CageLoad, ...]:
    if len(tables.loads) > _MOST_LOADS:
        notes.say("loads", f"{len(tables.loads)} loads", f"{_MOST_LOADS} at most")
        return ()
    found = []
    for number, table in enumerate(tables.loads, 1):
        load = own_load(table, f"loads.{number}", cage, notes)
        if load is not None:
            found.append(load)
    return tuple(found)
