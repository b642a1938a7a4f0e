"""Runs of the published cases on cooling, the atmosphere and power correction."""

from typing import Any

from tintop.physics import air, heat_exchange, heat_march
from tintop.physics.constants import ICE_POINT
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _oil_heater(given: Inputs) -> Results:
    oil, steam = given["m_oil"] * given["cp_oil"], given["m_steam"] * given["cp_steam"]
    ratio, units = oil / steam, given["U"] * given["A_m2"] / oil
    share = heat_exchange.effectiveness_crossflow_larger_mixed(units, ratio)
    heat = heat_exchange.heat_passed(share, oil, given["Th_in"], given["Tc_in"])
    return {
        "Cmin": oil,
        "Cmax": steam,
        "Cr": ratio,
        "NTU": units,
        "eps": share,
        "Q_W": heat,
        "Tc_out": given["Tc_in"] + heat_exchange.stream_temp_change(heat, given["m_oil"], given["cp_oil"]),
        "Th_out": given["Th_in"]
        - heat_exchange.stream_temp_change(heat, given["m_steam"], given["cp_steam"]),
    }


def _oil_heater_sizing(given: Inputs) -> Results:
    oil, steam = given["m_oil"] * given["cp_oil"], given["m_steam"] * given["cp_steam"]
    heat = oil * (given["Tc_out"] - given["Tc_in"])
    share = heat / heat_exchange.heat_passed(1.0, oil, given["Th_in"], given["Tc_in"])
    units = heat_exchange.transfer_units_crossflow_larger_mixed(share, oil / steam)
    return {
        "Th_out": given["Th_in"]
        - heat_exchange.stream_temp_change(heat, given["m_steam"], given["cp_steam"]),
        "Cr": oil / steam,
        "eps": share,
        "NTU": units,
        "UA": units * oil,
        "A_m2": units * oil / given["U"],
    }


_ARRANGEMENTS = {
    "counterflow": heat_exchange.effectiveness_counterflow,
    "parallel": heat_exchange.effectiveness_parallel_flow,
    "crossflow_unmixed_exact": heat_exchange.effectiveness_crossflow_exact,
    "crossflow_unmixed_approx": heat_march.crossflow_effectiveness,
}


def _effectiveness(given: Inputs) -> Results:
    result: dict[str, Any] = {
        name: {f"N{units:g}": [share(units, ratio) for ratio in given["Cr"]] for units in given["NTU"]}
        for name, share in _ARRANGEMENTS.items()
    }
    result["N5_Cr0p7"] = {name: share(5.0, 0.7) for name, share in _ARRANGEMENTS.items()}
    return result


def _thermocouple(given: Inputs) -> Results:
    time = heat_exchange.sphere_time_constant(given["D_m"], given["rho"], given["c"], given["h"])
    return {
        "tau_s": time,
        "t_s": heat_exchange.time_to_temp(given["T_i"], given["T_target"], 0.0, 1.0, given["T_inf"], time),
        "Bi": heat_exchange.sphere_biot_number(given["D_m"], given["h"], given["k"]),
    }


def _coolant_lump(given: Inputs) -> Results:
    capacity, conductance, ambient = given["C_J_K"], given["UA_W_K"], given["T_amb"]
    end = heat_exchange.steady_temp(given["Q_W"], conductance, ambient)
    near = ambient + 0.95 * (end - ambient)
    return {
        "T_ss_C": end,
        "tau_s": capacity / conductance,
        "t95_s": heat_exchange.time_to_temp(ambient, near, given["Q_W"], conductance, ambient, capacity),
        "coolant_drop_K": heat_exchange.stream_temp_change(given["Q2_W"], given["m_dot"], given["cp"]),
    }


def _standard_air(height: float) -> dict[str, float]:
    temp, pressure = air.standard_temp(height), air.standard_pressure(height)
    return {
        "T_K": temp + ICE_POINT,
        "p_Pa": pressure,
        "rho": air.density_dry_air(temp, pressure),
        "a_m_s": air.speed_of_sound(temp),
    }


def _standard_atmosphere(given: Inputs) -> Results:
    levels = [_standard_air(height) for height in given["H_geopotential_m"]]
    result: dict[str, Any] = {name: [level[name] for level in levels] for name in levels[0]}
    result["geometric"] = {
        f"Z_{height:g}": _standard_air(air.geopotential_height(height)) for height in given["Z_geometric_m"]
    }
    return result


def _moist_air(given: Inputs) -> Results:
    temp, pressure, humidity = given["t_C"], given["p_Pa"], given["h"]
    return {
        "Z_anchor": air.compressibility(15.0, 101325.0, 0.0),
        "psv_Pa": air.saturation_pressure(temp),
        "f": air.enhancement_factor(temp, pressure),
        "xv": air.vapour_share(temp, pressure, humidity),
        "Z": air.compressibility(temp, pressure, humidity),
        "rho": air.density_moist_air(temp, pressure, humidity),
        "rho_dry_same": air.density_moist_air(temp, pressure, 0.0),
        "rho_15C_dry": air.density_moist_air(15.0, 101325.0, 0.0),
    }


def _sae_j1349(given: Inputs) -> Results:
    humid = given["with_humidity"]
    dry = air.pressure_dry(humid["t_C"], si(humid["p_hPa"], "hPa"), humid["rh"])
    return {
        "cf": [air.power_correction_sae_j1349(t, si(p, "hPa")) for p, t in given["pd_hPa_t_C"]],
        "pd_humid_hPa": printed(dry, "hPa"),
        "cf_humid": air.power_correction_sae_j1349(humid["t_C"], dry),
    }


def _iso_1585(given: Inputs) -> Results:
    pairs = given["iso_pd_kPa_t_C"]
    return {
        "iso": [air.power_correction_iso_1585(t, si(p, "kPa")) for p, t in pairs],
        "iso_from_power_factor": [1.0 / air.power_factor(t, si(p, "kPa"), 0.0, False) for p, t in pairs],
        "din": [air.power_correction_din_70020(t, si(p, "hPa")) for p, t in given["din_p_mbar_t_C"]],
    }


def _saturation(given: Inputs) -> Results:
    return {"p_Pa": [air.saturation_pressure(t) for t in given["t_C"]]}


RUNS: dict[str, Run] = {
    "oil_heater": _oil_heater,
    "oil_heater_sizing": _oil_heater_sizing,
    "effectiveness": _effectiveness,
    "thermocouple": _thermocouple,
    "coolant_lump": _coolant_lump,
    "standard_atmosphere": _standard_atmosphere,
    "moist_air": _moist_air,
    "sae_j1349": _sae_j1349,
    "iso_1585": _iso_1585,
    "saturation": _saturation,
}
