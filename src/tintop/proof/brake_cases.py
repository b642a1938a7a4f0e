"""Runs of the published cases on brakes."""

import math
from typing import Any

from tintop.car.brakes import AxleBrake, Brakes, Pad
from tintop.physics import braking, load_transfer
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _steady_stop(given: Inputs) -> Results:
    gravity, speed = si(given["g_ft_s2"], "ft"), si(given["V0_ft_s"], "ft")
    force, mass = si(given["brake_force_lb"], "lbf"), si(given["W_lb"], "lbf") / gravity
    rate = braking.braking_rate(force, mass, gravity)
    deceleration = rate * gravity
    energy, time = braking.kinetic_energy(mass, speed), speed / deceleration
    return {
        "D_ft_s2": printed(deceleration, "ft"),
        "D_g": rate,
        "SD_ft": printed(braking.stopping_distance(speed, deceleration), "ft"),
        "t_s": time,
        "E_ftlb": printed(energy, "lb-ft"),
        "P_initial_hp": printed(force * speed, "hp"),
        "P_mean_hp": printed(energy / time, "hp"),
    }


def _lock_order(given: Inputs) -> Results:
    share = 1.0 - given["l1_front_to_CG_m"] / given["wheelbase_m"]
    car = braking.BrakedCar(given["wheelbase_m"], given["h_m"], share)
    result: dict[str, Any] = {}
    for friction in given["mu"]:
        front, rear = braking.braking_at_locking(car, given["front_brake_share"], friction, given["f_r"])
        result[f"mu_{friction:g}".replace(".", "p")] = {
            "front_g": front,
            "rear_g": rear,
            "first": "front" if front < rear else "rear",
        }
    result["ideal_front_share_mu0p8_fr0"] = braking.ideal_front_brake_share(car, 0.8)
    result["mu_where_60pct_is_ideal_fr0"] = braking.critical_braking(car, given["front_brake_share"])
    return result


def _adhesion_used(given: Inputs) -> Results:
    car = braking.BrakedCar(given["wheelbase_m"], given["h_m"], given["front_weight_share"])
    share, weight = given["front_brake_share"], given["m_kg"] * given["g"]
    used = [braking.adhesion_used(car, share, rate) for rate in given["z"]]
    ideal = braking.ideal_front_brake_share(car, 0.8) * 0.8 * weight
    return {
        "f1": [front for front, _ in used],
        "f2": [rear for _, rear in used],
        "first": ["F" if front > rear else "R" for front, rear in used],
        "z_crit": braking.critical_braking(car, share),
        "efficiency": [braking.braking_efficiency(car, share, rate) for rate in given["z"]],
        "ideal_front_share": [braking.ideal_front_brake_share(car, rate) for rate in given["ideal_at_z"]],
        "ideal_forces_N_at_z_0p8": [ideal, 0.8 * weight - ideal],
    }


def _skid(given: Inputs) -> Results:
    deceleration = given["mu"] * given["g"]
    front, rear = load_transfer.axle_loads(
        given["W_kN"],
        given["wheelbase_m"],
        given["CG_behind_front_m"],
        given["h_m"],
        -deceleration,
        given["g"],
    )
    return {
        "a_m_s2": deceleration,
        "N_rear_each_kN": 0.5 * rear,
        "N_front_each_kN": 0.5 * front,
        "F_rear_each_kN": 0.5 * given["mu"] * rear,
        "F_front_each_kN": 0.5 * given["mu"] * front,
    }


def _round_area(diameter: float) -> float:
    return math.pi * diameter**2 / 4.0


def _pedal_to_pad(given: Inputs) -> Results:
    a, b = given["A"], given["B"]
    master, piston = (_round_area(si(a[name], "in")) for name in ("master_in", "caliper_piston_in"))
    pressure = braking.line_pressure(si(a["pedal_lb"], "lbf"), a["pedal_ratio"], 1.0, master)
    unboosted = {
        "A_master_in2": printed(master, "in2"),
        "A_caliper_in2": printed(piston, "in2"),
        "p_psi": printed(pressure, "psi"),
        "clamp_lb": printed(pressure * piston, "lbf"),
    }
    master, piston = (_round_area(si(b[name], "mm")) for name in ("master_mm", "caliper_piston_mm"))
    pressure = braking.line_pressure(b["pedal_N"], b["pedal_ratio"], b["boost"], master)
    torque = braking.brake_torque(pressure, piston, b["mu_pad"], b["r_eff_m"])
    boosted = {
        "p_bar": printed(pressure, "bar"),
        "clamp_N": pressure * piston,
        "torque_Nm": torque,
        "brake_force_N": torque / b["tyre_radius_m"],
        "car_torque_Nm": 0.5 * _front_torque_of_a_car(b, master, piston),
    }
    return {"A": unboosted, "B": boosted}


def _front_torque_of_a_car(given: Inputs, master: float, piston: float) -> float:
    """Both front wheels' torque as the product's car gives it; the other values do not matter here."""
    pad = Pad(
        temps=(0.0, 500.0),
        frictions=(given["mu_pad"], given["mu_pad"]),
        area=0.005,
        thickness=0.012,
        thickness_minimum=0.002,
        wear_rate=1e-14,
        wear_temp=300.0,
        wear_doubling=100.0,
    )
    axle = AxleBrake(
        disc_diameter=0.28,
        disc_mass=7.0,
        disc_thickness=0.024,
        disc_thickness_minimum=0.022,
        disc_wear_rate=1e-13,
        disc_temp_limit=700.0,
        effective_radius=given["r_eff_m"],
        piston_area=piston,
        master_cylinder_area=master,
        air_cooling=20.0,
        heat_to_disc_share=0.9,
        caliper_heat_capacity=3000.0,
        pad_to_caliper=3.0,
        caliper_to_air=5.0,
        pad=pad,
    )
    brakes = Brakes(
        pedal_ratio=given["pedal_ratio"],
        boost=given["boost"],
        pedal_force=given["pedal_N"],
        bar_front_share=0.5,
        is_tandem_cylinder=True,
        rear_valve_share=1.0,
        fluid_boiling_dry=300.0,
        fluid_boiling_wet=200.0,
        fluid_wetness=0.0,
        front=axle,
        rear=axle,
    )
    return float(brakes.torque_gain_front * given["mu_pad"] * given["pedal_N"])


def _repeated_stops(given: Inputs) -> Results:
    rate = braking.cooling_rate(given["h_W_m2K"], given["area_m2"], given["mass_kg"], given["c_J_kgK"])
    rise, interval = given["dT_per_stop_K"], given["interval_s"]
    return {
        "b_1_per_s": rate,
        "tau_s": 1.0 / rate,
        "rise": [braking.repeated_stop_rise(rise, n, rate, interval) for n in given["stops"]],
        "limit_K": braking.repeated_stop_limit(rise, rate, interval),
    }


def _single_stop(given: Inputs) -> Results:
    energy = braking.kinetic_energy(given["m_kg"], si(given["V_kmh"], "km/h"))
    disc = given["share_per_front_disc"] * energy
    return {
        "kinetic_energy_J": energy,
        "energy_per_disc_J": disc,
        "dT_K": braking.stop_temp_rise(disc, given["disc_mass_kg"], given["c_J_kgK"]),
    }


def _braking_with_drag(given: Inputs) -> Results:
    force, mass = given["brake_force_N"], given["m_kg"]
    pairs = given["pairs_V1_V2"]
    found = [
        braking.braking_with_drag(mass, force, given["k_half_rho_CdA"], high, low) for high, low in pairs
    ]
    without = [
        braking.stopping_distance(high, force / mass) - braking.stopping_distance(low, force / mass)
        for high, low in pairs
    ]
    return {
        "s_m": [distance for distance, _ in found],
        "t_s": [time for _, time in found],
        "s_without_drag_m": without,
    }


def _approval(given: Inputs) -> Results:
    return {
        "s_80_m": braking.approval_distance_71_320(given["directive_speed_kmh"]),
        "s_100_m": braking.approval_distance_r13h(given["regulation_speed_kmh"]),
        "mfdd_m_s2": braking.mean_fully_developed_deceleration(
            given["mfdd_v1_kmh"], given["mfdd_distance_m"]
        ),
    }


def _pad_wear(given: Inputs) -> Results:
    volume = braking.pad_wear_volume(
        given["friction_energy_on_pad_J"], given["mu"], given["specific_wear_m3_per_Nm"]
    )
    return {"volume_m3": volume, "depth_mm": printed(volume / given["pad_area_m2"], "mm")}


def _valve(given: Inputs) -> Results:
    weight = si(given["front_axle_lb"] + given["rear_axle_lb"], "lbf")
    car = braking.BrakedCar(
        si(given["wheelbase_in"], "in"),
        si(given["cg_height_in"], "in"),
        si(given["front_axle_lb"], "lbf") / weight,
    )
    radius, gain = si(given["tyre_radius_in"], "in"), si(1.0, "in") * si(1.0, "lbf") / si(1.0, "psi")
    found: dict[str, list[float]] = {
        name: [] for name in ("front_lb", "rear_lb", "braking_g", "front_needs", "rear_needs", "efficiency")
    }
    for each in given["pressures_psi"]:
        pressure = si(each, "psi")
        rear_pressure = braking.valve_pressure(pressure, si(given["knee_psi"], "psi"), given["slope"])
        front = 2.0 * given["front_gain_inlb_psi"] * gain * pressure / radius
        rear = 2.0 * given["rear_gain_inlb_psi"] * gain * rear_pressure / radius
        rate, share = (front + rear) / weight, front / (front + rear)
        used = braking.adhesion_used(car, share, rate)
        row = (
            printed(front, "lbf"),
            printed(rear, "lbf"),
            rate,
            *used,
            braking.braking_efficiency(car, share, rate),
        )
        for name, value in zip(found, row, strict=True):
            found[name].append(value)
    return found


_RATES = [0.01 * step for step in range(10, 91)]


def _judged(car: braking.BrakedCar, share: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    used = [braking.adhesion_used(car, share, rate) for rate in _RATES]
    front, rear = [one for one, _ in used], [one for _, one in used]
    return braking.rear_first_rates(_RATES, front, rear), braking.weak_rates(_RATES, front, rear)


def _regulation(given: Inputs) -> Results:
    car = braking.BrakedCar(given["wheelbase_m"], given["h_m"], given["front_weight_share"])
    rear_first, weak = _judged(car, given["front_brake_share"])
    less_front, _ = _judged(car, given["rear_first_share"])
    _, weak_front = _judged(car, given["too_much_front_share"])
    return {
        "least_z": [braking.regulation_least_braking(friction) for friction in given["friction"]],
        "least_z_of_1985": [braking.regulation_least_braking_of_1985(one) for one in given["friction"]],
        "rear_first_from_z": rear_first[0],
        "rear_first_to_z": rear_first[-1],
        "rear_first_from_z_with_less_front": less_front[0],
        "least_share_for_z_0p8": braking.ideal_front_brake_share(car, 0.8),
        "weak_at_0p7": "some" if weak else "none",
        "weak_with_too_much_front": "some" if weak_front else "none",
    }


def _parabola(given: Inputs) -> Results:
    car = braking.BrakedCar(given["wheelbase_m"], given["h_m"], given["front_weight_share"])
    fronts = [rate * braking.ideal_front_brake_share(car, rate) for rate in given["braking_g"]]
    lifted = (1.0 - car.front_share) * car.wheelbase / car.cg_height  # the rear wheels just carry nothing
    return {
        "front_over_weight": fronts,
        "rear_over_weight": [braking.ideal_rear_force(car, front) for front in fronts],
        "rear_over_weight_where_the_rear_wheels_lift": braking.ideal_rear_force(car, lifted),
    }


def _travel(given: Inputs) -> Results:
    litre = 1e-6
    fluid = [
        braking.fluid_moved(
            si(area, "cm2"),
            si(given["pad_gap_mm"], "mm"),
            si(given["pressure_bar"], "bar"),
            given["give_cm3_per_bar"] * litre / si(1.0, "bar"),
        )
        for area in given["piston_area_cm2"]
    ]
    travel = braking.pedal_travel(
        2.0 * sum(fluid), si(given["master_cylinder_cm2"], "cm2"), given["pedal_ratio"]
    )
    return {"fluid_cm3": [one / litre for one in fluid], "pedal_travel_mm": printed(travel, "mm")}


RUNS: dict[str, Run] = {
    "steady_stop": _steady_stop,
    "lock_order": _lock_order,
    "adhesion_used": _adhesion_used,
    "skid": _skid,
    "pedal_to_pad": _pedal_to_pad,
    "repeated_stops": _repeated_stops,
    "single_stop": _single_stop,
    "braking_with_drag": _braking_with_drag,
    "approval": _approval,
    "pad_wear": _pad_wear,
    "valve": _valve,
    "regulation": _regulation,
    "parabola": _parabola,
    "travel": _travel,
}
