"""Runs of the published cases on tyres."""

import math
from typing import Any

from tintop.physics import four_wheels, tyre_pressure
from tintop.physics import tyre_formulae as tyre
from tintop.physics.air import saturation_pressure, standard_pressure
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _tyre_1987(given: Inputs) -> tyre.MagicFormula1987:
    return tyre.MagicFormula1987(**{f"a{n}": given.get(f"a{n}", 0.0) for n in range(1, 14)}, shape=given["C"])


def _magic_1987(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for load in given["Fz_kN"]:
        curve = tyre.magic_curve_1987(_tyre_1987(given), load)
        result[f"Fz_{load:g}"] = {
            "B": curve.b,
            "D": curve.d,
            "E": curve.e,
            "BCD_N_per_deg": curve.b * curve.c * curve.d,
            "Fy": [tyre.magic_force(curve, slip) for slip in given["alpha_deg"]],
            "peak_alpha_deg": tyre.magic_peak_slip(curve),
            "mu_peak": tyre.magic_force(curve, tyre.magic_peak_slip(curve)) / (1e3 * load),
        }
    return result


def _magic_1987_camber(given: Inputs) -> Results:
    curves = [
        tyre.magic_curve_1987(_tyre_1987(given), given["Fz_kN"], camber) for camber in given["camber_deg"]
    ]
    return {
        f"Fy_alpha{slip:g}_N": [tyre.magic_force(curve, slip) for curve in curves]
        for slip in given["alpha_deg"]
    }


def _magic_1989(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for load in given["Fz_kN"]:
        curve = tyre.magic_curve_1989(
            **{name: given[name] for name in ("a0", "a2", "a3", "a4", "a6", "a7", "a9", "a10")}, load_kn=load
        )
        result[f"Fz_{load:g}"] = {
            "B": curve.b,
            "E": curve.e,
            "BCD": curve.b * curve.c * curve.d,
            "Sh": curve.shift_x,
            "Fy": [tyre.magic_force(curve, slip) for slip in given["alpha_deg"]],
        }
    return result


def _load_degressive(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for axle in ("front", "rear"):
        data = given[axle]

        def peak(load: float, data: Inputs = data) -> float:
            return tyre.load_degressive_peak(data["mu"], load, data["Fz0_N"], data["eps"])

        curve = tyre.MagicCurve(data["B"], data["C"], peak(given["Fz_N"]), data["E"])
        result[axle] = {
            "D": [peak(load) for load in given["loads_N"]],
            "peak_alpha_rad": tyre.magic_peak_slip(curve),
            "F_at_slips": [tyre.magic_force(curve, math.radians(slip)) for slip in given["alpha_deg"]],
            "pair": [peak(given["Fz_N"] + d) + peak(given["Fz_N"] - d) for d in given["transfers_N"]],
            "pair_loss": [
                2.0 * peak(given["Fz_N"]) - peak(given["Fz_N"] + d) - peak(given["Fz_N"] - d)
                for d in given["transfers_N"]
            ],
        }
    return result


def _linear_and_peaked(given: Inputs) -> Results:
    def at(load: float, first: str, second: str) -> float:
        return tyre.linear_in_load(load, given["F1_N"], given[first], given["F2_N"], given[second])

    names = {
        "mux": ("mux1", "mux2"),
        "muy": ("muy1", "muy2"),
        "kappa": ("kappa1", "kappa2"),
        "alpha_deg": ("alpha1_deg", "alpha2_deg"),
    }
    return {
        "by_load": {name: [at(load, *pair) for load in given["loads_N"]] for name, pair in names.items()},
        "shape": [tyre.peaked_shape(share, given["Qx"]) for share in given["slip_shares"]],
    }


def _ellipse(given: Inputs) -> Results:
    grip_x, grip_y = given["N_N"] * given["mu_x"], given["N_N"] * given["mu_y"]
    return {
        "utilisation_squared": tyre.ellipse_use(given["Fx_N"], given["Fy_N"], grip_x, grip_y),
        "Fy_max_N": tyre.ellipse_side_force(given["Fx_N"], grip_x, grip_y),
    }


def _hot_pressure(given: Inputs) -> Results:
    air = si(given["p_atm_kPa"], "kPa")
    hot = [
        tyre_pressure.pressure_gauge_at(si(cold, "kPa"), first, second, air)
        for cold, first, second in given["cases_cold_gauge_kPa_T1_C_T2_C"]
    ]
    start = si(given["rule_psi"], "psi")
    end = tyre_pressure.pressure_gauge_at(
        start, si(given["rule_F"][0], "°F"), si(given["rule_F"][1], "°F"), air
    )
    return {
        "p_hot_gauge_kPa": [printed(p, "kPa") for p in hot],
        "rise_psi_for_10F": printed(end - start, "psi"),
    }


def _cold_for_hot(given: Inputs) -> Results:
    hill = standard_pressure(given["geopotential_m"])

    def cold(air: float) -> list[float]:
        hot = si(given["hot_gauge_kPa"], "kPa")
        return [
            printed(tyre_pressure.pressure_gauge_at(hot, given["hot_C"], temp, air), "kPa")
            for temp in given["set_C"]
        ]

    return {
        "at_the_sea_kPa": cold(tyre_pressure.SEA_LEVEL_PRESSURE),
        "at_1000_m_kPa": cold(hill),
        "air_at_1000_m_kPa": printed(hill, "kPa"),
    }


def _psi_warmed(given: Inputs) -> Results:
    cold = si(given["cold_psi"], "psi")
    return {
        "hot_psi": [
            printed(tyre_pressure.pressure_gauge_at(cold, given["cold_C"], hot), "psi")
            for hot in given["hot_C"]
        ]
    }


def _water_in_a_tyre(given: Inputs) -> Results:
    volume, absolute = si(given["volume_L"], "L"), si(given["absolute_kPa"], "kPa")
    cold, hot = given["cold_C"], given["hot_C"]
    added = [
        tyre_pressure.loose_water_growth(si(water, "g"), volume, cold, hot, absolute)
        for water in given["water_g"]
    ]
    return {
        "saturation_kPa": [printed(saturation_pressure(temp), "kPa") for temp in (cold, hot)],
        "added_kPa": [printed(one, "kPa") for one in added],
    }


def _leak(given: Inputs) -> Results:
    share = 1e-2 * given["percent_a_day"]
    even = [si(given["absolute_kPa"], "kPa") * math.exp(-share * day) for day in given["days"]]
    wild = [
        given["wild_factor"] * one if day == given["wild_day"] else one
        for day, one in zip(given["days"], even, strict=True)
    ]
    times = [day * tyre_pressure.DAY for day in given["days"]]
    found, troubled = (
        tyre_pressure.leak_rate(times, series, 1e-2 * given["error_percent"]) for series in (even, wild)
    )
    assert found is not None and troubled is not None
    percent_a_day = 1e2 * tyre_pressure.DAY
    return {
        "percent_a_day": percent_a_day * found.share,
        "uncertainty_percent_a_day": percent_a_day * found.uncertainty,
        "with_a_wild_reading_percent_a_day": percent_a_day * troubled.share,
    }


def _brush(given: Inputs) -> Results:
    stiffness, grip = given["C_alpha_N_per_rad"], given["mu"] * given["Fz_N"]
    forces = [tyre.brush_force(stiffness, grip, math.tan(math.radians(a))) for a in given["alpha_deg"]]
    sliding = tyre.brush_slide_slip(stiffness, grip)
    return {
        "lap_tyre_alpha_deg": [math.degrees(math.atan(four_wheels.slip(sliding, f / grip))) for f in forces],
        "alpha_slide_deg": math.degrees(math.atan(sliding)),
        "Fy_N": forces,
    }


RUNS: dict[str, Run] = {
    "magic_1987": _magic_1987,
    "magic_1987_camber": _magic_1987_camber,
    "magic_1989": _magic_1989,
    "load_degressive": _load_degressive,
    "linear_and_peaked": _linear_and_peaked,
    "ellipse": _ellipse,
    "hot_pressure": _hot_pressure,
    "cold_for_hot": _cold_for_hot,
    "psi_warmed": _psi_warmed,
    "water_in_a_tyre": _water_in_a_tyre,
    "leak": _leak,
    "brush": _brush,
}
