"""A car together with how each of its numbers is known."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.known import Known

FROM_THE_WHEELS = "from the wheels, divided by gearbox.efficiency"  # note on a curve measured there


@dataclass(frozen=True, slots=True, kw_only=True)
class DescribedCar:
    """The car; `known` holds every path of `car.numbers.numbers_of(car)`.

    `assumed_choices` says, by path, what was taken where the owner chose nothing and no number tells it:
    the kind of differential, of pad, of master cylinder, or the way the engine's curve was drawn.
    """

    car: Car
    known: Mapping[str, Known]
    assumed_choices: Mapping[str, str]
