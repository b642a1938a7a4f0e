"""What makes a drawing of a cage no frame: said by the node, tube or foot it stands at."""

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from statistics import fmean

from tintop.car.cage import LEAST_FEET, Cage, CageMember, Role, Vector
from tintop.errors import BadInput, Problem

MOST_PIECES = 200
LONGEST_NAME = 60
_FARTHEST = 6.0  # [m] from the origin
_SAME_PLACE = 1e-3  # [m]
_AHEAD = frozenset({Role.FRONT_HOOP, Role.HALF_HOOP, Role.FRONT_LEG, Role.WINDSCREEN_BAR})


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong: `kind` is "node", "tube", "foot" or "cage", and `name` which of them."""

    kind: str
    name: str
    found: str
    expected: str
    cure: str = ""

    def problem(self, where: str = "") -> Problem:
        """Give it as a problem, at a place of a document if one is named."""
        place = where or f"{self.kind} {self.name}".strip()
        return Problem(where=place, found=self.found, expected=self.expected, cure=self.cure)


def refuse_faults(cage: Cage) -> None:
    """Raise BadInput with every fault of a cage."""
    found = faults(cage)
    if found:
        raise BadInput(*(each.problem() for each in found))


def faults(cage: Cage) -> tuple[Fault, ...]:
    """Everything that keeps a cage from being a frame; what hangs on an earlier fault is not looked for."""
    named = [*_bad_names(cage)]
    if named:
        return tuple(named)
    placed = [*_bad_places(cage), *_bad_tubes(cage), *_bad_feet(cage)]
    return tuple(placed or _wrong_way_round(cage) or [*_passed(cage)] or _crossed(cage))


def _bad_names(cage: Cage) -> Iterator[Fault]:
    known = Counter(node.name for node in cage.nodes)
    for name, times in known.items():
        if times > 1:
            yield Fault(kind="node", name=name, found=f"{times} nodes of this name", expected="one")
        if not (name.strip() and name.isprintable() and len(name) <= LONGEST_NAME):
            yield Fault(
                kind="node",
                name=name,
                found=f"the name {name[:20]!r}",
                expected=f"a name of one line, 1 to {LONGEST_NAME} characters",
            )
    for name, times in Counter(each.name for each in cage.members).items():
        if times > 1:
            yield Fault(kind="tube", name=name, found=f"{times} tubes of this name", expected="one")
    listed = "a node of the list: " + ", ".join(list(known)[:12]) + (", ..." if len(known) > 12 else "")
    for each in cage.members:
        for node in dict.fromkeys((each.start, each.end)):
            if node not in known:
                yield Fault(kind="tube", name=each.part, found=f"the unknown node {node!r}", expected=listed)
    for foot in cage.feet:
        if foot.node not in known:
            yield Fault(kind="foot", name=foot.node, found=f"the unknown node {foot.node!r}", expected=listed)
    for what, count in (("straight pieces of tube", len(cage.members)), ("nodes", len(known))):
        if count > MOST_PIECES:
            yield Fault(
                kind="cage",
                name="",
                found=f"{count} {what}",
                expected=f"{MOST_PIECES} at most",
                cure="Draw each bend with fewer nodes.",
            )


def _bad_places(cage: Cage) -> Iterator[Fault]:
    ends = cage.tubes_at()
    for node in cage.nodes:
        if not all(math.isfinite(each) and abs(each) <= _FARTHEST for each in node.position):
            yield Fault(
                kind="node",
                name=node.name,
                found=f"the place {_written(node.position)}",
                expected=f"at most {_FARTHEST:g} m from the origin",
                cure="Are millimetres written as metres?",
            )
        if node.name not in ends:
            yield Fault(
                kind="node",
                name=node.name,
                found="a node that no tube reaches",
                expected="tubes at every node",
                cure="Name it in the list of a tube, or delete it.",
            )
    for one, other in combinations(cage.nodes, 2):
        if math.dist(one.position, other.position) < _SAME_PLACE:
            yield Fault(
                kind="node",
                name=other.name,
                found=f"the place of {one.name}",
                expected="one node at one place",
                cure="Give both tubes the same node.",
            )


def _bad_tubes(cage: Cage) -> Iterator[Fault]:
    seen: dict[frozenset[str], str] = {}
    for each in cage.members:
        if each.start == each.end or cage.length(each) < _SAME_PLACE:
            yield Fault(
                kind="tube",
                name=each.part,
                found=f"a piece of no length from {each.start} to {each.end}",
                expected="two nodes apart",
            )
            continue
        ends = frozenset((each.start, each.end))
        if ends in seen:
            twice = "this tube" if seen[ends] == each.part else f"the tube {seen[ends]}"
            yield Fault(
                kind="tube",
                name=each.part,
                found=f"a piece from {each.start} to {each.end}, where {twice} already runs",
                expected="one tube between two nodes",
            )
        seen.setdefault(ends, each.part)


def _bad_feet(cage: Cage) -> Iterator[Fault]:
    for name, times in Counter(foot.node for foot in cage.feet).items():
        if times > 1:
            yield Fault(kind="foot", name=name, found=f"{times} feet at this node", expected="one")
    if len(cage.feet) < LEAST_FEET:
        yield Fault(
            kind="cage",
            name="feet",
            found=f"{len(cage.feet)} feet",
            expected=f"{LEAST_FEET} at least: both feet of a main hoop and of its stays",
        )


def _wrong_way_round(cage: Cage) -> list[Fault]:
    """Tubes that say by their role where forward is, and lie the other way."""
    return [*_front_behind_the_hoop(cage)] or [*_stays_not_rearward(cage)]


def _front_behind_the_hoop(cage: Cage) -> Iterator[Fault]:
    hoop = {node for each in cage.members if each.role is Role.MAIN_HOOP for node in (each.start, each.end)}
    if not hoop:
        return
    stands = fmean(cage.position(node)[0] for node in hoop)
    for part, nodes in _nodes_by_part(cage, _AHEAD).items():
        own = nodes - hoop
        behind = stands - fmean(cage.position(node)[0] for node in own) if own else 0.0
        if behind > 0.0:
            yield Fault(
                kind="tube",
                name=part,
                found=f"a tube {behind:.2f} m behind the main hoop, though it belongs to the front",
                expected="the front ahead of the main hoop: the first figure of a node points forward",
                cure="If all is drawn the wrong way round, change the sign of every node's first figure.",
            )


def _stays_not_rearward(cage: Cage) -> Iterator[Fault]:
    for part, nodes in _nodes_by_part(cage, {Role.STAY}).items():
        places = sorted((cage.position(node) for node in nodes), key=lambda place: place[2])
        if places[0][0] >= places[-1][0]:
            yield Fault(
                kind="tube",
                name=part,
                found=f"a stay whose lower end is {places[0][0] - places[-1][0]:.2f} m ahead of its upper",
                expected="a stay that leans rearward: the first figure of a node points forward",
                cure="A tube that runs forward or straight down has another role.",
            )


def _nodes_by_part(cage: Cage, roles: Collection[Role]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for each in cage.members:
        if each.role in roles:
            found.setdefault(each.part, set()).update((each.start, each.end))
    return found


def _passed(cage: Cage) -> Iterator[Fault]:
    places = cage.places()
    for each in cage.members:
        start, end = places[each.start], places[each.end]
        for node, place in places.items():
            if node in (each.start, each.end):
                continue
            if _from_node(place, start, end) < 0.25 * each.tube.diameter:
                yield Fault(
                    kind="tube",
                    name=each.part,
                    found=f"the node {node} on its way from {each.start} to {each.end}, not joined",
                    expected="every node a tube passes through in its list",
                    cure=f"Write {node} between {each.start} and {each.end}.",
                )


def _crossed(cage: Cage) -> Iterator[Fault]:
    places = cage.places()
    for one, other in combinations(cage.members, 2):
        if {one.start, one.end} & {other.start, other.end}:
            continue
        apart = _between(places, one, other)
        if apart is not None and apart < 0.25 * (one.tube.diameter + other.tube.diameter):
            yield Fault(
                kind="tube",
                name=other.part,
                found=f"a crossing with the tube {one.part} without a node",
                expected="a node where two tubes cross",
                cure="Add the node where they cross and name it in both lists.",
            )


def _from_node(node: Vector, start: Vector, end: Vector) -> float:
    along = _less(end, start)
    share = _dot(_less(node, start), along) / _dot(along, along)
    return math.dist(node, _at(start, along, min(max(share, 0.0), 1.0)))


def _between(places: Mapping[str, Vector], one: CageMember, other: CageMember) -> float | None:
    """How near the axes of two pieces pass each other between their ends; None if they do not."""
    first, second = places[one.start], places[other.start]
    a, b = _less(places[one.end], first), _less(places[other.end], second)
    apart = _less(first, second)
    aa, bb, ab = _dot(a, a), _dot(b, b), _dot(a, b)
    square = aa * bb - ab * ab
    if square < 1e-9 * aa * bb:
        return None
    s = (ab * _dot(b, apart) - bb * _dot(a, apart)) / square
    t = (aa * _dot(b, apart) - ab * _dot(a, apart)) / square
    if not (0.0 <= s <= 1.0 and 0.0 <= t <= 1.0):
        return None
    return math.dist(_at(first, a, s), _at(second, b, t))


def _less(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _at(start: Vector, along: Vector, share: float) -> Vector:
    return start[0] + share * along[0], start[1] + share * along[1], start[2] + share * along[2]


def _written(position: Vector) -> str:
    return ", ".join(f"{each:g} m" for each in position)
