"""A cage under static proof loads: movements, feet, what every tube uses, and the limit."""

import math
from typing import NamedTuple

import numpy as np

from tintop.car.cage import (
    Cage,
    CageLoad,
    Fixing,
    FootReaction,
    LoadResult,
    MemberUse,
    NodeMove,
    Vector,
)
from tintop.car.cage_faults import refuse_faults
from tintop.car.cage_limit import StandingCage, estimate, farthest
from tintop.errors import refuse
from tintop.physics.frame import AXIAL, FloatArray, Frame, Loose, Solved, assemble, solve
from tintop.physics.frame_limit import plastic_use, tube_strength
from tintop.physics.frame_struts import Struts, bent_strut_use
from tintop.physics.tubes import TubeForces, buckling_load, equivalent_stress, euler_load


def stand(cage: Cage) -> StandingCage:
    """Make a cage ready; raises BadInput for every fault of its drawing, or if it is not held."""
    refuse_faults(cage)
    frame = frame_of(cage)
    ready = assemble(frame)
    if isinstance(ready, Loose):
        name = cage.nodes[ready.node].name
        raise refuse(
            f"node {name}",
            f"a frame that gives way: {name} moves freely {_whither(ready.direction)}",
            "a frame that holds every node",
            "Add a tube there, or write as welded what is welded and stands there as bolted.",
        )
    sections = [each.tube.section for each in cage.members]
    steel = cage.steel
    return StandingCage(
        cage=cage,
        ready=ready,
        strength=tube_strength(
            frame.area, np.array([each.plastic_modulus for each in sections]), steel.yield_strength
        ),
        struts=_struts(cage),
    )


def _struts(cage: Cage) -> Struts:
    modulus, strength = cage.steel.youngs_modulus, cage.steel.yield_strength
    ways = stretches(cage)
    tubes = [(each.tube.section, cage.length(each)) for each in cage.members]
    return Struts(
        euler=np.array([euler_load(section, length, modulus) for section, length in tubes]),
        buckling=np.array(
            [
                buckling_load(section, way.length, modulus, strength)
                for (section, _), way in zip(tubes, ways, strict=True)
            ]
        ),
        start=np.array([way.start for way in ways]),
        end=np.array([way.end for way in ways]),
    )


def frame_of(cage: Cage) -> Frame:
    """Give the frame of a cage: welded feet clamped, bolted feet held in place."""
    number = {node.name: place for place, node in enumerate(cage.nodes)}
    held = np.zeros((len(cage.nodes), 6), dtype=bool)
    for foot in cage.feet:
        held[number[foot.node], : 6 if foot.fixing is Fixing.WELDED else 3] = True
    sections = [each.tube.section for each in cage.members]
    return Frame(
        nodes=np.array([node.position for node in cage.nodes], dtype=np.float64),
        ends=np.array([(number[each.start], number[each.end]) for each in cage.members]),
        area=np.array([each.area for each in sections]),
        second_moment=np.array([each.second_moment for each in sections]),
        polar_moment=np.array([each.polar_moment for each in sections]),
        youngs_modulus=cage.steel.youngs_modulus,
        shear_modulus=cage.steel.shear_modulus,
        released=np.array([(each.bolted_start, each.bolted_end) for each in cage.members]),
        held=held,
    )


class Stretch(NamedTuple):
    """Tube from joint to joint: its length [m], and where along it a piece starts and ends, 0 to 1."""

    length: float
    start: float
    end: float


def stretches(cage: Cage) -> list[Stretch]:
    """Give for each piece the stretch it lies in: what may buckle in one go, through its bends."""
    meeting: dict[str, list[int]] = {}
    for place, each in enumerate(cage.members):
        for node in (each.start, each.end):
            meeting.setdefault(node, []).append(place)
    joints = {node for node, places in meeting.items() if not _is_only_a_bend(cage, places)}
    joints |= {foot.node for foot in cage.feet}
    found: dict[int, Stretch] = {}
    for place, each in enumerate(cage.members):
        for node in (each.start, each.end):
            if node in joints and place not in found:
                found |= _walked(cage, meeting, joints, place, node)
    return [found.get(place, Stretch(cage.length(each), 0.0, 1.0)) for place, each in enumerate(cage.members)]


def _is_only_a_bend(cage: Cage, places: list[int]) -> bool:
    return len(places) == 2 and len({cage.members[place].part for place in places}) == 1


def _walked(
    cage: Cage, meeting: dict[str, list[int]], joints: set[str], place: int, node: str
) -> dict[int, Stretch]:
    """Every piece from a joint to the next, the first of them at `place`."""
    way: list[tuple[int, bool]] = []  # a piece, and whether it is walked from its start
    while True:
        each = cage.members[place]
        way.append((place, each.start == node))
        node = each.end if each.start == node else each.start
        if node in joints:
            break
        place = next(other for other in meeting[node] if other != place)
    whole = math.fsum(cage.length(cage.members[place]) for place, _ in way)
    found: dict[int, Stretch] = {}
    gone = 0.0
    for place, is_onward in way:
        ends = gone / whole, (gone + cage.length(cage.members[place])) / whole
        found[place] = Stretch(whole, *(ends if is_onward else reversed(ends)))
        gone += cage.length(cage.members[place])
    return found


def hold(standing: StandingCage, loads: tuple[CageLoad, ...]) -> tuple[LoadResult, ...]:
    """Load a cage with each load in turn; raises BadInput for a load on a node that is not there."""
    if not loads:
        return ()
    vectors = np.stack([_load_vector(standing, load) for load in loads])
    solved = solve(standing.ready, vectors)
    return tuple(_result(standing, load, vectors[row], solved, row) for row, load in enumerate(loads))


def _load_vector(standing: StandingCage, load: CageLoad) -> FloatArray:
    cage = standing.cage
    number = {node.name: place for place, node in enumerate(cage.nodes)}
    found = np.zeros((len(cage.nodes), 6))
    for each in load.forces:
        if each.node not in number:
            raise refuse(f"load {load.name}", f"the unknown node {each.node!r}", "a node of the cage")
        found[number[each.node], :3] += each.force
    if not np.any(found):
        raise refuse(f"load {load.name}", "no force", "a force on at least one node")
    if not found[~standing.ready.frame.held].any():
        raise refuse(f"load {load.name}", "all its force straight into feet", "a force on the tubes")
    return found


def _result(
    standing: StandingCage, load: CageLoad, vector: FloatArray, solved: Solved, row: int
) -> LoadResult:
    cage = standing.cage
    moves = solved.moves[row]
    uses = _uses(standing, solved.bar_forces[row], solved.end_forces[row])
    deflection, node = farthest(load, vector, moves)
    return LoadResult(
        load=load,
        moves=tuple(
            NodeMove(node=each.name, move=_vector(move[:3]), turn=_vector(move[3:]))
            for each, move in zip(cage.nodes, moves, strict=True)
        ),
        reactions=_reactions(cage, solved.reactions[row]),
        members=uses,
        deflection=deflection,
        deflected_node=cage.nodes[node].name,
        weakest=max(uses, key=lambda use: use.use),
        limit=estimate(
            standing,
            load,
            vector,
            solved.bar_forces[row],
            deflection,
            1.0 / max(use.yield_use for use in uses),
        ),
    )


def _reactions(cage: Cage, reactions: FloatArray) -> tuple[FootReaction, ...]:
    number = {node.name: place for place, node in enumerate(cage.nodes)}
    return tuple(
        FootReaction(node=foot.node, fixing=foot.fixing, force=_vector(row[:3]), moment=_vector(row[3:]))
        for foot in cage.feet
        for row in [reactions[number[foot.node]]]
    )


def _uses(standing: StandingCage, bars: FloatArray, ends: FloatArray) -> tuple[MemberUse, ...]:
    cage, frame = standing.cage, standing.ready.frame
    modulus = np.array([each.tube.section.elastic_modulus for each in cage.members])
    bending = np.maximum(np.hypot(ends[:, 4], ends[:, 5]), np.hypot(ends[:, 10], ends[:, 11]))
    carried = TubeForces(
        axial=np.abs(bars[:, AXIAL]),
        shear=np.hypot(ends[:, 1], ends[:, 2]),
        bending=bending,
        torsion=np.abs(ends[:, 3]),
    )
    stress = equivalent_stress(frame.area, modulus, carried)
    plastic = plastic_use(standing.strength, bars).max(axis=1)
    buckling = bent_strut_use(standing.strength, standing.struts, bars)
    return tuple(
        MemberUse(
            member=each.name,
            start=tuple(float(value) for value in ends[place, :6]),
            end=tuple(float(value) for value in ends[place, 6:]),
            axial=float(bars[place, AXIAL]),
            bending=float(bending[place]),
            stress=float(stress[place]),
            yield_use=float(stress[place]) / cage.steel.yield_strength,
            plastic_use=float(plastic[place]),
            buckling_use=float(buckling[place]),
            buckling_load=float(standing.struts.buckling[place]),
        )
        for place, each in enumerate(cage.members)
    )


def _vector(row: FloatArray) -> Vector:
    return float(row[0]), float(row[1]), float(row[2])


def _whither(direction: FloatArray) -> str:
    axis = int(np.argmax(np.abs(direction)))
    return ("forwards and backwards", "from side to side", "up and down")[axis]
