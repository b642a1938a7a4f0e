"""How much of its bump travel each wheel uses along a lap, from the loads the lap found; SI.

The body is taken to sink on springs alone and to lean on springs and bar; the links of an axle that hold it
up in braking are left out, and so are kerbs and the road's own bumps: the first errs to more travel than
there is, the second to less.
"""

from dataclasses import dataclass

import numpy as np

from tintop.car.car import Car
from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import Setup
from tintop.car.springs_and_bars import AxleSprings, SpringsAndBars, springs_and_bars
from tintop.circuit.circuit import Circuit, FloatArray, Path
from tintop.errors import refuse
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.lap.vehicle import GRAVITY
from tintop.physics.ride import leaned_compression

_LITTLE_LOAD = 1.0  # of a wheel in the air [N]


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """Where a wheel goes furthest into its stop in one corner: travel asked for and there [m]."""

    wheel: str
    where: str
    distance: float
    asked: float
    left: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TravelUsed:
    """Bump travel along a lap, wheels FL FR RL RR: most used, there, and where; the touches of the stops.

    `compression` (n, 4) [m] from ride height, bump positive. `lifted_share` of the lap's time each wheel
    carries nothing.
    """

    compression: FloatArray
    most: tuple[float, float, float, float]
    left: tuple[float, float, float, float]
    where: tuple[str, str, str, str]
    touches: tuple[Touch, ...]
    lifted_share: tuple[float, float, float, float]

    @property
    def fullest(self) -> int:
        """The wheel that has least travel to spare, by its place in FL FR RL RR."""
        return int(np.argmin([left - most for most, left in zip(self.most, self.left, strict=True)]))


def lap_with_fuel(springs: SpringsAndBars, setup: Setup, path: Path, weather: Weather) -> LapTrace:
    """The lap along which travel is looked at: the set-up's fuel aboard, a smooth road, all its grip."""
    fuel = setup.fuel_volume * springs.car.fuel.density
    return flying_lap(springs.car, path, weather, Conditions(fuel_mass=fuel))


def least_travel_left(car: Car, chassis: Chassis, setup: Setup, path: Path, weather: Weather) -> float:
    """Bump travel left at the hardest place of the lap [m], least of the wheels; negative = it touches.

    BadInput as car_with_setup. The same lap and springs as travel_used is asked with.
    """
    springs = springs_and_bars(car, chassis, setup, weather)
    compression = _compression(lap_with_fuel(springs, setup, path, weather), springs)
    return float(np.min(_left(springs) - np.max(compression, axis=0)))


def travel_used(lap: LapTrace, springs: SpringsAndBars, circuit: Circuit) -> TravelUsed:
    """Give the travel used on a lap driven by `springs.car` with its fuel; BadInput for another circuit."""
    load = lap.channel("wheel_load")
    if load.shape[0] != circuit.x.shape[0]:
        raise refuse("lap", f"{load.shape[0]} points", f"the circuit's {circuit.x.shape[0]} points")
    sides, left = _compression(lap, springs), _left(springs)
    most_at = np.argmax(sides, axis=0)
    touches = [
        touch
        for place, wheel in enumerate(CORNERS)
        for touch in _touches(sides[:, place], left[place], wheel, lap, circuit)
    ]
    lifted = lap.segment_time @ (load < _LITTLE_LOAD) / lap.lap_time
    return TravelUsed(
        compression=sides,
        most=_four([float(sides[at, place]) for place, at in enumerate(most_at)]),
        left=left,
        where=tuple(place_words(circuit, int(at)) for at in most_at),  # type: ignore[arg-type]
        touches=tuple(sorted(touches, key=lambda touch: touch.left - touch.asked)),
        lifted_share=_four([float(share) for share in lifted]),
    )


def _left(springs: SpringsAndBars) -> tuple[float, float, float, float]:
    return (springs.front.bump_left,) * 2 + (springs.rear.bump_left,) * 2


def _compression(lap: LapTrace, springs: SpringsAndBars) -> FloatArray:
    """Of each wheel along the lap (n, 4) [m], bump positive."""
    load = lap.channel("wheel_load")
    body, wheelbase = springs.body, springs.car.dimensions.wheelbase
    weight = body.mass * GRAVITY
    on_rear = weight * body.cg_to_front / wheelbase
    return np.hstack(
        [
            _axle(load[:, :2], springs.at(End.FRONT), 0.5 * (weight - on_rear)),
            _axle(load[:, 2:], springs.at(End.REAR), 0.5 * on_rear),
        ]
    )


def place_words(circuit: Circuit, index: int) -> str:
    """Name a point of the mesh by its corner, or by the corner before it."""
    if not circuit.corners:
        return f"{index * circuit.step:.0f} m from the line"
    at = index * circuit.step
    for corner in circuit.corners:
        past = (at - corner.start) % circuit.length
        if past <= (corner.end - corner.start) % circuit.length:
            return f"corner {corner.number}"
    before = min(circuit.corners, key=lambda corner: (at - corner.end) % circuit.length)
    return f"after corner {before.number}"


def _axle(load: FloatArray, axle: AxleSprings, static: float) -> FloatArray:
    """Compression of the left and the right wheel (n, 2) from their loads."""
    sunk = (0.5 * (load[:, 0] + load[:, 1]) - static) / axle.wheel_rate
    through_springs = axle.elastic_share * 0.5 * (load[:, 1] - load[:, 0])
    leaned = leaned_compression(1.0, axle.moments.track, axle.hung) * through_springs
    return np.column_stack((sunk - leaned, sunk + leaned))


def _touches(
    compression: FloatArray, left: float, wheel: str, lap: LapTrace, circuit: Circuit
) -> list[Touch]:
    over = np.flatnonzero(compression > left)
    worst: dict[str, int] = {}
    for at in over:
        where = place_words(circuit, int(at))
        if where not in worst or compression[at] > compression[worst[where]]:
            worst[where] = int(at)
    return [
        Touch(
            wheel=wheel,
            where=where,
            distance=float(lap.distance[at]),
            asked=float(compression[at]),
            left=left,
        )
        for where, at in worst.items()
    ]


def _four(values: list[float]) -> tuple[float, float, float, float]:
    first, second, third, fourth = values
    return first, second, third, fourth
