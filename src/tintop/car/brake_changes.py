"""What else moves the brakes' balance: pads by their temperature, other pads, pistons, discs, cylinders."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from tintop.car.brake_balance import BrakeAsk, brake_balance
from tintop.car.brakes import AxleBrake, Brakes
from tintop.car.car import Car
from tintop.car.chassis import PadSet
from tintop.car.lock_order import pads_of

_PISTON = 2e-3  # one size of piston up or down [m]
_DISC = 10e-3  # effective radius of a disc 20 mm larger [m]
_CYLINDER = 1.5875e-3  # a sixteenth of an inch


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeChange:
    """The balance with one thing changed: front share and margin where the first axle locks, and which."""

    name: str
    front_share: float
    margin: float
    rate: float
    rear_first: bool


def pads_by_temperature(car: Car, ask: BrakeAsk) -> tuple[BrakeChange, ...]:
    """The balance with cold, working and hot pads."""
    return tuple(
        _changed(f"{pads}, {one.front_temp:.0f} °C front, {one.rear_temp:.0f} °C rear", car, one)
        for pads, one in pads_of(ask).items()
    )


def other_parts(car: Car, ask: BrakeAsk, pad_sets: Iterable[PadSet]) -> tuple[BrakeChange, ...]:
    """The balance with each set of pads there is, and with the next size of each part of the hydraulics."""
    brakes = car.brakes
    now = brakes.front.pad, brakes.rear.pad
    found = [_changed("as it stands", car, ask)]
    for pads in pad_sets:
        if (pads.front, pads.rear) != now:
            fitted = replace(
                brakes,
                front=replace(brakes.front, pad=pads.front),
                rear=replace(brakes.rear, pad=pads.rear),
            )
            found.append(_changed(f"pads: {pads.name}", replace(car, brakes=fitted), ask))
    for name, changed in _sizes(brakes):
        found.append(_changed(name, replace(car, brakes=changed), ask))
    return tuple(found)


def _sizes(brakes: Brakes) -> Iterable[tuple[str, Brakes]]:
    front, rear = brakes.front, brakes.rear
    yield "front piston 2 mm larger", replace(brakes, front=_piston(front, _PISTON))
    yield "rear piston 2 mm smaller", replace(brakes, rear=_piston(rear, -_PISTON))
    yield (
        "front disc 20 mm larger",
        replace(
            brakes,
            front=replace(
                front,
                disc_diameter=front.disc_diameter + 2.0 * _DISC,
                effective_radius=front.effective_radius + _DISC,
            ),
        ),
    )
    if not brakes.is_tandem_cylinder:
        wider = _round(rear.master_cylinder_area, _CYLINDER)
        yield "rear cylinder 1/16 in larger", replace(brakes, rear=replace(rear, master_cylinder_area=wider))


def _piston(axle: AxleBrake, larger: float) -> AxleBrake:
    return replace(axle, piston_area=_round(axle.piston_area, larger))


def _round(area: float, larger: float) -> float:
    """The area of a round piston of this area made so much larger in diameter."""
    return math.pi / 4.0 * (math.sqrt(4.0 * area / math.pi) + larger) ** 2


def _changed(name: str, car: Car, ask: BrakeAsk) -> BrakeChange:
    found = brake_balance(car, ask)
    return BrakeChange(
        name=name,
        front_share=found.at_limit.front_share,
        margin=found.margin,
        rate=found.at_limit.rate,
        rear_first=found.margin < 0.0,
    )
