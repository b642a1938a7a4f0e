"""What the road and the air take from a car: coast-down, drag, top speed, and the energy of fuel."""

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.errors import refuse
from tintop.physics.constants import STANDARD_GRAVITY

FloatArray = NDArray[np.float64]


class RoadLoad(NamedTuple):
    """Force against the car f0 + f1·v + f2·v²: [N], [N/(m/s)], [N/(m/s)²]."""

    f0: float
    f1: float
    f2: float

    def force(self, speed: float) -> float:
        """Force [N] at a speed [m/s]."""
        return self.f0 + self.f1 * speed + self.f2 * speed**2

    def power(self, speed: float) -> float:
        """Power [W] at a speed [m/s]."""
        return self.force(speed) * speed


class CoastDown(NamedTuple):
    """One timed fall of speed [m/s] with the clutch open, and the time it took [s]."""

    start_speed: float
    end_speed: float
    time: float


class TopSpeed(NamedTuple):
    """Highest speed held [m/s] and the gear, counted from 1."""

    speed: float
    gear: int


def drag_force(air_density: float, drag_area: float, speed: float) -> float:
    """Give the air's drag [N] from kg/m³, m² and m/s. Source: definition of the drag coefficient."""
    return 0.5 * air_density * drag_area * speed**2


def rolling_force(rolling_resistance: float, mass: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Give the rolling resistance [N] of a mass [kg] on level ground.

    Source: definition of the coefficient.
    """
    return rolling_resistance * mass * gravity


def road_load_of(
    air_density: float,
    drag_area: float,
    rolling_resistance: float,
    mass: float,
    gravity: float = STANDARD_GRAVITY,
) -> RoadLoad:
    """Give the road load of a car from its drag area and rolling resistance. Source: Newton."""
    return RoadLoad(rolling_force(rolling_resistance, mass, gravity), 0.0, 0.5 * air_density * drag_area)


def coast_down_time(mass: float, load: RoadLoad, start_speed: float, end_speed: float) -> float:
    """Give the time [s] in which a car of mass [kg] slows between two speeds [m/s]; f1 must be 0.

    Source: closed form of m·dv/dt = -(f0 + f2·v²), as used by SAE J1263 and ISO 10521.
    """
    root = math.sqrt(load.f2 / load.f0)
    fall = math.atan(start_speed * root) - math.atan(end_speed * root)
    return mass / math.sqrt(load.f0 * load.f2) * fall


def coast_down_distance(mass: float, load: RoadLoad, start_speed: float, end_speed: float) -> float:
    """Give the distance [m] in which a car of mass [kg] slows between two speeds [m/s]; f1 must be 0.

    Source: as coast_down_time.
    """
    start = load.f0 + load.f2 * start_speed**2
    end = load.f0 + load.f2 * end_speed**2
    return mass / (2.0 * load.f2) * math.log(start / end)


def road_load_from_two_windows(mass: float, fast: CoastDown, slow: CoastDown) -> RoadLoad:
    """Give the road load from a fast and a slow timed fall, each taken at its mean speed.

    A first estimate, off by some tenths of a percent for wide windows. Source: two-point coast-down method,
    as in SAE J1263 (from memory).
    """

    def mean(fall: CoastDown) -> tuple[float, float]:
        return (
            0.5 * (fall.start_speed + fall.end_speed),
            mass * (fall.start_speed - fall.end_speed) / fall.time,
        )

    (fast_speed, fast_force), (slow_speed, slow_force) = mean(fast), mean(slow)
    f2 = (fast_force - slow_force) / (fast_speed**2 - slow_speed**2)
    return RoadLoad(fast_force - f2 * fast_speed**2, 0.0, f2)


def road_load_fit(mass: float, falls: Sequence[CoastDown]) -> RoadLoad:
    """Give the road load whose closed form meets two or more timed falls best by their times.

    mass [kg] with the wheels' inertia. Gauss-Newton steps on the logarithms of f0 and f2, from
    the two-window estimate. Raises BadInput for fewer than two falls. Source: as coast_down_time.
    """
    if len(falls) < 2:
        raise refuse("coast-down", f"{len(falls)} timed falls", "two or more, at different speeds")
    ordered = sorted(falls, key=lambda fall: fall.start_speed + fall.end_speed)
    first = road_load_from_two_windows(mass, ordered[-1], ordered[0])
    unknown = np.log([max(first.f0, 1e-3), max(first.f2, 1e-6)])

    def misses(logs: FloatArray) -> FloatArray:
        load = RoadLoad(float(np.exp(logs[0])), 0.0, float(np.exp(logs[1])))
        return np.array(
            [coast_down_time(mass, load, f.start_speed, f.end_speed) / f.time - 1.0 for f in falls]
        )

    for _ in range(30):
        miss = misses(unknown)
        slopes = np.stack(
            [(misses(unknown + step) - misses(unknown - step)) / 2e-5 for step in 1e-5 * np.eye(2)], axis=1
        )
        change = np.linalg.lstsq(slopes, -miss, rcond=None)[0]
        unknown = unknown + change
        if float(np.max(np.abs(change))) < 1e-12:
            break
    return RoadLoad(float(np.exp(unknown[0])), 0.0, float(np.exp(unknown[1])))


def top_speed_of_power(power: float, load: RoadLoad) -> float:
    """Give the speed [m/s] at which a constant power at the wheels [W] meets the road load.

    Source: force balance, solved by Newton steps from above.
    """
    speed: float = max(1.0, math.cbrt(power / max(load.f2, 1e-9)))
    for _ in range(60):
        excess = load.power(speed) - power
        slope = load.f0 + 2.0 * load.f1 * speed + 3.0 * load.f2 * speed**2
        change = float(excess / slope)
        speed -= change
        if abs(change) < 1e-13 * speed:
            break
    return speed


def top_speed_in_gears(
    engine_speeds: Sequence[float],
    powers: Sequence[float],
    gear_ratios: Sequence[float],
    load: RoadLoad,
    efficiency: float = 1.0,
) -> TopSpeed:
    """Give the highest speed at which some gear has the power the road takes, and that gear.

    engine_speeds rising and powers there [W], straight lines between; gear_ratios = engine speed per road
    speed, in the same unit of engine speed and m/s; efficiency from engine to road. No speed beyond the
    curve's ends counts. Speed 0, gear 0 if none pulls. Source: force balance; UN GTR No. 15, annex 2.
    """
    best = TopSpeed(0.0, 0)
    for gear, ratio in enumerate(gear_ratios, start=1):
        for at in range(len(engine_speeds) - 1, 0, -1):
            low, high = engine_speeds[at - 1] / ratio, engine_speeds[at] / ratio
            if high <= best.speed:
                break
            slope = (powers[at] - powers[at - 1]) / (engine_speeds[at] - engine_speeds[at - 1])

            def spare(speed: float, slope: float = slope, at: int = at, ratio: float = ratio) -> float:
                power = powers[at] + slope * (speed * ratio - engine_speeds[at])
                return efficiency * power - load.power(speed)

            found = _highest_pulling(spare, low, high)
            if found > best.speed:
                best = TopSpeed(found, gear)
            if found > 0.0:
                break
    return best


def _highest_pulling(spare: Callable[[float], float], low: float, high: float) -> float:
    """The highest speed of a stretch with power to spare, 0 if none; spare power is concave in speed."""
    if spare(high) >= 0.0:
        return high
    if spare(low) < 0.0:
        left, right = low, high
        for _ in range(60):
            third = (right - left) / 3.0
            if spare(left + third) < spare(right - third):
                left += third
            else:
                right -= third
        low = 0.5 * (left + right)
        if spare(low) < 0.0:
            return 0.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if spare(middle) >= 0.0 else (low, middle)
    return low


def blend(share: float, first: float, second: float) -> float:
    """Give a quantity per volume of a blend with a volume share of the second fuel.

    Source: mixing by volume.
    """
    return (1.0 - share) * first + share * second


def heating_value(energy_per_volume: float, density: float) -> float:
    """Give the lower heating value [J/kg] from J/m³ and kg/m³. Source: definition."""
    return energy_per_volume / density


def engine_efficiency(specific_consumption: float, heating_value: float) -> float:
    """Give the share of the fuel's energy that becomes work, from kg/J and J/kg. Source: identity."""
    return 1.0 / (specific_consumption * heating_value)


def fuel_mass(power: float, time: float, specific_consumption: float) -> float:
    """Give the fuel burned [kg] by a mean power [W] over a time [s] at a consumption [kg/J].

    Source: identity.
    """
    return power * time * specific_consumption
