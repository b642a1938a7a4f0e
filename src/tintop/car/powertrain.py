"""Engine, fuel, gearbox and differential."""

import math
from dataclasses import dataclass
from enum import StrEnum

from tintop.checks import require, within


@dataclass(frozen=True, slots=True, kw_only=True)
class Engine:
    """Full-load curve at the crankshaft in the standard air of ISO 1585 (99 kPa dry, 25 °C).

    Speeds in rad/s rising, torques in N·m. `specific_consumption` is kg of fuel per joule at full load
    and the speed of peak power; `friction_pressure` is the mean effective pressure lost inside [Pa],
    which makes part load dearer. `inertia` is the turning inertia at the crankshaft [kg·m²].
    """

    speeds: tuple[float, ...]
    torques: tuple[float, ...]
    idle_speed: float
    limiter_speed: float
    displacement: float
    inertia: float
    specific_consumption: float
    friction_pressure: float
    is_charged: bool = False  # turbo or supercharger: power falls less with thin air

    def __post_init__(self) -> None:
        require(len(self.speeds) >= 2, "engine.curve", f"{len(self.speeds)} points", "two or more")
        require(
            len(self.speeds) == len(self.torques),
            "engine.curve",
            f"{len(self.speeds)} speeds and {len(self.torques)} torques",
            "as many torques as speeds",
        )
        require(
            all(b > a for a, b in zip(self.speeds, self.speeds[1:], strict=False)),
            "engine.curve",
            "speeds that do not rise",
            "engine speeds in rising order",
        )
        require(
            all(math.isfinite(t) and t > 0.0 for t in self.torques),
            "engine.curve",
            "a torque that is not above zero",
            "torques above zero",
        )
        within(self.speeds[0], 1.0, 2500.0, "engine.curve first speed", "rad/s")
        within(max(self.torques), 5.0, 3000.0, "engine.curve peak torque", "N·m")
        within(self.idle_speed, 20.0, 400.0, "engine.idle_speed", "rad/s")
        within(self.limiter_speed, 100.0, 2500.0, "engine.limiter_speed", "rad/s")
        require(
            self.limiter_speed > self.idle_speed,
            "engine.limiter_speed",
            f"{self.limiter_speed:g} rad/s",
            "more than the idle speed",
        )
        within(self.displacement, 1e-4, 1.2e-2, "engine.displacement", "m3")
        within(self.inertia, 0.0, 3.0, "engine.inertia", "kg·m2")
        within(self.specific_consumption * 3.6e9, 150.0, 800.0, "engine.specific_consumption", "g/kWh")
        within(self.friction_pressure, 0.0, 6e5, "engine.friction_pressure", "Pa")

    @property
    def peak_power(self) -> float:
        """Highest power among the points of the curve [W]."""
        return max(w * t for w, t in zip(self.speeds, self.torques, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuel:
    """Density at 15 °C [kg/m³] and lower heating value [J/kg]."""

    density: float
    heating_value: float

    def __post_init__(self) -> None:
        within(self.density, 600.0, 900.0, "fuel.density", "kg/m3")
        within(self.heating_value, 1.5e7, 5e7, "fuel.heating_value", "J/kg")


class DifferentialKind(StrEnum):
    """How the torque is shared between the two wheels of a driven axle."""

    OPEN = "open"
    LIMITED_SLIP = "limited_slip"
    LOCKED = "locked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Differential:
    """Torque difference it can hold: preload [N·m at the wheels] + lock share of the axle's torque.

    `lock_share_drive`: (slow − fast wheel torque) ÷ (their sum), 0 = open, 1 = solid; for plate units it
    follows from the ramp angle; a torque bias ratio B gives (B − 1) ÷ (B + 1).
    """

    kind: DifferentialKind
    preload: float
    lock_share_drive: float

    def __post_init__(self) -> None:
        within(self.preload, 0.0, 1000.0, "gearbox.differential.preload", "N·m")
        within(self.lock_share_drive, 0.0, 1.0, "gearbox.differential.lock_share_drive", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Gearbox:
    """Ratios from first to top, final drive, time without drive in an upshift [s], efficiency."""

    ratios: tuple[float, ...]
    final_drive: float
    shift_time: float
    efficiency: float
    front_drive_share: float  # of the axle torque, used when both axles are driven
    differential: Differential

    def __post_init__(self) -> None:
        require(1 <= len(self.ratios) <= 12, "gearbox.ratios", f"{len(self.ratios)} ratios", "1 to 12")
        require(
            all(a > b > 0.0 for a, b in zip(self.ratios, self.ratios[1:], strict=False))
            and all(math.isfinite(r) and 0.05 <= r <= 40.0 for r in self.ratios),
            "gearbox.ratios",
            ", ".join(f"{r:g}" for r in self.ratios),
            "ratios from 0.05 to 40 that fall from first gear to top",
        )
        within(self.final_drive, 0.5, 12.0, "gearbox.final_drive", "")
        within(self.shift_time, 0.0, 3.0, "gearbox.shift_time", "s")
        within(self.efficiency, 0.5, 1.0, "gearbox.efficiency", "")
        within(self.front_drive_share, 0.0, 1.0, "gearbox.front_drive_share", "")
