"""Runs of the published cases on road load, top speed and fuel."""

from tintop.physics import road_load
from tintop.physics.road_load import CoastDown, RoadLoad
from tintop.proof.figures import Inputs, Results, Run, printed, si

_KILOWATT_HOUR = 3.6e6


def _coast_down(given: Inputs) -> Results:
    mass, load = given["M_kg"], RoadLoad(given["F0_N"], 0.0, given["F2_N_per_m2s2"])

    def fall(start: float, end: float) -> CoastDown:
        high, low = si(start, "km/h"), si(end, "km/h")
        return CoastDown(high, low, road_load.coast_down_time(mass, load, high, low))

    whole = fall(given["v0_kmh"], given["vf_kmh"])
    fast, slow = (fall(*window) for window in given["windows_kmh"])
    split = road_load.road_load_from_two_windows(mass, fast, slow)
    fitted = road_load.road_load_fit(mass, (fast, slow, whole))
    return {
        "t_s": whole.time,
        "s_m": road_load.coast_down_distance(mass, load, whole.start_speed, whole.end_speed),
        "t_90_70_s": fast.time,
        "t_45_35_s": slow.time,
        "two_point_split": {"F0": split.f0, "F2": split.f2},
        "fit": {"F0": fitted.f0, "F2": fitted.f2},
    }


def _drag_and_rolling(given: Inputs) -> Results:
    speed = si(given["V_mph"], "mph")
    slug_per_cubic_foot = si(1.0, "lbf") / si(1.0, "ft") / si(1.0, "ft") ** 3
    area = si(given["width_ft"], "ft") * si(given["height_ft"], "ft")
    drag = road_load.drag_force(given["rho_slug_ft3"] * slug_per_cubic_foot, given["Cd"] * area, speed)
    resistance = given["fr_at_rest"] + given["fr_per_mph"] * given["V_mph"]
    rolling = road_load.rolling_force(resistance, si(given["W_lb"], "lbf"), 1.0)
    return {
        "V_ft_s": printed(speed, "ft"),
        "D_lb": printed(drag, "lbf"),
        "fr": resistance,
        "R_lb": printed(rolling, "lbf"),
        "P_hp": printed((drag + rolling) * speed, "hp"),
    }


def _dynamometer(given: Inputs) -> Results:
    mile_per_hour = si(1.0, "mph")
    load = RoadLoad(
        si(given["A_lbf"], "lbf"),
        si(given["B_lbf_per_mph"], "lbf") / mile_per_hour,
        si(given["C_lbf_per_mph2"], "lbf") / mile_per_hour**2,
    )
    speeds = [si(v, "mph") for v in given["V_mph"]]
    return {
        "A_N": load.f0,
        "B_Ns_m": load.f1,
        "C_Ns2_m2": load.f2,
        "F_N": [load.force(v) for v in speeds],
        "P_kW": [printed(load.power(v), "kW") for v in speeds],
    }


def _fuel_blends(given: Inputs) -> Results:
    energy, density = given["table_kWh_per_m3"], given["table_kg_per_m3_15C"]

    def heating(energy_kwh: float, kg: float) -> float:
        return road_load.heating_value(energy_kwh * _KILOWATT_HOUR, kg) / 1e6

    e10_energy = road_load.blend(0.10, energy["E0"], energy["ethanol"])
    e10_density = road_load.blend(0.10, density["E0"], density["ethanol"])
    return {
        "E0_MJ_L": energy["E0"] * _KILOWATT_HOUR / 1e9,
        "E0_MJ_kg": heating(energy["E0"], density["E0"]),
        "E5_MJ_kg": heating(energy["E5"], density["E5"]),
        "ethanol_MJ_kg": heating(energy["ethanol"], density["ethanol"]),
        "blend_5_percent_kWh_m3": road_load.blend(0.05, energy["E0"], energy["ethanol"]),
        "blend_5_percent_density": road_load.blend(0.05, density["E0"], density["ethanol"]),
        "E10_kWh_m3": e10_energy,
        "E10_density": e10_density,
        "E10_MJ_kg": heating(e10_energy, e10_density),
    }


def _gallon_of_petrol(given: Inputs) -> Results:
    energy = given["GGE_kWh"] * _KILOWATT_HOUR
    return {"MJ_per_L": energy / si(1.0, "gal_us") * si(1.0, "L") / 1e6}


def _consumption(given: Inputs) -> Results:
    lap, heating = given["lap"], given["LHV_MJ_kg"] * 1e6
    burned = road_load.fuel_mass(si(lap["mean_power_kW"], "kW"), lap["lap_s"], si(lap["bsfc"], "g/kWh"))
    return {
        "eta": [road_load.engine_efficiency(si(b, "g/kWh"), heating) for b in given["bsfc_g_kWh"]],
        "fuel_kg_per_lap": burned,
        "fuel_L_per_lap": burned / lap["rho_kg_L"],
    }


def _top_speed(given: Inputs) -> Results:
    load = road_load.road_load_of(given["rho"], given["CdA"], given["Crr"], given["m"], given["g"])
    speed = road_load.top_speed_of_power(given["P_wheel_W"], load)
    return {"v_m_s": speed, "v_kmh": printed(speed, "km/h")}


RUNS: dict[str, Run] = {
    "coast_down": _coast_down,
    "drag_and_rolling": _drag_and_rolling,
    "dynamometer": _dynamometer,
    "fuel_blends": _fuel_blends,
    "gallon_of_petrol": _gallon_of_petrol,
    "consumption": _consumption,
    "top_speed": _top_speed,
}
