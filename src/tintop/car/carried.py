"""Driver and fuel in what the scales read: said, and told where they explain a difference."""

from collections.abc import Iterator

from tintop.car.car import Car
from tintop.car.on_scales import OnScales


def carried_words(scales: OnScales, car: Car) -> Iterator[str]:
    """What of the total is driver and fuel, and the car without them; nothing where it is not known."""
    if scales.is_driver_aboard is None or scales.fuel_volume is None:
        return
    fuel = scales.fuel_volume * car.fuel.density
    driver = car.masses.driver if scales.is_driver_aboard else 0.0
    carried = [f"the driver ({driver:.0f} kg)"] if driver else []
    if fuel:
        carried.append(f"{1e3 * scales.fuel_volume:.0f} L of fuel ({fuel:.1f} kg)")
    if carried:
        yield (
            f"The {scales.total:.1f} kg include {' and '.join(carried)}; without driver and fuel the car is "
            f"{scales.total - driver - fuel:.1f} kg."
        )


def what_fits(off: float, scales: OnScales, car: Car, doubt: float) -> str:
    """What a difference [kg] is as much as, within its doubt: the fuel or the driver; '' where neither."""
    fuel, driver = (scales.fuel_volume or 0.0) * car.fuel.density, car.masses.driver
    near = min(doubt, abs(off))
    if fuel > 0.0 and abs(off + fuel) < near:
        litres = 1e3 * (scales.fuel_volume or 0.0)
        return f" What is missing is what {litres:.0f} L of fuel weigh: was the tank empty?"
    if scales.is_driver_aboard and abs(off + driver) < near:
        return f" What is missing is the driver's {driver:.0f} kg: was he aboard?"
    if scales.is_driver_aboard is False and abs(off - driver) < near:
        return f" What is too much is the driver's {driver:.0f} kg: was he aboard?"
    return ""
