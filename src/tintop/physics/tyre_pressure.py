"""Tyre pressure against temperature and time: the gas law at constant volume, moisture, leaks, cooling."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from tintop.physics.air import enhancement_factor, saturation_pressure
from tintop.physics.constants import ICE_POINT

SEA_LEVEL_PRESSURE = 101325.0  # [Pa]
GAUGE_ERROR = 0.5 * 6894.757 / math.sqrt(3.0)  # half a psi either way, even odds: standard uncertainty [Pa]
DAY = 86400.0  # [s]
_GAS_CONSTANT = 8.314472  # [J/(mol·K)] as CIPM-2007 uses it
_WATER_MOLAR_MASS = 18.01528e-3  # [kg/mol]
_NORMAL_SPREAD = 1.4826  # standard deviation ÷ median absolute deviation of a normal distribution


def pressure_gauge_at(
    pressure_gauge: float,
    temp: float,
    other_temp: float,
    air_pressure: float = SEA_LEVEL_PRESSURE,
    other_air_pressure: float | None = None,
) -> float:
    """Give the gauge pressure [Pa] of a closed tyre at another temperature of its air.

    pressure_gauge [Pa] at temp [°C] and air_pressure outside [Pa]; other_temp [°C]; other_air_pressure where
    the tyre is read there, the same without one. A cold pressure for a hot target is the same law backwards.
    The tyre's growth is left out, which reads a little high when hot.
    Source: ideal gas law at constant volume.
    """
    absolute = pressure_gauge + air_pressure
    outside = air_pressure if other_air_pressure is None else other_air_pressure
    return absolute * (other_temp + ICE_POINT) / (temp + ICE_POINT) - outside


def temp_at_pressure(
    pressure_gauge: float, temp: float, other_pressure_gauge: float, air_pressure: float = SEA_LEVEL_PRESSURE
) -> float:
    """Give the temperature [°C] of a closed tyre's air from its pressure; pressures [Pa gauge], temp [°C].

    Source: ideal gas law at constant volume.
    """
    ratio = (other_pressure_gauge + air_pressure) / (pressure_gauge + air_pressure)
    return (temp + ICE_POINT) * ratio - ICE_POINT


def gas_left_out(pressure_gauge: float, bled_to: float, air_pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Give the share of its air that a tyre loses when it is bled at one temperature; pressures [Pa gauge].

    Source: ideal gas law.
    """
    return (pressure_gauge - bled_to) / (pressure_gauge + air_pressure)


def moist_air_growth(
    humidity: float, temp: float, other_temp: float, pressure_absolute: float, air_pressure: float
) -> float:
    """Give how much more than the gas law says [Pa] a tyre filled with moist air grows.

    humidity 0 to 1 of the air pumped in, at temp [°C]; pressure_absolute of the tyre, air_pressure of the
    air outside [Pa]. Pressing the air together dews out what is above saturation; warming takes that back
    into vapour. Vapour without water beside it follows the gas law like any gas: it adds nothing.
    Source: Dalton's law, with saturation as `physics/air.py: saturation_pressure`; own construction.
    """
    all_vapour = humidity * _saturation(temp, pressure_absolute) * pressure_absolute / air_pressure
    return _growth_of_vapour(all_vapour, temp, other_temp, pressure_absolute)


def loose_water_growth(
    water: float, volume: float, temp: float, other_temp: float, pressure_absolute: float
) -> float:
    """Give how much more than the gas law says [Pa] a tyre grows that water came into from the air line.

    water [kg], volume of the tyre [m³], temp and other_temp [°C], pressure_absolute [Pa] at temp.
    Source: as moist_air_growth.
    """
    all_vapour = water / _WATER_MOLAR_MASS * _GAS_CONSTANT * (temp + ICE_POINT) / volume
    return _growth_of_vapour(all_vapour, temp, other_temp, pressure_absolute)


def _growth_of_vapour(all_vapour: float, temp: float, other_temp: float, pressure_absolute: float) -> float:
    warmer = (other_temp + ICE_POINT) / (temp + ICE_POINT)
    before = min(all_vapour, _saturation(temp, pressure_absolute))
    after = min(all_vapour * warmer, _saturation(other_temp, pressure_absolute * warmer))
    return after - before * warmer


def _saturation(temp: float, pressure_absolute: float) -> float:
    return enhancement_factor(temp, pressure_absolute) * saturation_pressure(temp)


class LeakRate(NamedTuple):
    """Share of its absolute pressure that a tyre loses per second, its standard uncertainty, and readings."""

    share: float
    uncertainty: float
    readings: int


def leak_rate(times: Sequence[float], pressures: Sequence[float], error: float) -> LeakRate | None:
    """Give the rate at which a tyre leaks from readings at one temperature; None for fewer than two times.

    times [s]; pressures [Pa absolute, brought to one temperature]; error is a reading's standard uncertainty
    as a share of the absolute pressure. The slope is the median of the slopes of all pairs, so that one wild
    reading moves it little; its uncertainty is that of least squares with the larger of `error` and the
    scatter seen.
    Source: P. K. Sen, Estimates of the regression coefficient based on Kendall's tau, J. Am. Stat. Assoc. 63
    (1968) 1379 (from memory).
    """
    logs = [math.log(pressure) for pressure in pressures]
    pairs = [
        (logs[later] - logs[first]) / (times[later] - times[first])
        for first in range(len(times))
        for later in range(first + 1, len(times))
        if times[later] != times[first]
    ]
    if not pairs:
        return None
    slope = _median(pairs)
    level = _median([one - slope * time for one, time in zip(logs, times, strict=True)])
    off = [abs(one - level - slope * time) for one, time in zip(logs, times, strict=True)]
    middle = sum(times) / len(times)
    spread = math.sqrt(sum((time - middle) ** 2 for time in times))
    return LeakRate(-slope, max(error, _NORMAL_SPREAD * _median(off)) / spread, len(times))


def _median(values: Sequence[float]) -> float:
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else 0.5 * (ordered[half - 1] + ordered[half])


def seconds_to_fall(hot: float, air_temp: float, time_constant: float, fall: float) -> float:
    """Give the time [s] in which a standing tyre cools by `fall` [K] from `hot` [°C]; infinite if never.

    Source: Newton's law of cooling.
    """
    above = hot - air_temp
    return time_constant * math.log(above / (above - fall)) if 0.0 < fall < above else math.inf
