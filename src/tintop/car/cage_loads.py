"""Published static proof loads on a cage: which nodes a rigid stamp touches, and with what force.

A stamp is stood on the cage where it would touch first, and pushes the nodes it touches equally far. Figures
from memory are marked so, and prove nothing.
"""

import math
from dataclasses import dataclass

from tintop.car.cage import Cage, CageLoad, Case, KnownHow, Role, Side, Vector
from tintop.car.cage_holding import stand
from tintop.car.cage_limit import StandingCage
from tintop.car.cage_sharing import shared

AS_WRITTEN = 10.0  # [N] a kilogram counts as: the figures are written in daN of the mass in kg
PITCH, TILT = math.radians(5.0), math.radians(25.0)
_CAR_AND_TWO = 150.0  # [kg] added to the car's mass
_CAR_AND_ONE = 75.0
_TOP = 0.030  # [m] below its highest point, what a stamp on top still touches
_DEEP = 0.030  # [m] below where it touches first, what a tilted stamp still touches
_FRONT_ROLES = {Role.FRONT_HOOP, Role.HALF_HOOP, Role.FRONT_LEG, Role.WINDSCREEN_BAR, Role.ROOF_BAR}

_HOMOLOGATION = (
    "FIA homologation regulations for safety cages, called up by Appendix J art. 253-8.1 "
    "(from memory: unverified)"
)
_ROOF_CRUSH = "49 CFR 571.216a (FMVSS 216a), S5.1 and S7 (read)"
_SINGLE_SEATER = (
    "FIA single-seater technical regulations 2017, tests of roll structures (as quoted by others)"
)
_OLDER = "FIA Appendices J and K, editions of the 1990s (from memory: unverified)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """A flat rigid block: the way it presses, its long and cross axes, and half its size along them [m]."""

    press: Vector
    long_axis: Vector
    cross_axis: Vector
    half_length: float
    half_width: float


def tilted_press(side: Side) -> Vector:
    """Give the unit direction normal to a block pitched 5° forward-down and tilted 25° outward-down.

    It is rearward, inward and down: -(e1 × e2) with e1 forward, e2 outward.
    Source: 49 CFR 571.216a S7.1.
    """
    outward = _sign(side)
    return (
        -math.sin(PITCH) * math.cos(TILT) / _press_length(),
        -outward * math.cos(PITCH) * math.sin(TILT) / _press_length(),
        -math.cos(PITCH) * math.cos(TILT) / _press_length(),
    )


def _press_length() -> float:
    return math.hypot(
        math.sin(PITCH) * math.cos(TILT), math.cos(PITCH) * math.sin(TILT), math.cos(PITCH) * math.cos(TILT)
    )


def tilted_stamp(side: Side, length: float, width: float) -> Stamp:
    """Give a block of a length and width [m] in the attitude of `tilted_press`."""
    outward = _sign(side)
    return Stamp(
        press=tilted_press(side),
        long_axis=(math.cos(PITCH), 0.0, -math.sin(PITCH)),
        cross_axis=(0.0, outward * math.cos(TILT), -math.sin(TILT)),
        half_length=0.5 * length,
        half_width=0.5 * width,
    )


def standard_loads(
    cage: Cage, *, kilogram: float = AS_WRITTEN, with_older: bool = False, front_corner: str | None = None
) -> tuple[CageLoad, ...]:
    """Give every published load this cage has the tubes for; a cage without a front has no front load.

    `kilogram` is the force [N] a kilogram counts as in the homologation's figures, `with_older` lets the
    older editions decide as well, `front_corner` names the node of the driver's front upper corner.
    Raises BadInput for a cage that cannot stand.
    """
    standing = stand(cage)
    found = [
        *_main_hoop(standing, kilogram),
        *_front(standing, kilogram, front_corner),
        *_roof_plate(standing),
        *_older(standing, kilogram, with_older),
        *_single_seater(standing),
    ]
    return tuple(found)


def main_hoop_force(car_mass: float, kilogram: float = AS_WRITTEN) -> float:
    """Give the vertical load on a main hoop [N]: 7.5 (mass + 150 kg), from memory and unverified."""
    return 7.5 * (car_mass + _CAR_AND_TWO) * kilogram


def front_force(car_mass: float, kilogram: float = AS_WRITTEN) -> float:
    """Give the load on a front upper corner [N]: 3.5 (mass + 150 kg), from memory and unverified."""
    return 3.5 * (car_mass + _CAR_AND_TWO) * kilogram


def roof_plate_force(car_mass: float) -> float:
    """Give the load on either side of a production roof [N]: 3.0 × unloaded mass × 9.8.

    Source: 49 CFR 571.216a S5.1, for a gross mass of 2,722 kg at most.
    """
    return 3.0 * car_mass * 9.8


def _main_hoop(standing: StandingCage, kilogram: float) -> list[CageLoad]:
    cage = standing.cage
    top = _hoop_top(cage)
    if not top:
        return []
    down = (0.0, 0.0, -1.0)
    return [
        CageLoad(
            name="main hoop from above",
            case=Case.MAIN_HOOP,
            forces=shared(standing, top, down, main_hoop_force(cage.car_mass, kilogram)),
            axes=(down,),
            permitted_deflection=0.050,
            known=KnownHow.MEMORY,
            source=_HOMOLOGATION,
            note="7.5 times car and 150 kg; a stamp over the whole top of the hoop",
        )
    ]


def _front(standing: StandingCage, kilogram: float, named: str | None) -> list[CageLoad]:
    cage = standing.cage
    corner = named or front_upper_corner(cage)
    if corner is None:
        return []
    stamp = tilted_stamp(cage.driver_side, 0.450, 0.250)
    nodes = _under(cage, stamp, corner, _nodes_of(cage, _FRONT_ROLES))
    return [
        CageLoad(
            name="front corner on the driver's side",
            case=Case.FRONT,
            forces=shared(standing, nodes, stamp.press, front_force(cage.car_mass, kilogram)),
            axes=(stamp.press,),
            permitted_deflection=0.100,
            known=KnownHow.MEMORY,
            source=_HOMOLOGATION,
            note="3.5 times car and 150 kg; a stamp 450 × 250 mm, 5° forward-down, 25° outward-down",
        )
    ]


def _roof_plate(standing: StandingCage) -> list[CageLoad]:
    cage = standing.cage
    loads = []
    for side in Side:
        stamp = tilted_stamp(side, 1.829, 0.762)
        here = [node.name for node in cage.nodes if _sign(side) * node.position[1] > 0.0]
        if not here:
            continue
        first = max(here, key=lambda name: -_dot(cage.position(name), stamp.press))
        loads.append(
            CageLoad(
                name=f"roof plate, {side.value}",
                case=Case.ROOF,
                forces=shared(
                    standing, _under(cage, stamp, first, here), stamp.press, roof_plate_force(cage.car_mass)
                ),
                axes=(stamp.press,),
                permitted_deflection=0.127,
                known=KnownHow.READ,
                source=_ROOF_CRUSH,
                note="3.0 times the unloaded mass; written for the roof of a production car as sold, "
                "here on the tubes alone",
            )
        )
    return loads


def _older(standing: StandingCage, kilogram: float, applies: bool) -> list[CageLoad]:
    cage = standing.cage
    top = _hoop_top(cage)
    if not top:
        return []
    mass = (cage.car_mass + _CAR_AND_ONE) * kilogram
    force = (-5.5 * mass, -_sign(cage.driver_side) * 1.5 * mass, -7.5 * mass)
    length = math.hypot(*force)
    press = _along(force, 1.0 / length)
    return [
        CageLoad(
            name="older editions, hoop top",
            case=Case.COMBINED,
            forces=shared(standing, top, press, length),
            axes=(press,),
            permitted_deflection=None,
            known=KnownHow.MEMORY,
            source=_OLDER,
            applies=applies,
            note="1.5 sideways, 5.5 rearward and 7.5 down at once, times car and 75 kg; no failure asked",
        )
    ]


def _single_seater(standing: StandingCage) -> list[CageLoad]:
    cage = standing.cage
    top = [node for node in _hoop_top(cage) if _sign(cage.driver_side) * cage.position(node)[1] >= 0.0]
    if not top:
        return []
    centre = max(top, key=lambda node: _sign(cage.driver_side) * cage.position(node)[1])
    touched = [node for node in top if math.dist(cage.position(node), cage.position(centre)) <= 0.100]
    force = (-60e3, -_sign(cage.driver_side) * 50e3, -90e3)
    length = math.hypot(*force)
    press = _along(force, 1.0 / length)
    return [
        CageLoad(
            name="single-seater roll structure",
            case=Case.COMBINED,
            forces=shared(standing, touched, press, length),
            axes=(press,),
            permitted_deflection=0.025,
            known=KnownHow.QUOTED,
            source=_SINGLE_SEATER,
            applies=False,
            note="50 kN sideways, 60 kN rearward, 90 kN down at once on a pad of 200 mm; for comparison "
            "only: no closed car is asked for it",
        )
    ]


def front_upper_corner(cage: Cage) -> str | None:
    """Give the node of the driver's front upper corner: where the windscreen bar ends, if there is one."""
    side = _sign(cage.driver_side)
    for roles in ({Role.WINDSCREEN_BAR}, _FRONT_ROLES):
        nodes = [
            node
            for node in _nodes_of(cage, roles) - _nodes_of(cage, {Role.MAIN_HOOP})
            if side * cage.position(node)[1] > 0.0
        ]
        if nodes:
            press = tilted_press(cage.driver_side)
            return max(sorted(nodes), key=lambda node: -_dot(cage.position(node), press))
    return None


def _hoop_top(cage: Cage) -> list[str]:
    nodes = _nodes_of(cage, {Role.MAIN_HOOP})
    if not nodes:
        return []
    highest = max(cage.position(node)[2] for node in nodes)
    return [node.name for node in cage.nodes if node.name in nodes and node.position[2] >= highest - _TOP]


def _under(cage: Cage, stamp: Stamp, first: str, among: set[str] | list[str]) -> list[str]:
    """The nodes under a stamp that is centred where it touches first."""
    start = cage.position(first)
    found = []
    for node in cage.nodes:
        away = tuple(a - b for a, b in zip(node.position, start, strict=True))
        if node.name == first or (
            node.name in among
            and abs(_dot(away, stamp.long_axis)) <= stamp.half_length
            and abs(_dot(away, stamp.cross_axis)) <= stamp.half_width
            and _dot(away, stamp.press) <= _DEEP
        ):
            found.append(node.name)
    return found


def _nodes_of(cage: Cage, roles: set[Role]) -> set[str]:
    return {node for each in cage.members if each.role in roles for node in (each.start, each.end)}


def _sign(side: Side) -> float:
    return 1.0 if side is Side.LEFT else -1.0


def _dot(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    return math.fsum(a * b for a, b in zip(one, other, strict=True))


def _along(direction: Vector, size: float) -> Vector:
    return direction[0] * size, direction[1] * size, direction[2] * size
