"""Runs of the published cases on ride, load transfer, balance and weighing."""

import math

import numpy as np

from tintop.physics import load_transfer, ride, single_track, weighing
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _ride_rates(given: Inputs) -> Results:
    gravity = si(given["g_in_per_s2"], "in")
    tyre = si(given["tyre_rate_lb_per_in"], "lb/in")
    result: dict[str, float] = {}
    for axle in ("front", "rear"):
        rate = ride.ride_rate(si(given[f"susp_rate_{axle}_lb_per_in"], "lb/in"), tyre)
        mass = si(given[f"wheel_load_{axle}_lb"], "lbf") / gravity
        result[f"RR_{axle}_lb_per_in"] = printed(rate, "lb/in")
        result[f"f_{axle}_Hz"] = ride.ride_frequency(rate, mass)
    return result


def _bounce_and_pitch(given: Inputs) -> Results:
    gravity = si(given["g_in_per_s2"], "in")
    front, rear = si(given["front_wheel_load_lb"], "lbf"), si(given["rear_wheel_load_lb"], "lbf")
    wheelbase = si(given["wheelbase_in"], "in")
    mass = (front + rear) / gravity
    a = load_transfer.cg_behind_front_axle(wheelbase, front / (front + rear))
    b = wheelbase - a
    high, low = ride.bounce_and_pitch(
        mass,
        mass * given["dynamic_index_k2_over_ab"] * a * b,
        a,
        b,
        si(given["Kf_ride_lb_per_in"], "lb/in"),
        si(given["Kr_ride_lb_per_in"], "lb/in"),
    )
    return {
        "a_in": printed(a, "in"),
        "b_in": printed(b, "in"),
        "f_high_Hz": high.frequency,
        "f_low_Hz": low.frequency,
        "node_distance_high_in": printed(high.node, "in"),
        "node_distance_low_in": printed(low.node, "in"),
    }


def _static_deflection(given: Inputs) -> Results:
    return {
        f"f_{unit}_Hz": [
            ride.ride_frequency_of_deflection(si(d, unit)) for d in given[f"static_deflection_{unit}"]
        ]
        for unit in ("in", "mm")
    }


def _corner_masses(given: Inputs) -> Results:
    a, b = given["a_m"], given["b_m"]
    wheelbase = a + b
    front, rear = load_transfer.axle_loads(given["m_kg"] * given["g"], wheelbase, a, 0.0, 0.0, given["g"])
    result = {
        "wheelbase_m": wheelbase,
        "Fz_front_axle_N": front,
        "Fz_rear_axle_N": rear,
        "front_share_percent": 100.0 * front / (front + rear),
    }
    for axle, letter, share in (("front", "f", b / wheelbase), ("rear", "r", a / wheelbase)):
        mass = 0.5 * given["m_s_kg"] * share
        spring = given[f"K_s{letter}_N_per_m"]
        rate = ride.ride_rate(spring, given["K_tyre_N_per_m"])
        result[f"corner_ms_{axle}_kg"] = mass
        result[f"RR_{axle}_N_per_m"] = rate
        result[f"f_{axle}_Hz"] = ride.ride_frequency(rate, mass)
        result[f"zeta_{axle}"] = ride.damping_ratio(given[f"c_s{letter}_Ns_per_m"], spring, mass)
    return result


def _lateral_transfer(given: Inputs) -> Results:
    share, weight = given["front_weight_share"], given["m_kg"] * given["g"]
    result: dict[str, object] = {
        "H_m": given["h_cg_m"]
        - (given["z_rc_rear_m"] + (given["z_rc_front_m"] - given["z_rc_rear_m"]) * share)
    }
    for name, with_moment in (("variant_a", False), ("variant_b_with_gravity_term", True)):
        moved = load_transfer.lateral_load_transfer(
            weight=weight,
            front_share=share,
            cg_height=given["h_cg_m"],
            roll_centre_front=given["z_rc_front_m"],
            roll_centre_rear=given["z_rc_rear_m"],
            track_front=given["track_front_m"],
            track_rear=given["track_rear_m"],
            roll_stiffness_front=si(given["K_roll_front_Nm_per_deg"], "N·m/deg"),
            roll_stiffness_rear=si(given["K_roll_rear_Nm_per_deg"], "N·m/deg"),
            acceleration_y=given["ay_g"] * given["g"],
            gravity=given["g"],
            with_weight_moment=with_moment,
        )
        front, rear = 0.5 * weight * share, 0.5 * weight * (1.0 - share)
        result[name] = {
            "roll_deg": math.degrees(moved.roll),
            "dF_N": moved.front,
            "dR_N": moved.rear,
            "LLTD_front": moved.front_share,
            "Fz_FO_N": front + moved.front,
            "Fz_FI_N": front - moved.front,
            "Fz_RO_N": rear + moved.rear,
            "Fz_RI_N": rear - moved.rear,
            "moment_sum_Nm": moved.front * given["track_front_m"] + moved.rear * given["track_rear_m"],
        }
    return result


def _stiffnesses(given: Inputs) -> Results:
    track, bar, coil, axle = given["track_m"], given["arb"], given["coil"], given["solid_axle"]
    wheel = ride.wheel_rate(given["spring_N_per_m"], given["motion_ratio_spring_per_wheel"])
    roll = ride.roll_stiffness_of_springs(wheel, track)
    torsion = ride.torsion_bar_rate(bar["diameter_m"], bar["active_length_m"], bar["G_Pa"])
    bar_roll = ride.roll_stiffness_of_bar(torsion, bar["arm_m"], bar["link_motion_ratio"], track)
    solid = ride.roll_stiffness_of_springs(
        si(axle["K_lb_per_in"], "lb/in"), si(axle["spring_separation_in"], "in")
    )
    inch_pounds = printed(solid, "lb-ft") * 12.0
    return {
        "wheel_rate_N_per_m": wheel,
        "axle_roll_Nm_per_rad": roll,
        "axle_roll_Nm_per_deg": printed(roll, "N·m/deg"),
        "J_m4": ride.round_bar_area_moment(bar["diameter_m"]),
        "bar_torsion_Nm_per_rad": torsion,
        "bar_roll_Nm_per_rad": bar_roll,
        "bar_roll_Nm_per_deg": printed(bar_roll, "N·m/deg"),
        "coil_N_per_m": ride.coil_rate(
            coil["wire_m"], coil["mean_coil_diameter_m"], coil["active_coils"], coil["G_Pa"]
        ),
        "solid_axle_inlb_per_rad": inch_pounds,
        "solid_axle_inlb_per_deg": math.radians(inch_pounds),
    }


def _longitudinal_transfer(given: Inputs) -> Results:
    behind = load_transfer.cg_behind_front_axle(given["wheelbase_m"], given["front_share"])
    weight = given["m_kg"] * given["g"]
    front, _ = load_transfer.axle_loads(
        weight, given["wheelbase_m"], behind, given["h_m"], given["ax_m_s2"], given["g"]
    )
    return {"CG_behind_front_axle_m": behind, "front_axle_load_N": front}


def _handling(given: Inputs) -> Results:
    loads, stiffnesses = given["tyre_table_load_lb"], given["tyre_table_Calpha_lb_per_deg"]
    front_load, rear_load = 0.5 * given["Wf_lb"], 0.5 * given["Wr_lb"]
    front = float(np.interp(front_load, loads, stiffnesses))
    rear = float(np.interp(rear_load, loads, stiffnesses))
    per_degree = math.degrees(1.0)
    gravity = si(given["g_ft_s2"], "ft")
    wheelbase, speed = si(given["wheelbase_in"], "in"), si(given["speed_mph"], "mph")
    to_rear = wheelbase * given["Wf_lb"] / (given["Wf_lb"] + given["Wr_lb"])

    def gradient(load_f: float, load_r: float, stiff_f: float, stiff_r: float) -> float:
        return single_track.understeer_gradient(
            load_f, load_r, stiff_f * per_degree, stiff_r * per_degree, gravity
        )

    exact = gradient(front_load, rear_load, front, rear)
    book = given["book_rounding"]
    rounded = gradient(book["wheel_load_front_lb"], book["wheel_load_rear_lb"], book["Cf"], book["Cr"])
    return {
        "Cf_lb_per_deg": front,
        "Cr_lb_per_deg": rear,
        "K_deg_per_g": math.degrees(exact * gravity),
        "ackermann_deg": [
            math.degrees(single_track.steer_angle(wheelbase, si(r, "ft"), exact, 0.0))
            for r in given["turn_radii_ft"]
        ],
        "Vchar_mph": printed(single_track.characteristic_speed(wheelbase, exact), "mph"),
        "ay_gain_g_per_deg": math.radians(single_track.acceleration_gain(wheelbase, speed, exact)) / gravity,
        "yaw_gain_1_per_s": single_track.yaw_gain(wheelbase, speed, exact),
        "beta_deg": math.degrees(
            single_track.sideslip(
                si(given["R_for_beta_ft"], "ft"), speed, to_rear, rear_load, rear * per_degree, gravity
            )
        ),
        "static_margin": single_track.static_margin(wheelbase - to_rear, wheelbase, front, rear),
        "book_rounding_variant": {
            "K_deg_per_g": math.degrees(rounded * gravity),
            "Vchar_mph": printed(single_track.characteristic_speed(wheelbase, rounded), "mph"),
        },
    }


def _understeer(given: Inputs) -> Results:
    car = single_track.SingleTrack(
        given["M_kg"],
        given["Iz_kgm2"],
        given["lf_m"],
        given["lr_m"],
        given["Cf_axle_N_per_rad"],
        given["Cr_axle_N_per_rad"],
    )
    gradient = single_track.gradient_of(car)
    speed, side = given["V_m_s"], given["ay_g"] * given["g"]
    radius = speed**2 / side
    load_rear = car.mass * given["g"] * car.cg_to_front / car.wheelbase
    square, decay = single_track.yaw_oscillation(car, speed)
    return {
        "K_rad_per_m_s2": gradient,
        "K_deg_per_g": math.degrees(gradient * given["g"]),
        "handling": "understeer" if gradient > 0.0 else "oversteer",
        "Vchar_m_s": single_track.characteristic_speed(car.wheelbase, gradient),
        "R_m": radius,
        "delta_deg": math.degrees(single_track.steer_angle(car.wheelbase, radius, gradient, side)),
        "beta_rad": single_track.sideslip(
            radius, speed, car.cg_to_rear, load_rear, car.stiffness_rear, given["g"]
        ),
        "wn_rad_s": math.sqrt(square),
        "zeta": decay / (2.0 * math.sqrt(square)),
    }


def _single_track_derivative(given: Inputs) -> Results:
    x, y, steer, speed, heading, yaw_rate, sideslip = given["state_x_y_delta_v_psi_r_beta"]
    derivative = single_track.state_derivative(
        single_track.SingleTrackState(x, y, steer, speed, heading, yaw_rate, sideslip),
        mass=given["m"],
        yaw_inertia=given["Iz"],
        cg_to_front=given["lf"],
        cg_to_rear=given["lr"],
        cg_height=given["h_s"],
        friction=given["mu"],
        stiffness_per_load=given["C_S"],
        steer_rate=given["input_steer_rate"],
        acceleration_x=given["input_ax"],
        gravity=given["g"],
    )
    return {"derivative": list(derivative)}


def _critical_speed(given: Inputs) -> Results:
    car = single_track.SingleTrack(
        given["m_kg"],
        given["Iz_kgm2"],
        given["a_m"],
        given["b_m"],
        given["Cf_axle_N_per_rad"],
        given["Cr_axle_N_per_rad"],
    )
    gradient = single_track.gradient_of(car)
    critical = single_track.characteristic_speed(car.wheelbase, gradient)

    def roots(speed: float) -> list[float]:
        return [root.real for root in single_track.eigenvalues(car, speed)]

    return {
        "K_deg_per_g": math.degrees(gradient * given["g"]),
        "Vcrit_m_s": critical,
        "eig_at_20": roots(20.0),
        "eig_at_30": roots(30.0),
        "eig_at_Vcrit": roots(critical),
        "eig_at_45": roots(45.0),
        "yaw_gain_at_30_1_per_s": single_track.yaw_gain(car.wheelbase, 30.0, gradient),
    }


def _cg_height(given: Inputs) -> Results:
    weight, wheelbase, lift = given["W_N"], given["wheelbase_m"], given["lift_m"]
    to_front, hub = given["a_front_to_CG_m"], given["hub_height_m"]
    level = weight * (wheelbase - to_front) / wheelbase
    raised = weighing.front_load_lifted(weight, wheelbase, to_front, given["h_true_m"], hub, lift)
    return {
        "front_level_N": level,
        "front_raised_N": raised,
        "dF_N": raised - level,
        "tan_theta": weighing.slope_of_lift(wheelbase, lift),
        "h_recovered_m": weighing.cg_height_from_lift(weight, wheelbase, hub, lift, raised - level),
        "sensitivity_m_per_kg_scale_error": 9.81
        * weighing.cg_height_per_scale_error(weight, wheelbase, lift),
    }


def _lift_slope(given: Inputs) -> Results:
    slope = weighing.slope_of_lift(given["wheelbase_in"], given["lift_in"])
    return {"horizontal_in": given["lift_in"] / slope, "tan": slope}


def _corner_weights(given: Inputs) -> Results:
    corners = weighing.CornerWeights(given["LF"], given["RF"], given["LR"], given["RR"])
    moved = weighing.to_even_cross(corners)
    return {
        "total": corners.total,
        "front_percent": 100.0 * corners.front_share,
        "left_percent": 100.0 * corners.left_share,
        "cross_percent": 100.0 * corners.cross_share,
        "x_kg": moved,
        "target": list(weighing.with_cross_moved(corners, moved)),
        "x_CG_behind_front_m": load_transfer.cg_behind_front_axle(given["wheelbase_m"], corners.front_share),
        "y_CG_left_m": weighing.cg_left_of_middle(corners, given["track_f"], given["track_r"]),
    }


def _wheel_loads(given: Inputs) -> Results:
    loads: list[list[float]] = []
    for speed, along, side in given["states_v_ax_ay"]:
        pressure = 0.5 * given["rho"] * given["A"] * speed**2
        loads.append(
            list(
                load_transfer.wheel_loads(
                    mass=given["m"],
                    cg_to_front=given["lf"],
                    cg_to_rear=given["lr"],
                    cg_height=given["h"],
                    track_mean=given["mean_track"],
                    roll_share_front=given["k_roll"],
                    downforce_front=given["cLf"] * pressure,
                    downforce_rear=given["cLr"] * pressure,
                    acceleration_x=along,
                    acceleration_y=side,
                    gravity=given["g"],
                )
            )
        )
    return {"Fz_fl_fr_rl_rr": loads, "sums": [sum(four) for four in loads]}


RUNS: dict[str, Run] = {
    "ride_rates": _ride_rates,
    "bounce_and_pitch": _bounce_and_pitch,
    "static_deflection": _static_deflection,
    "corner_masses": _corner_masses,
    "lateral_transfer": _lateral_transfer,
    "stiffnesses": _stiffnesses,
    "longitudinal_transfer": _longitudinal_transfer,
    "handling": _handling,
    "understeer": _understeer,
    "single_track_derivative": _single_track_derivative,
    "critical_speed": _critical_speed,
    "cg_height": _cg_height,
    "lift_slope": _lift_slope,
    "corner_weights": _corner_weights,
    "wheel_loads": _wheel_loads,
}
