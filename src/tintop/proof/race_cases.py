"""Runs of the published cases on stints, stops, neutralisations and random races."""

from typing import Any

from tintop.physics import stints
from tintop.proof.figures import Inputs, Results, Run, printed, si


def _fuel_stints(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for name, race in given.items():
        usable = si(race["tank_L"] - race["reserve_L"], "L")
        burn = si(race["burn_L_per_h"], "L") / 3600.0
        found = stints.fuel_stints(usable, burn, race["lap_s"], 60.0 * race["race_min"])
        result[name] = {
            "usable": printed(usable, "L"),
            "stint_min": found.stint_time / 60.0,
            "laps_per_stint": found.stint_laps,
            "total_L": printed(found.race_fuel, "L"),
            "race_laps_float": found.race_laps,
            "stints": found.stints,
        }
    return result


def _pit_window(given: Inputs) -> Results:
    usable = si(given["tank_L"] - given["reserve_L"], "L")
    burn, race = si(given["burn_L_min"], "L") / 60.0, 60.0 * given["race_min"]
    stops = stints.least_stops(usable, burn, race)
    window = stints.pit_windows(usable, burn, race, stops)[0]
    refuel = stints.least_refuel(race, burn, si(given["reserve_L"], "L"), si(given["tank_L"], "L"))
    return {
        "stint_max_min": usable / burn / 60.0,
        "total_L": printed(race * burn, "L"),
        "stops_needed": stops,
        "window_min": [window.earliest / 60.0, window.latest / 60.0],
        "refuel_min_L": printed(refuel, "L"),
    }


def _best_stops(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for name, race in given.items():
        laps, loss, stop = race["N_laps"], race["loss_s_per_lap_of_age"], race["stop_s"]
        result[name] = {
            "T": [stints.loss_with_stops(laps, loss, stop, stops) for stops in range(6)],
            "best_stops": stints.best_stops(laps, loss, stop),
            "continuous": stints.best_stops_continuous(laps, loss, stop),
        }
    return result


def _neutralisations(given: Inputs) -> Results:
    result: dict[str, Any] = {}
    for number, (rate, hours) in enumerate(zip(given["rate_per_h"], given["hours"], strict=True), start=1):
        result[f"case{number}"] = {
            "mean": rate * hours,
            "P0_to_P4": [stints.chance_of_count(rate, hours, count) for count in range(5)],
            "P_at_least_one": stints.chance_of_any(rate, hours),
            "P_in_20min_window": stints.chance_of_any(rate, given["window_min"] / 60.0),
        }
    return result


def _standard_errors(given: Inputs) -> Results:
    return {
        "se": stints.share_standard_error(given["p"], given["n"]),
        "n_for_se": stints.samples_for_share(given["p"], given["target_se"]),
        "n_for_95pct_within_1pct_worst_case": stints.samples_for_share(0.5, 0.01 / 1.96),
        "se_mean_s": stints.mean_standard_error(given["sigma_s"], given["n2"]),
    }


def _fuel_carried(given: Inputs) -> Results:
    burned = given["burn_L_per_lap"] * given["kg_per_L"]
    return {"total_s": stints.time_lost_to_fuel(given["laps"], burned, given["s_per_kg_per_lap"])}


RUNS: dict[str, Run] = {
    "fuel_stints": _fuel_stints,
    "pit_window": _pit_window,
    "best_stops": _best_stops,
    "neutralisations": _neutralisations,
    "standard_errors": _standard_errors,
    "fuel_carried": _fuel_carried,
}
