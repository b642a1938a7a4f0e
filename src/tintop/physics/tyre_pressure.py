"""Tyre pressure against temperature: the gas law at constant volume."""

from tintop.physics.constants import ICE_POINT

SEA_LEVEL_PRESSURE = 101325.0  # [Pa]


def pressure_gauge_at(
    pressure_gauge: float, temp: float, other_temp: float, air_pressure: float = SEA_LEVEL_PRESSURE
) -> float:
    """Give the gauge pressure [Pa] of a closed tyre at another temperature of its air.

    pressure_gauge [Pa] at temp [°C]; other_temp [°C]; air_pressure outside [Pa]. The tyre's growth is left
    out, which reads a little high when hot. Source: ideal gas law at constant volume.
    """
    absolute = pressure_gauge + air_pressure
    return absolute * (other_temp + ICE_POINT) / (temp + ICE_POINT) - air_pressure
