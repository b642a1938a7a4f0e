"""What the dampers do at their clicks: force, plain damping, and the car's damping ratios; SI."""

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from tintop.car.chassis import AxleChassis, Chassis, Damper, DamperSide, End
from tintop.car.setup import Setup
from tintop.checks import require
from tintop.physics.damper_curves import critical_damping, measured_force
from tintop.physics.ride_frequency import RideCar

FloatArray = NDArray[np.float64]

TOP_SPEED = 2.0  # of a damper's table, at the wheel [m/s]
WHEEL_SPEEDS: FloatArray = np.linspace(-TOP_SPEED, TOP_SPEED, 801)
SHAFT_SPEED = 0.05  # at which ratios are stated: body motion on a circuit [m/s]; common practice, no source


class DampersKnown(StrEnum):
    """How the dampers of one end are known."""

    CURVE = "from their curves"
    BEYOND = "from their curves, at clicks beyond those measured"
    RATIO = "from an assumed damping ratio a click, no curve"
    UNKNOWN = "unknown: no curve and no ratio"


@dataclass(frozen=True, slots=True, kw_only=True)
class MotionRatios:
    """Damping ratios of one end in one direction: its corner in heave, its share of pitch and of roll."""

    heave: float
    pitch: float
    roll: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleDamping:
    """One end's dampers at its clicks: damping at the wheel [N·s/m] at a shaft speed [m/s], ratios."""

    end: End
    known: DampersKnown
    shaft_speed: float
    bump_damping: float
    rebound_damping: float
    bump: MotionRatios
    rebound: MotionRatios

    @property
    def rebound_to_bump(self) -> float:
        """Rebound force for each newton of bump."""
        return self.rebound_damping / self.bump_damping if self.bump_damping else math.inf


def damper_of(chassis: Chassis, setup: Setup, end: End) -> Damper | None:
    """The dampers fitted at one end; None where none are described, or by name only.

    BadInput for a name that is not there.
    """
    axle, name = chassis.at(end), setup.at(end).damper
    found = axle.damper(name) if axle.dampers or name else None
    return found if found and found.bump.is_known and found.rebound.is_known else None


def clicks_of(damper: Damper, setup: Setup, end: End) -> tuple[float, float]:
    """Bump and rebound clicks of one end, left and right at their mean; one knob's are the rebound's."""
    left, right = setup.pair(end)
    rebound = 0.5 * (left.rebound + right.rebound)
    return (rebound if damper.is_linked else 0.5 * (left.bump + right.bump)), rebound


def dampers_known(damper: Damper | None, clicks: tuple[float, float] = (0.0, 0.0)) -> DampersKnown:
    """How dampers are known at their bump and rebound clicks."""
    if damper is None:
        return DampersKnown.UNKNOWN
    sides = (damper.bump, damper.rebound)
    if any(side.ratios for side in sides):
        return DampersKnown.RATIO
    inside = all(
        side.clicks[0] <= click <= side.clicks[-1] for side, click in zip(sides, clicks, strict=True)
    )
    return DampersKnown.CURVE if inside else DampersKnown.BEYOND


def damper_force(side: DamperSide, click: float, speed: FloatArray) -> FloatArray:
    """Force [N] of one direction at a click and shaft speeds [m/s], both zero or more.

    Straight between the clicks measured; beyond them as at the nearest. BadInput where no curve is known, or
    for a click the damper does not have.
    """
    _possible(side, click)
    require(bool(side.forces), "damper", "no force curve", "forces by click and shaft speed")
    row = np.array([np.interp(click, side.clicks, column) for column in zip(*side.forces, strict=True)])
    return measured_force(np.array(side.speeds), row, np.asarray(speed, dtype=float))


def wheel_force(
    side: DamperSide, click: float, speed: FloatArray, motion_ratio: float, critical: float
) -> FloatArray:
    """Force at the wheel [N] at wheel speeds [m/s], zero or more.

    Where only a damping ratio is known it is that share of `critical`, the corner's critical damping [N·s/m].
    """
    if side.ratios:
        _possible(side, click)
        linear: FloatArray = float(np.interp(click, side.clicks, side.ratios)) * critical * speed
        return linear
    force: FloatArray = motion_ratio * damper_force(side, click, motion_ratio * speed)
    return force


def wheel_table(
    damper: Damper, clicks: tuple[float, float], axle: AxleChassis, critical: float
) -> FloatArray:
    """Force at the wheel [N] at `WHEEL_SPEEDS`: bump positive, rebound negative."""
    still = len(WHEEL_SPEEDS) // 2
    speed = WHEEL_SPEEDS[still:]
    bump, rebound = (
        wheel_force(side, click, speed, axle.damper_motion_ratio, critical)
        for side, click in zip((damper.bump, damper.rebound), clicks, strict=True)
    )
    return np.concatenate([-rebound[:0:-1], bump])


def critical_of(ride: RideCar, end: End) -> float:
    """Critical damping [N·s/m] of one corner's sprung mass on its spring."""
    if end is End.FRONT:
        return critical_damping(ride.wheel_rate_front, ride.corner_mass_front)
    return critical_damping(ride.wheel_rate_rear, ride.corner_mass_rear)


def axle_damping(
    ride: RideCar, chassis: Chassis, setup: Setup, end: End, shaft_speed: float = SHAFT_SPEED
) -> AxleDamping | None:
    """Damping and ratios of one end at a shaft speed; None where its dampers are unknown.

    Corner on its spring in heave, as V1-05 has it; of the pitch inertia an end takes its lever's share of the
    wheelbase, of the roll inertia its share of the sprung mass.
    """
    damper = damper_of(chassis, setup, end)
    if damper is None:
        return None
    axle, clicks = chassis.at(end), clicks_of(damper, setup, end)
    speed = np.array([shaft_speed / axle.damper_motion_ratio])
    dampings = [
        float(wheel_force(side, click, speed, axle.damper_motion_ratio, critical_of(ride, end))[0] / speed[0])
        for side, click in zip((damper.bump, damper.rebound), clicks, strict=True)
    ]
    return AxleDamping(
        end=end,
        known=dampers_known(damper, clicks),
        shaft_speed=shaft_speed,
        bump_damping=dampings[0],
        rebound_damping=dampings[1],
        bump=motion_ratios(ride, end, dampings[0]),
        rebound=motion_ratios(ride, end, dampings[1]),
    )


def motion_ratios(ride: RideCar, end: End, damping: float) -> MotionRatios:
    """Damping ratios of one end from the damping at one wheel [N·s/m]."""
    is_front = end is End.FRONT
    arm, other = (ride.cg_to_front, ride.cg_to_rear) if is_front else (ride.cg_to_rear, ride.cg_to_front)
    rate = ride.wheel_rate_front if is_front else ride.wheel_rate_rear
    bar = ride.bar_front if is_front else ride.bar_rear
    half = 0.5 * (ride.track_front if is_front else ride.track_rear)
    pitch_inertia = ride.pitch_inertia * arm / ride.wheelbase
    roll_inertia = ride.roll_inertia * other / ride.wheelbase
    return MotionRatios(
        heave=damping / critical_of(ride, end),
        pitch=2.0 * damping * arm**2 / critical_damping(2.0 * rate * arm**2, pitch_inertia),
        roll=2.0 * damping * half**2 / critical_damping(2.0 * rate * half**2 + bar, roll_inertia),
    )


def _possible(side: DamperSide, click: float) -> None:
    require(
        0.0 <= click <= side.most_clicks,
        "damper clicks",
        f"{click:g}",
        f"0 (full soft) to {side.most_clicks}",
    )
