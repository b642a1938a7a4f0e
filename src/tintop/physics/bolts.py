"""What bolts and the sheet they hold carry: tension, shear, bearing, pull-through, an anchor as a whole.

EN 1993-1-8:2005, table 3.4, with its partial factor 1.25, from memory. Every one is
a static figure of sound steel.
"""

import math
from dataclasses import dataclass

from tintop.checks import above_nought, require
from tintop.physics.threads import grade_named, thread_named

CAUTION = (
    "A static figure of sound steel, bolts tight and in good thread. No weld, rust, crack, bend or "
    "fatigue is in it. The regulations, the scrutineer and a qualified fabricator's word go before it."
)
PARTIAL_FACTOR = 1.25
_TABLE = "EN 1993-1-8:2005, table 3.4 (from memory)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """What something carries [N]; the formula, what gives way first, where it is from, what to beware of."""

    value: float
    formula: str
    governs: str
    source: str
    caution: str = CAUTION


def breaking_load(thread: str, grade: str, count: int = 1) -> Capacity:
    """Give the least load that breaks so many bolts in straight tension [N]: n Rm As, no safety factor.

    Source: ISO 898-1:2013, tables 4 and 5 (smallest ultimate tensile loads). BadInput for unknown names.
    """
    bolt, steel = thread_named(thread), grade_named(grade)
    return Capacity(
        value=_bolts(count) * steel.tensile * bolt.stress_area,
        formula="n Rm As",
        governs="thread, breaking",
        source="ISO 898-1:2013, smallest ultimate tensile load",
    )


def tension_capacity(
    thread: str, grade: str, count: int = 1, partial_factor: float = PARTIAL_FACTOR
) -> Capacity:
    """Give what so many bolts carry in straight tension [N]: n 0.9 Rm As / γM2.

    Source: EN 1993-1-8:2005, table 3.4 (from memory). BadInput for unknown names or a factor below 1.
    """
    bolt, steel = thread_named(thread), grade_named(grade)
    return Capacity(
        value=_bolts(count) * 0.9 * steel.tensile * bolt.stress_area / _factor(partial_factor),
        formula="n 0.9 Rm As / γM2",
        governs="bolt in tension",
        source=_TABLE,
    )


def shear_capacity(
    thread: str,
    grade: str,
    count: int = 1,
    planes: int = 1,
    is_thread_in_plane: bool = True,
    partial_factor: float = PARTIAL_FACTOR,
) -> Capacity:
    """Give what so many bolts carry across [N]: n planes share Rm A / γM2.

    planes 1 (single shear) or 2 (double). With the thread in the plane A is the stress area and the share
    0.6 (4.6, 5.6, 8.8) or 0.5 (the others); with the plain shank A is the nominal section and the share 0.6.
    Source: EN 1993-1-8:2005, table 3.4 (from memory). BadInput for unknown names, other planes, or a factor
    below 1.
    """
    bolt, steel = thread_named(thread), grade_named(grade)
    require(planes in (1, 2), "shear planes", f"{planes:g}", "1 (single shear) or 2 (double shear)")
    share, area = (steel.shear_share, bolt.stress_area) if is_thread_in_plane else (0.6, bolt.nominal_area)
    return Capacity(
        value=_bolts(count) * planes * share * steel.tensile * area / _factor(partial_factor),
        formula=f"n planes {share:g} Rm {'As' if is_thread_in_plane else 'A'} / γM2",
        governs="bolt in shear, through the thread" if is_thread_in_plane else "bolt in shear, plain shank",
        source=_TABLE,
    )


def bearing_capacity(
    *,
    thread: str,
    grade: str,
    hole: float,
    thickness: float,
    plate_tensile: float,
    end_distance: float,
    edge_distance: float,
    count: int = 1,
    partial_factor: float = PARTIAL_FACTOR,
) -> Capacity:
    """Give what the plate carries at the sides of its holes [N]: n k1 ab Rm_plate d t / γM2.

    ab = min(e1/(3 d0), Rm_bolt/Rm_plate, 1), k1 = min(2.8 e2/d0 - 1.7, 2.5); hole d0, thickness t,
    distances from the hole's middle to the plate's end along the pull e1 and to its side e2 [m];
    plate_tensile [Pa]. The spacing of bolts in a row is not looked at: every one counts as an end bolt.
    Source: EN 1993-1-8:2005, tables 3.3 and 3.4 (from memory). BadInput for a hole smaller than the bolt,
    or nearer an edge than 1.2 hole diameters.
    """
    bolt, steel = thread_named(thread), grade_named(grade)
    above_nought(thickness, "plate thickness", "m")
    above_nought(plate_tensile, "tensile strength of the plate", "Pa")
    require(
        math.isfinite(hole) and round(hole - bolt.diameter, 9) >= 0.0,
        "hole",
        f"{1e3 * hole:g} mm",
        f"{1e3 * bolt.diameter:g} mm or more for {bolt.name}",
    )
    for distance, name in ((end_distance, "end distance"), (edge_distance, "edge distance")):
        require(
            math.isfinite(distance) and round(distance - 1.2 * hole, 9) >= 0.0,
            name,
            f"{1e3 * distance:g} mm",
            f"{1.2e3 * hole:.4g} mm or more, 1.2 times the hole",
            "A hole nearer the edge than that tears out; the formula does not reach there.",
        )
    shares = {
        "plate, tearing out to its end": end_distance / (3.0 * hole),
        "bolt's side, softer than the plate": steel.tensile / plate_tensile,
        "plate, hole pulled long": 1.0,
    }
    governs = min(shares, key=lambda name: shares[name])
    across = 2.8 * edge_distance / hole - 1.7
    strength = min(across, 2.5) * shares[governs] * plate_tensile * bolt.diameter * thickness
    return Capacity(
        value=_bolts(count) * strength / _factor(partial_factor),
        formula="n k₁ αb Rm d t / γM2",
        governs=governs if across >= 2.5 else f"{governs}, near its side",
        source=_TABLE,
    )


def pull_through_capacity(
    perimeter: float, thickness: float, sheet_tensile: float, partial_factor: float = PARTIAL_FACTOR
) -> Capacity:
    """Give what it takes to punch a head, washer or plate through the sheet [N]: 0.6 u t Rm / γM2.

    perimeter u [m] of what bears on the sheet (pi dm for a head, dm the mean of its width across flats
    and corners), thickness t of the sheet [m], its tensile strength [Pa]. Source: EN 1993-1-8:2005, table
    3.4, for heads and nuts (from memory); for a washer's or plate's edge the same with its perimeter, own
    reading, which errs high where it bends before the sheet shears. BadInput for what is not above 0 or a
    factor below 1.
    """
    above_nought(perimeter, "perimeter", "m")
    above_nought(thickness, "sheet thickness", "m")
    above_nought(sheet_tensile, "tensile strength of the sheet", "Pa")
    return Capacity(
        value=0.6 * perimeter * thickness * sheet_tensile / _factor(partial_factor),
        formula="0.6 u t Rm / γM2",
        governs="sheet, punched through round the edge",
        source=_TABLE,
    )


def head_perimeter(across_flats: float) -> float:
    """Give pi dm of a hexagon head or nut [m], dm the mean of flats and corners; across_flats [m].

    Source: geometry of a sharp hexagon with EN 1993-1-8:2005 1.5 (from memory). BadInput for no width.
    """
    above_nought(across_flats, "width across flats", "m")
    return math.pi * 0.5 * across_flats * (1.0 + 2.0 / math.sqrt(3.0))


def combined_use(
    shear_force: float, tension_force: float, shear_capacity: float, tension_capacity: float
) -> float:
    """Give the share of a bolt used by shear and tension together: 1 is its limit.

    Forces [N], one bolt's; max(Fv/Fv,Rd + Ft/(1.4 Ft,Rd), Ft/Ft,Rd). Source: EN 1993-1-8:2005, table 3.4
    (from memory). BadInput for negative forces or capacities that are not above 0.
    """
    above_nought(shear_capacity, "shear capacity", "N")
    above_nought(tension_capacity, "tension capacity", "N")
    for force, name in ((shear_force, "shear force"), (tension_force, "tension force")):
        require(math.isfinite(force) and force >= 0.0, name, f"{force:g} N", "0 N or more")
    across, along = shear_force / shear_capacity, tension_force / tension_capacity
    return max(across + along / 1.4, along)


def anchor_capacity(
    angle_to_plate: float, *, shear: float, tension: float, bearing: float, pull_through: float
) -> Capacity:
    """Give the strap pull that an anchor carries [N], and which of its parts gives way first.

    angle_to_plate [rad]: 0 = along the plate (pure shear), a right angle = straight off it. The other four
    [N] are the capacities of the whole anchor. Source: statics with combined_use. BadInput for an angle
    outside 0 to a right angle or a capacity that is not above 0.
    """
    require(
        math.isfinite(angle_to_plate) and 0.0 <= angle_to_plate <= math.pi / 2.0,
        "angle of the pull to the plate",
        f"{math.degrees(angle_to_plate):g} deg",
        "0 to 90 deg",
    )
    across, along = math.cos(angle_to_plate), math.sin(angle_to_plate)
    above_nought(bearing, "bearing capacity", "N")
    above_nought(pull_through, "pull-through capacity", "N")
    used_per_newton = {
        "bolt": combined_use(across, along, shear, tension),
        "plate at the side of the hole": across / bearing,
        "sheet, punched through": along / pull_through,
    }
    governs = max(used_per_newton, key=lambda name: used_per_newton[name])
    return Capacity(
        value=1.0 / used_per_newton[governs],
        formula="smallest pull that uses up the bolt, the side of the hole, or the sheet",
        governs=governs,
        source=_TABLE,
    )


def _bolts(count: int) -> int:
    require(count >= 1 and count == int(count), "number of bolts", f"{count:g}", "a whole number from 1")
    return int(count)


def _factor(partial_factor: float) -> float:
    require(
        math.isfinite(partial_factor) and partial_factor >= 1.0,
        "partial factor",
        f"{partial_factor:g}",
        "1 or more",
    )
    return partial_factor
