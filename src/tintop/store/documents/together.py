"""A car and an event that do not go together."""

from tintop.car.described import DescribedCar
from tintop.errors import BadInput, Problem
from tintop.event import DescribedEvent
from tintop.units import format_quantity

_A_DROP = 1e-9  # [m³]


def refuse_contradictions(car: DescribedCar, event: DescribedEvent) -> None:
    """Raise BadInput if this car cannot take part in this event as described.

    Whether the fuel lasts is the race's business; here only what cannot be: more fuel than the tank holds.
    """
    race, volume = event.event.race, car.car.tank.volume
    holds = f"at most the {format_quantity(volume, 'L')} that the tank of {car.car.name} holds"
    problems = []
    if race.start_fuel_volume > volume + _A_DROP:
        found = format_quantity(race.start_fuel_volume, "L")
        problems.append(Problem(where="race.start_fuel_volume", found=found, expected=holds))
    problems += [
        Problem(
            where=f"race.stops.{place}.fuel_volume",
            found=format_quantity(stop.fuel_volume, "L"),
            expected=holds,
        )
        for place, stop in enumerate(race.stops, 1)
        if stop.fuel_volume > volume + _A_DROP
    ]
    if problems:
        raise BadInput(*problems)
