"""Runs of the published cases on roads, ride and dampers."""

import math

import numpy as np

from tintop.car.chassis import End
from tintop.car.damping import motion_ratios
from tintop.physics import damper_curves, ride_comfort, ride_frequency, ride_modes, road_profile
from tintop.physics.ride_frequency import RideCar
from tintop.physics.road_profile import RoadClass
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _four_quarters(sprung: float, unsprung: float, rate: float, tyre: float) -> RideCar:
    """A car of four equal quarters: the mass over the axles, so that pitch goes with heave, and no bars."""
    half = 1.25
    return RideCar(
        sprung_mass=4.0 * sprung,
        pitch_inertia=4.0 * sprung * half**2,
        roll_inertia=4.0 * sprung * 0.75**2,
        cg_to_front=half,
        cg_to_rear=half,
        track_front=1.5,
        track_rear=1.5,
        unsprung_front=unsprung,
        unsprung_rear=unsprung,
        wheel_rate_front=rate,
        wheel_rate_rear=rate,
        bar_front=0.0,
        bar_rear=0.0,
        tyre_rate_front=tyre,
        tyre_rate_rear=tyre,
        tyre_damping_front=0.0,
        tyre_damping_rear=0.0,
    )


def _road_classes(given: Inputs) -> Results:
    result: dict[str, list[float] | list[str]] = {"mean_1e-6_m3": [], "upper_1e-6_m3": [], "found_back": []}
    for letter in given["classes"]:
        one = RoadClass[letter]
        road = road_profile.road_of_class(one, given["length_m"], given["track_m"], seed=given["seed"])
        found, _ = road_profile.measured_roughness(road.left, road.step)
        result["mean_1e-6_m3"].append(1e6 * one.roughness)  # type: ignore[arg-type]
        result["upper_1e-6_m3"].append(1e6 * one.limits[1])  # type: ignore[arg-type]
        result["found_back"].append(str(road_profile.class_of(found)))  # type: ignore[arg-type]
    return result


def _weighting(given: Inputs) -> Results:
    weighting = {"Wk": ride_comfort.VERTICAL, "Wd": ride_comfort.HORIZONTAL}[given["weighting"]]
    factors = weighting.magnitude(np.array(given["frequency_Hz"], dtype=float))
    return {"factor_times_1000": [1e3 * float(each) for each in factors]}


def _quarter_car(given: Inputs) -> Results:
    car = _four_quarters(given["ms_kg"], given["mu_kg"], given["k_N_per_m"], given["kt_N_per_m"])
    frequency = np.array(given["frequency_Hz"], dtype=float)
    damping = np.array(given["c_Ns_per_m"])
    found = ride_frequency.both_sides_alike(car, damping, damping, frequency, 1.0, 1.0)
    body = np.abs(found.heave) / (2.0 * math.pi * frequency) ** 2
    return {
        "body_by_road": list(map(float, body)),
        "tyre_load_N_per_m": list(map(float, np.abs(found.load_front))),
    }


def _quarter_frequencies(given: Inputs) -> Results:
    car = _four_quarters(given["ms_kg"], given["mu_kg"], given["k_N_per_m"], given["kt_N_per_m"])
    body, *_, hop = _frequencies(car)
    return {"body_Hz": body, "hop_Hz": hop}


def _wheel_hop(given: Inputs) -> Results:
    car = _four_quarters(
        si(given["sprung_lb"], "lb"),
        si(given["unsprung_lb"], "lb"),
        si(given["spring_lb_per_in"], "lb/in"),
        si(given["tyre_lb_per_in"], "lb/in"),
    )
    return {"hop_Hz": _frequencies(car)[-1]}


def _frequencies(car: RideCar) -> list[float]:
    """Frequencies [Hz] of both sides alike, the lowest first."""
    mass, _, stiffness = ride_modes.matrices(car, 0.0, 0.0, is_rolling=False)
    squares = np.sort(np.linalg.eigvals(np.linalg.solve(mass, stiffness)).real)
    return [math.sqrt(each) / (2.0 * math.pi) for each in squares]


def _white_road(given: Inputs) -> Results:
    car = _four_quarters(given["ms_kg"], given["mu_kg"], given["k_N_per_m"], given["kt_N_per_m"])
    frequency = ride_frequency.FREQUENCIES
    spatial = frequency / given["speed_m_s"]
    road = road_profile.displacement_spectrum(spatial, given["Gd_n0_m3"]) / given["speed_m_s"]
    damping = np.array(given["c_Ns_per_m"])
    found = ride_frequency.both_sides_alike(car, damping, damping, frequency, 1.0, 1.0)
    return {"body_rms_m_s2": math.sqrt(float(np.trapezoid(np.abs(found.heave) ** 2 * road, frequency)))}


def _damping_ratios(given: Inputs) -> Results:
    a, b = given["a_m"], given["b_m"]
    car = _four_quarters(0.25 * given["m_s_kg"], 30.0, 1.0, given["K_tyre_N_per_m"])._replace(
        cg_to_front=a,
        cg_to_rear=b,
        wheel_rate_front=given["K_sf_N_per_m"],
        wheel_rate_rear=given["K_sr_N_per_m"],
    )
    return {
        "heave_front": motion_ratios(car, End.FRONT, given["c_sf_Ns_per_m"]).heave,
        "heave_rear": motion_ratios(car, End.REAR, given["c_sr_Ns_per_m"]).heave,
        "corner_front_kg": car.corner_mass_front,
        "corner_rear_lb": printed(car.corner_mass_rear, "lb"),
    }


def _square_damper(given: Inputs) -> Results:
    top = 4.0 * max(given["rms_speed_m_s"])
    speeds = np.linspace(-top, top, 2001)
    table = given["q_Ns2_per_m2"] * speeds * np.abs(speeds)
    rms = np.array(given["rms_speed_m_s"], dtype=float)
    found = damper_curves.equivalent_damping(table, top, rms)
    return {"equivalent_Ns_per_m": list(map(float, found))}


def _track_coherence(given: Inputs) -> Results:
    x, track = np.array(given["x"], dtype=float), 1.5
    found = road_profile.track_coherence(x / (2.0 * math.pi * track), track)
    return {"K1": [float(each) for each in found / x]}


RUNS: dict[str, Run] = {
    "road_classes": _road_classes,
    "vibration_weighting": _weighting,
    "quarter_car": _quarter_car,
    "quarter_frequencies": _quarter_frequencies,
    "wheel_hop": _wheel_hop,
    "white_road": _white_road,
    "damping_ratios": _damping_ratios,
    "square_damper": _square_damper,
    "track_coherence": _track_coherence,
}
