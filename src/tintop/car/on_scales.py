"""A car on four pads, level, and once more with an axle raised; kg, m, m³."""

import math
from dataclasses import dataclass

from tintop.car.car import Car
from tintop.car.chassis import CORNERS, Chassis, End
from tintop.car.setup import Setup
from tintop.checks import require, within
from tintop.errors import refuse
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.raised_weighing import (
    RaisedDoubt,
    RaisedWeighing,
    cg_height_doubt,
    cg_height_raised,
    gain,
    lift_for_doubt,
    unlocked_error,
)
from tintop.physics.ride import wheel_rate
from tintop.physics.weighing import CornerWeights, cg_left_of_middle

_POUNDS = (2.05, 2.36)  # sum ÷ what it should be, when pounds were read as kilograms
_BELIEVABLE = (0.6, 1.6)  # sum ÷ what it should be by the car's document
_HIGHEST_LIFT = 0.6  # [m] that is ever asked for, for safety; own choice
_LEAST_LIFT = 0.1  # [m]: below it the scales' doubt drowns the gain
_LOWEST, _HIGHEST = 0.35, 0.80  # of a production-based car's centre of gravity [m]; own choice


@dataclass(frozen=True, slots=True, kw_only=True)
class OnScales:
    """Four loads FL FR RL RR and how the car stood, None where nobody said; `pad_doubt` is a standard one."""

    loads: tuple[float, float, float, float]
    is_driver_aboard: bool | None = None
    fuel_volume: float | None = None
    pad_doubt: float = 1.0

    def __post_init__(self) -> None:
        for name, load in zip(CORNERS, self.loads, strict=True):
            within(load, 20.0, 1500.0, f"scale {name}", "kg")
        within(self.pad_doubt, 0.01, 20.0, "doubt of one scale", "kg")
        if self.fuel_volume is not None:
            within(1e3 * self.fuel_volume, 0.0, 250.0, "fuel aboard", "L")

    @property
    def corners(self) -> CornerWeights:
        """The four, with their shares."""
        return CornerWeights(*self.loads)

    @property
    def total(self) -> float:
        """Their sum."""
        return self.corners.total

    @property
    def total_doubt(self) -> float:
        """Standard uncertainty of the sum."""
        return 2.0 * self.pad_doubt

    @property
    def share_doubt(self) -> float:
        """Standard uncertainty of a share of two pads, near a half."""
        return self.pad_doubt / self.total


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifted:
    """The two pads of the axle that stays down [kg] with the hubs of the other raised by `lift` [m]."""

    raised: End
    down: tuple[float, float]
    lift: float
    is_locked: bool = True
    hub_front: float | None = None  # [m]; the tyre's radius where not measured
    hub_rear: float | None = None
    lift_doubt: float = 0.003
    hub_doubt: float = 0.003

    def __post_init__(self) -> None:
        for load in self.down:
            within(load, 20.0, 2000.0, f"{self.down_end} scale, {self.raised.value} raised", "kg")
        within(self.lift, _LEAST_LIFT, 1.2, "lift", "m")

    @property
    def down_end(self) -> str:
        """The axle that stays on the scales."""
        return End.REAR.value if self.raised is End.FRONT else End.FRONT.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """Height of the centre of gravity, its standard uncertainty, each input's part of that [m]; gain [kg].

    `free_springs` was taken off for springs left to move; `surer_lift` halves the doubt, None where no lift
    that stands safely does.
    """

    height: float
    doubt: float
    parts: dict[str, float]
    gain: float
    free_springs: float
    surer_lift: float | None


def stated_total(scales: OnScales, stated: float) -> None:
    """Refuse four loads that do not add up to the total that was read beside them.

    Raises BadInput when they differ by more than four standard uncertainties.
    """
    require(
        abs(scales.total - stated) <= 4.0 * scales.total_doubt,
        "scales",
        f"four loads that add up to {scales.total:.1f} kg, and a stated total of {stated:.1f} kg",
        f"a sum within {4.0 * scales.total_doubt:.0f} kg of the total",
        "One scale is off, or a wheel stood half beside its pad: change two pads over and weigh again.",
    )


def believable_total(scales: OnScales, expected: float) -> None:
    """Refuse a sum that this car cannot have, pounds read as kilograms among them; BadInput with the cure."""
    ratio = scales.total / expected
    low, high = _POUNDS
    require(
        _BELIEVABLE[0] < ratio < _BELIEVABLE[1],
        "scales",
        f"{scales.total:.0f} kg in all, {ratio:.2f} times what this car should weigh",
        f"about {expected:.0f} kg",
        'Were they pounds? Write the unit with them, such as "688 lb".'
        if low < ratio < high
        else "Four loads are wanted, one for each wheel, in the order FL FR RL RR.",
    )


def raised_height(
    scales: OnScales, lifted: Lifted, car: Car, chassis: Chassis | None, setup: Setup | None
) -> Height:
    """Give the height above level ground of the car as it stood.

    Springs left free are corrected for where chassis and set-up say how stiff they are, and half of that is
    doubt. Raises BadInput for a lift that is none, a gain of nothing, or a height no car has.
    """
    dimensions = car.dimensions
    require(
        lifted.lift < 0.7 * dimensions.wheelbase,
        "lift",
        f"{lifted.lift:.3g} m",
        f"less than {0.7 * dimensions.wheelbase:.2g} m on a wheelbase of {dimensions.wheelbase:.3f} m",
    )
    hub_front = car.tyre_front.radius if lifted.hub_front is None else lifted.hub_front
    hub_rear = car.tyre_rear.radius if lifted.hub_rear is None else lifted.hub_rear
    weighed = RaisedWeighing(
        *scales.loads,
        *lifted.down,
        wheelbase=dimensions.wheelbase,
        lift=lifted.lift,
        hub_front=hub_front,
        hub_rear=hub_rear,
        is_rear_raised=lifted.raised is End.REAR,
    )
    gained = gain(weighed)
    require(
        gained > 0.0,
        f"{lifted.down_end} scales, {lifted.raised.value} raised",
        f"{sum(lifted.down):.1f} kg, {-gained:.1f} kg less than level",
        f"more than the {sum(lifted.down) - gained:.1f} kg of the same axle level",
        f"Raising the {lifted.raised.value} puts load on the {lifted.down_end}: was the other end raised, or "
        "were these read at other scales?",
    )
    doubt = RaisedDoubt(pad=scales.pad_doubt, lift=lifted.lift_doubt, wheelbase=0.004, hub=lifted.hub_doubt)
    height, hubs = cg_height_raised(weighed), 0.5 * (hub_front + hub_rear)
    free = 0.0
    if not lifted.is_locked:
        free = _free(weighed, height - hubs, car, chassis, setup)
    height -= free
    if not _LOWEST <= height <= _HIGHEST:
        raise refuse(
            f"{lifted.down_end} scales, {lifted.raised.value} raised",
            f"a gain of {gained:.1f} kg, which puts the centre of gravity {1e3 * height:.0f} mm up",
            f"one between {1e3 * _LOWEST:.0f} and {1e3 * _HIGHEST:.0f} mm",
            "Was the lift measured at the hubs, were the handbrake off and the gearbox in neutral, and did "
            "the wheels stay in the middle of their pads?",
        )
    spread, parts = cg_height_doubt(weighed, doubt)
    surer = lift_for_doubt(weighed, doubt, 0.5 * spread)
    found = dict(parts)
    if free:
        found["springs left free"] = 0.5 * free
    return Height(
        height=height,
        doubt=math.hypot(spread, 0.5 * free),
        parts=found,
        gain=gained,
        free_springs=free,
        surer_lift=surer if surer is not None and surer <= _HIGHEST_LIFT else None,
    )


def _free(
    weighed: RaisedWeighing, above: float, car: Car, chassis: Chassis | None, setup: Setup | None
) -> float:
    require(
        chassis is not None and setup is not None,
        "suspension",
        "left free to move",
        "locked, for nothing says how stiff the springs are",
        "Put solid struts in place of the dampers, or describe the chassis.",
    )
    assert chassis is not None and setup is not None
    rate_front, rate_rear = (
        wheel_rate(chassis.at(end).spring(setup.at(end).spring).rate, chassis.at(end).motion_ratio)
        for end in End
    )
    masses = car.masses
    total = masses.without_fuel
    unsprung = masses.unsprung_front + masses.unsprung_rear
    share = (total - unsprung) / total
    return unlocked_error(weighed, share, above / share, rate_front, rate_rear, STANDARD_GRAVITY)


def centre_on_pads(scales: OnScales, car: Car) -> tuple[float, float]:
    """Centre of gravity as it stood: x forward of the front axle, y left of the middle [m]."""
    dimensions = car.dimensions
    x = -(1.0 - scales.corners.front_share) * dimensions.wheelbase
    return x, cg_left_of_middle(scales.corners, dimensions.track_front, dimensions.track_rear)
