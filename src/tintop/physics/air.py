"""Air: the standard atmosphere, the density of moist air, and what it does to engine power."""

import math

from tintop.physics.constants import ICE_POINT, STANDARD_GRAVITY

_GAS_CONSTANT = 8.314472  # [J/(mol·K)] as CIPM-2007 uses it
_DRY_AIR_MOLAR_MASS = 28.96546e-3  # [kg/mol] at a carbon dioxide share of 0.0004
_WATER_MOLAR_MASS = 18.01528e-3
_STANDARD_TEMP = 288.15  # [K] at sea level, ISO 2533
_STANDARD_PRESSURE = 101325.0
_LAPSE = 0.0065  # [K/m]
_AIR_GAS_CONSTANT = 287.05287  # [J/(kg·K)] ISO 2533
_EARTH_RADIUS = 6356766.0  # [m] ISO 2533


def geopotential_height(height: float) -> float:
    """Give the geopotential height [m] of a height above the sea [m].

    Source: ISO 2533:1975, cl. 2 (from memory).
    """
    return _EARTH_RADIUS * height / (_EARTH_RADIUS + height)


def standard_temp(geopotential: float) -> float:
    """Give the temperature of the standard atmosphere [°C] at a geopotential height up to 11 km [m].

    Source: ISO 2533:1975, cl. 2 (from memory).
    """
    return _STANDARD_TEMP - _LAPSE * geopotential - ICE_POINT


def standard_pressure(geopotential: float) -> float:
    """Give the absolute pressure of the standard atmosphere [Pa] at a geopotential height up to 11 km [m].

    Source: ISO 2533:1975, cl. 2 (from memory).
    """
    ratio = (standard_temp(geopotential) + ICE_POINT) / _STANDARD_TEMP
    return float(_STANDARD_PRESSURE * ratio ** (STANDARD_GRAVITY / (_AIR_GAS_CONSTANT * _LAPSE)))


def density_dry_air(temp: float, pressure_absolute: float) -> float:
    """Give the density [kg/m³] of dry air as an ideal gas from °C and Pa.

    Source: ISO 2533:1975, cl. 2 (from memory).
    """
    return pressure_absolute / (_AIR_GAS_CONSTANT * (temp + ICE_POINT))


def speed_of_sound(temp: float) -> float:
    """Give the speed of sound in dry air [m/s] from °C.

    Source: ISO 2533:1975, cl. 2 (from memory).
    """
    return math.sqrt(1.4 * _AIR_GAS_CONSTANT * (temp + ICE_POINT))


def saturation_pressure(temp: float) -> float:
    """Give the saturation pressure of water vapour [Pa] from °C, for 0 to 60 °C.

    Source: A. Picard et al., Revised formula for the density of moist air (CIPM-2007), Metrologia 45
    (2008) 149, appendix A1.1.
    """
    kelvin = temp + ICE_POINT
    return math.exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)


def enhancement_factor(temp: float, pressure_absolute: float) -> float:
    """Give by how much air raises the vapour pressure at saturation, from °C and Pa.

    Source: Picard et al. 2008 (CIPM-2007), appendix A1.2.
    """
    return 1.00062 + 3.14e-8 * pressure_absolute + 5.6e-7 * temp**2


def vapour_share(temp: float, pressure_absolute: float, humidity: float) -> float:
    """Give the mole fraction of water vapour from °C, Pa and relative humidity 0 to 1.

    Source: Picard et al. 2008 (CIPM-2007), appendix A1.
    """
    factor = enhancement_factor(temp, pressure_absolute)
    return humidity * factor * saturation_pressure(temp) / pressure_absolute


def compressibility(temp: float, pressure_absolute: float, humidity: float) -> float:
    """Give the compressibility factor Z of moist air from °C, Pa and relative humidity 0 to 1.

    Source: Picard et al. 2008 (CIPM-2007), appendix A1.4.
    """
    share = vapour_share(temp, pressure_absolute, humidity)
    ratio = pressure_absolute / (temp + ICE_POINT)
    first = (
        1.58123e-6
        - 2.9331e-8 * temp
        + 1.1043e-10 * temp**2
        + (5.707e-6 - 2.051e-8 * temp) * share
        + (1.9898e-4 - 2.376e-6 * temp) * share**2
    )
    return 1.0 - ratio * first + ratio**2 * (1.83e-11 - 0.765e-8 * share**2)


def density_moist_air(temp: float, pressure_absolute: float, humidity: float) -> float:
    """Give the density of moist air [kg/m³] from °C, Pa and relative humidity 0 to 1.

    Stated for 15 to 27 °C and 600 to 1,100 hPa; smooth and good to 0.1 % over a race day's weather.
    Source: Picard et al. 2008 (CIPM-2007), eq. 1, with a carbon dioxide share of 0.0004.
    """
    share = vapour_share(temp, pressure_absolute, humidity)
    dry = (
        pressure_absolute
        * _DRY_AIR_MOLAR_MASS
        / (compressibility(temp, pressure_absolute, humidity) * _GAS_CONSTANT * (temp + ICE_POINT))
    )
    return dry * (1.0 - share * (1.0 - _WATER_MOLAR_MASS / _DRY_AIR_MOLAR_MASS))


def pressure_dry(temp: float, pressure_absolute: float, humidity: float) -> float:
    """Give the part of the pressure that dry air carries [Pa]: what an engine burns fuel with.

    From °C, Pa and relative humidity 0 to 1. Source: ISO 1585:1992, cl. 6 (from memory).
    """
    return pressure_absolute - humidity * saturation_pressure(temp)


def power_correction_iso_1585(temp: float, pressure_dry: float) -> float:
    """Give the factor from measured to standard power of a spark-ignition engine, from °C and dry Pa.

    The standard admits it within 0.93 to 1.07. Source: ISO 1585:1992, cl. 6 (from memory).
    """
    return float((99e3 / pressure_dry) ** 1.2 * ((temp + 273.0) / 298.0) ** 0.6)


def power_correction_sae_j1349(temp: float, pressure_dry: float) -> float:
    """Give the factor from measured to standard power by SAE J1349, from °C and dry Pa.

    Source: SAE J1349, June 1990, metric form; reference 25 °C and 990 hPa of dry air.
    """
    return 1.18 * (99e3 / pressure_dry) * math.sqrt((temp + 273.0) / 298.0) - 0.18


def power_correction_din_70020(temp: float, pressure_absolute: float) -> float:
    """Give the factor from measured to standard power by DIN 70020, from °C and Pa.

    Source: DIN 70020-6 (from memory).
    """
    return (101.3e3 / pressure_absolute) * math.sqrt((temp + 273.0) / 293.0)


def power_factor(temp: float, pressure_absolute: float, humidity: float, is_charged: bool) -> float:
    """Give the share of the standard-air torque that a petrol engine has in today's air.

    From °C, Pa and relative humidity 0 to 1. An engine without charging follows ISO 1585:1992, cl. 6 (from
    memory). The standard gives charged petrol engines the same formula, yet boost control makes up for part
    of thin air: the pressure exponent is 0.7, the standard's for turbocharged compression ignition (from
    memory), the temperature exponent stays. Caution: a controlled engine may hold all or none of its torque.
    """
    dry = pressure_dry(temp, pressure_absolute, humidity)
    if is_charged:
        return float((dry / 99e3) ** 0.7 * (298.0 / (temp + 273.0)) ** 0.6)
    return 1.0 / power_correction_iso_1585(temp, dry)
