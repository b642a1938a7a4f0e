"""Runs of the cases on the links of a wheel: planar struts, swing arms, wishbones, toe over a rim."""

import math

from tintop.car.strut_top import top_moved
from tintop.car.wheel_motion import bump_curve, camber_recovery, wheel_at
from tintop.car.wheel_paths import Strut, Wishbones
from tintop.physics.toe import toe_angle
from tintop.proof.figures import Inputs, Results, Run


def _planar_strut(given: Inputs) -> Strut:
    """A strut whose links all move in one plane across the car; its track rod follows its arm."""
    pivot, joint, axis, top, wheel = (
        tuple(given[f"{name}_m"]) for name in ("pivot", "ball_joint", "strut_axis", "top", "wheel_centre")
    )
    return Strut(
        top=(0.0, *top),
        strut_axis=(0.0, *axis),
        arm_front=(0.15, *pivot),
        arm_rear=(-0.15, *pivot),
        ball_joint=(0.0, *joint),
        track_rod_inner=(-0.12, *pivot),
        track_rod_outer=(-0.12, *joint),
        wheel_centre=(0.0, *wheel),
    )


def _camber_in_bump(given: Inputs) -> Results:
    poses = bump_curve(_planar_strut(given), given["travel_m"])
    return {
        "camber_deg": [math.degrees(pose.camber) for pose in poses],
        "toe_deg": [math.degrees(pose.toe) for pose in poses],
        "largest_residual_m": max(pose.residual for pose in poses),
    }


def _instant_centre(given: Inputs) -> Results:
    strut = _planar_strut(given)
    pose = wheel_at(strut, 0.0)
    return {
        "swing_arm_m": pose.swing_arm,
        "roll_centre_height_m": pose.roll_centre_height,
        "camber_per_10_mm_deg": math.degrees(0.01 * pose.camber_rate),
        "camber_recovery": camber_recovery(strut, given["track_m"], 1.0, roll=1e-5),
    }


def _top_inwards(given: Inputs) -> Results:
    move = top_moved(_planar_strut(given), given["inward_m"])
    return {"camber_deg": math.degrees(move.camber), "toe_deg": math.degrees(move.toe)}


def _parallel_wishbones(given: Inputs) -> Results:
    inner, outer = given["inner_m"], given["outer_m"]
    low, high, between = given["lower_height_m"], given["upper_height_m"], given["track_rod_height_m"]
    arms = Wishbones(
        upper_front=(0.1, inner, high),
        upper_rear=(-0.1, inner, high),
        upper_ball_joint=(0.0, outer, high),
        lower_front=(0.1, inner, low),
        lower_rear=(-0.1, inner, low),
        lower_ball_joint=(0.0, outer, low),
        track_rod_inner=(-0.1, inner, between),
        track_rod_outer=(-0.1, outer, between),
        wheel_centre=(0.0, given["half_track_m"], given["wheel_height_m"]),
    )
    poses = bump_curve(arms, given["travel_m"])
    return {
        "camber_deg": [math.degrees(pose.camber) for pose in poses],
        "toe_deg": [math.degrees(pose.toe) for pose in poses],
        "roll_centre_height_m": wheel_at(arms, 0.0).roll_centre_height,
        "camber_recovery": camber_recovery(arms, 2.0 * given["half_track_m"], 1.0),
    }


def _toe_over_rim(given: Inputs) -> Results:
    angle = math.degrees(toe_angle(1e-3 * given["toe_mm"], given["rim_m"]))
    return {"toe_deg": angle, "toe_minutes": 60.0 * angle}


RUNS: dict[str, Run] = {
    "strut_in_bump": _camber_in_bump,
    "strut_instant_centre": _instant_centre,
    "strut_top_inwards": _top_inwards,
    "wishbones_parallel": _parallel_wishbones,
    "toe_over_rim": _toe_over_rim,
}
