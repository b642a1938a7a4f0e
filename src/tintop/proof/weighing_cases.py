"""Runs of the published cases on four corners, a raised weighing and ballast."""

import numpy as np

from tintop.physics.ballast import centre_with
from tintop.physics.corner_loads import FourCorners, lifts_for, responses, under_load
from tintop.physics.raised_weighing import (
    RaisedDoubt,
    RaisedWeighing,
    cg_height_doubt,
    cg_height_raised,
)
from tintop.proof.figures import Inputs, Results, Run, si

_STIFF = 1e13  # [N/m]: a tyre that does not give, for a table has none


def _table(length: float, width: float, leg: float) -> FourCorners:
    return FourCorners(
        wheelbase=length,
        track_front=width,
        track_rear=width,
        wheel_rate_front=leg,
        wheel_rate_rear=leg,
        tyre_rate_front=_STIFF,
        tyre_rate_rear=_STIFF,
    )


def _shimmed_corner(given: Inputs) -> Results:
    table = _table(given["side_m"], given["side_m"], given["leg_N_per_m"])
    found, lifts = responses(table), np.array([given["shim_m"], 0.0, 0.0, 0.0])
    return {"loads_N": list(found.loads @ lifts), "heights_mm": list(1e3 * found.heights @ lifts)}


def _weight_on_corners(given: Inputs) -> Results:
    table = _table(given["length_m"], given["width_m"], given["leg_N_per_m"])
    return {"loads_N": list(under_load(table, given["weight_N"], given["ahead_m"], given["left_m"]).loads)}


def _raised(given: Inputs) -> RaisedWeighing:
    mass, gain = given["W_N"] / given["g"], given["gain_N"] / given["g"]
    front, rear = given["front_share"] * mass, (1.0 - given["front_share"]) * mass
    is_rear = given["raised"] == "rear"
    down = 0.5 * ((front if is_rear else rear) + gain)
    return RaisedWeighing(
        front_left=0.5 * front,
        front_right=0.5 * front,
        rear_left=0.5 * rear,
        rear_right=0.5 * rear,
        down_left=down,
        down_right=down,
        wheelbase=given["wheelbase_m"],
        lift=given["lift_m"],
        hub_front=given["hub_front_m"],
        hub_rear=given["hub_rear_m"],
        is_rear_raised=is_rear,
    )


def _raised_height(given: Inputs) -> Results:
    return {"height_m": cg_height_raised(_raised(given))}


def _raised_doubt(given: Inputs) -> Results:
    doubt = RaisedDoubt(pad=given["pad_kg"], lift=0.0, wheelbase=0.0, hub=0.0)
    return {"uncertainty_m": cg_height_doubt(_raised(given), doubt)[0]}


def _perches(given: Inputs) -> Results:
    car = FourCorners(
        wheelbase=given["wheelbase_m"],
        track_front=given["track_m"],
        track_rear=given["track_m"],
        wheel_rate_front=given["wheel_rate_front_N_per_m"],
        wheel_rate_rear=given["wheel_rate_rear_N_per_m"],
        tyre_rate_front=given["tyre_rate_N_per_m"],
        tyre_rate_rear=given["tyre_rate_N_per_m"],
    )
    lifts = lifts_for(responses(car), given["cross_gain_N"])
    front, rear = given["motion_ratio_front"], given["motion_ratio_rear"]
    per_lift = np.array([front, front, rear, rear]) / si(given["pitch_mm"], "mm")
    return {"turns": list(lifts * per_lift)}


def _ballast_moments(given: Inputs) -> Results:
    found = centre_with(
        given["mass_kg"],
        np.array(given["centre_m"]),
        np.array([given["ballast_kg"]]),
        np.array([given["place_m"]]),
    )
    return {"centre_m": list(found)}


RUNS: dict[str, Run] = {
    "shimmed_corner": _shimmed_corner,
    "weight_on_corners": _weight_on_corners,
    "raised_height": _raised_height,
    "raised_doubt": _raised_doubt,
    "perches": _perches,
    "ballast_moments": _ballast_moments,
}
