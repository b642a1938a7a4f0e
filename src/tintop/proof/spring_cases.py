"""Runs of the published cases on load moved by its parts, limits of an axle, rates and gears."""

import itertools
import math

from tintop.car.chassis import Bar
from tintop.physics import gearing, load_transfer, ride
from tintop.physics.four_wheels import Axle, Vehicle
from tintop.physics.steady_corner import axle_limit, axle_slips
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _parts_of_transfer(given: Inputs) -> Results:
    share, weight = given["front_weight_share"], given["m_kg"] * given["g"]
    stiffnesses = [si(given[f"K_roll_{end}_Nm_per_deg"], "N·m/deg") for end in ("front", "rear")]
    centres = [given[f"z_rc_{end}_m"] for end in ("front", "rear")]
    arm = given["h_cg_m"] - (centres[0] * share + centres[1] * (1.0 - share))
    roll = given["m_kg"] * arm / (sum(stiffnesses) - weight * arm)
    side = given["ay_g"] * given["g"]
    ends = [
        load_transfer.axle_moments(
            roll_stiffness=stiffness,
            roll_per_acceleration=roll,
            sprung_mass=given["m_kg"] * part,
            roll_centre_height=centre,
            unsprung_mass=0.0,
            unsprung_height=0.0,
            track=given[f"track_{end}_m"],
        )
        for end, stiffness, centre, part in zip(
            ("front", "rear"), stiffnesses, centres, (share, 1.0 - share), strict=True
        )
    ]
    leaned = weight * arm * roll
    return {
        "roll_deg": math.degrees(roll * side),
        "dF_N": side * ends[0].transfer,
        "dR_N": side * ends[1].transfer,
        "LLTD_front": ends[0].transfer / (ends[0].transfer + ends[1].transfer),
        "moments_less_lean_over_mh": (sum(sum(one[:3]) for one in ends) - leaned)
        / (given["m_kg"] * given["h_cg_m"]),
    }


def _degressive_axle(given: Inputs, transfer: float, slide_slip: float) -> Axle:
    """A front axle that is not driven, its grip falling with load as mu × (1 + eps × load ÷ Fz0)."""
    return Axle(
        track=1.5,
        transfer=transfer,
        lift=0.0,
        friction_x_left=given["mu"],
        friction_x_right=given["mu"],
        friction_y_left=given["mu"],
        friction_y_right=given["mu"],
        grip_offset=1.0,
        grip_slope=given["eps"] / given["Fz0_N"],
        camber=0.0,
        camber_per_acceleration=0.0,
        camber_best=0.0,
        camber_loss=0.0,
        slide_slip=slide_slip,
        rolling_resistance=0.0,
        drive_share=0.0,
        brake_share=0.5,
    )


def _car_on(given: Inputs, moved: float, lateral: float) -> Vehicle:
    """A car whose wheels carry the case's load each and whose front moves `moved` [N] at an acceleration."""
    mass = 4.0 * given["wheel_load_N"] / given["g"]
    front = _degressive_axle(given, moved / lateral, given["slide_slip"])
    return Vehicle(
        mass=mass,
        wheelbase=2.5,
        rear_load_share=0.5,
        height_share=0.0,
        drag=0.0,
        front=front,
        rear=front._replace(transfer=0.0, drive_share=1.0, friction_x_left=9.0, friction_x_right=9.0),
        lock_share=0.0,
        lock_force=0.0,
        brake_force=1e4,
        rolling_mass=0.0,
        shift_time=0.0,
        lowest_friction=given["mu"],
    )


def _axle_that_slides(given: Inputs) -> Results:
    """Side force held by a front axle at a load transfer, by the acceleration at which it slides."""
    held = []
    for moved in given["moved_N"]:
        lateral = given["g"]  # mended until the load that moves at the limit is the case's
        for _ in range(30):
            car = _car_on(given, moved, lateral)
            lateral = axle_limit(car, 10.0, given["g"], True)
        held.append(0.5 * car.mass * lateral)
    return {"pair_N": held}


def _slip_of_a_loaded_axle(given: Inputs) -> Results:
    """How much more a front axle slips at a side force because load has moved."""
    lateral = given["side_force_N"] / (2.0 * given["wheel_load_N"] / given["g"])
    slips = [
        axle_slips(_car_on(given, moved, lateral), 10.0, lateral, given["g"])[0]
        for moved in (0.0, given["moved_N"])
    ]
    return {"slip_ratio": slips[1] / slips[0], "slip_without": slips[0]}


def _rates_for_frequencies(given: Inputs) -> Results:
    rates = [given["sprung_kg"] * (2.0 * math.pi * frequency) ** 2 for frequency in given["frequency_Hz"]]
    return {
        "wheel_rate_N_per_mm": [printed(rate, "N/mm") for rate in rates],
        "wheel_rate_lb_per_in": [printed(rate, "lb/in") for rate in rates],
        "frequency_back_Hz": [ride.ride_frequency(rate, given["sprung_kg"]) for rate in rates],
    }


def _spring_units(given: Inputs) -> Results:
    return {
        "N_per_m": [si(rate, "lb/in") for rate in given["lb_per_in"]],
        "wheel_rate_N_per_m": [
            ride.wheel_rate(si(rate, "lb/in"), given["motion_ratio"]) for rate in given["lb_per_in"]
        ],
    }


def _gears(given: Inputs) -> Results:
    radius = 0.5 * si(given["tyre_diameter_in"], "in")
    speeds = [
        gearing.road_speed(si(given["engine_rpm"], "rpm"), ratio, given["final_drive"], radius)
        for ratio in given["ratios"]
    ]
    ratios = given["ratios"]
    return {
        "speed_mph": [printed(speed, "mph") for speed in speeds],
        "rpm_after_upshift": [
            given["engine_rpm"] * gearing.drop(one, after) for one, after in itertools.pairwise(ratios)
        ],
    }


def _bar_holes(given: Inputs) -> Results:
    torsion = ride.torsion_bar_rate(given["diameter_m"], given["active_length_m"], given["G_Pa"])
    bar = Bar(
        name="case",
        roll_stiffness=tuple(
            ride.roll_stiffness_of_bar(torsion, arm, given["link_motion_ratio"], given["track_m"])
            for arm in given["arms_m"]
        ),
    )
    return {
        "share_of_softest": [
            bar.stiffness(hole + 1) / bar.stiffness(1) for hole in range(len(given["arms_m"]))
        ],
        "softest_Nm_per_rad": bar.stiffness(1),
    }


RUNS: dict[str, Run] = {
    "parts_of_transfer": _parts_of_transfer,
    "axle_that_slides": _axle_that_slides,
    "slip_of_a_loaded_axle": _slip_of_a_loaded_axle,
    "rates_for_frequencies": _rates_for_frequencies,
    "spring_units": _spring_units,
    "gears": _gears,
    "bar_holes": _bar_holes,
}
