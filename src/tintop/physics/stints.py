"""Stint arithmetic: fuel, pit windows, growing lap loss, neutralisations and what a sample proves."""

import math
from typing import NamedTuple


class FuelStints(NamedTuple):
    """A fuel-limited race: one stint [s] and its whole laps, fuel for the race [m³], laps and stints."""

    stint_time: float
    stint_laps: int
    race_fuel: float
    race_laps: float
    stints: int


class PitWindow(NamedTuple):
    """Earliest and latest race clock of a stop [s]."""

    earliest: float
    latest: float


def fuel_stints(usable_fuel: float, burn: float, lap_time: float, race_time: float) -> FuelStints:
    """Give stints of a race in which every stop fills the tank; stop time and slow laps left out.

    usable_fuel [m³]; burn [m³/s]; times [s]. Source: arithmetic.
    """
    stint = usable_fuel / burn
    laps = math.floor(stint / lap_time + 1e-9)
    race_laps = race_time / lap_time
    return FuelStints(stint, laps, race_time * burn, race_laps, math.ceil(race_laps / laps - 1e-9))


def pit_windows(usable_fuel: float, burn: float, race_time: float, stops: int) -> tuple[PitWindow, ...]:
    """Give when each of so many stops may be made without running dry before or after.

    usable_fuel [m³]; burn [m³/s]; race_time [s]. A window whose latest lies before its earliest means too few
    stops. Source: arithmetic.
    """
    longest = usable_fuel / burn
    return tuple(
        PitWindow(max(0.0, race_time - (stops + 1 - number) * longest), min(race_time, number * longest))
        for number in range(1, stops + 1)
    )


def least_stops(usable_fuel: float, burn: float, race_time: float) -> int:
    """Give the fewest stops that the tank allows, from m³, m³/s and s. Source: arithmetic."""
    return max(0, math.ceil(race_time * burn / usable_fuel - 1e-9) - 1)


def least_refuel(race_time: float, burn: float, reserve: float, start_fuel: float) -> float:
    """Give the least fuel to put in during a race [m³], a reserve left at the end, from s, m³/s, m³, m³.

    Source: arithmetic.
    """
    return max(0.0, race_time * burn + reserve - start_fuel)


def loss_with_stops(laps: int, loss_per_lap_of_age: float, stop_time: float, stops: int) -> float:
    """Give the time lost [s] to stops and to a lap loss growing with age from 0, stints as even as possible.

    loss_per_lap_of_age [s]; stop_time [s]. Source: arithmetic series.
    """
    shortest, longer = divmod(laps, stops + 1)
    lengths = [shortest + 1] * longer + [shortest] * (stops + 1 - longer)
    return stops * stop_time + sum(loss_per_lap_of_age * n * (n - 1) / 2.0 for n in lengths)


def best_stops(laps: int, loss_per_lap_of_age: float, stop_time: float) -> int:
    """Give the number of stops that loses least; see loss_with_stops. Source: trial of every number."""
    return min(range(laps), key=lambda stops: loss_with_stops(laps, loss_per_lap_of_age, stop_time, stops))


def best_stops_continuous(laps: float, loss_per_lap_of_age: float, stop_time: float) -> float:
    """Give the best number of stops as a real number; see loss_with_stops.

    Source: derivative set to zero.
    """
    return laps * math.sqrt(loss_per_lap_of_age / (2.0 * stop_time)) - 1.0


def chance_of_count(rate: float, time: float, count: int) -> float:
    """Give the chance of so many events at a constant rate in a time, both by one unit.

    Source: Poisson law.
    """
    mean = rate * time
    return math.exp(-mean) * mean**count / math.factorial(count)


def chance_of_any(rate: float, time: float) -> float:
    """Give the chance of one event or more at a constant rate in a time. Source: Poisson law."""
    return -math.expm1(-rate * time)


def share_standard_error(share: float, samples: int) -> float:
    """Give the standard error of a share counted in so many random races. Source: binomial law."""
    return math.sqrt(share * (1.0 - share) / samples)


def samples_for_share(share: float, standard_error: float) -> int:
    """Give how many random races a share needs for a standard error. Source: binomial law."""
    return math.ceil(share * (1.0 - share) / standard_error**2 - 1e-6)


def mean_standard_error(spread: float, samples: int) -> float:
    """Give the standard error of a mean of so many values with a spread. Source: independent samples."""
    return spread / math.sqrt(samples)


def time_lost_to_fuel(laps: int, fuel_per_lap: float, time_per_mass: float) -> float:
    """Give the time [s] that a stint loses by the fuel it carries, counted at each lap's start.

    fuel_per_lap [kg]; time_per_mass [s/kg per lap]. Source: arithmetic series.
    """
    return time_per_mass * fuel_per_lap * laps * (laps + 1) / 2.0
