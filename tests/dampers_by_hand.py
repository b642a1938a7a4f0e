"""Dampers with curves, and the car by hand on them: digressive, twelve clicks a direction."""

from dataclasses import replace

from setups_by_hand import chassis_by_hand, setup_by_hand
from tintop.car.chassis import Chassis, Damper, DamperSide, End
from tintop.car.setup import Purpose, Setup

SPEEDS = (0.05, 0.13, 0.26, 0.52, 1.05)
SHAPE = (0.30, 0.55, 0.80, 1.20, 1.90)


def side(soft: float, hard: float, most: int = 12) -> DamperSide:
    """One direction: force at 0.26 m/s times 1.25 from full soft to full hard."""
    clicks = tuple(range(0, most + 1, max(most // 4, 1)))
    rows = tuple(tuple((soft + (hard - soft) * click / most) * share for share in SHAPE) for click in clicks)
    return DamperSide(most_clicks=most, clicks=clicks, speeds=SPEEDS, forces=rows)


def measured_damper(name: str = "measured") -> Damper:
    """Dampers on which both directions were measured."""
    return Damper(name=name, bump=side(120.0, 800.0), rebound=side(200.0, 1500.0))


def chassis_measured() -> Chassis:
    """The chassis by hand with measured dampers beside its own."""
    chassis = chassis_by_hand()
    front, rear = (
        replace(axle, dampers=(*axle.dampers, measured_damper())) for axle in (chassis.front, chassis.rear)
    )
    return replace(chassis, front=front, rear=rear)


def setup_measured(purpose: Purpose = Purpose.DRY, bump: int = 6, rebound: int = 6) -> Setup:
    """A set-up on those dampers at clicks alike at all four."""
    setup = setup_by_hand(purpose.value, purpose)
    setup = replace(
        setup,
        front=replace(setup.front, damper="measured"),
        rear=replace(setup.rear, damper="measured"),
    )
    for end in End:
        setup = setup.with_pair(end, bump=bump, rebound=rebound)
    return setup
