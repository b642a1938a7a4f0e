"""Heat exchangers by effectiveness and number of transfer units, and lumps that warm and cool.

`transfer_units` is conductance ÷ smaller stream (NTU), `stream_ratio` smaller ÷ larger stream (0 to 1),
a stream being mass flow × specific heat [W/K]. The closed form that the race marches with is
`heat_march.crossflow_effectiveness`; here stand the forms that check it and serve other coolers.
"""

import math

from tintop.errors import refuse


def effectiveness_counterflow(transfer_units: float, stream_ratio: float) -> float:
    """Give the share of the possible heat that a counterflow exchanger passes.

    Source: W. M. Kays and A. L. London, Compact Heat Exchangers, ch. 2 (from memory).
    """
    if stream_ratio == 1.0:
        return transfer_units / (1.0 + transfer_units)
    fall = -math.expm1(-transfer_units * (1.0 - stream_ratio))
    return fall / (1.0 - stream_ratio + stream_ratio * fall)


def effectiveness_parallel_flow(transfer_units: float, stream_ratio: float) -> float:
    """Give the share of the possible heat that a parallel-flow exchanger passes.

    Source: Kays and London, Compact Heat Exchangers, ch. 2 (from memory).
    """
    return -math.expm1(-transfer_units * (1.0 + stream_ratio)) / (1.0 + stream_ratio)


def effectiveness_crossflow_exact(transfer_units: float, stream_ratio: float) -> float:
    """Give the exact share for cross-flow with neither stream mixed, as a series.

    Source: J. L. Mason, Heat transfer in crossflow, Proceedings of the 2nd U.S. National Congress of Applied
    Mechanics, 1954 (from memory).
    """
    if stream_ratio == 0.0:
        return -math.expm1(-transfer_units)
    if transfer_units == 0.0:
        return 0.0
    total, hot_left, cold_left = 0.0, 1.0, 1.0
    hot_term, cold_term = math.exp(-transfer_units), math.exp(-stream_ratio * transfer_units)
    for order in range(1000):
        hot_left -= hot_term
        cold_left -= cold_term
        step = hot_left * cold_left
        total += step
        if step < 1e-16:
            break
        hot_term *= transfer_units / (order + 1)
        cold_term *= stream_ratio * transfer_units / (order + 1)
    return total / (stream_ratio * transfer_units)


def effectiveness_crossflow_larger_mixed(transfer_units: float, stream_ratio: float) -> float:
    """Give the share of the possible heat for cross-flow with the larger stream mixed, the smaller not.

    Source: J. P. Holman, Heat Transfer, 10th ed., ch. 10 (from memory).
    """
    if stream_ratio == 0.0:
        return -math.expm1(-transfer_units)
    return -math.expm1(stream_ratio * math.expm1(-transfer_units)) / stream_ratio


def transfer_units_crossflow_larger_mixed(effectiveness: float, stream_ratio: float) -> float:
    """Give the transfer units that cross-flow with the larger stream mixed needs for an effectiveness.

    Raises BadInput when no size is enough. Source: inverse of effectiveness_crossflow_larger_mixed.
    """
    if stream_ratio == 0.0:
        return -math.log1p(-effectiveness)
    if effectiveness >= effectiveness_crossflow_larger_mixed(math.inf, stream_ratio):
        raise refuse("cooler", f"an effectiveness of {effectiveness:g}", "one that some core reaches")
    return -math.log1p(math.log1p(-stream_ratio * effectiveness) / stream_ratio)


def heat_passed(effectiveness: float, smaller_stream: float, temp_hot: float, temp_cold: float) -> float:
    """Give the heat [W] that passes between two streams entering at °C; smaller_stream [W/K].

    Source: Kays and London, Compact Heat Exchangers, ch. 2 (from memory).
    """
    return effectiveness * smaller_stream * (temp_hot - temp_cold)


def steady_temp(heat: float, conductance: float, ambient: float) -> float:
    """Give the temperature [°C] at which a lump loses all the heat [W] it gets, from W/K and °C.

    Source: Newton's law of cooling.
    """
    return ambient + heat / conductance


def lump_temp(
    temp: float, time: float, heat: float, conductance: float, ambient: float, heat_capacity: float
) -> float:
    """Give the temperature [°C] of a lump after a time [s] of constant heat [W], exactly.

    temp at the start and ambient [°C]; conductance to the ambient [W/K], above zero; heat_capacity [J/K].
    Source: Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5 (from memory).
    """
    end = steady_temp(heat, conductance, ambient)
    return end + (temp - end) * math.exp(-time * conductance / heat_capacity)


def time_to_temp(
    temp: float, target: float, heat: float, conductance: float, ambient: float, heat_capacity: float
) -> float:
    """Give the time [s] a lump under constant heat takes to a target temperature; infinite if it never does.

    Source: inverse of lump_temp.
    """
    end = steady_temp(heat, conductance, ambient)
    if target == temp:
        return 0.0
    if (target - temp) * (end - target) <= 0.0:
        return math.inf
    return heat_capacity / conductance * math.log((temp - end) / (target - end))


def stream_temp_change(heat: float, mass_flow: float, specific_heat: float) -> float:
    """Give how much a stream's temperature changes [K] by a heat [W], from kg/s and J/(kg·K).

    Source: energy balance.
    """
    return heat / (mass_flow * specific_heat)


def sphere_time_constant(
    diameter: float, density: float, specific_heat: float, heat_transfer: float
) -> float:
    """Give the time constant [s] of a small sphere from m, kg/m³, J/(kg·K) and W/(m²·K).

    Source: Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5 (from memory).
    """
    return density * diameter * specific_heat / (6.0 * heat_transfer)


def sphere_biot_number(diameter: float, heat_transfer: float, conductivity: float) -> float:
    """Give the Biot number of a sphere from m, W/(m²·K) and W/(m·K); well below 0.1 it is one lump.

    Source: as sphere_time_constant.
    """
    return heat_transfer * diameter / (6.0 * conductivity)
