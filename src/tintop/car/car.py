"""What the car is: frozen values in SI, angles in radians, temperatures in °C; axes per ISO 8855.

x forward, y left, z up; positions along the car are metres behind the front axle; camber is negative
with the top of the wheel inwards. Each part lives in its own file of this room; a car is changed with
`dataclasses.replace`.
"""

from dataclasses import dataclass
from enum import StrEnum

from tintop.car.brakes import Brakes
from tintop.car.cooling import Cooling
from tintop.car.powertrain import Engine, Fuel, Gearbox
from tintop.car.tyres import Tyre
from tintop.checks import require, within


class DrivenAxle(StrEnum):
    """Which wheels are driven."""

    FRONT = "front"
    REAR = "rear"
    FOUR = "four"


@dataclass(frozen=True, slots=True, kw_only=True)
class Masses:
    """Masses [kg] and where they sit; the car is weighed with all fluids but no fuel and no driver."""

    car: float
    driver: float
    ballast: float
    unsprung_front: float  # both wheels of the axle
    unsprung_rear: float
    front_share: float  # of the weight on level ground, driver and ballast aboard, no fuel
    cg_height: float
    tank_behind_front_axle: float
    tank_height: float

    def __post_init__(self) -> None:
        within(self.car, 300.0, 3500.0, "masses.car", "kg")
        within(self.driver, 30.0, 200.0, "masses.driver", "kg")
        within(self.ballast, 0.0, 400.0, "masses.ballast", "kg")
        within(self.unsprung_front, 10.0, 400.0, "masses.unsprung_front", "kg")
        within(self.unsprung_rear, 10.0, 400.0, "masses.unsprung_rear", "kg")
        within(self.front_share, 0.25, 0.75, "masses.front_share", "")
        within(self.cg_height, 0.15, 1.2, "masses.cg_height", "m")
        within(self.tank_behind_front_axle, -1.0, 5.0, "masses.tank_behind_front_axle", "m")
        within(self.tank_height, 0.05, 1.2, "masses.tank_height", "m")
        require(
            self.unsprung_front + self.unsprung_rear < 0.5 * self.car,
            "masses.unsprung_front + unsprung_rear",
            f"{self.unsprung_front + self.unsprung_rear:g} kg",
            f"less than half the car's {self.car:g} kg",
        )

    @property
    def without_fuel(self) -> float:
        """Mass on the grid with an empty tank [kg]."""
        return self.car + self.driver + self.ballast


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimensions:
    """Wheelbase and track widths at the contact lines, and overall width [m]."""

    wheelbase: float
    track_front: float
    track_rear: float
    width: float

    def __post_init__(self) -> None:
        within(self.wheelbase, 1.5, 4.5, "dimensions.wheelbase", "m")
        within(self.track_front, 0.9, 2.2, "dimensions.track_front", "m")
        within(self.track_rear, 0.9, 2.2, "dimensions.track_rear", "m")
        within(self.width, 1.0, 2.6, "dimensions.width", "m")
        require(
            self.width > max(self.track_front, self.track_rear),
            "dimensions.width",
            f"{self.width:g} m",
            "more than both track widths",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Aero:
    """Drag area and lift areas [m²]: force = ½ rho v² area; lift upwards is positive, downforce negative."""

    drag_area: float
    lift_area_front: float
    lift_area_rear: float

    def __post_init__(self) -> None:
        within(self.drag_area, 0.0, 3.0, "aero.drag_area", "m2")
        within(self.lift_area_front, -6.0, 1.0, "aero.lift_area_front", "m2")
        within(self.lift_area_rear, -6.0, 1.0, "aero.lift_area_rear", "m2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspension:
    """Roll stiffness per axle with bars and tyres in series [N·m/rad], roll centres, camber [rad].

    `camber_recovery` is the share of body roll by which the suspension keeps the wheels upright:
    0 = the wheel leans with the body, 1 = the wheel stays as it was to the road.
    """

    roll_stiffness_front: float
    roll_stiffness_rear: float
    roll_centre_height_front: float
    roll_centre_height_rear: float
    camber_front: float
    camber_rear: float
    camber_recovery_front: float
    camber_recovery_rear: float

    def __post_init__(self) -> None:
        within(self.roll_stiffness_front, 1e3, 1e6, "suspension.roll_stiffness_front", "N·m/rad")
        within(self.roll_stiffness_rear, 1e3, 1e6, "suspension.roll_stiffness_rear", "N·m/rad")
        within(self.roll_centre_height_front, -0.3, 0.5, "suspension.roll_centre_height_front", "m")
        within(self.roll_centre_height_rear, -0.3, 0.5, "suspension.roll_centre_height_rear", "m")
        within(self.camber_front, -0.15, 0.06, "suspension.camber_front", "rad")
        within(self.camber_rear, -0.15, 0.06, "suspension.camber_rear", "rad")
        within(self.camber_recovery_front, -0.5, 1.2, "suspension.camber_recovery_front", "")
        within(self.camber_recovery_rear, -0.5, 1.2, "suspension.camber_recovery_rear", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tank:
    """Fuel tank: total volume and the part the pump cannot reach in corners [m³]."""

    volume: float
    unusable_volume: float

    def __post_init__(self) -> None:
        within(self.volume, 0.003, 0.25, "tank.volume", "m3")
        require(
            0.0 <= self.unusable_volume < self.volume,
            "tank.unusable_volume",
            f"{self.unusable_volume:g} m3",
            "zero or more and less than the tank's volume",
        )

    @property
    def usable_volume(self) -> float:
        """Volume that can be burned [m³]."""
        return self.volume - self.unusable_volume


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    """One car as it stands today, SI throughout."""

    name: str
    driven_axle: DrivenAxle
    masses: Masses
    dimensions: Dimensions
    aero: Aero
    engine: Engine
    fuel: Fuel
    gearbox: Gearbox
    suspension: Suspension
    tyre_front: Tyre
    tyre_rear: Tyre
    brakes: Brakes
    cooling: Cooling
    tank: Tank
