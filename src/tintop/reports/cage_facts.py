"""What the rule books ask of a cage, as its drawing has it: no proof, for that is taken on the car."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tintop.car.cage import Cage, CutTube, Role, Vector
from tintop.physics.straps import Point, stay_angle
from tintop.reports.sheet import Table

NO_ROOF_DIAGONAL = (
    "No roof diagonal is drawn: only bent tubes and their joints keep the roof square, and the load on the "
    "front corner finds that out first."
)
_FRONT = frozenset({Role.FRONT_HOOP, Role.HALF_HOOP, Role.FRONT_LEG})
_TUBES = (
    ("main hoop, tube", frozenset({Role.MAIN_HOOP}), "cage.main_hoop_tube"),
    ("front hoops, tube", _FRONT, "cage.other_tube"),
    ("backstays, tube", frozenset({Role.STAY}), "cage.other_tube"),
    ("diagonal, tube", frozenset({Role.DIAGONAL}), "cage.other_tube"),
    ("door bars, tube", frozenset({Role.DOOR_BAR}), "cage.other_tube"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnFact:
    """What is asked, how it is drawn, and the names of the facts that say it of the car."""

    what: str
    drawn: str
    facts: tuple[str, ...]


def drawn_facts(cage: Cage) -> tuple[DrawnFact, ...]:
    """What the drawing says of tubes, stays, diagonals, door bars and steel that the rule books ask."""
    return tuple(_facts(cage))


def remarks(cage: Cage) -> tuple[str, ...]:
    """What is to be said of a drawing before its figures."""
    roles = {each.role for each in cage.members}
    return (NO_ROOF_DIAGONAL,) if roles & _FRONT and Role.ROOF_DIAGONAL not in roles else ()


def facts_table(cage: Cage) -> Table:
    """The same for reading."""
    return Table(
        title="What rule books ask of the drawing; what proves it is recorded on the car",
        columns=("asked", "drawn", "recorded as"),
        rows=[(each.what, each.drawn, ", ".join(each.facts)) for each in drawn_facts(cage)],
    )


def _facts(cage: Cage) -> Iterator[DrawnFact]:
    cut = cage.tube_list()
    for what, roles, fact in _TUBES:
        sizes = dict.fromkeys(str(each.tube) for each in cut if each.role in roles)
        if sizes:
            yield DrawnFact(what=what, drawn=" and ".join(sizes), facts=(fact,))
    for each in cut:
        if each.role is Role.STAY:
            foot, *_, top = sorted(_places(cage, each), key=lambda place: place[2])
            yield DrawnFact(
                what=f"{each.part}, from vertical",
                drawn=f"{math.degrees(stay_angle(Point(*top), Point(*foot))):.1f}°",
                facts=("cage.stay_top", "cage.stay_foot"),
            )
    yield DrawnFact(
        what="diagonals of the main hoop",
        drawn=str(sum(each.role is Role.DIAGONAL for each in cut)),
        facts=("cage.diagonals",),
    )
    for side, sign in (("left", 1.0), ("right", -1.0)):
        bars = [each for each in cut if each.role is Role.DOOR_BAR]
        count = sum(math.fsum(sign * place[1] for place in _places(cage, each)) > 0.0 for each in bars)
        yield DrawnFact(what=f"door bars, {side}", drawn=str(count), facts=("cage.door_bars",))
    yield DrawnFact(
        what="yield strength",
        drawn=f"{1e-6 * cage.steel.yield_strength:.0f} N/mm², {cage.steel.origin.value}",
        facts=("cage.yield_strength",),
    )


def _places(cage: Cage, tube: CutTube) -> list[Vector]:
    nodes = {node: None for each in cage.members if each.part == tube.part for node in (each.start, each.end)}
    return [cage.position(node) for node in nodes]
