"""The cage as a frame of tubes: nodes, tubes, joints and feet; SI, axes of ISO 8855, any origin."""

import math
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from tintop.checks import require, within
from tintop.known import Origin
from tintop.physics import tubes

Vector = tuple[float, float, float]

LEAST_FEET = 4


class Role(StrEnum):
    """What a tube is in the cage, in the words of the rule books."""

    MAIN_HOOP = "main hoop"
    FRONT_HOOP = "front hoop"
    HALF_HOOP = "half hoop"
    FRONT_LEG = "front leg"
    ROOF_BAR = "roof bar"
    WINDSCREEN_BAR = "windscreen bar"
    DIAGONAL = "diagonal"
    ROOF_DIAGONAL = "roof diagonal"
    DOOR_BAR = "door bar"
    STAY = "stay"
    HARNESS_BAR = "harness bar"
    GUSSET_BAR = "gusset bar"
    OTHER = "other"


class Fixing(StrEnum):
    """How a foot is held: welded is clamped, bolted is held in place and free to turn."""

    WELDED = "welded"
    BOLTED = "bolted"


class Side(StrEnum):
    """Side of the car on which the driver sits."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A round tube: outside diameter and wall [m]."""

    diameter: float
    wall: float

    def __post_init__(self) -> None:
        within(self.diameter, 0.010, 0.120, "tube.diameter", "m")
        within(self.wall, 0.0005, 0.012, "tube.wall", "m")
        require(
            2.0 * self.wall < self.diameter,
            "tube.wall",
            f"{1e3 * self.wall:g} mm in a tube of {1e3 * self.diameter:g} mm",
            "less than half the diameter",
        )

    @property
    def section(self) -> tubes.RoundTube:
        """Area, second moment and moduli of the section."""
        return tubes.round_tube(self.diameter, self.wall)

    def __str__(self) -> str:
        return f"{1e3 * self.diameter:g} × {1e3 * self.wall:g} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Steel:
    """The tubes' material: strengths, moduli [Pa], density [kg/m³], and how its strengths are known."""

    yield_strength: float
    tensile_strength: float | None = None  # None = not stated; no result hangs on it
    youngs_modulus: float = 205e9
    poisson_ratio: float = 0.3
    density: float = 7850.0
    origin: Origin = Origin.ASSUMED
    source: str = ""

    def __post_init__(self) -> None:
        within(self.yield_strength, 100e6, 2000e6, "steel.yield_strength", "Pa")
        within(self.youngs_modulus, 60e9, 250e9, "steel.youngs_modulus", "Pa")
        within(self.poisson_ratio, 0.0, 0.49, "steel.poisson_ratio", "")
        within(self.density, 1500.0, 12000.0, "steel.density", "kg/m3")
        if self.tensile_strength is not None:
            within(self.tensile_strength, 100e6, 2500e6, "steel.tensile_strength", "Pa")
            require(
                self.tensile_strength >= self.yield_strength,
                "steel.tensile_strength",
                f"{1e-6 * self.tensile_strength:g} MPa",
                f"at least the {1e-6 * self.yield_strength:g} MPa of the yield strength",
                "Are the two the wrong way round?",
            )

    @property
    def shear_modulus(self) -> float:
        """Shear modulus of an isotropic metal [Pa]."""
        return self.youngs_modulus / (2.0 * (1.0 + self.poisson_ratio))


@dataclass(frozen=True, slots=True, kw_only=True)
class CageNode:
    """A point where tubes meet, bend, or stand: x forward, y left, z up [m]."""

    name: str
    position: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class CageMember:
    """One straight piece of tube between two nodes; `part` names the whole tube it belongs to.

    A bolted end is a removable joint: it passes force and torsion, and no bending.
    """

    name: str
    part: str
    role: Role
    start: str
    end: str
    tube: Tube
    bolted_start: bool = False
    bolted_end: bool = False


def pieces(
    part: str, role: Role, through: Sequence[str], tube: Tube, bolted: Collection[str] = ()
) -> tuple[CageMember, ...]:
    """Cut a tube that runs through nodes into straight pieces; `bolted` names those of its ends that are."""
    count = len(through) - 1
    return tuple(
        CageMember(
            name=part if count == 1 else f"{part}, piece {place}",
            part=part,
            role=role,
            start=start,
            end=end,
            tube=tube,
            bolted_start=place == 1 and start in bolted,
            bolted_end=place == count and end in bolted,
        )
        for place, (start, end) in enumerate(pairwise(through), 1)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """A node that stands on the shell, and how it is fixed to it."""

    node: str
    fixing: Fixing = Fixing.WELDED


@dataclass(frozen=True, slots=True, kw_only=True)
class Cage:
    """A cage: its nodes, straight pieces of tube, feet, steel, and the car it stands in [kg]."""

    name: str
    car_mass: float  # unloaded, as the proof loads take it
    driver_side: Side
    nodes: tuple[CageNode, ...]
    members: tuple[CageMember, ...]
    feet: tuple[Foot, ...]
    steel: Steel

    def __post_init__(self) -> None:
        within(self.car_mass, 300.0, 5000.0, "car_mass", "kg")

    def places(self) -> dict[str, Vector]:
        """Where every node is, by its name."""
        return {each.name: each.position for each in self.nodes}

    def position(self, node: str) -> Vector:
        """Give where a node is; KeyError if there is none of the name."""
        return self.places()[node]

    def length(self, member: CageMember) -> float:
        """Length of a piece from node to node [m]."""
        return math.dist(self.position(member.start), self.position(member.end))

    @property
    def mass(self) -> float:
        """Mass of the tubes from node to node, without plates and welds [kg]."""
        return sum(self.length(each) * each.tube.section.area * self.steel.density for each in self.members)

    def tube_list(self) -> "tuple[CutTube, ...]":
        """Every whole tube in the order written: its role, size, length along its axis and mass."""
        found: dict[str, CutTube] = {}
        for each in self.members:
            length = self.length(each)
            before = found[each.part].length if each.part in found else 0.0
            total = before + length
            found[each.part] = CutTube(
                part=each.part,
                role=each.role,
                tube=each.tube,
                length=total,
                mass=total * each.tube.section.area * self.steel.density,
            )
        return tuple(found.values())

    def tubes_at(self) -> Counter[str]:
        """How many ends of tube meet at each node."""
        return Counter(node for each in self.members for node in (each.start, each.end))


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTube:
    """One whole tube to be cut: length along its axis [m] and mass [kg]."""

    part: str
    role: Role
    tube: Tube
    length: float
    mass: float


class KnownHow(StrEnum):
    """How a proof load is known; only one that was read, or the owner's own, can speak for a cage."""

    READ = "read"
    QUOTED = "quoted"  # read, as others quote it
    MEMORY = "memory"
    YOURS = "yours"

    @property
    def speaks(self) -> bool:
        """Whether a load known so can be more than not proven."""
        return self in (KnownHow.READ, KnownHow.YOURS)


class Case(StrEnum):
    """Which way a proof load presses."""

    MAIN_HOOP = "main hoop"
    FRONT = "front"
    LATERAL = "lateral"
    ROOF = "roof"
    COMBINED = "combined"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class NodeForce:
    """A force on a node [N]."""

    node: str
    force: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class CageLoad:
    """A static proof load: forces on nodes, and how far they may go along the axis it is judged by.

    `applies` is False for a load shown beside the others for comparison: it decides nothing.
    """

    name: str
    case: Case
    forces: tuple[NodeForce, ...]
    axes: tuple[Vector, ...]  # unit vectors; movement along the worst of them is judged
    permitted_deflection: float | None  # [m]; None = the set gives none
    known: KnownHow
    source: str
    applies: bool = True
    note: str = ""

    @property
    def total(self) -> Vector:
        """Sum of the forces [N]."""
        x, y, z = (math.fsum(each.force[axis] for each in self.forces) for axis in range(3))
        return x, y, z


@dataclass(frozen=True, slots=True, kw_only=True)
class NodeMove:
    """How far a node moves [m] and turns [rad], elastic."""

    node: str
    move: Vector
    turn: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class FootReaction:
    """What the shell must give a foot: force [N] and moment [N·m] on the cage."""

    node: str
    fixing: Fixing
    force: Vector
    moment: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberUse:
    """What a piece of tube carries, elastic: the forces at its ends and how much of it they use.

    `start` and `end` are forces and moments on the piece along its own axes: axial, two shears [N], torsion,
    two bendings [N·m]. `axial` is positive in tension. A use of 1 is the limit: first yield, full plastic
    moment with the axial force, or buckling of the tube between its joints, bent as it is; `buckling_load`
    is the straight tube's.
    """

    member: str
    start: tuple[float, ...]
    end: tuple[float, ...]
    axial: float
    bending: float  # the larger of both ends [N·m]
    stress: float  # equivalent, at the worst point [Pa]
    yield_use: float
    plastic_use: float
    buckling_use: float
    buckling_load: float  # [N]

    @property
    def use(self) -> float:
        """The larger of what is used of its plastic strength and of its strength as a bent strut."""
        return max(self.plastic_use, self.buckling_use)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge:
    """A plastic hinge: at which multiple of the load it was first seen, in which piece, at which node."""

    factor: float
    member: str
    node: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitEstimate:
    """Multiples of the proof load, estimated: at first yield, first hinge, first buckling, as a mechanism.

    `first_buckling` is of the first tube between its joints, pressed and bent at once.

    `elastic_critical` is where the frame as a whole would buckle if it never yielded. `deflection` is along
    the axis at the proof load itself with hinges counted [m]; None where the frame gives way before it.
    """

    first_yield: float
    first_hinge: float
    first_buckling: float
    mechanism: float
    elastic_critical: float
    hinges: tuple[Hinge, ...]
    deflection: float | None

    @property
    def carries(self) -> float:
        """The multiple of the load that is carried: by the frame as a whole, or until a tube buckles.

        Of the whole: 1/carried = 1/mechanism + 1/critical.
        Source: W. Merchant 1954, as in Horne 1979, frame instability (from memory).
        """
        whole = 1.0 / (1.0 / self.mechanism + 1.0 / self.elastic_critical)
        return min(whole, self.first_buckling)


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadResult:
    """A cage under one proof load."""

    load: CageLoad
    moves: tuple[NodeMove, ...]
    reactions: tuple[FootReaction, ...]
    members: tuple[MemberUse, ...]
    deflection: float  # elastic, largest of the loaded nodes along the axis [m]
    deflected_node: str
    weakest: MemberUse
    limit: LimitEstimate
