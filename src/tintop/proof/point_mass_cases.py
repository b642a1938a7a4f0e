"""Runs of the closed-form laps of one point with grip and power."""

import math

from tintop.physics import point_mass, road_load
from tintop.proof.figures import Inputs, Results, Run


def _circle(given: Inputs) -> Results:
    speeds = [point_mass.circle_speed(mu, radius, given["g"]) for mu, radius in given["cases_mu_R"]]
    laps = [
        point_mass.lap_of_circle(radius, v)
        for (_, radius), v in zip(given["cases_mu_R"], speeds, strict=True)
    ]
    return {"v_m_s": speeds, "lap_s": laps}


def _circle_with_downforce(given: Inputs) -> Results:
    result: dict[str, float] = {}
    for name in ("A", "B"):
        car = given[name]
        speed = point_mass.circle_speed(
            car["mu"], car["R"], given["g"], car["m"], car["half_rho_ClA"], car["half_rho_CdA"]
        )
        result[f"{name}_v"] = speed
        result[f"{name}_lap_s"] = point_mass.lap_of_circle(car["R"], speed)
    return result


def _straight(given: Inputs) -> Results:
    found = point_mass.straight_between(given["L_m"], 0.0, given["a_acc"], given["a_brk"])
    return {"v_peak": found.peak_speed, "t_s": found.time, "s_switch_m": found.switch}


def _standing_straight(given: Inputs) -> Results:
    traction = given["mu"] * given["g"] * given["driven_axle_share"]
    change = given["P_W"] / (given["m"] * traction)
    found = point_mass.standing_straight(
        given["L_m"], given["m"], given["P_W"], traction, given["mu"] * given["g"]
    )
    return {
        "a_tr": traction,
        "v1": change,
        "t1": change / traction,
        "s1": change**2 / (2.0 * traction),
        "v_peak": found.peak_speed,
        "brake_distance_m": given["L_m"] - found.switch,
        "t_total_s": found.time,
    }


def _oval_figures(oval: point_mass.Oval, straight: float, radius: float) -> Results:
    return {
        "length_m": 2.0 * straight + 2.0 * math.pi * radius,
        "v_corner": oval.corner_speed,
        "v_peak": oval.peak_speed,
        "t_straight": oval.straight_time,
        "t_corner": oval.corner_time,
        "lap_s": oval.lap_time,
    }


def _oval_constant_limits(given: Inputs) -> Results:
    oval = point_mass.oval_constant_limits(
        given["L_straight"], given["R"], given["mu"], given["a_acc"], given["a_brk"], given["g"]
    )
    return _oval_figures(oval, given["L_straight"], given["R"])


def _oval_constant_power(given: Inputs) -> Results:
    oval = point_mass.oval_constant_power(
        given["L_straight"], given["R"], given["mu"], given["m"], given["P_W"], given["g"]
    )
    return _oval_figures(oval, given["L_straight"], given["R"])


def _published_point_mass(given: Inputs) -> Results:
    load = road_load.RoadLoad(0.0, 0.0, given["kx_Ns2_m2"])

    def grip_speed(radius: float, friction: float) -> float:
        return point_mass.circle_speed(
            friction, radius, given["g"], given["m"], given["kz_Ns2_m2"], given["kx_Ns2_m2"]
        )

    names = {
        f"R{radius:g}_mu{mu:g}".replace(".", "p"): grip_speed(radius, mu) for radius, mu in given["pairs"]
    }
    return {
        "grip_speed_m_s": {name: v if math.isfinite(v) else "no limit" for name, v in names.items()},
        "power_speed_m_s": road_load.top_speed_of_power(given["P_W"], load),
        "power_needed_kW": {name: load.power(v) / 1e3 for name, v in names.items() if math.isfinite(v)},
    }


RUNS: dict[str, Run] = {
    "circle": _circle,
    "circle_with_downforce": _circle_with_downforce,
    "straight": _straight,
    "standing_straight": _standing_straight,
    "oval_constant_limits": _oval_constant_limits,
    "oval_constant_power": _oval_constant_power,
    "published_point_mass": _published_point_mass,
}
