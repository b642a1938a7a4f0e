"""Runs of the published cases on straps, bolts and plates."""

from math import degrees

from tintop.physics import bolt_groups, bolts, plates, straps, threads
from tintop.physics.bolt_groups import Place
from tintop.physics.plates import Corner
from tintop.physics.straps import Point
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _strap_angles(given: Inputs) -> Results:
    start = Point(0.0, 0.0, 0.0)
    ends = [Point(-si(back, "mm"), 0.0, -si(down, "mm")) for back, down in given["back_and_down_mm"]]
    turned = [Point(-si(back, "mm"), si(across, "mm"), 0.0) for back, across in given["back_and_across_mm"]]
    error = si(given["error_mm"], "mm")
    return {
        "side_deg": [degrees(straps.angle_below_horizontal(start, end)) for end in ends],
        "plan_deg": [degrees(straps.plan_angle(start, end)) for end in turned],
        "from_vertical_deg": [degrees(straps.angle_from_vertical(start, end)) for end in ends],
        "spread_of_first_deg": degrees(
            straps.side_view_spread(start, Point(-si(given["run_mm"], "mm"), 0.0, 0.0), error)
        ),
    }


def _stress_areas(given: Inputs) -> Results:
    return {"area_mm2": [printed(threads.thread_named(name).stress_area, "mm2") for name in given["threads"]]}


def _bolt_loads(given: Inputs) -> Results:
    grade, names = given["grade"], given["threads"]
    return {
        "breaking_kN": [printed(bolts.breaking_load(name, grade).value, "kN") for name in names],
        "three_of_first_kN": printed(bolts.breaking_load(names[0], grade, 3).value, "kN"),
        "tension_kN": [printed(bolts.tension_capacity(name, grade).value, "kN") for name in names],
        "single_shear_kN": [printed(bolts.shear_capacity(name, grade).value, "kN") for name in names],
        "double_shear_kN": [
            printed(bolts.shear_capacity(name, grade, planes=2).value, "kN") for name in names
        ],
    }


def _sections(given: Inputs) -> Results:
    (count, size), (of_count, of_size) = given["these"], given["against"]
    share = threads.section_share(count, si(size, "mm"), of_count, si(of_size, "mm"))
    return {"share": [share.numerator, share.denominator]}


def _bolt_group(given: Inputs) -> Results:
    found = bolt_groups.shear_in_group(
        [Place(si(x, "mm"), si(y, "mm")) for x, y in given["bolts_mm"]],
        Place(*(si(part, "kN") for part in given["force_kN"])),
        Place(*(si(part, "mm") for part in given["at_mm"])),
    )
    return {
        "moment_Nm": found.moment,
        "forces_kN": [printed((force.x**2 + force.y**2) ** 0.5, "kN") for force in found.forces],
        "largest_kN": printed(found.largest, "kN"),
    }


def _held_masses(given: Inputs) -> Results:
    return {"force_N": [bolt_groups.force_at(mass, times) for mass, times in given["mass_kg_and_g"]]}


def _plate_areas(given: Inputs) -> Results:
    drawn = [[Corner(si(x, "mm"), si(y, "mm")) for x, y in outline] for outline in given["outlines_mm"]]
    discs = [plates.disc_area(si(diameter, "mm")) for diameter in given["discs_mm"]]
    holes = [si(diameter, "mm") for diameter in given["holes_in_first_mm"]]
    return {
        "outline_cm2": [printed(plates.outline_area(corners), "cm2") for corners in drawn],
        "least_width_mm": [printed(plates.least_width(corners), "mm") for corners in drawn],
        "disc_cm2": [printed(area, "cm2") for area in discs],
        "first_less_holes_cm2": printed(plates.net_area(plates.outline_area(drawn[0]), holes), "cm2"),
    }


RUNS: dict[str, Run] = {
    "strap_angles": _strap_angles,
    "stress_areas": _stress_areas,
    "bolt_loads": _bolt_loads,
    "bolt_sections": _sections,
    "bolt_group": _bolt_group,
    "held_masses": _held_masses,
    "plate_areas": _plate_areas,
}
