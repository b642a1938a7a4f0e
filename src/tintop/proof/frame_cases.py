"""Runs of the published cases on frames, tubes, struts and the cage's proof loads."""

import math

import numpy as np

from tintop.car import cage_loads
from tintop.car.cage import Side
from tintop.errors import refuse
from tintop.physics import tubes
from tintop.physics.frame import Frame, Loose, Solved, assemble, solve
from tintop.proof.figures import Inputs, Results, Run, printed, si

_POISSON_RATIO = 0.3  # no case asks for torsion


def solved(
    nodes: list[tuple[float, float]],
    members: list[tuple[int, int]],
    section: tuple[float, float],
    youngs_modulus: float,
    fixed: tuple[int, ...],
    down: dict[int, float],
) -> Solved:
    """Solve a plane frame of one section (area, second moment) stood up in x and z, under vertical forces."""
    count, (area, second_moment) = len(members), section
    held = np.zeros((len(nodes), 6), dtype=bool)
    held[list(fixed)] = True
    frame = Frame(
        nodes=np.array([(x, 0.0, z) for x, z in nodes]),
        ends=np.array(members),
        area=np.full(count, area),
        second_moment=np.full(count, second_moment),
        polar_moment=np.full(count, 2.0 * second_moment),
        youngs_modulus=youngs_modulus,
        shear_modulus=youngs_modulus / (2.0 * (1.0 + _POISSON_RATIO)),
        released=np.zeros((count, 2), dtype=bool),
        held=held,
    )
    load = np.zeros((1, len(nodes), 6))
    for node, force in down.items():
        load[0, node, 2] = -force
    ready = assemble(frame)
    if isinstance(ready, Loose):
        raise refuse("frame", f"node {ready.node} moves freely", "a frame that holds")
    return solve(ready, load)


def _gable(given: Inputs) -> Results:
    names = list(given["nodes_in"])
    nodes = [(si(x, "in"), si(y, "in")) for x, y in given["nodes_in"].values()]
    kip = si(1e3, "lbf")
    members = [tuple(names.index(name) for name in pair) for pair in given["members"]]
    found = solved(
        nodes,
        [(start, end) for start, end in members],
        (given["A_in2"] * si(1.0, "in2"), given["I_in4"] * si(1.0, "in") ** 4),
        given["E_ksi"] * kip / si(1.0, "in2"),
        tuple(names.index(name) for name in given["fixed"]),
        {names.index(name): force * kip for name, force in given["down_kip"].items()},
    )
    moved, given_back = found.moves[0], found.reactions[0]
    moment = kip * si(1.0, "in")
    result: dict[str, float] = {}
    for name in given["fixed"]:
        row = given_back[names.index(name)]
        result[f"Rx_{name}_kip"] = row[0] / kip
        result[f"Ry_{name}_kip"] = row[2] / kip
        result[f"Mz_{name}_kipin"] = (
            -row[4] / moment
        )  # the book's z points at the reader, our y away from him
    node = names.index("N3")
    result["DY_N3_in"] = printed(moved[node, 2], "in")
    result["rot_N3_rad"] = -moved[node, 4]
    return result


def _portal(
    span: float, height: float, load: float, section: tuple[float, float], youngs_modulus: float
) -> dict[str, float]:
    nodes = [(0.0, 0.0), (0.0, height), (0.5 * span, height), (span, height), (span, 0.0)]
    members = [(0, 1), (1, 2), (2, 3), (3, 4)]
    found = solved(nodes, members, section, youngs_modulus, (0, 4), {2: load})
    base, beam = found.reactions[0, 0], found.end_forces[0, 1]
    return {
        "M_corner_Nm": float(np.hypot(beam[4], beam[5])),
        "M_base_Nm": abs(float(base[4])),
        "H_N": abs(float(base[0])),
        "V_N": float(base[2]),
        "M_mid_Nm": float(np.hypot(beam[10], beam[11])),
        "deflection_mm": printed(found.moves[0, 2, 2], "mm"),
    }


def _portals(given: Inputs) -> Results:
    a, b = given["A"], given["B"]
    diameter, wall = (si(value, "mm") for value in b["tube_mm"])
    tube = tubes.round_tube(diameter, wall)
    modulus = b["E_MPa"] * 1e6
    stiff = 1e6 * tube.area  # as good as inextensible
    closed = _portal(a["span_m"], a["height_m"], a["W_N"], (stiff, tube.second_moment), modulus)
    measures = (b["span_m"], b["height_m"], b["W_N"])
    rigid = _portal(*measures, (stiff, tube.second_moment), modulus)
    rigid["beam_centre_deflection_inextensible_mm"] = rigid.pop("deflection_mm")
    real = _portal(*measures, (tube.area, tube.second_moment), modulus)
    return {"A": closed, "B": {**rigid, "with_axial": real}}


def _sections(given: Inputs) -> Results:
    found = [tubes.round_tube(si(d, "mm"), si(t, "mm")) for d, t in given["tubes_D_t_mm"]]
    return {
        "A_mm2": [printed(each.area, "mm2") for each in found],
        "I_mm4": [each.second_moment * 1e12 for each in found],
        "W_mm3": [each.elastic_modulus * 1e9 for each in found],
        "i_mm": [printed(each.radius_of_gyration, "mm") for each in found],
        "Zp_mm3": [each.plastic_modulus * 1e9 for each in found],
        "kg_per_m": [each.area * given["rho"] for each in found],
    }


def _struts(given: Inputs) -> Results:
    modulus, strength = given["E_MPa"] * 1e6, given["Sy_MPa"] * 1e6
    names = ("slenderness", "Euler_kN", "Johnson_kN", "governing_kN", "squash_kN")
    columns: dict[str, list[float]] = {name: [] for name in names}
    for diameter, wall, millimetres in given["cases_D_t_L_mm"]:
        tube, length = tubes.round_tube(si(diameter, "mm"), si(wall, "mm")), si(millimetres, "mm")
        row = (
            length / tube.radius_of_gyration,
            1e-3 * tubes.euler_load(tube, length, modulus),
            1e-3 * tubes.johnson_load(tube, length, modulus, strength),
            1e-3 * tubes.buckling_load(tube, length, modulus, strength),
            1e-3 * tube.area * strength,
        )
        for name, value in zip(names, row, strict=True):
            columns[name].append(value)
    return {"lambda1": tubes.transition_slenderness(modulus, strength), **columns}


def _proof_loads(given: Inputs) -> Results:
    mass = given["car_mass_kg"]
    return {
        "main_hoop_N": cage_loads.main_hoop_force(mass, given["g"]),
        "front_hoop_N": cage_loads.front_force(mass, given["g"]),
        "main_hoop_as_written_N": cage_loads.main_hoop_force(mass),
        "front_hoop_as_written_N": cage_loads.front_force(mass),
    }


def _roof_crush(given: Inputs) -> Results:
    press = cage_loads.tilted_press(Side.LEFT)
    return {
        "force_N": cage_loads.roof_plate_force(given["unloaded_mass_kg"]),
        "direction": [float(value) for value in press],
        "length": math.hypot(*press),
    }


RUNS: dict[str, Run] = {
    "gable_frame": _gable,
    "portal_frames": _portals,
    "tube_sections": _sections,
    "struts": _struts,
    "cage_proof_loads": _proof_loads,
    "roof_crush_load": _roof_crush,
}
